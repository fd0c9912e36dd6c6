"""A part on a machine: what limits it, why it is not made, what would have to change; to scale.

In the drawing a character cell is taken to be twice as high as it is wide, as terminals commonly
have it (common practice, no source), so that a square piece looks square.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from whatif.answers.on_table import (
    Change,
    LargerLoad,
    LighterPart,
    LowerPart,
    OnTable,
    StrongerTable,
)
from whatif.cell.fit.fit import AXES, Fit, Growth, Lack, Limit
from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, listed
from whatif.units import Dimension, show

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.cell.model import Work
    from whatif.plan.model import NotMade

WANTING: dict[Lack, str] = {
    "table or travel": "the machine's table or travel",
    "table": "the machine's table",
    "travel": "the machine's travel",
    "size": "the part's size",
    "work height": "the machine's work height",
    "table load": "the machine's table load",
    "mass": "the part's mass",
}
"""What is to be entered, so that what lacks it can be checked."""


WORKS: dict[Work, str] = {
    "load": "loading",
    "setup": "a setup",
    "prove_out": "a prove-out",
    "tools": "new tools",
    "repair": "repairs",
    "release": "the release of a first piece",
}
"""What people may do, as what a part needs."""


def not_made_sentence(unmade: NotMade) -> str:
    """Why a part is not made; where it fits no machine, by how much it misses on each."""
    part = unmade.part
    match unmade.why:
        case "no machine":
            return f"{part} is not made: there is no machine; enter a machine's count."
        case "nobody":
            works = listed([WORKS[work] for work in unmade.works])
            return (
                f"{part} is not made: it needs {works}, and nobody in any shift may do that; "
                "enter it under what a shift may do."
            )
        case "not before":
            return f"{part} is not made: {unmade.before}, which it comes after, is not made."
        case "no fit":
            told = [
                f"on {group}: "
                + " ".join(fit_limit_words(limit, part, group, unmade.units) for limit in missed)
                for group, missed in unmade.missed
            ]
            return f"{part} is not made, it fits no machine; {'; '.join(told)}"


def fit_limit_words(limit: Limit, part: str, group: str, units: str) -> str:
    """One limit of a part on a machine group, met, missed or unchecked; `units` as in a study."""
    if limit.has is None or limit.needs is None:
        return _unchecked(limit, part, group)
    words = {"face": _face, "height": _height, "load": _load}[limit.kind]
    measure = mass if limit.kind == "load" else length
    margin = limit.has - limit.needs
    if margin < 0:
        return f"{words(limit, units)}: it misses by {measure(-margin, units)}."
    text = f"{words(limit, units)}: {measure(margin, units)} to spare."
    if limit.room is not None:
        text += f" One more would be too heavy; there is room for {limit.room}."
    return text


def _unchecked(limit: Limit, part: str, group: str) -> str:
    if limit.lacks is None:
        return f"{part} is not to be made on {group}: its list of machines leaves it out."
    if limit.lacks == "table or travel":
        missing, enter = "the machine's table and travel are", "one of them"
    else:
        missing, enter = f"{WANTING[limit.lacks]} is", "it"
    what = {"table": "Table", "travel": "Reach"}.get(limit.lacks, limit.kind.capitalize())
    return f"{what}: {missing} not given, so not checked: enter {enter}."


def _face(limit: Limit, units: str) -> str:
    assert limit.axis is not None
    assert limit.has is not None
    assert limit.needs is not None
    if limit.bound == "travel":
        there = f"the travel is {length(limit.has, units)}"
    elif limit.has <= 0:
        there = f"edges of {length(limit.edge, units)} leave nothing of the face"
    else:
        there = f"the face has {length(limit.has, units)} between its edges"
    where = " on one face" if limit.faces > 1 else ""
    need = "needs" if limit.pieces == 1 else "need"
    needed = length(limit.needs, units)
    return f"{limit.axis.capitalize()}: {pieces_text(limit.pieces)}{where} {need} {needed}, {there}"


def _height(limit: Limit, units: str) -> str:
    assert limit.has is not None
    return (
        f"Height: {length(limit.each, units)} of part{_fixture(limit, length, units)}, "
        f"the work height is {length(limit.has, units)}"
    )


def _load(limit: Limit, units: str) -> str:
    assert limit.has is not None
    assert limit.needs is not None
    return (
        f"Load: {pieces_text(limit.pieces)} of {mass(limit.each, units)}"
        f"{_fixture(limit, mass, units)} make {mass(limit.needs, units)}, "
        f"table or pallet may carry {mass(limit.has, units)}"
    )


def _fixture(limit: Limit, measure: Callable[[Fraction, str], str], units: str) -> str:
    return f" and {measure(limit.fixture, units)} of fixture" if limit.fixture else ""


def pieces_text(count: int) -> str:
    """A number of pieces."""
    return "1 piece" if count == 1 else f"{count} pieces"


def length(mm: Fraction, units: str) -> str:
    """A length given in mm."""
    return _measure(mm, "mm", Dimension.LENGTH, units)


def mass(kg: Fraction, units: str) -> str:
    """A mass given in kg."""
    return _measure(kg, "kg", Dimension.MASS, units)


def _measure(number: Fraction, unit: str, dimension: Dimension, units: str) -> str:
    """Up to three decimals of mm or kg, halves up; something is never told as nothing."""
    thousandths = (number * 2000 + 1) // 2
    less = "less than " if thousandths == 0 and number else ""
    shown = Fraction(1 if less else thousandths, 1000)
    if units != "metric":
        return less + show(shown, dimension, units)
    whole, rest = divmod(shown.numerator * 1000 // shown.denominator, 1000)
    return f"{less}{whole}.{rest:03}".rstrip("0").rstrip(".") + f" {unit}"


HOLDS = (
    '"Fits" is arithmetic on what was entered, no permission to load: the makers\' limits decide.'
)

Sign = Literal["ok", "no", "?"]

_SIGNS: dict[str, Sign] = {"met": "ok", "missed": "no", "unchecked": "?"}


def verdict(found: Fit) -> str:
    """How many make a load of how many there is room for; "no" where it does not fit."""
    if not found.fits:
        return "no"
    return f"{found.per_pallet} of {'?' if found.most is None else found.most}"


def limits_told(found: Fit, part: str, group: str, units: str) -> tuple[tuple[Sign, str], ...]:
    """Each limit as a sign and a sentence; "?" where it was not checked."""
    return tuple(
        (_SIGNS[limit.state], fit_limit_words(limit, part, group, units)) for limit in found.limits
    )


def changes_told(on_table: OnTable, units: str) -> tuple[str, ...]:
    """What would have to change to fit one more, or to fit at all, in sentences."""
    begin = "For one more:" if on_table.found.fits else "To fit at all:"
    return (begin, *(_change(change, units) for change in on_table.changes))


def _change(change: Change, units: str) -> str:
    match change:
        case LargerLoad():
            stated = f"The load is set to {change.stated}; there is room for {change.room}."
            return f"{stated} Change pieces per load."
        case StrongerTable():
            return f"The table would have to carry {mass(change.more, units)} more."
        case LowerPart():
            less = length(change.less, units)
            return f"{less} less of part and fixture, or as much more work height."
        case LighterPart():
            less = mass(change.less, units)
            return f"{less} less, or a table that carries as much more."
    return growth_words(change, units)


def growth_words(growth: Growth, units: str) -> str:
    """By how much a face must grow to hold so many pieces."""
    if growth.lacks is not None:
        return f"Not known: enter {WANTING[growth.lacks]}."
    if growth.too_high:
        return "The part is too high; a larger face does not help."
    if growth.length == 0:
        return f"The face as it is has room for {pieces_text(growth.count)}."
    grown = zip(AXES, (growth.length, growth.width), strict=True)
    ways = [f"{length(more, units)} more {axis}" for axis, more in grown if more is not None]
    if ways:
        return f"Room for {pieces_text(growth.count)} on a face takes {' or '.join(ways)}."
    return f"No face up to twice as long or as wide holds {pieces_text(growth.count)}."


# -- the drawing ---------------------------------------------------------------------------

Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""x, y, length, width in mm from the table's corner."""

