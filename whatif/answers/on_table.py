"""One part on one machine: what stands on the table, what limits it, what one more would take."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from whatif.cell.fit.fit import Face, Fit, Growth, Piece, fit, needed_for
from whatif.plan.fitting import in_units, question, words_in_units
from whatif.plan.model import Plan
from whatif.study.schema.models import Scenario
from whatif.telling.to_scale import Box, Scaled, to_scale
from whatif.units import Dimension, show

HOLDS = (
    '"Fits" is arithmetic on what was entered, no permission to load: the makers\' limits decide.'
)


@dataclass(frozen=True, slots=True)
class OnTable:
    """A part's load on a machine.

    Attributes:
        short: the verdict in a few words.
        limits: (sign, sentence) of each limit; "ok", "no" or "?" where it was not checked.
        change: what would have to change to fit one more, or to fit at all, in sentences.
        table: what is drawn: the table, or the travel where no table is given; None without both.
        pieces: on the fullest face.
        scale: what the drawing is of, in words.
    """

    part: str
    group: str
    found: Fit
    short: str
    limits: tuple[tuple[str, str], ...]
    change: tuple[str, ...]
    table: tuple[Fraction, Fraction] | None
    pieces: tuple[Box, ...]
    scale: str
    units: str

    def caption(self, drawing: Scaled) -> str:
        """What the drawing shows, and how far a column of it reaches."""
        column = show(round(drawing.mm_per_cell, 1), Dimension.LENGTH, self.units)
        return f"{len(self.pieces)} on a face; the {self.scale}, a column is {column} of it"

    def drawn(self, width: int, height: int) -> Scaled | None:
        """The layout to scale; None where there is nothing to draw it on."""
        return None if self.table is None else to_scale(self.table, self.pieces, width, height)


@dataclass(frozen=True, slots=True)
class Pairing:
    """A part and a machine of a scenario, with the verdict."""

    part: str
    group: str
    short: str
    fits: bool


def pairings(plan: Plan) -> tuple[Pairing, ...]:
    """Every part on every machine that it may be made on, in the file's order."""
    return tuple(
        Pairing(part, group, verdict(found), found.fits)
        for part, by_group in plan.fits.items()
        for group, found in by_group.items()
        if not any(limit.kind == "machine" for limit in found.limits)
    )


def verdict(found: Fit) -> str:
    """How many make a load of how many there is room for; "no" where it does not fit."""
    if not found.fits:
        return "no"
    return f"{found.per_pallet} of {'?' if found.most is None else found.most}"


def on_table(scenario: Scenario, part: str, group: str, units: str) -> OnTable:
    """A part on a machine of a scenario that has both."""
    made, machine = scenario.part[part], scenario.machine[group]
    piece, face = question(made, made.on.get(group), machine)
    found = in_units(fit(piece, face), units)
    signs = {"met": "ok", "missed": "no", "unchecked": "?"}
    return OnTable(
        part=part,
        group=group,
        found=found,
        short=verdict(found),
        limits=tuple((signs[limit.state], limit.text) for limit in found.limits),
        change=tuple(words_in_units(text, units) for text in _changes(piece, face, found)),
        table=face.table or face.travel,
        pieces=found.layout,
        scale="table" if face.table is not None else "reach of the axes; no table is given",
        units=units,
    )


def _changes(piece: Piece, face: Face, found: Fit) -> Iterator[str]:
    """What would let one more stand there, or a single one where none does."""
    if not found.fits:
        yield "To fit at all:"
        yield from _to_fit_at_all(piece, face, found)
        return
    on_face = len(found.layout)
    yield "For one more:"
    if found.most is not None and found.per_pallet < found.most:
        stated = f"The load is set to {found.per_pallet}; there is room for {found.most}."
        yield f"{stated} Change pieces per load."
        return
    load = next((limit for limit in found.limits if limit.kind == "load"), None)
    if load is not None and load.margin is not None and load.margin < piece.mass:
        yield f"The table would have to carry {_kg(piece.mass - load.margin)} more."
    growth = _growth(piece, face, on_face + 1)
    if growth is not None:
        yield growth.text


def _to_fit_at_all(piece: Piece, face: Face, found: Fit) -> Iterator[str]:
    for limit in found.limits:
        if limit.state != "missed" or limit.margin is None:
            continue
        if limit.kind == "height":
            yield f"{_mm(-limit.margin)} less of part and fixture, or as much more work height."
        elif limit.kind == "load":
            yield f"{_kg(-limit.margin)} less, or a table that carries as much more."
    if any(limit.kind == "face" and limit.state == "missed" for limit in found.limits):
        growth = _growth(piece, face, 1)
        if growth is not None:
            yield growth.text


def _growth(piece: Piece, face: Face, count: int) -> Growth | None:
    if piece.size is None or (face.table is None and face.travel is None):
        return None
    return needed_for(piece, face, count)


def _mm(length: Fraction) -> str:
    return f"{float(length):g} mm"


def _kg(mass: Fraction) -> str:
    return f"{float(mass):g} kg"
