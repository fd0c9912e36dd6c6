"""Who serves what: the line of calls and the work of people (rule `people.persons`)."""

from __future__ import annotations

from bisect import insort
from typing import Final

from whatif.cell import book, orders, rush, stops
from whatif.cell.calendar import Pattern
from whatif.cell.calls import Call, by_rank, rush_rank, usual_rank
from whatif.cell.codes import (
    AT,
    BENCH,
    LACKS_WORK,
    NEVER,
    NOT_BEGUN,
    NOWHERE,
    PROVE_OUT,
    READY,
    REPAIR,
    RESTING,
    STANDING,
    TOOL_CHANGE,
    VISIT,
    VISITED,
    WORK_ENDS,
    of_whom,
)
from whatif.cell.floor import Floor
from whatif.cell.loads import Load, Pallet
from whatif.cell.luck import Scatter
from whatif.cell.model import Cell, Work
from whatif.cell.persons import Person

FREE_STRETCH: Final = 1800
"""Seconds of a free stretch that are enough to tend something else (rule `people.free`)."""

WORK_OF: Final[tuple[Work, ...]] = ("repair", "prove_out", "tools", "load")
"""What a person must be allowed to do who takes a call, by its job; for bench work nothing."""


_foretell: Final = insort


# -- the line --------------------------------------------------------------------------


def may_be_served(floor: Floor, call: Call) -> bool:
    """False for what is passed over (rule `people.passed-over`)."""
    job = call.job
    if job == REPAIR:
        return True
    spindle = floor.spindles[call.machine]
    if job == VISIT:
        return (
            spindle.is_table
            or call.left != NOT_BEGUN
            or len(spindle.visits) < spindle.kind.load_stations
        )
    if spindle.stops:
        return False
    return job != TOOL_CHANGE or (spindle.pallet == NOWHERE and spindle.doing == STANDING)


def _who_is_first(floor: Floor) -> tuple[Call, Person] | None:
    """What is first in the line of what some free person may do, and who takes it."""
    if floor.rushed or rush.is_on(floor):
        _rank_anew(floor)
    first: Call | None = None
    taker: Person | None = None
    machine, loaded, least = NOWHERE, 0, NOWHERE
    for call in floor.line:
        if first is not None:
            # Only where several asked at one instant does it matter what their machines carry. They
            # stand by machine and pallet: a later one is first only where it carries less.
            if call.rank != first.rank:
                break
            if least == NOWHERE:
                least = floor.loaded(first.machine)
            if least == 0:
                break
            if call.machine != machine:
                machine = call.machine
                loaded = floor.loaded(machine)
            if loaded >= least:
                continue
        if may_be_served(floor, call):
            person = _who_takes(floor, call)
            if person is not None:
                first, taker, least = call, person, NOWHERE
    return None if first is None or taker is None else (first, taker)


def _rank_anew(floor: Floor) -> None:
    """Put the line in order where something may go ahead for a rush order, or just did."""
    floor.rushed = rush.is_on(floor)
    for call in floor.line:
        if floor.rushed and call.job != REPAIR and rush.goes_ahead(floor, call):
            call.rank = rush_rank(call)
        else:
            call.rank = usual_rank(call, floor.cell.setter_stays)
    floor.line.sort(key=by_rank)


def _who_takes(floor: Floor, call: Call) -> Person | None:
    """Of the free persons who may do all of it the one listed first (rule `people.pick`).

    Who stands by for a prove-out takes that one, and else stops alone (rule `people.stays`).
    """
    job, needs_setup = call.job, -1
    if job == PROVE_OUT and floor.cell.setter_stays:
        for i in floor.free:
            if floor.persons[i].stays_by == call.pallet:
                return floor.persons[i]
    for i in floor.free:
        person = floor.persons[i]
        if not person.may[job] or (person.stays_by != NOWHERE and job != REPAIR):
            continue
        if job == VISIT and not person.sets_up:
            # What a visit is to do takes long to find out, and few shifts load and do not set up.
            if needs_setup < 0:
                needs_setup = sets_up(floor, call)
            if needs_setup:
                continue
        return person
    return None


