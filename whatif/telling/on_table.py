"""A part on a table: verdict, limits and what one more would take in words, and a drawing to scale.

A character cell is taken to be twice as high as it is wide, as terminals commonly have it (common
practice, no source), so that a square piece looks square.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from whatif.answers.on_table import (
    Change,
    LargerLoad,
    LighterPart,
    LowerPart,
    OnTable,
    StrongerTable,
)
from whatif.cell.fit.fit import AXES, Fit, Growth
from whatif.telling.fit import WANTING, fit_limit_words, length, mass, pieces_text
from whatif.units import Dimension, show

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
