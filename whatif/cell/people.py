"""Who serves what: the line of calls and the work of people (rule `people.persons`)."""

from __future__ import annotations

from whatif.cell import book, orders, rush, stops
from whatif.cell.floor import NEVER, NOWHERE, WORK, At, Call, Doing, Floor, Job, Pallet, Person
from whatif.cell.luck import Scatter
from whatif.cell.model import Cell, Work

FREE_STRETCH = 1800
"""Seconds of a free stretch that are enough to tend something else (rule `people.free`)."""

WORK_OF: dict[Job, Work] = {
    Job.REPAIR: "repair",
    Job.PROVE_OUT: "prove_out",
    Job.TOOL_CHANGE: "tools",
    Job.VISIT: "load",
}
"""What a person must be allowed to do who takes a call."""

_STOP, _RUSH, _INTERRUPTED, _USUAL = range(4)


# -- the line --------------------------------------------------------------------------


def may_be_served(floor: Floor, call: Call) -> bool:
    """False for what is passed over (rule `people.passed-over`)."""
    spindle = floor.spindles[call.machine]
    if spindle.stops and call.job in (Job.PROVE_OUT, Job.TOOL_CHANGE):
        return False
    if call.job is Job.TOOL_CHANGE:
        return spindle.pallet == NOWHERE and spindle.doing is Doing.STANDING
    if call.job is Job.VISIT and call.left is None and spindle.kind.pallets > 1:
        return len(spindle.visits) < spindle.kind.load_stations
    return True


def _rank(floor: Floor, call: Call) -> tuple[int, int, bool]:
    """The place in the line, lowest first, but for what was asked for at once (`people.line`)."""
    if call.job is Job.REPAIR:
        kind = _STOP
    elif floor.cell.orders and rush.goes_ahead(floor, call):
        kind = _RUSH
    elif call.left is not None:
        # Begun by somebody whose shift ended: what is in hand is not in the line.
        kind = _INTERRUPTED
    else:
        kind = _USUAL
    return (kind, call.asked, call.job is Job.VISIT)


def _among_equals(floor: Floor, call: Call) -> tuple[int, int, int]:
    """The place among what was asked for at one instant, lowest first (rule `people.line`)."""
    return (floor.loaded(call.machine), call.machine, call.pallet)


def _next(floor: Floor, free: list[Person]) -> tuple[Call, Person] | None:
    """What is first in the line of what some free person may do, and who takes it."""
    line = [call for call in floor.line if may_be_served(floor, call)]
    if not line:
        return None
    if len(line) == 1:
        first = line[0]
    else:
        ranks = [_rank(floor, call) for call in line]
        least = min(ranks)
        if ranks.count(least) > 1:
            # Only where several asked at one instant does it matter what their machines carry.
            level = [call for call, rank in zip(line, ranks, strict=True) if rank == least]
            first = min(level, key=lambda call: _among_equals(floor, call))
        else:
            first = line[ranks.index(least)]
    person = _who_takes(floor, first, free)
    if person is not None:
        return first, person
    line.remove(first)
    line.sort(key=lambda call: (_rank(floor, call), _among_equals(floor, call)))
    for call in line:
        person = _who_takes(floor, call, free)
        if person is not None:
            return call, person
    return None


def _who_takes(floor: Floor, call: Call, free: list[Person]) -> Person | None:
    """Of the free persons who may do all of it the one listed first (rule `people.pick`)."""
    work, visit = WORK_OF[call.job], call.job is Job.VISIT
    needs_setup: bool | None = None
    for person in free:
        if work not in person.does:
            continue
        if visit and "setup" not in person.does:
            # What a visit is to do takes long to find out, and few shifts load and do not set up.
            if needs_setup is None:
                needs_setup = sets_up(floor, call)
            if needs_setup:
                continue
        return person
    return None


def sets_up(floor: Floor, visit: Call) -> bool:
    """Whether a visit changes the fixture, and this takes time."""
    if visit.left is not None:
        return visit.setup > 0
    pallet = floor.pallets[visit.pallet]
    order = rush.choose(floor, pallet)
    if order is None or pallet.fixture == book.fixture_of(floor, order):
        return False
    making = orders.making_on(floor, book.part_of(floor, order), pallet)
    return making is not None and making.setup > 0


