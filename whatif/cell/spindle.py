"""What a machine does by itself: changes, warm-ups, cuts, tools and stops.

``begin`` is the last step of an instant; every other function here is called when something
that was begun comes to its end, or to its limit.
"""

from __future__ import annotations

from whatif.cell import rush, stops
from whatif.cell.calendar import ATTENDED
from whatif.cell.floor import (
    NOWHERE,
    RELEASE,
    SPINDLE,
    At,
    Call,
    Doing,
    Floor,
    Job,
    Load,
    Pallet,
    Spindle,
)
from whatif.cell.model import HOUR

STOOD_LONG = 4 * HOUR
"""A spindle that stood for more than this warms up first (rule `machines.warm-up`)."""


def permitted_until(floor: Floor, spindle: Spindle, load: Load) -> int:
    """Until when pieces of a machine's load may be begun without a gap; ``floor.now`` if not now.

    See rule `calendar.begin` and rule `calendar.only-attended`.
    """
    segment = floor.segment
    if load.attended_only or load.unproved or not spindle.kind.unattended:
        return floor.week + segment.attended_until if segment.mode == ATTENDED else floor.now
    return floor.week + segment.until if segment.begins else floor.now


def has_tools(floor: Floor, spindle: Spindle, load: Load) -> bool:
    """Whether its tools last for the load, or are new (rule `machines.tools`)."""
    part = floor.cell.parts[load.part]
    if part.tool_life is None:
        return True
    used = spindle.used[load.part]
    return used == 0 or used + load.pieces <= part.tool_life * (1 + part.sister_tools)


def ready_with_tools(floor: Floor, spindle: Spindle) -> list[tuple[Pallet, Load]]:
    """Loaded pallets that have their tools, ready longest first (rule `machines.pallets`)."""
    ready = []
    for i in spindle.pallets:
        pallet = floor.pallets[i]
        if pallet.at is At.READY:
            load = pallet.load
            if load is not None and has_tools(floor, spindle, load):
                ready.append((pallet, load))
    if len(ready) > 1:
        ready.sort(key=lambda loaded: _turn(floor, *loaded))
    return ready


def _turn(floor: Floor, pallet: Pallet, load: Load) -> tuple[bool, int, int]:
    """Rush orders go first, then what has been ready longest."""
    return (not rush.cuts_first(floor, pallet, load), pallet.since, pallet.index)


# -- asking for a person -----------------------------------------------------------------


def machine_asks(floor: Floor, spindle: Spindle) -> None:
    """A table's load is in at once (rule `machines.table`); a person is asked for."""
    if spindle.pallet == NOWHERE:
        if spindle.kind.pallets == 1:
            for pallet, _ in ready_with_tools(floor, spindle):
                _put_in(spindle, pallet)
        if spindle.pallet == NOWHERE:
            _ask_for_tools(floor, spindle)
            return
    load = floor.load_in(spindle)
    if load.unproved and not spindle.change_left and spindle.prove is None:
        spindle.prove = Call(Job.PROVE_OUT, spindle.index, spindle.pallet, floor.now)
        floor.ask(spindle.prove)


def _ask_for_tools(floor: Floor, spindle: Spindle) -> None:
    if spindle.tools is not None:
        return
    ready = [floor.pallets[i] for i in spindle.pallets if floor.pallets[i].at is At.READY]
    if not ready or ready_with_tools(floor, spindle):
        return
    loads = [(pallet, pallet.load) for pallet in ready if pallet.load is not None]
    pallet, load = min(loads, key=lambda loaded: _turn(floor, *loaded))
    spindle.tools = Call(Job.TOOL_CHANGE, spindle.index, pallet.index, floor.now, part=load.part)
    floor.ask(spindle.tools)


# -- beginning ---------------------------------------------------------------------------


def begin(floor: Floor, spindle: Spindle) -> None:
    """A standing machine begins what it may now: a change, a warm-up or a cut."""
    if spindle.stops:
        return
    if spindle.tools is not None and spindle.tools.person != NOWHERE:
        return
    if spindle.pallet == NOWHERE:
        for pallet, load in ready_with_tools(floor, spindle):
            if permitted_until(floor, spindle, load) > floor.now:
                _put_in(spindle, pallet)
                spindle.change_left = spindle.kind.pallet_change
                _run(floor, spindle, Doing.CHANGING, spindle.change_left)
                return
        return
    load = floor.load_in(spindle)
    may = permitted_until(floor, spindle, load) > floor.now
    if spindle.change_left:
        if may:
            _run(floor, spindle, Doing.CHANGING, spindle.change_left)
        return
    if load.unproved:
        return
    # What is begun is finished, whoever has left; unless it is held.
    if may or (spindle.done % load.making.cycle and not floor.cell.hold):
        _warm_up_or_cut(floor, spindle, load)


