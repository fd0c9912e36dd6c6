"""The shop floor at one second of a run: pallets, spindles, people, the calls for them, orders.

Plain mutable records, owned by a :class:`whatif.cell.run.Run`. The rules that change them stand
in :mod:`whatif.cell.orders` and :mod:`whatif.cell.rush` (what is loaded), in
:mod:`whatif.cell.people` (who does what next) and in :mod:`whatif.cell.stops` and
:mod:`whatif.cell.spindle` (what is cut); the run calls those in the order of one instant.
"""

from __future__ import annotations

from bisect import bisect_right, insort
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from heapq import heappush
from typing import Final

from whatif.cell.calendar import Calendar, Pattern, Segment
from whatif.cell.codes import (
    ASKING,
    AT,
    LACKS_WORK,
    NEVER,
    NOT_BEGUN,
    NOWHERE,
    REPAIR,
    STANDING,
    VISIT,
    Job,
    of_whom,
)
from whatif.cell.luck import Luck, Scatter
from whatif.cell.model import Cell, MachineGroup, Making, Pace, Work

Order = tuple[int, int]
"""Which order: ``(part, number)`` of the endless ones, the number from 1, and ``(NOWHERE, place)``
of the real ones, by their place in :attr:`Cell.orders`."""

# Who comes first in the line, before it is looked at who asked first (rule `people.line`).
STOPS: Final = 0
IN_A_RUSH: Final = 1
BROKEN_OFF: Final = 2
USUAL: Final = 3
FAR: Final = 1 << 50
"""Beyond twice any second of a run."""

_foretell: Final = heappush

Booked = Callable[["Spindle", int, int, int, int], None]
"""Told of a machine, its state, from and to which second, and the seconds of it that are setup."""


class Call:
    """A machine's call for a person: one piece of work, from asking to its end.

    Two calls may say the same; which one it is decides.

    Attributes:
        job: what is to be done; machine: its index; pallet: the pallet's index, NOWHERE for work
            at none.
        asked: second at which it was first asked for.
        left: seconds of it still to do; NOT_BEGUN until it is begun. What waits in the line and has
            been begun was broken off by the end of a shift.
        total: seconds it takes in all.
        setup, minutes: seconds of a visit's stated times, those of the setup and all.
        begun: second at which it was begun.
        person: who does it now, NOWHERE while it waits in the line.
        bench: seconds of bench work that follow a visit.
        part: of a tool change, the part whose tools are renewed.
        rank: its place in the line, the lowest first (:func:`usual_rank`).
    """

    __slots__ = (
        "asked",
        "begun",
        "bench",
        "job",
        "left",
        "machine",
        "minutes",
        "pallet",
        "part",
        "person",
        "rank",
        "setup",
        "total",
    )

    def __init__(
        self,
        job: int,
        machine: int,
        pallet: int,
        asked: int,
        left: int = NOT_BEGUN,
        total: int = 0,
        setup: int = 0,
        minutes: int = 0,
        begun: int = 0,
        person: int = NOWHERE,
        bench: int = 0,
        part: int = NOWHERE,
        rank: int = 0,
    ) -> None:
        self.job = job
        self.machine = machine
        self.pallet = pallet
        self.asked = asked
        self.left = left
        self.total = total
        self.setup = setup
        self.minutes = minutes
        self.begun = begun
        self.person = person
        self.bench = bench
        self.part = part
        self.rank = rank

    def copy(self) -> Call:
        """The same call, to be worked at separately."""
        return Call(
            self.job,
            self.machine,
            self.pallet,
            self.asked,
            self.left,
            self.total,
            self.setup,
            self.minutes,
            self.begun,
            self.person,
            self.bench,
            self.part,
            self.rank,
        )


def usual_rank(call: Call) -> int:
    """The place in the line, but for what was asked for at once (rule `people.line`)."""
    if call.job == REPAIR:
        kind = STOPS
    elif call.left == NOT_BEGUN:
        kind = USUAL
    else:
        # Begun by somebody whose shift ended: what is in hand is not in the line.
        kind = BROKEN_OFF
    return kind * FAR + 2 * call.asked + (call.job == VISIT)


