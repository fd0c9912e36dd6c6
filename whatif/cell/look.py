"""What can be seen of a run at one instant without moving it.

A state (:mod:`whatif.cell.states`) says what a machine does; here is said why it goes no further,
what its pallets carry and which visits are waited for. Meant for a cell with nobody on duty: by
day a person may already be on the way.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from whatif.cell.calls import Call
from whatif.cell.codes import (
    ASKING,
    CHANGING,
    CUTTING,
    LACKS_FIXTURE,
    LACKS_STOCK,
    LACKS_WORK,
    NOWHERE,
    RESTING,
    STANDING,
    UNRELEASED,
    VISIT,
    VISITED,
    WARMING,
)
from whatif.cell.floor import Floor
from whatif.cell.frozen import Frozen
from whatif.cell.loads import Load, Pallet
from whatif.cell.machines import Spindle
from whatif.cell.orders import lacks_only_fixture, lacks_stock, something_for
from whatif.cell.spindle import load_of, permitted_until, ready_with_tools


class Why(StrEnum):
    """Why a machine goes no further without a person, or that it does."""

    RUNS = "runs"
    STOP = "stop"
    LIMIT = "limit"
    TOOLS = "tools"
    PROVE_OUT = "prove_out"
    FIRST_PIECE = "first_piece"
    ATTENDED_PART = "attended_part"
    ATTENDED_MACHINE = "attended_machine"
    CUT = "cut"
    NOT_LOADED = "not_loaded"
    RELEASE = "release"
    NO_FIXTURE = "no_fixture"
    NO_STOCK = "no_stock"
    NOTHING_DUE = "nothing_due"


_GOES_ON = (CUTTING, CHANGING, WARMING)

_LACKED: Final = {
    LACKS_FIXTURE: Why.NO_FIXTURE,
    LACKS_STOCK: Why.NO_STOCK,
    LACKS_WORK: Why.NOTHING_DUE,
}
"""What ends a night in which pallets rested from its begin on."""


def why(floor: Floor, spindle: Spindle) -> Why:
    """Why a machine stands (rule `nights.end`); ``RUNS`` where it does not.

    Where loads of several kinds stand ready, one that lacks only hours allowed is named before
    worn tools, and these before a load that nobody but a person may begin.
    """
    if spindle.doing in _GOES_ON:
        return Why.RUNS
    if spindle.stops:
        return Why.STOP
    if spindle.doing == STANDING and spindle.pallet != NOWHERE:
        return _needs(floor.load_in(spindle), spindle)
    loads = [load_of(floor, pallet.index) for pallet in ready_with_tools(floor, spindle)]
    if any(permitted_until(floor, load) > floor.now for load in loads):
        return Why.RUNS
    if any(_needs(load, spindle) is Why.LIMIT for load in loads):
        return Why.LIMIT
    if len(loads) < len(spindle.ready):
        return Why.TOOLS
    return _needs(loads[0], spindle) if loads else _nothing_ready(floor, spindle)


def _needs(load: Load, spindle: Spindle) -> Why:
    """What a loaded pallet lacks outside the hours in which it may be begun."""
    if not spindle.kind.unattended:
        return Why.ATTENDED_MACHINE
    if load.unproved:
        return Why.PROVE_OUT
    if load.first:
        return Why.FIRST_PIECE
    return Why.ATTENDED_PART if load.attended_only else Why.LIMIT


def _nothing_ready(floor: Floor, spindle: Spindle) -> Why:
    """Why no load is left: no pallet was loaded, or nothing more is wanted of the machine.

    Where people left pallets waiting, more pallets would have waited too. Where pallets rest, or
    nothing may be taken on any, more pallets would have cut no more; nor would they where pallets
    rested when the people left, though some ask by now for what has come to be due meanwhile.
    """
    pallets = [floor.pallets[i] for i in spindle.pallets]
    asking = [pallet for pallet in pallets if not _rests(pallet)]
    if asking and all(pallet.at == UNRELEASED for pallet in asking):
        return Why.RELEASE
    empty = any(pallet.load is None and something_for(floor, pallet) for pallet in asking)
    more = len(asking) == len(pallets) and any(something_for(floor, p) for p in pallets)
    if empty or more:
        if spindle.left_waiting:
            return Why.NOT_LOADED
        return _LACKED.get(spindle.lacked, Why.CUT)
    if lacks_only_fixture(floor, spindle):
        return Why.NO_FIXTURE
    return Why.NO_STOCK if lacks_stock(floor, spindle) else Why.NOTHING_DUE


def _rests(pallet: Pallet) -> bool:
    return pallet.at == RESTING and not pallet.in_line


def turned_until(floor: Floor, spindle: Spindle) -> int:
    """Second at which the spindle last turned; ``floor.now`` where it is at work."""
    return floor.now if spindle.doing in _GOES_ON else spindle.last_spun


@dataclass(frozen=True, slots=True)
class OnPallets(Frozen):
    """Pallets of one machine: with pieces not yet cut, at rest for want of something, and all."""

    loaded: int
    resting: int
    all: int


def on_pallets(floor: Floor, spindle: Spindle) -> OnPallets:
    """What the pallets of a machine carry."""
    pallets = [floor.pallets[i] for i in spindle.pallets]
    return OnPallets(
        floor.loaded(spindle.index),
        sum(pallet.at == RESTING and not pallet.in_line for pallet in pallets),
        len(pallets),
    )


def pieces_waiting(floor: Floor) -> int:
    """Cut pieces that stand on pallets outside the spindles, those to be released among them."""
    return sum(
        pallet.load.pieces
        for pallet in floor.pallets
        if pallet.load is not None
        and pallet.load.cut
        and pallet.at in (ASKING, VISITED, UNRELEASED)
    )


def visits_asked_for(floor: Floor) -> list[Call]:
    """Visits that wait in the line for a person, those that a shift's end cut off among them."""
    return [call for call in floor.line if call.job == VISIT]


def is_over(floor: Floor, visit: Call) -> bool:
    """Whether a visit that was asked for has ended, or turned out to be none."""
    under_way = floor.spindles[visit.machine].visits
    # Two calls may say the same; it is this one that is looked for.
    return all(call is not visit for call in (*floor.line, *under_way))