def sets_up(floor: Floor, visit: Call) -> bool:
    """Whether a visit changes the fixture, and this takes time."""
    if visit.left != NOT_BEGUN:
        return visit.setup > 0
    pallet = floor.pallets[visit.pallet]
    real = rush.real_order_for(floor, pallet) if floor.book.at_hand.orders else NOWHERE
    if real != NOWHERE:
        part = fixture = floor.cell.orders[real].part
    else:
        wanted = orders.choose_from_mix(floor, pallet)
        if wanted is None:
            return False
        part, fixture = wanted.key[0], wanted.fixture
    making = floor.spindles[pallet.machine].makings[part]
    return pallet.fixture != fixture and making is not None and making.setup > 0


def serve(floor: Floor) -> None:
    """Until nothing changes: resting pallets ask and a free person takes what is first."""
    book = floor.book
    while True:
        asked = False
        if book.asked_at != book.changes:
            book.asked_at = book.changes
            asked = floor.at_rest > 0 and _resting_ask(floor)
        while floor.line and floor.free:
            # One free person takes what is first (rule `people.pick`).
            found = _who_is_first(floor)
            if found is None:
                break
            asked = True
            call, person = found
            floor.leave_line(call)
            if _begin(floor, call, person):
                break
        if not asked:
            return


def _resting_ask(floor: Floor) -> bool:
    """Resting pallets ask that may take something (rule `pallets.rest`); whether one did."""
    asked = False
    for group, resting in enumerate(floor.resting):
        if not resting:
            continue
        lack = orders.all_lack(floor, floor.pallets[resting[0]])
        if lack == NOWHERE:
            asked |= _some_ask(floor, resting)
        elif lack != floor.found[group]:
            for i in resting:
                _lacks(floor, floor.pallets[i], lack)
        floor.found[group] = lack
    return asked


def _some_ask(floor: Floor, resting: list[int]) -> bool:
    """Pallets at rest of a group are looked at one by one; whether one asked."""
    asked = False
    for i in list(resting):
        pallet = floor.pallets[i]
        lack = orders.lack_of(floor, pallet)
        if lack == NOWHERE:
            pallet.lacks = LACKS_WORK
            floor.ends_rest(pallet)
            asked = True
        else:
            _lacks(floor, pallet, lack)
    return asked


def _lacks(floor: Floor, pallet: Pallet, lack: int) -> None:
    if pallet.lacks != lack:
        pallet.lacks = lack
        floor.stir(floor.spindles[pallet.machine])


# -- work begins and ends --------------------------------------------------------------


def _begin(floor: Floor, call: Call, person: Person) -> bool:
    """Let a person begin a call, or take it up again; False if it turns out to be none."""
    left = call.left
    if call.job == PROVE_OUT and floor.cell.setter_stays:
        _nobody_stays_by(floor, call.pallet)
    if left == NOT_BEGUN:
        if call.job == VISIT:
            left = _begin_visit(floor, call)
            if left < 0:
                return False
        else:
            left = floor.pace.work(_stated(floor, call))
            call.total = left
        call.left = left
        call.begun = floor.now
    call.person = person.index
    _work_on(floor, person, call, left)
    return True


def _nobody_stays_by(floor: Floor, pallet: int) -> None:
    """A prove-out is taken: nobody stands by for it any more, nor will."""
    for person in floor.persons:
        if person.stays_by == pallet:
            person.stays_by = NOWHERE


def _stated(floor: Floor, call: Call) -> int:
    spindle = floor.spindles[call.machine]
    if call.job == PROVE_OUT:
        load = floor.pallets[call.pallet].load
        assert load is not None
        return load.making.prove_out
    if call.job == TOOL_CHANGE:
        return floor.cell.parts[call.part].tool_change
    return floor.cell.stops[spindle.stops[0][0]].repair


def _work_on(floor: Floor, person: Person, call: Call, left: int) -> None:
    """A person works at a call from now on; when that ends is foretold if it does in the shift."""
    now = floor.now
    if person.free_since != NEVER:
        _is_free_no_more(floor, person)
    person.work = call
    person.work_since = now
    end = now + left
    if end > floor.border or not person.on_duty:
        # Breaks come between, or the end of the shift.
        at = person.pattern.finish(now - person.base, left)
        if at is None:
            person.ends = NEVER
            return
        end = person.base + at
    person.ends = end
    _foretell(floor.events, -((end << AT) + person.event))


