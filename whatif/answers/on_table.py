"""One part on one machine: what stands on the table, what limits it, what one more would take."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TypeAlias

from whatif.cell.fit.fit import Face, Fit, Growth, Piece, fit, needed_for
from whatif.plan.making import question
from whatif.plan.model import Plan
from whatif.records import dataclass
from whatif.study.schema.models import Scenario


@dataclass(frozen=True, slots=True)
class LargerLoad:
    """The load is set to fewer pieces than there is room for."""

    stated: int
    room: int


@dataclass(frozen=True, slots=True)
class StrongerTable:
    """The table would have to carry so many kg more."""

    more: Fraction


@dataclass(frozen=True, slots=True)
class LowerPart:
    """Part and fixture are so many mm too high."""

    less: Fraction


@dataclass(frozen=True, slots=True)
class LighterPart:
    """A piece with its fixture is so many kg too heavy."""

    less: Fraction


Change: TypeAlias = LargerLoad | StrongerTable | LowerPart | LighterPart | Growth


@dataclass(frozen=True, slots=True)
class OnTable:
    """A part's load on a machine; lengths in mm, masses in kg.

    Attributes:
        changes: what would have to change to fit one more, or to fit at all.
        table: what the pieces stand on: the table, or the travel where no table is given; None
            without both.
        is_travel: whether that is the travel.
    """

    part: str
    group: str
    found: Fit
    changes: tuple[Change, ...]
    table: tuple[Fraction, Fraction] | None
    is_travel: bool


@dataclass(frozen=True, slots=True)
class Pairing:
    """A part and a machine of a scenario, and whether it fits there."""

    part: str
    group: str
    found: Fit


def pairings(plan: Plan) -> tuple[Pairing, ...]:
    """Every part on every machine that it may be made on, in the file's order."""
    return tuple(
        Pairing(part, group, found)
        for part, by_group in plan.fits.items()
        for group, found in by_group.items()
        if not any(limit.kind == "machine" for limit in found.limits)
    )


def on_table(scenario: Scenario, part: str, group: str) -> OnTable:
    """A part on a machine of a scenario that has both."""
    made, machine = scenario.part[part], scenario.machine[group]
    piece, face = question(made, group, machine)
    found = fit(piece, face)
    return OnTable(
        part=part,
        group=group,
        found=found,
        changes=tuple(
            _for_one_more(piece, face, found) if found.fits else _to_fit(piece, face, found)
        ),
        table=face.table or face.travel,
        is_travel=face.table is None,
    )


def _for_one_more(piece: Piece, face: Face, found: Fit) -> Iterator[Change]:
    if found.most is not None and found.per_pallet < found.most:
        yield LargerLoad(found.per_pallet, found.most)
        return
    load = next((limit for limit in found.limits if limit.kind == "load"), None)
    if load is not None and load.margin is not None and load.margin < piece.mass:
        yield StrongerTable(piece.mass - load.margin)
    yield from _growth(piece, face, len(found.layout) + 1)


def _to_fit(piece: Piece, face: Face, found: Fit) -> Iterator[Change]:
    for limit in found.limits:
        if limit.state != "missed" or limit.margin is None:
            continue
        if limit.kind == "height":
            yield LowerPart(-limit.margin)
        elif limit.kind == "load":
            yield LighterPart(-limit.margin)
    if any(limit.kind == "face" and limit.state == "missed" for limit in found.limits):
        yield from _growth(piece, face, 1)


def _growth(piece: Piece, face: Face, count: int) -> Iterator[Growth]:
    if piece.size is not None and (face.table is not None or face.travel is not None):
        growth = needed_for(piece, face, count)
        if growth is not None:
            yield growth