def rush_rank(call: Call) -> int:
    """The same of what goes ahead for a rush order."""
    return IN_A_RUSH * FAR + 2 * call.asked + (call.job == VISIT)


def rank(call: Call) -> int:
    """The place that has been found."""
    return call.rank


class Load:
    """Pieces of one order on a pallet.

    Attributes:
        first: a first piece, to be released after its cut.
        unproved: the first cut of the setup still needs its prove-out (rule `machines.prove-out`).
        attended_only: is begun only when somebody is on duty, beyond the prove-out: so is a first
            piece, or its part or machine.
        rush: of a rush order.
        fixture: that they are held by (:class:`OrderBook`).
        cut: True once the last piece is cut.
        wanted: cache: the endless order that it is of.
    """

    __slots__ = (
        "attended_only",
        "cut",
        "first",
        "fixture",
        "making",
        "order",
        "part",
        "pieces",
        "rush",
        "unproved",
        "wanted",
    )

    def __init__(
        self,
        part: int,
        making: Making,
        pieces: int,
        order: Order,
        fixture: int,
        first: bool = False,
        unproved: bool = False,
        attended_only: bool = False,
        rush: bool = False,
        cut: bool = False,
        wanted: EndlessOrder | None = None,
    ) -> None:
        self.part = part
        self.making = making
        self.pieces = pieces
        self.order = order
        self.fixture = fixture
        self.first = first
        self.unproved = unproved
        self.attended_only = attended_only
        self.rush = rush
        self.cut = cut
        self.wanted = wanted

    def copy(self) -> Load:
        """The same load, to be cut separately."""
        return Load(
            self.part,
            self.making,
            self.pieces,
            self.order,
            self.fixture,
            self.first,
            self.unproved,
            self.attended_only,
            self.rush,
            self.cut,
            self.wanted,
        )


@dataclass(slots=True)
class Pallet:
    """A pallet, or a machine's own table where it has only that.

    Attributes:
        machine, group: its machine's index, and that of the machine's group.
        at: where it stands in its round.
        fixture: that it holds (:class:`OrderBook`), NOWHERE for none.
        load: on it, also while a visit takes it off.
        coming: what the visit that is going on puts on it.
        order: which it has been working on.
        wanted: cache: the same where it is an endless one.
        after_rush: its last load was a rush order's.
        since: second since which it has been ready, or has rested.
        in_line: its call for a visit waits in the line.
        lacks: what alone keeps it at rest, as last found.
        scatter: of its visits, None where they do not scatter.
    """

    index: int
    machine: int
    group: int
    at: int = ASKING
    fixture: int = NOWHERE
    load: Load | None = None
    coming: Load | None = None
    order: Order | None = None
    wanted: EndlessOrder | None = None
    after_rush: bool = False
    since: int = 0
    in_line: bool = False
    lacks: int = LACKS_WORK
    scatter: Scatter | None = None

    def copy(self) -> Pallet:
        """The same pallet with loads of its own."""
        load, coming = self.load, self.coming
        return replace(
            self,
            load=None if load is None else load.copy(),
            coming=None if coming is None else coming.copy(),
            scatter=None if self.scatter is None else self.scatter.copy(),
        )