def _put_in(spindle: Spindle, pallet: Pallet) -> None:
    spindle.pallet = pallet.index
    spindle.done = 0
    pallet.at = At.SPINDLE


def _run(floor: Floor, spindle: Spindle, doing: Doing, seconds: int) -> None:
    """Do something for so long, or until it must be held (rule `calendar.limit`)."""
    until = floor.now + seconds
    if floor.cell.hold:
        until = min(until, permitted_until(floor, spindle, floor.load_in(spindle)))
    spindle.doing, spindle.since, spindle.until = doing, floor.now, until
    floor.foretell(until, SPINDLE, spindle.index)


def _warm_up_or_cut(floor: Floor, spindle: Spindle, load: Load) -> None:
    if spindle.kind.warm_up:
        if floor.now - spindle.last_spun > STOOD_LONG and not spindle.warm_left:
            spindle.warm_left = spindle.kind.warm_up
        if spindle.warm_left:
            _run(floor, spindle, Doing.WARMING, spindle.warm_left)
            return
    _cut(floor, spindle, load)


def _cut(floor: Floor, spindle: Spindle, load: Load) -> None:
    """Cut to the load's end, the limit or a stop (rule `machines.cut`)."""
    cycle = load.making.cycle
    left = cycle * load.pieces - spindle.done
    limit = permitted_until(floor, spindle, load)
    if floor.cell.hold:
        seconds = min(left, limit - floor.now)
    else:
        seconds = -spindle.done % cycle
        if limit > floor.now + seconds:
            # As many further pieces as begin before the limit.
            seconds += -((floor.now + seconds - limit) // cycle) * cycle
        seconds = min(left, seconds)
    if spindle.to_stop:
        seconds = min(seconds, *spindle.to_stop)
    spindle.doing, spindle.since, spindle.until = Doing.CUTTING, floor.now, floor.now + seconds
    floor.foretell(spindle.until, SPINDLE, spindle.index)


# -- ending ------------------------------------------------------------------------------


def spindle_ends(floor: Floor, spindle: Spindle) -> None:
    """What the spindle was doing has come to its end or its limit."""
    doing, spindle.doing = spindle.doing, Doing.STANDING
    took = floor.now - spindle.since
    match doing:
        case Doing.CHANGING:
            spindle.change_left -= took
        case Doing.WARMING:
            spindle.warm_left -= took
            spindle.last_spun = floor.now
        case Doing.CUTTING:
            spindle.last_spun = floor.now
            spindle.done += took
            _cut_ends(floor, spindle, took)
        case Doing.TIED_UP:
            _leaves(floor, spindle)
        case Doing.STANDING:
            raise AssertionError("a standing spindle has nothing to end")


def _cut_ends(floor: Floor, spindle: Spindle, took: int) -> None:
    load = floor.load_in(spindle)
    if spindle.done == load.making.cycle * load.pieces:
        load.cut = True
        floor.counted.cut[load.part] += load.pieces
        if load.order[0] == NOWHERE:
            floor.counted.cut_for_orders[load.part] += load.pieces
            floor.counted.cut_for_rush[load.part] += load.pieces if load.rush else 0
        spindle.used[load.part] += load.pieces
        if floor.cell.load_extra:
            spindle.doing, spindle.since = Doing.TIED_UP, floor.now
            floor.foretell(floor.now + floor.cell.load_extra, SPINDLE, spindle.index)
        else:
            _leaves(floor, spindle)
    stops.cut_goes_on(floor, spindle, took)


def _leaves(floor: Floor, spindle: Spindle) -> None:
    """A cut pallet asks for a visit at once, a first piece after its release."""
    pallet = floor.pallets[spindle.pallet]
    spindle.pallet = NOWHERE
    load = pallet.load
    assert load is not None
    if load.first:
        pallet.at = At.RELEASE
        wait = floor.cell.parts[load.part].first_piece
        floor.foretell(floor.calendar.released_by(floor.now, wait), RELEASE, pallet.index)
    else:
        pallet.at = At.ASKING
        floor.ask_visit(pallet)


def released(floor: Floor, pallet: Pallet) -> None:
    """A first piece is released: its pallet asks for a visit."""
    pallet.at = At.ASKING
    floor.ask_visit(pallet)