_HIGH = 2
"""Widths of a character cell in its height."""


@dataclass(frozen=True, slots=True)
class Scaled:
    """The drawing, its origin at the lower left.

    Attributes:
        lines: from top to bottom, all equally long.
        mm_per_cell: length that one cell stands for; its height stands for twice that.
    """

    lines: tuple[str, ...]
    mm_per_cell: float


def drawn(on_table: OnTable, width: int, height: int) -> Scaled | None:
    """The layout to scale; None where there is nothing to draw it on."""
    if on_table.table is None:
        return None
    return to_scale(on_table.table, on_table.found.layout, width, height)


def caption(on_table: OnTable, drawing: Scaled, units: str) -> str:
    """What the drawing shows, and how far a column of it reaches."""
    column = show(round(drawing.mm_per_cell, 1), Dimension.LENGTH, units)
    scale = "reach of the axes; no table is given" if on_table.is_travel else "table"
    return f"{len(on_table.found.layout)} on a face; the {scale}, a column is {column} of it"


def to_scale(
    table: tuple[Fraction, Fraction], pieces: Sequence[Box], width: int, height: int
) -> Scaled:
    """The table's outline and the pieces on it, in at most ``width`` x ``height`` cells.

    A piece that is smaller than two cells is a single sign, so that each piece is seen.
    """
    room = max(3, width - 2), max(2, height - 2)
    cell = max(table[0] / room[0], table[1] / (room[1] * _HIGH))
    across = max(1, round(table[0] / cell))
    down = max(1, round(table[1] / (cell * _HIGH)))
    grid = [[" "] * across for _ in range(down)]
    for piece in pieces:
        _draw(grid, piece, cell, down)
    edge = "═" * across
    body = [f"║{''.join(line)}║" for line in grid]
    return Scaled((f"╔{edge}╗", *body, f"╚{edge}╝"), float(cell))