@dataclass(slots=True)
class Spindle:
    """A machine: its spindle, what stands in it, its tools and its stops.

    Attributes:
        event: what its ends are told by (:func:`whatif.cell.codes.of_whom`).
        pallets: indices of its pallets; ``is_table`` where it has only its own table.
        makings: [part] how it is made here, None where it is not.
        used: per part, pieces cut since its tools were renewed.
        luck, to_stop: per kind of stop, the seconds dealt, and in-cycle seconds until the next.
        pallet: in the spindle or on the way into it, NOWHERE if none.
        since, until: seconds between which it does what it is doing now.
        done: in-cycle seconds of the load in the spindle so far.
        change_left, warm_left: seconds of a held change or warm-up; 0 if none.
        last_spun: second at which a cut or warm-up last ended or was held.
        stops: (kind, second) of the stops that hold the machine now, the first being put right.
        prove, tools, repair, visits: calls of this machine that have not ended.
        asked: calls of this machine that wait in the line, in the order in which they came.
        stopped: seconds after hours for which the present stop has been booked.
        left_waiting: whether a pallet of it waited for a visit when the latest night began.
        stirred: something has happened to it at this instant while it stood, or it has come to a
            stand; only then may it ask, begin something, or come into another state.
        state, state_since, shown_visit: which state holds, since which second it has not been
            booked, and the visit that makes it so.
        ready: cache: indices of its pallets that are ready, ready longest first.
        unreleased: cache: how many of its pallets wait for a release.
        spent: seconds of its states, those of each mode after those of the one before (``mode *
            STATE_COUNT + state``); ``cycle`` per part, in-cycle seconds.
    """

    index: int
    group: int
    kind: MachineGroup
    pallets: list[int]
    event: int
    is_table: bool
    makings: list[Making | None]
    used: list[int]
    luck: list[Luck]
    to_stop: list[int]
    spent: list[int]
    cycle: list[int]
    pallet: int = NOWHERE
    doing: int = STANDING
    since: int = 0
    until: int = 0
    done: int = 0
    change_left: int = 0
    warm_left: int = 0
    last_spun: int = NEVER
    stops: list[tuple[int, int]] = field(default_factory=list)
    prove: Call | None = None
    tools: Call | None = None
    repair: Call | None = None
    visits: list[Call] = field(default_factory=list)
    asked: list[Call] = field(default_factory=list)
    stopped: int = 0
    left_waiting: bool = False
    stirred: bool = False
    state: int = 0
    state_since: int = 0
    shown_visit: Call | None = None
    ready: list[int] = field(default_factory=list)
    unreleased: int = 0

    def copy(self, calls: _CopiedCalls) -> Spindle:
        """The same machine with records and luck of its own."""
        return replace(
            self,
            used=list(self.used),
            luck=[luck.copy() for luck in self.luck],
            to_stop=list(self.to_stop),
            spent=list(self.spent),
            cycle=list(self.cycle),
            stops=list(self.stops),
            prove=calls.of(self.prove),
            tools=calls.of(self.tools),
            repair=calls.of(self.repair),
            visits=[calls.copy_of(call) for call in self.visits],
            asked=[calls.copy_of(call) for call in self.asked],
            shown_visit=calls.of(self.shown_visit),
            ready=list(self.ready),
        )


@dataclass(slots=True)
class Person:
    """One person of a shift.

    Attributes:
        shift: the shift's place in :attr:`Cell.shifts`.
        event: what the ends of its work are told by (:func:`whatif.cell.codes.of_whom`).
        does: what the shift's people may do; ``may`` the same by job, ``sets_up`` for visits that
            set up, ``works_here`` whether that is work of the cell.
        here, on_duty: whether the shift runs, and whether it does outside its breaks.
        base: second of the run at which the present shift began.
        work, work_since: the work in hand, and the second at which it was taken up.
        ends: second at which the work in hand is foretold to end, NEVER where it is not: an end
            foretold for another second was of other work, and is void.
        bench_left: bench seconds that the end of the last shift cut off.
        busy, busy_by_job: seconds of work that is no longer in hand, in all and by kind.
        free_since: begin of the present free stretch, NEVER while busy or off duty.
        free_stretches: seconds in free stretches that have ended and were long enough to count.
    """

    index: int
    shift: int
    pattern: Pattern
    does: frozenset[Work]
    may: list[bool]
    sets_up: bool
    event: int
    here: bool = False
    on_duty: bool = False
    base: int = 0
    work: Call | None = None
    work_since: int = 0
    ends: int = NEVER
    bench_left: int = 0
    works_here: bool = True
    busy: int = 0
    busy_by_job: list[int] = field(default_factory=lambda: [0] * len(Job))
    free_since: int = NEVER
    free_stretches: int = 0

    def worked(self, until: int) -> int:
        """Duty seconds between the begin of the work in hand and ``until``."""
        pattern, base = self.pattern, self.base
        return pattern.worked(until - base) - pattern.worked(self.work_since - base)

    def copy(self, calls: _CopiedCalls) -> Person:
        """The same person with records of their own."""
        return replace(self, work=calls.of(self.work), busy_by_job=list(self.busy_by_job))


