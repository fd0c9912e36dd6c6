"""What a machine does by itself: changes, warm-ups, cuts, tools and stops.

``begin`` is the last step of an instant; every other function here is called when something
that was begun comes to its end, or to its limit.
"""

from __future__ import annotations

from bisect import insort
from typing import Final

from whatif.cell import rush, stops
from whatif.cell.calls import Call
from whatif.cell.codes import (
    ASKING,
    AT,
    CHANGING,
    CUTTING,
    INSIDE,
    NOWHERE,
    PROVE_OUT,
    RELEASES,
    SPINDLE_ENDS,
    STANDING,
    TIED_UP,
    TOOL_CHANGE,
    UNRELEASED,
    WARMING,
)
from whatif.cell.floor import Floor
from whatif.cell.loads import Load, Pallet
from whatif.cell.machines import Spindle
from whatif.cell.model import HOUR

_foretell: Final = insort

STOOD_LONG: Final = 4 * HOUR
"""A spindle that stood for more than this warms up first (rule `machines.warm-up`)."""


def permitted_until(floor: Floor, load: Load) -> int:
    """Until when pieces of a load may be begun without a gap; -1 if not now.

    See rule `calendar.begin` and rule `calendar.only-attended`.
    """
    if load.attended_only or load.unproved:
        return floor.may_begin_attended
    return floor.may_begin


def has_tools(floor: Floor, spindle: Spindle, load: Load) -> bool:
    """Whether its tools last for the load, or are new (rule `machines.tools`)."""
    part = floor.cell.parts[load.part]
    if part.tool_life is None:
        return True
    used = spindle.used[load.part]
    return used == 0 or used + load.pieces <= part.tool_life * (1 + part.sister_tools)


def load_of(floor: Floor, pallet: int) -> Load:
    """The load of a loaded pallet."""
    load = floor.pallets[pallet].load
    assert load is not None
    return load


def some_ready(floor: Floor, spindle: Spindle) -> bool:
    """Whether a loaded pallet stands ready that has its tools."""
    if not floor.book.wears:
        return bool(spindle.ready)
    for i in spindle.ready:  # noqa: SIM110 - a loop is quicker than a generator
        if has_tools(floor, spindle, load_of(floor, i)):
            return True
    return False


def ready_with_tools(floor: Floor, spindle: Spindle) -> list[Pallet]:
    """Loaded pallets that have their tools, in the order in which they go in."""
    return [
        floor.pallets[i]
        for i in in_turn(floor, spindle)
        if has_tools(floor, spindle, load_of(floor, i))
    ]


def in_turn(floor: Floor, spindle: Spindle) -> list[int]:
    """Ready pallets in the order in which they go in (rule `machines.pallets`).

    What has been ready longest, rush orders ahead of all others.
    """
    ready = spindle.ready
    if len(ready) > 1 and rush.is_on(floor):
        first = [i for i in ready if rush.cuts_first(floor, floor.pallets[i], load_of(floor, i))]
        return first + [i for i in ready if i not in first]
    return ready


def next_in(floor: Floor, spindle: Spindle) -> int:
    """The ready pallet that goes in now if nothing is in the way; NOWHERE if none may."""
    for i in in_turn(floor, spindle):
        load = load_of(floor, i)
        if permitted_until(floor, load) > floor.now and (
            not floor.book.wears or has_tools(floor, spindle, load)
        ):
            return i
    return NOWHERE


# -- asking for a person -----------------------------------------------------------------


def machine_asks(floor: Floor, spindle: Spindle) -> None:
    """A table's load is in at once (rule `machines.table`); a person is asked for."""
    if spindle.pallet == NOWHERE:
        if not spindle.ready:
            return
        if not (spindle.is_table and some_ready(floor, spindle)):
            if floor.book.wears:
                _ask_for_tools(floor, spindle)
            return
        _put_in(floor, spindle, spindle.ready[0])
    load = floor.pallets[spindle.pallet].load
    if load is not None and load.unproved and spindle.prove is None and not spindle.change_left:
        spindle.prove = Call(PROVE_OUT, spindle.index, spindle.pallet, floor.now)
        floor.ask(spindle.prove)


def _ask_for_tools(floor: Floor, spindle: Spindle) -> None:
    if spindle.tools is not None or some_ready(floor, spindle):
        return
    first = in_turn(floor, spindle)[0]
    part = load_of(floor, first).part
    spindle.tools = Call(TOOL_CHANGE, spindle.index, first, floor.now, part=part)
    floor.ask(spindle.tools)


# -- beginning ---------------------------------------------------------------------------


def is_held_up(spindle: Spindle) -> bool:
    """Whether a stop or a change of tools lets a standing machine begin nothing."""
    return bool(spindle.stops) or (spindle.tools is not None and spindle.tools.person != NOWHERE)


def begin(floor: Floor, spindle: Spindle) -> None:
    """A standing machine begins what it may now: a change, a warm-up or a cut."""
    if is_held_up(spindle):
        return
    if spindle.pallet == NOWHERE:
        if spindle.ready:
            _begin_change(floor, spindle)
        return
    load = floor.pallets[spindle.pallet].load
    assert load is not None
    limit = floor.may_begin_attended if load.attended_only or load.unproved else floor.may_begin
    if spindle.change_left:
        if limit > floor.now:
            _run(floor, spindle, limit, CHANGING, spindle.change_left)
        return
    if load.unproved:
        return
    # What is begun is finished, whoever has left; unless it is held.
    if limit > floor.now or (spindle.done % load.making.cycle and not floor.cell.hold):
        if spindle.kind.warm_up and _must_warm_up(floor, spindle):
            _run(floor, spindle, limit, WARMING, spindle.warm_left)
        else:
            _cut(floor, spindle, load, limit)


