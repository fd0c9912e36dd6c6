"""Weeks that repeat: how a floor stands at a week's border, and when it will all come again.

What happens next hangs on how the floor stands relative to now, and on nothing else. Where it
stands at two borders alike (:func:`print_of`) and what drifts between them (due dates, stock)
decides nothing differently from then on (:func:`comes_again`), the weeks between the two come
again and again, to the last second and piece.

Luck never repeats, and real orders happen once: a cell with stops or visits that scatter is not
looked at, one with real orders from the last piece of them on.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import blake2b
from itertools import pairwise

from whatif.cell.calls import Call
from whatif.cell.codes import (
    BENCH,
    NEVER,
    NOT_BEGUN,
    NOWHERE,
    READY,
    RESTING,
    STANDING,
    TIME_OPENS,
    WORK_ENDS,
    at_of,
    index_of,
    what_of,
)
from whatif.cell.floor import Floor
from whatif.cell.frozen import Frozen
from whatif.cell.loads import Load
from whatif.cell.machines import Spindle
from whatif.cell.model import Cell
from whatif.cell.people import FREE_STRETCH
from whatif.cell.persons import Person
from whatif.cell.spindle import STOOD_LONG
from whatif.cell.wanted import Order, OrderBook

# -- what drifts -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Dues(Frozen):
    """What of a part's endless orders is told by numbers that grow with the weeks.

    Attributes:
        number: of the first order that waits.
        due_before: second at which the order before that one is due.
        last_due: second at which the last order is due that was looked at so far.
        taken: pieces taken so far.
    """

    number: int
    due_before: int
    last_due: int
    taken: int


@dataclass(frozen=True, slots=True)
class Drift(Frozen):
    """What of a floor need not be the same again, at one border of weeks.

    Attributes:
        now: second of the run.
        dues: [part] its endless orders, None where none are wanted.
        unopened: [part] second at which its earliest unopened order is due.
        stock: [part] as in :class:`whatif.cell.wanted.OrderBook`.
        woken: wakes that have come so far; ``wakes`` whether one is still to come.
    """

    now: int
    dues: tuple[Dues | None, ...]
    unopened: tuple[int, ...]
    stock: tuple[int, ...]
    woken: int
    wakes: bool


def drift_of(floor: Floor) -> Drift:
    """What drifts, as it is now."""
    dues: list[Dues | None] = []
    for orders in floor.book.endless:
        if orders is None:
            dues.append(None)
            continue
        first, last = orders.waiting[0], orders.waiting[-1]
        taken = last.number * orders.pieces - sum([order.left for order in orders.waiting])
        dues.append(Dues(first.number, first.due_before, last.due, taken))
    return Drift(
        now=floor.now,
        dues=tuple(dues),
        unopened=tuple(floor.book.unopened),
        stock=tuple(floor.book.stock),
        woken=floor.woken,
        wakes=any(what_of(event) == TIME_OPENS for event in floor.events),
    )


def comes_again(floor: Floor, borders: Sequence[Drift]) -> bool:
    """Whether what happened between two borders of weeks will happen again, for ever.

    To be asked where the first and the last have the same :func:`print_of`. Between them each
    part's orders have gone on by so many numbers, and so have their due dates. Whatever the rules
    ask of due dates must be answered the same in every later round:

    - A part that keeps pace with now, its due dates going on by just the weeks between, is as far
      from now as before.
    - One that falls behind, and might open all that it looked at, will again.
    - Flat out a family that runs ahead of now opens by its own due dates, which go on alike.
    - Due dates of two parts of a family are held against each other: they go on alike, or the part
      that falls behind the other was due before it anyway.

    Args:
        borders: all from the first to the last.
    """
    book = floor.book
    for family in book.families:
        if not _family_comes_again(floor, family.parts, borders):
            return False
    return all(
        _stock_comes_again(floor, part, borders)
        for part in range(len(book.stock))
        if book.feeds[part]
    )


def _family_comes_again(floor: Floor, family: list[int], borders: Sequence[Drift]) -> bool:
    gone = [_gone(floor, part, borders) for part in family]
    if all(part.keeps_pace() for part in gone):
        return True
    if floor.cell.to_order:
        opens = all(part.keeps_pace() or part.is_behind for part in gone)
    else:
        opens = all(part.is_behind for part in gone)
    if not opens and not _runs_ahead(floor, family, gone, borders):
        return False
    # Where time alone may open something its seconds matter too; where nothing waits for it, none.
    first, last = borders[0], borders[-1]
    silent = first.woken == last.woken and not last.wakes
    if not silent and not (opens and all(part.wakes_alike for part in gone)):
        return False
    return all(
        _held_alike(part, other, borders)
        for place, part in enumerate(gone)
        for other in gone[:place]
    )


@dataclass(frozen=True, slots=True)
class _Gone(Frozen):
    """How far a part's endless orders have gone on between two borders.

    Attributes:
        count: by so many numbers.
        weeks: seconds between the borders.
        seconds, share: as of its orders.
        is_behind: all that was looked at might be opened at once, and it does not catch up.
        wakes_alike: no order of it is waited for, or the due dates of the next weeks lie as those
            of these.
    """

    part: int
    count: int
    weeks: int
    seconds: int
    share: int
    is_behind: bool
    wakes_alike: bool

    def keeps_pace(self) -> bool:
        """Whether its due dates have gone on by as much as now."""
        return self.count * self.seconds == self.weeks * self.share

    def goes_by_whole_seconds(self) -> bool:
        """Whether its due dates go on alike, however they are rounded."""
        return self.count * self.seconds % self.share == 0


def _gone(floor: Floor, part: int, borders: Sequence[Drift]) -> _Gone:
    """Of a part that has endless orders."""
    orders = floor.book.endless[part]
    assert orders is not None
    count = _dues(borders[-1], part).number - _dues(borders[0], part).number
    weeks = borders[-1].now - borders[0].now
    # Within each week, from the first second on.
    opens = all(
        _dues(later, part).last_due <= border.now + floor.cell.run_ahead
        for border, later in pairwise(borders)
    )
    lies_alike = floor.cell.to_order and weeks * orders.share % orders.seconds == 0
    return _Gone(
        part=part,
        count=count,
        weeks=weeks,
        seconds=orders.seconds,
        share=orders.share,
        is_behind=opens and count * orders.seconds <= weeks * orders.share,
        wakes_alike=orders.numbers == 1 or lies_alike,
    )


def _dues(border: Drift, part: int) -> Dues:
    found = border.dues[part]
    assert found is not None
    return found


def _held_alike(part: _Gone, other: _Gone, borders: Sequence[Drift]) -> bool:
    """Whether due dates of two parts are held against each other with the same result."""
    mine = part.count * part.seconds * other.share
    theirs = other.count * other.seconds * part.share
    if mine == theirs:
        # Of two that are due equally often the lower number comes first, however it is rounded.
        equal = part.seconds * other.share == other.seconds * part.share
        return part.goes_by_whole_seconds() or (equal and part.seconds >= part.share)
    slow, quick = (part, other) if mine < theirs else (other, part)
    # A second more for rounding.
    return all(
        _dues(later, slow.part).last_due + 1 < _dues(border, quick.part).due_before
        for border, later in pairwise(borders)
    )


def _runs_ahead(
    floor: Floor, family: list[int], gone: list[_Gone], borders: Sequence[Drift]
) -> bool:
    """Whether a family made flat out is due later than now, and ever more so."""
    if floor.cell.to_order:
        return False
    first = gone[0]
    return (
        all(
            min([border.unopened[part] for part in family]) >= later.now
            for border, later in pairwise(borders)
        )
        and first.count * first.seconds >= first.weeks * first.share
        and all(
            part.count * part.seconds * first.share == first.count * first.seconds * part.share
            for part in gone
        )
        and (first.goes_by_whole_seconds() or _opens_alike(floor, gone))
    )


def _opens_alike(floor: Floor, gone: list[_Gone]) -> bool:
    """Whether it does not hang on how due dates are rounded what of a family opens after what.

    So many orders after the earliest unopened one are due within the time that is run ahead: where
    all parts are due equally often, and no order just at the end of that time.
    """
    seconds, share, ahead = gone[0].seconds, gone[0].share, floor.cell.run_ahead
    if any(part.seconds * share != seconds * part.share for part in gone):
        return False
    # The first number that is due no earlier than the end, rounded down as due dates are.
    number = -(-ahead * share // seconds)
    return number * seconds % share == 0 or number * seconds // share != ahead


def _stock_comes_again(floor: Floor, part: int, borders: Sequence[Drift]) -> bool:
    """Whether stock is as it was, or was never short and grows."""
    if borders[0].stock[part] == borders[-1].stock[part]:
        return True
    if borders[0].stock[part] > borders[-1].stock[part]:
        return False
    for place, after in enumerate(floor.cell.parts):
        if after.after == part and floor.book.endless[place] is not None:
            most = max([making.per_pallet for making in after.making if making is not None])
            for border, later in pairwise(borders):
                taken = _dues(later, place).taken - _dues(border, place).taken
                if border.stock[part] < (taken + most) * floor.book.whole[part]:
                    return False
    return True


# -- what must be the same ---------------------------------------------------------------


def may_repeat(cell: Cell) -> bool:
    """Whether the weeks of a cell can repeat at all: luck never does."""
    return not cell.stops and not cell.scatter


def glance_at(floor: Floor) -> int:
    """A number that is the same wherever :func:`print_of` is, and takes hardly any time."""
    seen = [len(floor.events)]
    for spindle in floor.spindles:
        seen.append(NOWHERE if spindle.pallet == NOWHERE else spindle.done)
    for person in floor.persons:
        seen.append(person.bench_left)
    for orders in floor.book.endless:
        if orders is not None:
            seen.append(orders.waiting[0].left)
    for call in floor.line:
        seen.append(call.machine if call.left == NOT_BEGUN else NOWHERE - call.left)
    return hash(tuple(seen))


def print_of(floor: Floor) -> bytes | None:
    """A short print of how a floor stands at a border of weeks, relative to now.

    Equal for two borders where everything is as far from now, as long begun and as much, but for
    what :class:`Drift` tells. To be taken when :meth:`whatif.cell.run.Run.advance` has brought a
    run to a border. None while real orders are at hand or still to come.
    """
    if floor.rushed:
        return None
    for order, progress in zip(floor.cell.orders, floor.book.real, strict=True):
        never = order.arrives is None and not progress.here
        if not never and (progress.off < order.pieces or progress.at):
            return None
    try:
        told = array("q", _standing(floor))
    except OverflowError:
        # An order of more pieces than 64 bits can tell.
        return None
    return blake2b(told.tobytes(), digest_size=16).digest()


def _standing(floor: Floor) -> list[int]:
    """All that is printed, one number after the other; lists begin with their length."""
    found: list[int] = [floor.now - floor.week, floor.place]
    calls = _Calls(floor)
    numbers = _FirstNumbers(floor)
    calls.write(found)
    _write_week(floor, found)
    _write_events(floor, found)
    _write_orders(floor.book, found)
    _write_pallets(floor, numbers, found)
    for spindle in floor.spindles:
        _write_spindle(floor, spindle, calls, found)
    for person in floor.persons:
        _write_person(floor, person, calls, found)
    return found


def _write_week(floor: Floor, found: list[int]) -> None:
    """The night, what is waited for, and whether the book has changed since it was looked at."""
    now, book = floor.now, floor.book
    if floor.night < 0:
        found.append(NOWHERE)
    else:
        found += [now - floor.night, floor.allowed - now]
    found.append(floor.wake - now if floor.wake > now else NOWHERE)
    found += [book.asked_at == book.changes, book.woken_at == book.changes]
    found.append(book.opening_at == book.changes)
    found.append(len(floor.lacking))
    for machine, work, nobody in floor.lacking:
        found += [machine, work, nobody]


def _write_events(floor: Floor, found: list[int]) -> None:
    """What is foretold, the next first. Ends of work that have become void are told as such."""
    found.append(len(floor.events))
    for event in reversed(floor.events):
        at, what, index = at_of(event), what_of(event), index_of(event)
        holds = what != WORK_ENDS or floor.persons[index].ends == at
        found += [at - floor.now, what, index, holds]


def _write_orders(book: OrderBook, found: list[int]) -> None:
    """Orders that wait, by numbers from the first; of their openings only the order matters."""
    for part, orders in enumerate(book.endless):
        if orders is None:
            continue
        rank = _ranks(
            [
                order.opened
                for other in book.families[book.family[part]].parts
                if (others := book.endless[other]) is not None
                for order in others.waiting
            ]
        )
        last = len(orders.waiting)
        # After the last that is opened all are alike, however far has been looked ahead.
        while last and not orders.waiting[last - 1].opened:
            last -= 1
        first = orders.waiting[0].number
        found += [last, orders.waiting[last].number - first]
        for order in orders.waiting[:last]:
            opened = rank[order.opened] if order.opened else NOWHERE
            found += [order.number - first, order.left, order.at, opened]


class _FirstNumbers:
    """Order numbers and part numbers, counted from the first order of the part that waits."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._first = [
            0 if orders is None else orders.waiting[0].number for orders in floor.book.endless
        ]

    def fixture(self, fixture: int) -> int:
        """A fixture; NOWHERE for none."""
        if fixture == NOWHERE:
            return NOWHERE
        parts = self._floor.cell.parts
        number, part = divmod(fixture, len(parts))
        return (number - self._first[part]) % parts[part].numbers * len(parts) + part

    def order(self, order: Order | None) -> int:
        """The number of an endless order with pieces left; NOWHERE for any other, or none."""
        if order is None or order[0] == NOWHERE:
            return NOWHERE
        orders = self._floor.book.endless[order[0]]
        if orders is not None:
            for wanted in orders.waiting:
                if wanted.number == order[1]:
                    return order[1] - self._first[order[0]]
        return NOWHERE


