"""Who serves what: the line of requests and the work of people (rule `people.persons`)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.cell.floor import NEVER, NOWHERE, At, Doing, Job, Pallet, Person, Request

if TYPE_CHECKING:
    from whatif.cell.run import Run

FREE_STRETCH = 1800
"""Seconds of a free stretch that are enough to tend something else (rule `people.free`)."""

_STOP, _RUSH, _INTERRUPTED, _USUAL = range(4)


# -- the line --------------------------------------------------------------------------


def ask(run: Run, request: Request) -> None:
    """Put a request at the end of the line."""
    run.line.append(request)
    run.spindles[request.machine].asked += 1
    if request.job is Job.VISIT:
        run.pallets[request.pallet].in_line = True


def leave_line(run: Run, request: Request) -> None:
    """Take a request out of the line."""
    run.line.remove(request)
    run.spindles[request.machine].asked -= 1
    if request.job is Job.VISIT:
        run.pallets[request.pallet].in_line = False


def ask_visit(run: Run, pallet: Pallet) -> None:
    """A pallet asks for a visit now."""
    ask(run, Request(Job.VISIT, pallet.machine, pallet.index, run.now))


def _may_be_served(run: Run, request: Request) -> bool:
    """False for what is passed over (rule `people.passed-over`)."""
    spindle = run.spindles[request.machine]
    if spindle.stops and request.job in (Job.PROVE_OUT, Job.TOOL_CHANGE):
        return False
    if request.job is Job.TOOL_CHANGE:
        return spindle.pallet == NOWHERE and spindle.doing is Doing.STANDING
    if request.job is Job.VISIT and request.left is None and spindle.kind.pallets > 1:
        return len(spindle.visits) < spindle.kind.load_stations
    return True


def _rank(run: Run, request: Request) -> tuple[int, ...]:
    """The place in the line, lowest first (rule `people.line`)."""
    visit = request.job is Job.VISIT
    if request.job is Job.REPAIR:
        kind = _STOP
    elif run.serves_rush(request) if visit else run.is_on_rush(request):
        kind = _RUSH
    elif request.interrupted:
        kind = _INTERRUPTED
    else:
        kind = _USUAL
    loaded = run.loaded(request.machine)
    return (kind, request.asked, visit, loaded, request.machine, request.pallet)


def _next(run: Run) -> Request | None:
    line = [request for request in run.line if _may_be_served(run, request)]
    if len(line) < 2:
        return line[0] if line else None
    return min(line, key=lambda request: _rank(run, request))


def serve(run: Run) -> None:
    """Until nothing changes: resting pallets ask and a free person takes what is first."""
    while _resting_ask(run) | _one_takes(run):
        pass


def _one_takes(run: Run) -> bool:
    """The first free person takes what is first (rule `people.pick`); whether anything changed."""
    changed = False
    if not run.line:
        return False
    for person in run.persons:
        if person.on_duty and person.work is None:
            while (request := _next(run)) is not None:
                changed = True
                leave_line(run, request)
                if _begin(run, request, person):
                    break
            return changed
    return changed


def _resting_ask(run: Run) -> bool:
    asked = False
    for pallet in run.pallets:
        if pallet.at is At.RESTING and not pallet.in_line:
            group = run.spindles[pallet.machine].group
            if run.orders.something_for(pallet, group, run.now, run.pallets):
                ask_visit(run, pallet)
                asked = True
    return asked


# -- work begins and ends --------------------------------------------------------------


def _begin(run: Run, request: Request, person: Person) -> bool:
    """Let a person begin a request, or take it up again; False if it turns out to be none."""
    if request.left is None:
        if request.job is Job.VISIT:
            if not _begin_visit(run, request):
                return False
        else:
            request.total = request.left = run.cell.work(_stated(run, request))
        request.begun = run.now
    request.person = person.index
    _work_on(run, person, request)
    return True


def _stated(run: Run, request: Request) -> int:
    spindle = run.spindles[request.machine]
    if request.job is Job.PROVE_OUT:
        load = run.pallets[request.pallet].load
        assert load is not None
        return load.making.prove_out
    if request.job is Job.TOOL_CHANGE:
        return run.cell.parts[request.part].tool_change
    return run.cell.stops[spindle.stops[0][0]].repair


def _work_on(run: Run, person: Person, request: Request) -> None:
    if person.free_since != NEVER:
        _end_free_stretch(run, person)
    person.work = request
    person.work_since = run.now
    person.stamp += 1
    assert request.left is not None
    end = person.pattern.finish(run.now - person.base, request.left)
    if end is not None:
        run.work_ends(person.base + end, person)


def _begin_visit(run: Run, request: Request) -> bool:
    """Decide what the visit does (rule `orders.take`) and how long (rule `people.visit`)."""
    pallet = run.pallets[request.pallet]
    spindle = run.spindles[request.machine]
    orders, cell = run.orders, run.cell
    old = pallet.load
    order = orders.choose(pallet, spindle.group, run.now, run.pallets)
    if order is None and old is None:
        # "With nothing to take off either it is not visited at all": it rests from now.
        pallet.at, pallet.since = At.RESTING, run.now
        return False
    minutes = cell.walk + cell.visit_extra
    bench = setup = 0
    if old is not None:
        minutes += old.making.unload * old.pieces
        bench = cell.parts[old.part].bench * old.pieces
    pallet.at = At.VISIT
    if order is not None:
        part = orders.part_of(order)
        changes = pallet.fixture != part
        orders.take_fixture(part, pallet, run.pallets)
        new = orders.take(order, spindle.group, setup=changes)
        setup = new.making.setup if changes else 0
        minutes += setup + new.making.load * new.pieces
        run.coming[pallet.index] = new
    request.setup, request.minutes = setup, minutes
    request.total = request.left = cell.work(minutes)
    request.bench = cell.work(bench)
    spindle.visits.append(request)
    return True


def work_ends(run: Run, person: Person) -> None:
    """A person finishes the work in hand."""
    request = person.work
    assert request is not None
    _count_busy(run, person, request)
    spindle = run.spindles[request.machine]
    run.account(spindle)
    person.work = None
    person.stamp += 1
    match request.job:
        case Job.VISIT:
            spindle.visits.remove(request)
            _end_visit(run, run.pallets[request.pallet])
        case Job.PROVE_OUT:
            load = run.pallets[request.pallet].load
            assert load is not None
            load.unproved = False
            spindle.prove = None
        case Job.TOOL_CHANGE:
            spindle.used[request.part] = 0
            spindle.tools = None
        case Job.REPAIR:
            spindle.repair = None
            run.stop_goes(spindle)
    if request.bench:
        bench = Request(Job.BENCH, request.machine, request.pallet, run.now, request.bench)
        _work_on(run, person, bench)
    else:
        person.free_since = run.now


def _end_visit(run: Run, pallet: Pallet) -> None:
    old, new = pallet.load, run.coming.pop(pallet.index, None)
    if old is not None:
        run.orders.off(old, run.now)
    pallet.load = new
    pallet.since = run.now
    if new is None:
        pallet.at = At.RESTING
        return
    if pallet.fixture not in (NOWHERE, new.part):
        run.orders.give_back(pallet.fixture, pallet)
    pallet.fixture = new.part
    pallet.order = new.order
    pallet.after_rush = new.rush
    pallet.at = At.READY


def _count_busy(run: Run, person: Person, request: Request) -> int:
    worked = person.worked(run.now)
    person.busy += worked
    person.busy_by_job[request.job] += worked
    return worked


# -- shifts ----------------------------------------------------------------------------


def shift_ends(run: Run, shift: int) -> None:
    """People of a shift leave, and their work goes back to the line (rule `people.breaks`)."""
    for person in run.persons:
        if person.shift != shift or not person.here:
            continue
        if person.work is not None:
            _put_down(run, person, person.work)
        if person.free_since != NEVER:
            _end_free_stretch(run, person)
        person.here = person.on_duty = False
    _renew_all_tools(run)


def _put_down(run: Run, person: Person, request: Request) -> None:
    worked = _count_busy(run, person, request)
    assert request.left is not None
    request.left -= worked
    request.person = NOWHERE
    person.work = None
    person.stamp += 1
    if request.job is Job.BENCH:
        person.bench_left = request.left
    elif request.job is not Job.TOOL_CHANGE:
        ask(run, request)


def _renew_all_tools(run: Run) -> None:
    """All tools are new when a shift ends (rule `machines.tools-new`)."""
    for spindle in run.spindles:
        spindle.used = [0] * len(spindle.used)
        request, spindle.tools = spindle.tools, None
        if request is None:
            continue
        if request in run.line:
            leave_line(run, request)
        elif request.person != NOWHERE:
            # Begun by somebody of another shift, who is free from now.
            person = run.persons[request.person]
            _count_busy(run, person, request)
            person.work = None
            person.stamp += 1
            if person.on_duty:
                person.free_since = run.now


def shift_starts(run: Run, shift: int) -> None:
    """People of a shift arrive; bench work cut off comes first (rule `people.bench`)."""
    for person in run.persons:
        if person.shift == shift:
            person.here = True
            person.base = run.now
            if person.bench_left:
                left, person.bench_left = person.bench_left, 0
                _work_on(run, person, Request(Job.BENCH, 0, NOWHERE, run.now, left))


def duty_changes(run: Run, on_duty: tuple[bool, ...]) -> None:
    """Breaks begin and end, and the people who have just arrived are on duty."""
    for person in run.persons:
        now_on = person.here and on_duty[person.shift]
        if now_on == person.on_duty:
            continue
        person.on_duty = now_on
        if now_on and person.work is None:
            person.free_since = run.now
        elif not now_on and person.free_since != NEVER:
            _end_free_stretch(run, person)


def _end_free_stretch(run: Run, person: Person) -> None:
    stretch = run.now - person.free_since
    if stretch >= FREE_STRETCH:
        person.free_stretches += stretch
    person.free_since = NEVER