def serve(floor: Floor) -> None:
    """Until nothing changes: resting pallets ask and a free person takes what is first."""
    while _resting_ask(floor) | _one_takes(floor):
        pass


def _one_takes(floor: Floor) -> bool:
    """One free person takes what is first (rule `people.pick`); whether anything changed."""
    changed = False
    if not floor.line:
        return False
    free = [person for person in floor.persons if person.on_duty and person.work is None]
    while free and (found := _next(floor, free)) is not None:
        changed = True
        call, person = found
        floor.leave_line(call)
        if _begin(floor, call, person):
            break
    return changed


def _resting_ask(floor: Floor) -> bool:
    """Resting pallets ask that may take something (rule `pallets.rest`); whether one did."""
    if floor.book.asked_at == floor.book.changes:
        return False
    floor.book.asked_at = floor.book.changes
    asked = False
    work: list[bool | None] = [None] * len(floor.cell.groups)
    for pallet in floor.pallets:
        if pallet.at is not At.RESTING or pallet.in_line:
            continue
        group = floor.spindles[pallet.machine].group
        here = work[group]
        if here is None:
            here = work[group] = orders.work_for_group(floor, pallet)
        floor.spindles[pallet.machine].stirred = True
        if orders.ends_rest(floor, pallet, work=here):
            floor.ask_visit(pallet)
            asked = True
    return asked


# -- work begins and ends --------------------------------------------------------------


def _begin(floor: Floor, call: Call, person: Person) -> bool:
    """Let a person begin a call, or take it up again; False if it turns out to be none."""
    if call.left is None:
        if call.job is Job.VISIT:
            if not _begin_visit(floor, call):
                return False
        else:
            call.total = call.left = floor.cell.work(_stated(floor, call))
        call.begun = floor.now
    call.person = person.index
    _work_on(floor, person, call)
    return True


def _stated(floor: Floor, call: Call) -> int:
    spindle = floor.spindles[call.machine]
    if call.job is Job.PROVE_OUT:
        load = floor.pallets[call.pallet].load
        assert load is not None
        return load.making.prove_out
    if call.job is Job.TOOL_CHANGE:
        return floor.cell.parts[call.part].tool_change
    return floor.cell.stops[spindle.stops[0][0]].repair


def _work_on(floor: Floor, person: Person, call: Call) -> None:
    if person.free_since != NEVER:
        _end_free_stretch(floor, person)
    person.work = call
    person.work_since = floor.now
    person.stamp += 1
    assert call.left is not None
    end = person.pattern.finish(floor.now - person.base, call.left)
    if end is not None:
        floor.foretell(person.base + end, WORK, person.index, person.stamp)


def _begin_visit(floor: Floor, call: Call) -> bool:
    """Decide what the visit does (rule `orders.take`) and how long (rule `people.visit`)."""
    pallet = floor.pallets[call.pallet]
    spindle = floor.spindles[call.machine]
    cell = floor.cell
    old = pallet.load
    order = rush.choose(floor, pallet)
    if order is None and old is None:
        # "With nothing to take off either it is not visited at all": it rests from now.
        pallet.at, pallet.since = At.RESTING, floor.now
        floor.book.changes += 1
        return False
    minutes = cell.walk + cell.visit_extra
    bench = setup = 0
    if old is not None:
        minutes += old.making.unload * old.pieces
        bench = cell.parts[old.part].bench * old.pieces
    pallet.at = At.VISIT
    if order is not None:
        new = orders.load_on(floor, order, pallet)
        orders.take_fixture(floor, new.fixture, pallet)
        setup = new.making.setup if pallet.fixture != new.fixture else 0
        minutes += setup + new.making.load * new.pieces
        pallet.coming = new
    call.setup, call.minutes = setup, minutes
    factor = 1.0 if pallet.scatter is None else pallet.scatter.deal()
    call.total = call.left = cell.work(minutes, factor)
    call.bench = cell.work(bench, factor)
    spindle.visits.append(call)
    return True


