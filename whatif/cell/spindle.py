"""What a machine does by itself: changes, warm-ups, cuts, tools and stops.

``begin`` is the last step of an instant; every other function here is called when something
that was begun comes to its end, or to its limit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.cell.calendar import ATTENDED
from whatif.cell.floor import NOWHERE, At, Doing, Job, Load, Pallet, Request, Spindle
from whatif.cell.model import HOUR
from whatif.cell.people import ask, ask_visit

if TYPE_CHECKING:
    from whatif.cell.run import Run

STOOD_LONG = 4 * HOUR
"""A spindle that stood for more than this warms up first (rule `machines.warm-up`)."""


def permitted_until(run: Run, load: Load) -> int:
    """Until when pieces of the load may be begun without a gap; ``run.now`` if not now.

    See rule `calendar.begin` and rule `calendar.only-attended`.
    """
    segment = run.segment
    if load.attended_only or load.unproved:
        return run.week + segment.attended_until if segment.mode == ATTENDED else run.now
    return run.week + segment.until if segment.begins else run.now


def has_tools(run: Run, spindle: Spindle, load: Load) -> bool:
    """Whether its tools last for the load, or are new (rule `machines.tools`)."""
    part = run.cell.parts[load.part]
    if part.tool_life is None:
        return True
    used = spindle.used[load.part]
    return used == 0 or used + load.pieces <= part.tool_life * (1 + part.sister_tools)


def ready_with_tools(run: Run, spindle: Spindle) -> list[tuple[Pallet, Load]]:
    """Loaded pallets that have their tools, ready longest first (rule `machines.pallets`)."""
    ready = [
        (pallet, pallet.load)
        for i in spindle.pallets
        if (pallet := run.pallets[i]).at is At.READY
        and pallet.load is not None
        and has_tools(run, spindle, pallet.load)
    ]
    if len(ready) > 1:
        ready.sort(key=lambda one: (not run.cuts_first(*one), one[0].since, one[0].index))
    return ready


# -- asking for a person -----------------------------------------------------------------


def machine_asks(run: Run, spindle: Spindle) -> None:
    """A table's load is in at once (rule `machines.table`); a person is asked for."""
    if spindle.pallet == NOWHERE:
        if spindle.kind.pallets == 1:
            for pallet, _ in ready_with_tools(run, spindle):
                _put_in(spindle, pallet)
        if spindle.pallet == NOWHERE:
            _ask_for_tools(run, spindle)
            return
    load = run.load_in(spindle)
    if load.unproved and not spindle.change_left and spindle.prove is None:
        spindle.prove = Request(Job.PROVE_OUT, spindle.index, spindle.pallet, run.now)
        ask(run, spindle.prove)


def _ask_for_tools(run: Run, spindle: Spindle) -> None:
    if spindle.tools is not None:
        return
    ready = [run.pallets[i] for i in spindle.pallets if run.pallets[i].at is At.READY]
    if not ready or ready_with_tools(run, spindle):
        return
    loads = [(pallet, pallet.load) for pallet in ready if pallet.load is not None]
    pallet, load = min(
        loads, key=lambda one: (not run.cuts_first(*one), one[0].since, one[0].index)
    )
    spindle.tools = Request(Job.TOOL_CHANGE, spindle.index, pallet.index, run.now, part=load.part)
    ask(run, spindle.tools)


# -- beginning ---------------------------------------------------------------------------


def begin(run: Run, spindle: Spindle) -> None:
    """A standing machine begins what it may now: a change, a warm-up or a cut."""
    if spindle.stops:
        return
    if spindle.tools is not None and spindle.tools.person != NOWHERE:
        return
    if spindle.pallet == NOWHERE:
        for pallet, load in ready_with_tools(run, spindle):
            if permitted_until(run, load) > run.now:
                _put_in(spindle, pallet)
                spindle.change_left = spindle.kind.pallet_change
                _run(run, spindle, Doing.CHANGING, spindle.change_left)
                return
        return
    load = run.load_in(spindle)
    may = permitted_until(run, load) > run.now
    if spindle.change_left:
        if may:
            _run(run, spindle, Doing.CHANGING, spindle.change_left)
        return
    if load.unproved:
        return
    # What is begun is finished, whoever has left; unless it is held.
    if may or (spindle.done % load.making.cycle and not run.cell.hold):
        _warm_up_or_cut(run, spindle, load)


def _put_in(spindle: Spindle, pallet: Pallet) -> None:
    spindle.pallet = pallet.index
    spindle.done = 0
    pallet.at = At.SPINDLE