def _write_pallets(floor: Floor, numbers: _FirstNumbers, found: list[int]) -> None:
    """Pallets and their loads.

    Of how long they have rested, or been ready for their machine, only the order matters.
    """
    rests = _ranks([pallet.since for pallet in floor.pallets if pallet.at == RESTING])
    ready: dict[int, int] = {}
    machine = NOWHERE
    for pallet in floor.pallets:
        if pallet.machine != machine:
            machine = pallet.machine
            own = [floor.pallets[i] for i in floor.spindles[machine].pallets]
            ready = _ranks([other.since for other in own if other.at == READY])
        rank = NOWHERE
        if pallet.at == RESTING:
            rank = rests[pallet.since]
        elif pallet.at == READY:
            rank = ready[pallet.since]
        found += [
            pallet.at,
            pallet.in_line,
            pallet.after_rush,
            numbers.fixture(pallet.fixture),
            NOWHERE if pallet.order is None else pallet.order[0],
            numbers.order(pallet.order),
            rank,
            pallet.lacks if pallet.at == RESTING else NOWHERE,
        ]
        load, coming = pallet.load, pallet.coming
        _write_load(load, numbers, found)
        _write_load(coming, numbers, found)
        # Orders of which nothing waits any more are told apart by this alone.
        found.append(load is not None and coming is not None and load.order == coming.order)