def scatter_of(cell: Cell, machine: int, pallet: int) -> Scatter | None:
    """How the visits to a machine's pallet scatter (rule `people.scatter`); both from 0."""
    if not cell.scatter:
        return None
    return Scatter(f"{cell.luck} {machine + 1} {pallet + 1}", cell.scatter)


def work_ends(floor: Floor, person: Person) -> None:
    """A person finishes the work in hand."""
    call = person.work
    assert call is not None
    _count_busy(floor, person, call)
    spindle = floor.spindles[call.machine]
    person.work = None
    person.stamp += 1
    match call.job:
        case Job.VISIT:
            spindle.visits.remove(call)
            _end_visit(floor, floor.pallets[call.pallet])
        case Job.PROVE_OUT:
            load = floor.pallets[call.pallet].load
            assert load is not None
            load.unproved = False
            spindle.prove = None
        case Job.TOOL_CHANGE:
            spindle.used[call.part] = 0
            spindle.tools = None
        case Job.REPAIR:
            spindle.repair = None
            stops.goes(floor, spindle)
    if call.bench:
        bench = Call(Job.BENCH, call.machine, call.pallet, floor.now, call.bench)
        _work_on(floor, person, bench)
    else:
        person.free_since = floor.now


def _end_visit(floor: Floor, pallet: Pallet) -> None:
    old, new = pallet.load, pallet.coming
    if old is not None:
        book.off(floor, old, new)
    pallet.load, pallet.coming = new, None
    floor.book.changes += 1
    pallet.since = floor.now
    if new is None:
        pallet.at = At.RESTING
        return
    if pallet.fixture not in (NOWHERE, new.fixture):
        orders.give_back(floor, pallet.fixture, pallet)
    pallet.fixture = new.fixture
    pallet.order = new.order
    pallet.after_rush = new.rush
    pallet.at = At.READY


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
        if person.free_since != NEVER:
            _end_free_stretch(floor, person)
        person.here = person.on_duty = False
    if "tools" in floor.cell.shifts[shift].does:
        _renew_all_tools(floor)


def _put_down(floor: Floor, person: Person, call: Call) -> None:
    worked = _count_busy(floor, person, call)
    assert call.left is not None
    call.left -= worked
    call.person = NOWHERE
    person.work = None
    person.stamp += 1
    if call.job is Job.BENCH:
        person.bench_left = call.left
    elif call.job is not Job.TOOL_CHANGE:
        floor.ask(call)


def _renew_all_tools(floor: Floor) -> None:
    """All tools are new when a shift that does tools ends (rule `machines.tools-new`)."""
    for spindle in floor.spindles:
        spindle.used = [0] * len(spindle.used)
        call, spindle.tools = spindle.tools, None
        if call is None:
            continue
        if call in floor.line:
            floor.leave_line(call)
        elif call.person != NOWHERE:
            # Begun by somebody of another shift, who is free from now.
            person = floor.persons[call.person]
            _count_busy(floor, person, call)
            person.work = None
            person.stamp += 1
            if person.on_duty:
                person.free_since = floor.now


def shift_starts(floor: Floor, shift: int) -> None:
    """People of a shift arrive; bench work cut off comes first (rule `people.bench`)."""
    for person in floor.persons:
        if person.shift == shift:
            person.here = True
            person.base = floor.now
            if person.bench_left:
                left, person.bench_left = person.bench_left, 0
                _work_on(floor, person, Call(Job.BENCH, 0, NOWHERE, floor.now, left))


def duty_changes(floor: Floor, on_duty: tuple[bool, ...]) -> None:
    """Breaks begin and end, and the people who have just arrived are on duty."""
    for person in floor.persons:
        now_on = person.here and on_duty[person.shift]
        if now_on == person.on_duty:
            continue
        person.on_duty = now_on
        if now_on and person.work is None:
            person.free_since = floor.now
        elif person.free_since != NEVER:
            _end_free_stretch(floor, person)


def _end_free_stretch(floor: Floor, person: Person) -> None:
    stretch = floor.now - person.free_since
    if stretch >= FREE_STRETCH:
        person.free_stretches += stretch
    person.free_since = NEVER