def _run(run: Run, spindle: Spindle, doing: Doing, seconds: int) -> None:
    """Do something for so long, or until it must be held (rule `calendar.limit`)."""
    until = run.now + seconds
    if run.cell.hold:
        until = min(until, permitted_until(run, run.load_in(spindle)))
    spindle.doing, spindle.since, spindle.until = doing, run.now, until
    run.spindle_ends(until, spindle)


def _warm_up_or_cut(run: Run, spindle: Spindle, load: Load) -> None:
    if spindle.kind.warm_up:
        if run.now - spindle.last_spun > STOOD_LONG and not spindle.warm_left:
            spindle.warm_left = spindle.kind.warm_up
        if spindle.warm_left:
            _run(run, spindle, Doing.WARMING, spindle.warm_left)
            return
    _cut(run, spindle, load)


def _cut(run: Run, spindle: Spindle, load: Load) -> None:
    """Cut to the load's end, the limit or a stop (rule `machines.cut`)."""
    cycle = load.making.cycle
    left = cycle * load.pieces - spindle.done
    limit = permitted_until(run, load)
    if run.cell.hold:
        seconds = min(left, limit - run.now)
    else:
        seconds = -spindle.done % cycle
        if limit > run.now + seconds:
            # As many further pieces as begin before the limit.
            seconds += -((run.now + seconds - limit) // cycle) * cycle
        seconds = min(left, seconds)
    if spindle.to_stop:
        seconds = min(seconds, *spindle.to_stop)
    spindle.doing, spindle.since, spindle.until = Doing.CUTTING, run.now, run.now + seconds
    run.spindle_ends(spindle.until, spindle)


# -- ending ------------------------------------------------------------------------------


def spindle_ends(run: Run, spindle: Spindle) -> None:
    """What the spindle was doing has come to its end or its limit."""
    run.account(spindle)
    doing, spindle.doing = spindle.doing, Doing.STANDING
    took = run.now - spindle.since
    match doing:
        case Doing.CHANGING:
            spindle.change_left -= took
        case Doing.WARMING:
            spindle.warm_left -= took
            spindle.last_spun = run.now
        case Doing.CUTTING:
            spindle.last_spun = run.now
            spindle.done += took
            _cut_ends(run, spindle, took)
        case Doing.TIED_UP:
            _leaves(run, spindle)
        case Doing.STANDING:
            raise AssertionError("a standing spindle has nothing to end")


def _cut_ends(run: Run, spindle: Spindle, took: int) -> None:
    load = run.load_in(spindle)
    if spindle.done == load.making.cycle * load.pieces:
        load.cut = True
        run.cut[load.part] += load.pieces
        if load.order[0] == NOWHERE:
            run.cut_for_orders[load.part] += load.pieces
            run.cut_for_rush[load.part] += load.pieces if load.rush else 0
        spindle.used[load.part] += load.pieces
        if run.cell.load_extra:
            spindle.doing, spindle.since = Doing.TIED_UP, run.now
            run.spindle_ends(run.now + run.cell.load_extra, spindle)
        else:
            _leaves(run, spindle)
    for kind in range(len(spindle.to_stop)):
        spindle.to_stop[kind] -= took
        if spindle.to_stop[kind] == 0:
            spindle.to_stop[kind] = run.draw(spindle, kind)
            spindle.stops.append((kind, run.now))
            if len(spindle.stops) == 1:
                stop_comes(run, spindle)


def _leaves(run: Run, spindle: Spindle) -> None:
    """A cut pallet asks for a visit at once, a first piece after its release."""
    pallet = run.pallets[spindle.pallet]
    spindle.pallet = NOWHERE
    load = pallet.load
    assert load is not None
    if load.first:
        pallet.at = At.RELEASE
        run.release_comes(
            run.calendar.inspected_by(run.now, run.cell.parts[load.part].first_piece), pallet
        )
    else:
        pallet.at = At.ASKING
        ask_visit(run, pallet)


def released(run: Run, pallet: Pallet) -> None:
    """A first piece is released: its pallet asks for a visit."""
    pallet.at = At.ASKING
    ask_visit(run, pallet)


def stop_comes(run: Run, spindle: Spindle) -> None:
    """The first of the machine's stops is put right (rule `stops.repair`)."""
    place, arose = spindle.stops[0]
    kind = run.cell.stops[place]
    if kind.needs_person:
        spindle.repair = Request(Job.REPAIR, spindle.index, NOWHERE, arose)
        ask(run, spindle.repair)
    else:
        run.repair_ends(run.now + kind.repair, spindle)


def stop_goes(run: Run, spindle: Spindle) -> None:
    """A stop has been put right; the next one, if there is one, is turned to."""
    spindle.stops.pop(0)
    if spindle.stops:
        stop_comes(run, spindle)
