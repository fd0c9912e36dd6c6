"""What can be seen of a run at one instant without moving it.

A state (:mod:`whatif.cell.states`) says what a machine does; here is said why it goes no further,
what its pallets carry and which visits are waited for. Meant for a cell with nobody on duty: by
day a person may already be on the way.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from whatif.cell.floor import NOWHERE, At, Doing, Job, Load, Request, Spindle
from whatif.cell.spindle import permitted_until, ready_with_tools
from whatif.cell.states import wants_fixture

if TYPE_CHECKING:
    from whatif.cell.run import Run


class Why(StrEnum):
    """Why a machine goes no further without a person, or that it does."""

    RUNS = "runs"
    STOP = "stop"
    LIMIT = "limit"
    TOOLS = "tools"
    PROVE_OUT = "prove_out"
    FIRST_PIECE = "first_piece"
    ATTENDED_PART = "attended_part"
    CUT = "cut"
    RELEASE = "release"
    NO_FIXTURE = "no_fixture"
    NOTHING_DUE = "nothing_due"


_GOES_ON = (Doing.CUTTING, Doing.CHANGING, Doing.WARMING)


def why(run: Run, spindle: Spindle) -> Why:
    """Why a machine stands (rule `nights.end`); ``RUNS`` where it does not.

    Where loads of several kinds stand ready, one that lacks only hours allowed is named before
    worn tools, and these before a load that nobody but a person may begin.
    """
    if spindle.doing in _GOES_ON:
        return Why.RUNS
    if spindle.stops:
        return Why.STOP
    if spindle.doing is Doing.STANDING and spindle.pallet != NOWHERE:
        return _needs(run.load_in(spindle))
    loads = [load for _, load in ready_with_tools(run, spindle)]
    if any(permitted_until(run, load) > run.now for load in loads):
        return Why.RUNS
    if any(_needs(load) is Why.LIMIT for load in loads):
        return Why.LIMIT
    if len(loads) < sum(run.pallets[i].at is At.READY for i in spindle.pallets):
        return Why.TOOLS
    return _needs(loads[0]) if loads else _nothing_ready(run, spindle)


def _needs(load: Load) -> Why:
    """What a loaded pallet lacks outside the hours in which it may be begun."""
    if load.unproved:
        return Why.PROVE_OUT
    if load.first:
        return Why.FIRST_PIECE
    return Why.ATTENDED_PART if load.attended_only else Why.LIMIT


def _nothing_ready(run: Run, spindle: Spindle) -> Why:
    pallets = [run.pallets[i] for i in spindle.pallets]
    asking = [one for one in pallets if one.at is not At.RESTING or one.in_line]
    if not asking:
        return Why.NO_FIXTURE if wants_fixture(run, spindle) else Why.NOTHING_DUE
    return Why.RELEASE if all(one.at is At.RELEASE for one in asking) else Why.CUT


def turned_until(run: Run, spindle: Spindle) -> int:
    """Second at which the spindle last turned; ``run.now`` where it is at work."""
    return run.now if spindle.doing in _GOES_ON else spindle.last_spun


@dataclass(frozen=True, slots=True)
class OnPallets:
    """Pallets of one machine: with pieces not yet cut, at rest for want of something, and all."""

    loaded: int
    resting: int
    all: int


def on_pallets(run: Run, spindle: Spindle) -> OnPallets:
    """What the pallets of a machine carry."""
    pallets = [run.pallets[i] for i in spindle.pallets]
    return OnPallets(
        run.loaded(spindle.index),
        sum(one.at is At.RESTING and not one.in_line for one in pallets),
        len(pallets),
    )


def pieces_waiting(run: Run) -> int:
    """Cut pieces that stand on pallets outside the spindles, those to be released among them."""
    return sum(
        pallet.load.pieces
        for pallet in run.pallets
        if pallet.load is not None
        and pallet.load.cut
        and pallet.at in (At.ASKING, At.VISIT, At.RELEASE)
    )


def visits_asked_for(run: Run) -> list[Request]:
    """Visits that wait in the line for a person, those that a shift's end cut off among them."""
    return [request for request in run.line if request.job is Job.VISIT]


def is_over(run: Run, visit: Request) -> bool:
    """Whether a visit that was asked for has ended, or turned out to be none."""
    under_way = run.spindles[visit.machine].visits
    # Two requests may say the same; it is this one that is looked for.
    return all(one is not visit for one in (*run.line, *under_way))