def _begin_visit(floor: Floor, call: Call) -> int:
    """Decide what the visit does (rule `orders.take`) and how long (rule `people.visit`).

    Returns its seconds, -1 if there is nothing to do.
    """
    pallet = floor.pallets[call.pallet]
    cell = floor.cell
    old = pallet.load
    # Where no real order is at hand the mix alone is chosen from.
    real = rush.real_order_for(floor, pallet) if floor.book.at_hand.orders else NOWHERE
    wanted = orders.choose_from_mix(floor, pallet) if real == NOWHERE else None
    if old is None and real == NOWHERE and wanted is None:
        # "With nothing to take off either it is not visited at all": it rests from now.
        pallet.at, pallet.since = RESTING, floor.now
        floor.rest(pallet)
        floor.book.changes += 1
        return -1
    minutes = cell.walk + cell.visit_extra
    bench = setup = 0
    if old is not None:
        minutes += old.making.unload * old.pieces
        bench = cell.parts[old.part].bench * old.pieces
    pallet.at = VISITED
    new: Load | None = None
    if wanted is not None:
        new = orders.load_of_mix(floor, wanted, pallet)
    elif real != NOWHERE:
        new = orders.load_of_real(floor, real, pallet)
    if new is not None:
        if pallet.fixture != new.fixture:
            orders.take_fixture(floor, new.fixture, pallet)
            setup = new.making.setup
        minutes += setup + new.making.load * new.pieces
        pallet.coming = new
    else:
        # Its machine starves no more. A pallet that rests holds no fixture against it, so this lets
        # one ask only where stock covers a later order and not the one before.
        floor.book.goes_on()
    call.setup, call.minutes = setup, minutes
    factor = 1.0 if pallet.scatter is None else pallet.scatter.deal()
    call.total = floor.pace.work(minutes, factor)
    if bench:
        call.bench = floor.pace.work(bench, factor)
    floor.spindles[call.machine].visits.append(call)
    return call.total


def new_person(cell: Cell, index: int, shift: int, pattern: Pattern) -> Person:
    """A person of a shift, not there yet (rule `people.persons`)."""
    does = cell.shifts[shift].does
    return Person(
        index,
        shift,
        pattern,
        frozenset(does),
        may=[work in does for work in WORK_OF],
        sets_up="setup" in does,
        event=of_whom(WORK_ENDS, index),
        works_here=any(work != "release" for work in does),
    )


def scatter_of(cell: Cell, machine: int, pallet: int) -> Scatter | None:
    """How the visits to a machine's pallet scatter (rule `people.scatter`); both from 0."""
    if not cell.scatter:
        return None
    return Scatter(f"{cell.luck} {machine + 1} {pallet + 1}", cell.scatter)


def work_ends(floor: Floor, person: Person, call: Call) -> None:
    """A person finishes the work in hand."""
    job = call.job
    # It was foretold so that what was left of it has been worked.
    person.busy += call.left
    by_job = person.busy_by_job
    by_job[job] = by_job[job] + call.left
    person.work = None
    person.ends = NEVER
    if job == VISIT:
        floor.spindles[call.machine].visits.remove(call)
        pallet = floor.pallets[call.pallet]
        _end_visit(floor, pallet)
        if floor.cell.setter_stays and person.may[PROVE_OUT]:
            new = pallet.load
            person.stays_by = pallet.index if new is not None and new.unproved else NOWHERE
    elif job == PROVE_OUT:
        load = floor.pallets[call.pallet].load
        assert load is not None
        load.unproved = False
        floor.spindles[call.machine].prove = None
    elif job == TOOL_CHANGE:
        spindle = floor.spindles[call.machine]
        spindle.used[call.part] = 0
        spindle.tools = None
    elif job == REPAIR:
        spindle = floor.spindles[call.machine]
        spindle.repair = None
        stops.goes(floor, spindle)
    if call.bench:
        # The visit is over, and its call goes on as that of its bench work.
        call.job, call.left, call.bench = BENCH, call.bench, 0
        _work_on(floor, person, call, call.left)
    else:
        floor.set_free(person)
        if person.stays_by != NOWHERE:
            floor.just_free.append(person.index)


