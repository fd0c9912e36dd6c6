"""One part on one machine: what stands on the table, what limits it, what one more would take."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, TypeAlias

from whatif.cell.fit.fit import Face, Fit, Growth, Pair, Piece, fit, needed_for
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


@dataclass(frozen=True, slots=True)
class Lying:
    """So many pieces on a face, and how many of them lie turned: length along the width."""

    pieces: int
    turned: int


@dataclass(frozen=True, slots=True)
class LargerFace:
    """A face would have to grow; how pieces lie on the one that is longer, wider, or both.

    None where such a growth does not help, or nobody knows it.
    """

    growth: Growth
    longer: Lying | None = None
    wider: Lying | None = None
    both: Lying | None = None


Change: TypeAlias = LargerLoad | StrongerTable | LowerPart | LighterPart | LargerFace


@dataclass(frozen=True, slots=True)
class OnTable:
    """A part's load on a machine; lengths in mm, masses in kg.

    Attributes:
        changes: what would have to change to fit one more, or to fit at all.
        table: what the pieces stand on: the table, or the travel where no table is given; None
            without both.
        is_travel: whether that is the travel.
        gap, edge: kept between pieces, and left free at the table's edge.
        base: the two sizes of a piece that lie on the table, as entered; None without sizes.
    """

    part: str
    group: str
    found: Fit
    changes: tuple[Change, ...]
    table: tuple[Fraction, Fraction] | None
    is_travel: bool
    gap: Fraction
    edge: Fraction
    base: tuple[Fraction, Fraction] | None

    @property
    def turned(self) -> tuple[bool, ...]:
        """Whether each piece of the layout lies with its length along the table's width."""
        return tuple((dx, dy) != self.base for _, _, dx, dy in self.found.layout)


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


_STEPS: Final = {"metric": Fraction(1), "inch": Fraction("0.254")}
"""Mm in which a larger face is looked for: whole ones, or hundredths of an inch."""


def on_table(scenario: Scenario, part: str, group: str, units: str = "metric") -> OnTable:
    """A part on a machine of a scenario that has both.

    A face grows in steps of what ``units``, "metric" or "inch", are told in.
    """
    piece, face, found = _laid(scenario, part, group, None)
    step = _STEPS[units]
    if found.fits:
        changes = _for_one_more(piece, face, found, step)
    else:
        changes = _to_fit(piece, face, found, step)
    return _told(part, group, piece, face, found, tuple(changes))


def on_tables(
    scenario: Scenario,
    part: str,
    group: str,
    beside: Sequence[str],
    known: Mapping[str, Fit],
    units: str = "metric",
) -> tuple[OnTable, ...]:
    """A part on a machine, with what one more takes, and then on others, without that.

    ``known`` are layouts by machine that need not be looked for again; see :func:`on_table`.
    """
    others = (_told(part, id_, *_laid(scenario, part, id_, known.get(id_)), ()) for id_ in beside)
    return on_table(scenario, part, group, units), *others


def _laid(scenario: Scenario, part: str, group: str, known: Fit | None) -> tuple[Piece, Face, Fit]:
    piece, face = question(scenario.part[part], group, scenario.machine[group])
    return piece, face, fit(piece, face) if known is None else known


def _told(
    part: str, group: str, piece: Piece, face: Face, found: Fit, changes: tuple[Change, ...]
) -> OnTable:
    lying = None
    if piece.size is not None:
        first, second = (piece.size[i] for i in range(3) if i != found.standing)
        lying = (first, second)
    return OnTable(
        part=part,
        group=group,
        found=found,
        changes=changes,
        table=face.table or face.travel,
        is_travel=face.table is None,
        gap=piece.gap,
        edge=piece.edge,
        base=lying,
    )


def _for_one_more(piece: Piece, face: Face, found: Fit, step: Fraction) -> Iterator[Change]:
    if found.most is not None and found.per_pallet < found.most:
        yield LargerLoad(found.per_pallet, found.most)
        return
    load = next((limit for limit in found.limits if limit.kind == "load"), None)
    if load is not None and load.margin is not None and load.margin < piece.mass:
        yield StrongerTable(piece.mass - load.margin)
    yield from _growth(piece, face, len(found.layout) + 1, step)


def _to_fit(piece: Piece, face: Face, found: Fit, step: Fraction) -> Iterator[Change]:
    for limit in found.limits:
        if limit.state != "missed" or limit.margin is None:
            continue
        if limit.kind == "height":
            yield LowerPart(-limit.margin)
        elif limit.kind == "load":
            yield LighterPart(-limit.margin)
    if any(limit.kind == "face" and limit.state == "missed" for limit in found.limits):
        yield from _growth(piece, face, 1, step)


def _growth(piece: Piece, face: Face, count: int, step: Fraction) -> Iterator[LargerFace]:
    if piece.size is not None and (face.table is not None or face.travel is not None):
        growth, none = _least_growth(piece, face, count, step), Fraction(0)
        yield LargerFace(
            growth,
            None if growth.length is None else _lying(piece, face, (growth.length, none), count),
            None if growth.width is None else _lying(piece, face, (none, growth.width), count),
            None if growth.both is None else _lying(piece, face, growth.both, count),
        )


def _least_growth(piece: Piece, face: Face, count: int, step: Fraction) -> Growth:
    """The least growth in whole steps: looked for as whole mm of a cell that is told in steps."""
    growth = needed_for(_piece_over(piece, step), _face_over(face, step), count)
    return replace(
        growth,
        length=None if growth.length is None else growth.length * step,
        width=None if growth.width is None else growth.width * step,
        both=_times(growth.both, step),
    )


def _piece_over(piece: Piece, step: Fraction) -> Piece:
    size = piece.size
    return replace(
        piece,
        size=None if size is None else (size[0] / step, size[1] / step, size[2] / step),
        gap=piece.gap / step,
        edge=piece.edge / step,
        fixture_height=piece.fixture_height / step,
    )


def _face_over(face: Face, step: Fraction) -> Face:
    high = face.work_height
    return replace(
        face,
        table=_times(face.table, 1 / step),
        travel=_times(face.travel, 1 / step),
        work_height=None if high is None else high / step,
    )


def _times(pair: Pair | None, factor: Fraction) -> Pair | None:
    return None if pair is None else (pair[0] * factor, pair[1] * factor)


def _lying(piece: Piece, face: Face, more: Pair, count: int) -> Lying | None:
    """How so many pieces lie on a face that has grown."""
    table, travel = _grown(face.table, more), _grown(face.travel, more)
    grown = replace(face, table=table, travel=travel, table_load=None, faces=1)
    laid = replace(piece, wanted=count)
    limits = fit(laid, grown).limits
    return next((Lying(each.pieces, each.turned) for each in limits if each.axis), None)


def _grown(size: Pair | None, more: Pair) -> Pair | None:
    return None if size is None else (size[0] + more[0], size[1] + more[1])