class _CopiedCalls:
    """The copies of calls: the line, machines and people that share one share its copy."""

    def __init__(self) -> None:
        self._copies: dict[int, Call] = {}

    def copy_of(self, call: Call) -> Call:
        copied = self._copies.get(id(call))
        if copied is None:
            copied = self._copies[id(call)] = call.copy()
        return copied

    def of(self, call: Call | None) -> Call | None:
        return None if call is None else self.copy_of(call)


# -- the order book ----------------------------------------------------------------------


class EndlessOrder:
    """One endless order with pieces not yet loaded.

    Attributes:
        number: from 1.
        left: its pieces that are not yet loaded.
        due_before, due: seconds at which the order before and it itself are due.
        key: as which it is known; fixture: that it wants (:class:`OrderBook`).
        opened: rank of its opening among all openings, 0 while it is unopened.
        at: pallets that are at it (rule `orders.at-once`).
    """

    __slots__ = (
        "at",
        "due",
        "due_before",
        "fixture",
        "key",
        "left",
        "number",
        "opened",
    )

    def __init__(
        self,
        number: int,
        left: int,
        due_before: int,
        due: int,
        key: Order,
        fixture: int,
        opened: int = 0,
        at: int = 0,
    ) -> None:
        self.number = number
        self.left = left
        self.due_before = due_before
        self.due = due
        self.key = key
        self.fixture = fixture
        self.opened = opened
        self.at = at

    def copy(self) -> EndlessOrder:
        """The same order, to be taken from separately."""
        return EndlessOrder(
            self.number,
            self.left,
            self.due_before,
            self.due,
            self.key,
            self.fixture,
            self.opened,
            self.at,
        )


