"""A layout of pieces on a table drawn to scale in characters.

A character cell is taken to be twice as high as it is wide, as terminals commonly have it (common
practice, no source), so that a square piece looks square.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

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