def _end_visit(floor: Floor, pallet: Pallet) -> None:
    old, new = pallet.load, pallet.coming
    if old is not None:
        book.off(floor, old, new)
    pallet.load, pallet.coming = new, None
    pallet.since = floor.now
    if new is None:
        floor.book.changes += 1
        pallet.at = RESTING
        floor.rest(pallet)
        return
    floor.book.goes_on()
    if pallet.fixture != new.fixture:
        if pallet.fixture != NOWHERE:
            orders.give_back(floor, pallet.fixture, pallet)
        pallet.fixture = new.fixture
    pallet.order, pallet.wanted = new.order, new.wanted
    pallet.after_rush = new.rush
    pallet.at = READY
    # Behind those that have been ready longer; of equal ones the lower goes first.
    ready = floor.spindles[pallet.machine].ready
    place = len(ready)
    while place and ready[place - 1] > pallet.index:
        if floor.pallets[ready[place - 1]].since != pallet.since:
            break
        place -= 1
    ready.insert(place, pallet.index)


def _count_busy(floor: Floor, person: Person, call: Call) -> int:
    worked = person.worked(floor.now)
    person.busy += worked
    person.busy_by_job[call.job] += worked
    return worked


# -- shifts ----------------------------------------------------------------------------


def shift_ends(floor: Floor, shift: int) -> None:
    """People of a shift leave, and their work goes back to the line (rule `people.breaks`)."""
    for person in floor.persons:
        if person.shift != shift or not person.here:
            continue
        if person.work is not None:
            _put_down(floor, person, person.work)
        _is_free_no_more(floor, person)
        person.here = person.on_duty = False
    if floor.book.wears and "tools" in floor.cell.shifts[shift].does:
        _renew_all_tools(floor)


def _put_down(floor: Floor, person: Person, call: Call) -> None:
    worked = _count_busy(floor, person, call)
    call.left -= worked
    call.person = NOWHERE
    person.work = None
    person.ends = NEVER
    if call.job == BENCH:
        person.bench_left = call.left
    elif call.job != TOOL_CHANGE:
        floor.ask(call)


def _renew_all_tools(floor: Floor) -> None:
    """All tools are new when a shift that does tools ends (rule `machines.tools-new`)."""
    for spindle in floor.spindles:
        spindle.used = [0] * len(spindle.used)
        call, spindle.tools = spindle.tools, None
        if call is None:
            continue
        if call in spindle.asked:
            floor.leave_line(call)
        elif call.person != NOWHERE:
            # Begun by somebody of another shift, who is free from now.
            person = floor.persons[call.person]
            _count_busy(floor, person, call)
            person.work = None
            person.ends = NEVER
            if person.on_duty:
                floor.set_free(person)


def shift_starts(floor: Floor, shift: int) -> None:
    """People of a shift arrive; bench work cut off comes first (rule `people.bench`)."""
    for person in floor.persons:
        if person.shift == shift:
            person.here = True
            person.base = floor.now
            if person.bench_left:
                left, person.bench_left = person.bench_left, 0
                _work_on(floor, person, Call(BENCH, 0, NOWHERE, floor.now, left), left)


def duty_changes(floor: Floor, on_duty: tuple[bool, ...]) -> None:
    """Breaks begin and end, and the people who have just arrived are on duty."""
    for person in floor.persons:
        now_on = person.here and on_duty[person.shift]
        if now_on == person.on_duty:
            continue
        person.on_duty = now_on
        if not now_on:
            _is_free_no_more(floor, person)
        elif person.work is None:
            floor.set_free(person)


def _is_free_no_more(floor: Floor, person: Person) -> None:
    if person.free_since != NEVER:
        floor.free.remove(person.index)
        stretch = floor.now - person.free_since
        if stretch >= FREE_STRETCH:
            person.free_stretches += stretch
        person.free_since = NEVER
        person.stays_by = NOWHERE