def _write_load(load: Load | None, numbers: _FirstNumbers, found: list[int]) -> None:
    found.append(load is not None)
    if load is not None:
        found += [load.part, load.pieces, load.order[0], numbers.order(load.order)]
        found += [numbers.fixture(load.fixture), load.first, load.unproved]
        found += [load.attended_only, load.rush, load.cut]


def _write_spindle(floor: Floor, spindle: Spindle, calls: _Calls, found: list[int]) -> None:
    """A machine: what is in it and what it does, with the time that it has taken so far."""
    now = floor.now
    found += [spindle.pallet, spindle.doing, spindle.change_left, spindle.warm_left]
    found.append(NOWHERE if spindle.pallet == NOWHERE else spindle.done)
    found.append(NOWHERE if spindle.doing == STANDING else now - spindle.since)
    stood = now - spindle.last_spun
    if spindle.last_spun <= floor.night or floor.night < 0:
        # Beyond what makes it warm up, how long it stood is counted in a night alone.
        stood = min(stood, STOOD_LONG + 1)
    found.append(stood)
    for part, used in zip(floor.cell.parts, spindle.used, strict=True):
        if part.tool_life is not None:
            found.append(used)
    found += [spindle.left_waiting, spindle.lacked, spindle.stirred, spindle.stopped]
    found += [spindle.state, now - spindle.state_since]
    found += [calls.place(spindle.shown_visit), calls.place(spindle.prove)]
    found += [calls.place(spindle.tools), calls.place(spindle.repair), len(spindle.visits)]
    found += [calls.place(visit) for visit in spindle.visits]
    found += [calls.place(call) for call in spindle.asked]