@dataclass(slots=True)
class Endless:
    """The endless orders of one part (rule `orders.due`).

    Attributes:
        part: the part; parts: how many there are.
        pieces: of each order.
        numbers, at_once: as of the part.
        seconds, share: order k is due at k x ``seconds`` / ``share``, rounded down.
        waiting: those with pieces left, the earliest first; all before the last one are opened or
            were passed over, and the last one is neither opened nor empty.
        room, unopened: cache: places in ``waiting`` of the earliest order that another pallet may
            be at, and of the earliest unopened one.
    """

    part: int
    parts: int
    pieces: int
    numbers: int
    at_once: int
    seconds: int
    share: int
    waiting: list[EndlessOrder]
    room: int = 0
    unopened: int = 0

    def look_ahead(self) -> None:
        """Let the order after the last one wait too."""
        number = self.waiting[-1].number + 1 if self.waiting else 1
        due_before = (number - 1) * self.seconds // self.share
        due = number * self.seconds // self.share
        fixture = number % self.numbers * self.parts + self.part
        key = (self.part, number)
        self.waiting.append(EndlessOrder(number, self.pieces, due_before, due, key, fixture))

    def look(self) -> None:
        """Find which orders have room and are unopened: the last one is both."""
        place = 0
        for order in self.waiting:
            if order.at < self.at_once:
                break
            place += 1
        self.room = place
        while self.waiting[place].opened:
            place += 1
        self.unopened = place

    def first_due_after(self, second: int) -> int:
        """Due second of the earliest order that is due after a second."""
        number = -(-(second + 1) * self.share // self.seconds)
        return number * self.seconds // self.share

    def copy(self) -> Endless:
        """The same orders, to be written on separately."""
        return replace(self, waiting=[order.copy() for order in self.waiting])


@dataclass(slots=True)
class RealProgress:
    """How far a real order is.

    Attributes:
        left: its pieces not yet loaded, ``taken`` those that are, ``off`` those that are off.
        here: whether it has arrived.
        at: pallets that are at it (rule `orders.at-once`).
        in_time: pieces that were off no later than it was due.
        first_off, last_off: seconds at which its first and its last pieces came off.
    """

    left: int
    here: bool = False
    at: int = 0
    taken: int = 0
    off: int = 0
    in_time: int = 0
    first_off: int | None = None
    last_off: int | None = None


@dataclass(slots=True)
class OrderBook:
    """The orders, who holds the fixtures, and the stock between operations.

    A fixture is for one part number and is told by ``number * parts + part``.

    Attributes:
        endless: [part] its endless orders, None where none are wanted.
        real: [real order] how far it is.
        rushes: real orders that are rush orders.
        made: [group] parts with endless orders that are made there.
        family: [part] parts with endless orders that share a machine with it, directly or not.
        unopened: [part] second at which the earliest unopened order of its family is due; kept
            only where a cell is run flat out.
        held: [fixture] indices of the pallets that hold one, in the order in which they took it.
        most_held: [part] fixtures of one number at most held at once.
        good, whole: [part] a piece cut is ``good`` parts of a good one that has ``whole``.
        feeds: [part] whether another part is made of it.
        stock: [part] good pieces that lie there for the operation after it, in those parts.
        due, opens: cache: [part] of its earliest order that has room the due second, and the second
            by which the one before it is due, NEVER where it has been opened.
        waits: cache: [part] second by which the order before its earliest unopened one is due.
        at_hand: cache: real orders that have arrived and have pieces left, the earliest due date
            first, ties in the file's order.
        fixtures: [part] that may be held at one time, FOR_EVER for no limit.
        after: [part] the operation before, NOWHERE for none.
        wears: whether any part's tools wear.
        shares: whether fixtures may have to be shared out with machines that starve.
        openings: endless orders opened so far.
        rules_part: whether keeping a setup has been another choice than the earliest due date, so
            that what is counted may hang on the rule from then on (rule `orders.take`).
        changes: counts what may let a pallet take something, but time alone.
        asked_at, woken_at: ``changes`` when resting pallets were last told, and when the next
            opening was last foretold.
        opening_at: cache: ``changes`` when the next opening was last looked for.
    """

    endless: list[Endless | None]
    real: list[RealProgress]
    rushes: list[int]
    made: list[list[int]]
    family: list[list[int]]
    unopened: list[int]
    held: dict[int, list[int]]
    most_held: list[int]
    good: list[int]
    whole: list[int]
    feeds: list[bool]
    stock: list[int]
    due: list[int]
    opens: list[int]
    waits: list[int]
    at_hand: list[int]
    fixtures: list[int]
    after: list[int]
    wears: bool
    shares: bool
    openings: int = 0
    rules_part: bool = False
    changes: int = 1
    asked_at: int = 0
    woken_at: int = 0
    opening_at: int = 0

    def copy(self) -> OrderBook:
        """The same book, to be written on separately; what never changes is shared."""
        return replace(
            self,
            endless=[None if orders is None else orders.copy() for orders in self.endless],
            real=[replace(order) for order in self.real],
            unopened=list(self.unopened),
            held={fixture: list(pallets) for fixture, pallets in self.held.items()},
            most_held=list(self.most_held),
            stock=list(self.stock),
            due=list(self.due),
            opens=list(self.opens),
            waits=list(self.waits),
            at_hand=list(self.at_hand),
        )

    def same(self, order: EndlessOrder | None) -> EndlessOrder | None:
        """What another book's endless order is here, if there are pieces of it left."""
        if order is not None and order.left:
            orders = self.endless[order.key[0]]
            if orders is not None:
                for wanted in orders.waiting:
                    if wanted.number == order.number:
                        return wanted
        return None

    def goes_on(self) -> None:
        """A visit begins or ends that leaves all as it was for others, but for who starves."""
        self.changes += self.shares

    def look_at(self, part: int) -> None:
        """Note how a part's endless orders stand; to be done when one of them changes."""
        orders = self.endless[part]
        if orders is not None:
            orders.look()
            order = orders.waiting[orders.room]
            self.due[part] = order.due
            self.opens[part] = NEVER if order.opened else order.due_before
            self.waits[part] = orders.waiting[orders.unopened].due_before


# -- the floor ---------------------------------------------------------------------------


@dataclass(slots=True)
class Counted:
    """What a run has counted so far, but for what orders, machines and persons keep themselves.

    Attributes:
        rush_cycle: in-cycle seconds on rush orders, in all.
        cut: [part] pieces cut; ``cut_for_orders`` those of real orders among them, and
            ``cut_for_rush`` those of rush orders among these.
        nights: [machine][why] nights that have ended; ``stood`` the seconds that the machine stood
            at the end of them while pieces might be begun. By :class:`whatif.cell.look.Why`, in its
            order.
        closed: [machine] seconds that it stood at the end of nights while none might be begun.
        beyond: [machine] seconds stopped after hours in which it had nothing loaded to cut anyway.
        may_not: [machine][work] seconds waited for a person while those who were free, or all on
            duty, might not do what was asked for; ``nobody_may`` those of them in which nobody on
            duty might. By :data:`whatif.cell.may_not.ASKED`, in its order.
    """

    cut: list[int]
    cut_for_orders: list[int]
    cut_for_rush: list[int]
    nights: list[list[int]]
    stood: list[list[int]]
    closed: list[int]
    beyond: list[int]
    may_not: list[list[int]]
    nobody_may: list[list[int]]
    rush_cycle: int = 0

    def copy(self) -> Counted:
        """The same counts, to be added to separately."""
        return replace(
            self,
            cut=list(self.cut),
            cut_for_orders=list(self.cut_for_orders),
            cut_for_rush=list(self.cut_for_rush),
            nights=[list(whys) for whys in self.nights],
            stood=[list(whys) for whys in self.stood],
            closed=list(self.closed),
            beyond=list(self.beyond),
            may_not=[list(works) for works in self.may_not],
            nobody_may=[list(works) for works in self.nobody_may],
        )


@dataclass(slots=True)
class Floor:
    """All that changes while a cell runs.

    Attributes:
        pace: at which people work.
        segment: the stretch of the week that ``now`` lies in, and ``place`` its place there.
        line: calls that wait for a person, the first to be served first, but for what was asked
            for at one instant, and for rush orders.
        now: second of the run, from Monday 00:00 of its first week.
        week: second at which the present week began.
        events: a heap of ends that are foretold, each one number (:data:`whatif.cell.codes.AT`).
        arrivals: places of real orders that are still to arrive, the next one last; that one alone
            is foretold, so that many do not make the heap deep.
        wake: second of the latest event of its kind that is still to come, -1 for none; ``woken``
            how many have come.
        night: second at which the present night began, -1 by day and in a night that the run has
            not seen begin; ``allowed`` that from which on nothing is begun in it any more.
        lacking: (machine, work, whether nobody on duty may do it) of each machine that waits for
            what free people, or all on duty, may not do; work as in
            :data:`whatif.cell.may_not.ASKED`. ``looked_at``: second up to which it is counted.
        rushed: cache: the ranks of the line say what goes ahead for a rush order.
        stirred: indices of the machines that are stirred.
        hours: cache: where in :attr:`Spindle.spent` its mode begins.
        begun, border: cache: seconds at which the segment begins and ends.
        may_begin, may_begin_attended: cache: seconds up to which pieces may be begun without a
            gap, and what is begun only while attended; -1 where they may not now.
        free: cache: indices of the persons on duty who have no work in hand, in order.
        resting: cache: [group] indices of the pallets at rest outside the line, in order.
        at_rest: cache: how many those are.
        found: cache: [group] what all of those were last found to lack, NOWHERE where that is to
            be looked at one by one.
        some_only_load: whether some people load and do not set up.
        some_may_not: whether anybody may not do something that machines wait for.
        seen, booked: told of each instant that is over, and of all time that is booked, where
            somebody looks on. A copy has nobody who does.
    """

    cell: Cell
    pace: Pace
    calendar: Calendar
    segment: Segment
    pallets: list[Pallet]
    spindles: list[Spindle]
    persons: list[Person]
    book: OrderBook
    counted: Counted
    line: list[Call] = field(default_factory=list)
    now: int = 0
    week: int = 0
    place: int = 0
    events: list[int] = field(default_factory=list)
    arrivals: list[int] = field(default_factory=list)
    wake: int = -1
    woken: int = 0
    night: int = -1
    allowed: int = -1
    lacking: list[tuple[int, int, bool]] = field(default_factory=list)
    looked_at: int = 0
    rushed: bool = False
    stirred: list[int] = field(default_factory=list)
    hours: int = 0
    begun: int = 0
    border: int = 0
    may_begin: int = -1
    may_begin_attended: int = -1
    free: list[int] = field(default_factory=list)
    resting: list[list[int]] = field(default_factory=list)
    at_rest: int = 0
    found: list[int] = field(default_factory=list)
    some_only_load: bool = False
    some_may_not: bool = False
    seen: Callable[[], None] | None = None
    booked: Booked | None = None

    def foretell(self, at: int, what: int, index: int) -> None:
        """Let something end, or arrive, at a second of the run."""
        _foretell(self.events, (at << AT) + of_whom(what, index))

    def stir(self, spindle: Spindle) -> None:
        """Something has happened to a machine that may let it ask, begin, or change its state.

        A spindle that is at work does none of these before it ends.
        """
        if spindle.doing == STANDING and not spindle.stirred:
            spindle.stirred = True
            self.stirred.append(spindle.index)

    def ask(self, call: Call) -> None:
        """Put a call in the line (rule `people.line`)."""
        call.rank = usual_rank(call)
        line = self.line
        if not line or line[-1].rank <= call.rank:
            line.append(call)
        else:
            line.insert(bisect_right(line, call.rank, key=rank), call)
        spindle = self.spindles[call.machine]
        spindle.asked.append(call)
        self.stir(spindle)
        if call.job == VISIT:
            self.pallets[call.pallet].in_line = True

    def ask_visit(self, pallet: Pallet) -> None:
        """A pallet asks for a visit now: it comes last in the line."""
        machine = pallet.machine
        call = Call(VISIT, machine, pallet.index, self.now)
        call.rank = USUAL * FAR + 2 * self.now + 1
        self.line.append(call)
        pallet.in_line = True
        spindle = self.spindles[machine]
        spindle.asked.append(call)
        if spindle.doing == STANDING and not spindle.stirred:
            spindle.stirred = True
            self.stirred.append(machine)

    def leave_line(self, call: Call) -> None:
        """Take a call out of the line."""
        self.line.remove(call)
        spindle = self.spindles[call.machine]
        spindle.asked.remove(call)
        if spindle.doing == STANDING and not spindle.stirred:
            spindle.stirred = True
            self.stirred.append(call.machine)
        if call.job == VISIT:
            self.pallets[call.pallet].in_line = False

    def rest(self, pallet: Pallet) -> None:
        """Let a pallet rest outside the line (rule `pallets.rest`)."""
        insort(self.resting[pallet.group], pallet.index)
        self.at_rest += 1
        self.found[pallet.group] = NOWHERE

    def ends_rest(self, pallet: Pallet) -> None:
        """A pallet at rest asks for a visit."""
        self.resting[pallet.group].remove(pallet.index)
        self.at_rest -= 1
        self.ask_visit(pallet)

    def set_free(self, person: Person) -> None:
        """A person on duty has nothing more in hand."""
        person.free_since = self.now
        free, index = self.free, person.index
        if not free or free[-1] < index:
            free.append(index)
        else:
            insort(free, index)

    def load_in(self, spindle: Spindle) -> Load:
        """The load of the pallet in the spindle, or on its way in."""
        load = self.pallets[spindle.pallet].load
        assert load is not None
        return load

    def loaded(self, machine: int) -> int:
        """Pallets of a machine with pieces not yet cut, the spindle's included."""
        spindle = self.spindles[machine]
        found = len(spindle.ready)
        if spindle.pallet != NOWHERE:
            found += not self.load_in(spindle).cut
        return found

    def copy(self) -> Floor:
        """A second floor that goes on from here by itself; what is frozen is shared."""
        calls = _CopiedCalls()
        copied = replace(
            self,
            pallets=[pallet.copy() for pallet in self.pallets],
            spindles=[spindle.copy(calls) for spindle in self.spindles],
            persons=[person.copy(calls) for person in self.persons],
            book=self.book.copy(),
            counted=self.counted.copy(),
            line=[calls.copy_of(call) for call in self.line],
            events=list(self.events),
            arrivals=list(self.arrivals),
            lacking=list(self.lacking),
            stirred=list(self.stirred),
            free=list(self.free),
            resting=[list(pallets) for pallets in self.resting],
            found=list(self.found),
            seen=None,
            booked=None,
        )
        for pallet in copied.pallets:
            pallet.wanted = copied.book.same(pallet.wanted)
            for load in (pallet.load, pallet.coming):
                if load is not None:
                    load.wanted = copied.book.same(load.wanted)
        return copied