def _draw(grid: list[list[str]], piece: Box, cell: Fraction, down: int) -> None:
    x, y, length, width = piece
    left, right = _span(x, x + length, cell, len(grid[0]))
    low, high = _span(y, y + width, cell * _HIGH, down)
    top, bottom = down - 1 - high, down - 1 - low
    if left == right or top == bottom:
        for at in range(left, right + 1):
            for line in range(top, bottom + 1):
                grid[line][at] = "▒"
        grid[top][left] = "█"
        return
    for at in range(left + 1, right):
        grid[top][at] = grid[bottom][at] = "─"
    for line in range(top + 1, bottom):
        grid[line][left] = grid[line][right] = "│"
    grid[top][left], grid[top][right] = "┌", "┐"
    grid[bottom][left], grid[bottom][right] = "└", "┘"


def _span(begin: Fraction, end: Fraction, cell: Fraction, cells: int) -> tuple[int, int]:
    """First and last cell of a side; neighbours that touch share none."""
    first = min(cells - 1, max(0, round(begin / cell)))
    last = min(cells - 1, max(first, round(end / cell) - 1))
    return first, last


def fit_text(answer: Answer) -> str:
    """Whether the scenario's parts fit, in a few words."""
    if not answer.plan.parts:
        return NOTHING
    left_out = [part.id for part in answer.plan.parts if part.unmade]
    if left_out:
        return f"not made: {', '.join(left_out)}"
    misfits = [
        f"{part} not on {group}"
        for part, by_group in answer.plan.fits.items()
        for group, fit in by_group.items()
        if not fit.fits and all(limit.kind != "machine" for limit in fit.limits)
    ]
    if misfits:
        return ", ".join(misfits)
    unknown = [
        part
        for part, by_group in answer.plan.fits.items()
        if all(fit.most is None for fit in by_group.values())
    ]
    return "sizes unchecked" if unknown else "all fit"