def _begin_change(floor: Floor, spindle: Spindle) -> None:
    """The first pallet goes in whose pieces may be begun and whose tools last."""
    first = next_in(floor, spindle)
    if first != NOWHERE:
        limit = permitted_until(floor, load_of(floor, first))
        _put_in(floor, spindle, first)
        spindle.change_left = spindle.kind.pallet_change
        _run(floor, spindle, limit, CHANGING, spindle.change_left)


def _put_in(floor: Floor, spindle: Spindle, pallet: int) -> None:
    spindle.ready.remove(pallet)
    spindle.pallet = pallet
    spindle.done = 0
    floor.pallets[pallet].at = INSIDE


def _run(floor: Floor, spindle: Spindle, limit: int, doing: int, seconds: int) -> None:
    """Do something for so long, or until it must be held (rule `calendar.limit`)."""
    until = floor.now + seconds
    if until > limit and floor.cell.hold:
        until = limit
    spindle.doing, spindle.since, spindle.until = doing, floor.now, until
    _foretell(floor.events, -((until << AT) + spindle.event))


def _must_warm_up(floor: Floor, spindle: Spindle) -> bool:
    """Whether a cut that is to begin has to wait for a warm-up (rule `machines.warm-up`)."""
    if not spindle.warm_left and floor.now - spindle.last_spun > STOOD_LONG:
        spindle.warm_left = spindle.kind.warm_up
    return spindle.warm_left > 0


def _cut(floor: Floor, spindle: Spindle, load: Load, limit: int) -> None:
    """Cut to the load's end, the limit or a stop (rule `machines.cut`)."""
    now, cycle = floor.now, load.making.cycle
    seconds = cycle * load.pieces - spindle.done
    if now + seconds > limit:
        if floor.cell.hold:
            seconds = limit - now
        else:
            # The piece begun, and as many further ones as begin before the limit.
            begun = -spindle.done % cycle
            if limit > now + begun:
                begun += -((now + begun - limit) // cycle) * cycle
            seconds = min(seconds, begun)
    for stop in spindle.to_stop:
        if stop < seconds:
            seconds = stop
    until = now + seconds
    spindle.doing, spindle.since, spindle.until = CUTTING, now, until
    _foretell(floor.events, -((until << AT) + spindle.event))


# -- ending ------------------------------------------------------------------------------


def spindle_ends(floor: Floor, spindle: Spindle) -> None:
    """What the spindle was doing has come to its end or its limit."""
    doing = spindle.doing
    spindle.doing = STANDING
    took = floor.now - spindle.since
    if doing == CUTTING:
        spindle.last_spun = floor.now
        spindle.done += took
        load = floor.pallets[spindle.pallet].load
        assert load is not None
        if spindle.done == load.making.cycle * load.pieces:
            _is_cut(floor, spindle, load)
        if spindle.to_stop:
            stops.cut_goes_on(floor, spindle, took)
    elif doing == CHANGING:
        spindle.change_left -= took
    elif doing == WARMING:
        spindle.warm_left -= took
        spindle.last_spun = floor.now
    else:
        assert doing == TIED_UP
        _leaves(floor, spindle)


def _is_cut(floor: Floor, spindle: Spindle, load: Load) -> None:
    """The last piece of a load is cut (rule `machines.cut`)."""
    part, pieces, counted = load.part, load.pieces, floor.counted
    load.cut = True
    # Quicker when compiled than adding in place.
    counted.cut[part] = counted.cut[part] + pieces
    if load.order[0] == NOWHERE:
        counted.cut_for_orders[part] = counted.cut_for_orders[part] + pieces
        if load.rush:
            counted.cut_for_rush[part] += pieces
    if floor.book.wears:
        spindle.used[part] += pieces
    if floor.cell.load_extra:
        spindle.doing, spindle.since = TIED_UP, floor.now
        floor.foretell(floor.now + floor.cell.load_extra, SPINDLE_ENDS, spindle.index)
    else:
        _leaves(floor, spindle)


def _leaves(floor: Floor, spindle: Spindle) -> None:
    """A cut pallet asks for a visit at once, a first piece after its release."""
    pallet = floor.pallets[spindle.pallet]
    spindle.pallet = NOWHERE
    load = pallet.load
    assert load is not None
    if load.first:
        pallet.at = UNRELEASED
        spindle.unreleased += 1
        at = floor.now + floor.cell.parts[load.part].first_piece
        if at > floor.border or not floor.segment.releases:
            at = floor.calendar.released_by(floor.now, at - floor.now)
        floor.foretell(at, RELEASES, pallet.index)
    else:
        pallet.at = ASKING
        floor.ask_visit(pallet)


def released(floor: Floor, pallet: Pallet) -> None:
    """A first piece is released: its pallet asks for a visit."""
    floor.spindles[pallet.machine].unreleased -= 1
    pallet.at = ASKING
    floor.ask_visit(pallet)