def _write_person(floor: Floor, person: Person, calls: _Calls, found: list[int]) -> None:
    """A person: whether there, since when at work or free, and what is left of bench work."""
    now = floor.now
    found += [person.here, person.on_duty, person.bench_left, calls.place(person.work)]
    found.append(person.stays_by)
    if person.here:
        found.append(now - person.base)
    if person.work is not None:
        found.append(now - person.work_since)
    free = NOWHERE
    if person.free_since != NEVER:
        # A stretch that is long enough to count goes on counting.
        free = min(now - person.free_since, FREE_STRETCH)
    found.append(free)


class _Calls:
    """The calls that have not ended: those in the line in its order, then those in hand."""

    def __init__(self, floor: Floor) -> None:
        self._calls = list(floor.line)
        self._calls += [person.work for person in floor.persons if person.work is not None]
        for spindle in floor.spindles:
            for call in (spindle.prove, spindle.tools, spindle.repair, *spindle.visits):
                if call is not None and not any(call is known for known in self._calls):
                    self._calls.append(call)
        self._in_line = len(floor.line)

    def place(self, call: Call | None) -> int:
        """Where a call stands among them."""
        if call is not None:
            for place, known in enumerate(self._calls):
                if known is call:
                    return place
        return NOWHERE

    def write(self, found: list[int]) -> None:
        """All of them; of the second at which they were asked for only the order matters."""
        rank = _ranks([call.asked for call in self._calls if call.job != BENCH])
        found += [self._in_line, len(self._calls)]
        for call in self._calls:
            found += [call.job, call.machine, call.pallet, call.left]
            if call.job != BENCH:
                found += [rank[call.asked], call.person, call.bench, call.part]
                found += [call.total, call.setup, call.minutes]


def _ranks(seconds: list[int]) -> dict[int, int]:
    """The rank of each among all of them."""
    return {second: rank for rank, second in enumerate(sorted(set(seconds)))}
