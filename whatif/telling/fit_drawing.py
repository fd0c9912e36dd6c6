"""A machine's table from above with the pieces on it, to scale, and what its signs say.

A character cell is taken to be twice as high as it is wide, as terminals commonly have it (common
practice, no source), and is drawn in quarters, so that a side is true to half a cell.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby
from math import floor
from typing import TYPE_CHECKING, Literal

from whatif.records import dataclass
from whatif.telling.blocks import LEFT_FREE, QUARTERS
from whatif.telling.fit import length

if TYPE_CHECKING:
    from whatif.answers.on_table import OnTable

Ink = Literal["free", "piece", "turned", "number", "kept", "outline", "size"]
"""What a sign of the drawing belongs to; ``kept`` is what is left free at the edge."""

Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""x, y, length, width in mm from the table's corner."""

Drawn = tuple[tuple[str, Ink], ...]
"""A line of the drawing, in runs of one ink."""

_HIGH = 2
"""Widths of a character cell in its height; also its quarters along each side."""

TURNED = "↻"
"""Behind the number of a piece that lies turned."""


_ASSUMED = " ~"
"""Behind a length that nobody has entered."""


@dataclass(frozen=True, slots=True)
class FromAbove:
    """What is drawn, in mm: the table, what of it may be used, and the pieces."""

    table: tuple[Fraction, Fraction]
    free: tuple[Fraction, Fraction]
    pieces: Sequence[Box]
    turned: Sequence[bool]


def from_above(on_table: OnTable) -> FromAbove | None:
    """What is drawn of a part on a machine; None where there is nothing to draw it on."""
    if on_table.table is None:
        return None
    found = on_table.found
    free = found.free_face or on_table.table
    return FromAbove(on_table.table, free, found.layout, on_table.turned)


def mm_per_cell(face: FromAbove, width: int, height: int, units: str) -> Fraction:
    """The scale at which a face with its outline and its sizes keeps to so many cells."""
    across = max(3, width - 2 - _beside(face, units))
    down = max(2, height - 3)
    return max(face.table[0] / across, face.table[1] / (down * _HIGH))


def to_scale(face: FromAbove, scale: Fraction, units: str) -> list[Drawn]:
    """The face from above, its length below and its width at its right."""
    cells = _cells(face, scale)
    across = len(cells[0])
    aside = _size_down(length(face.table[1], units), len(cells), _beside(face, units))
    edge: Ink = "outline"
    lines: list[Drawn] = [((f"┌{'─' * across}┐", edge),)]
    for line, size in zip(cells, aside, strict=True):
        runs = groupby(line, key=lambda cell: cell[1])
        inside = tuple(("".join(sign for sign, _ in run), ink) for ink, run in runs)
        lines.append((("│", edge), *inside, ("│", edge), (size, "size")))
    lines.append(((f"└{'─' * across}┘", edge),))
    lines.append(((f" {_size_across(length(face.table[0], units), across)}", "size"),))
    return lines


def legend(
    on_table: OnTable, units: str, *, gap_assumed: bool = False, edge_assumed: bool = False
) -> list[str]:
    """What stands in the drawing beside the pieces, each in a few words.

    Gap and edge are told of one piece too: they decide how many there is room for.
    """
    found = []
    faces = max((limit.faces for limit in on_table.found.limits), default=1)
    count = len(on_table.found.layout)
    if faces > 1 and count:
        found.append(f"{count} on the fullest of {faces} faces")
    if on_table.found.standing != 2:
        up = ("length", "width")[on_table.found.standing]
        found.append(f"on their sides, {up} up")
    if any(on_table.turned):
        found.append(f"{TURNED} turned")
    found.append(f"gap {length(on_table.gap, units)}{_ASSUMED if gap_assumed else ''}")
    said = ["~ assumed"] if gap_assumed or (edge_assumed and not on_table.is_travel) else []
    if on_table.is_travel:
        return [*found, "reach of the axes: no table is given", *said]
    edge = f"edge of {length(on_table.edge, units)}{_ASSUMED if edge_assumed else ''} left free"
    bounds = {limit.bound for limit in on_table.found.limits if limit.kind == "face"}
    beyond = "out of the axes' reach" if "travel" in bounds else ""
    hatched = " or ".join(text for text in (edge if on_table.edge else "", beyond) if text)
    found += [] if on_table.edge else ["no edge left free"]
    return [*found, *([f"{LEFT_FREE} {hatched}"] if hatched else []), *said]


# -- cells ---------------------------------------------------------------------------------


def _cells(face: FromAbove, scale: Fraction) -> list[list[tuple[str, Ink]]]:
    """Signs with their inks, from the top line to the lowest."""
    across = max(1, _nearest(face.table[0] / scale))
    down = max(1, _nearest(face.table[1] / (scale * _HIGH)))
    owners = _owners(face.pieces, scale, across * _HIGH, down * _HIGH)
    cells: list[list[tuple[str, Ink]]] = []
    for line in range(down):
        above = down - 1 - line
        upper, lower = owners[_HIGH * above + 1], owners[_HIGH * above]
        cells.append([])
        for at in range(across):
            left, right = _HIGH * at, _HIGH * at + 1
            quarters = (upper[left], upper[right], lower[left], lower[right])
            filled = sum(2**place for place, owner in enumerate(quarters) if owner)
            if filled:
                owner = max(quarters, key=lambda each: (each > 0, quarters.count(each)))
                cells[-1].append((QUARTERS[filled], _ink(face, owner)))
            elif _is_kept(face, (at + Fraction(1, 2)) * scale, (above * _HIGH + 1) * scale):
                cells[-1].append((LEFT_FREE, "kept"))
            else:
                cells[-1].append((" ", "free"))
    for number in range(1, len(face.pieces) + 1):
        _write(cells, owners, number, TURNED if face.turned[number - 1] else "")
    return cells


def _ink(face: FromAbove, owner: int) -> Ink:
    return "turned" if face.turned[owner - 1] else "piece"


def _is_kept(face: FromAbove, x: Fraction, y: Fraction) -> bool:
    """Whether a point lies outside of what may be used, which is in the table's middle."""
    return any(
        2 * abs(at - side / 2) > free
        for at, side, free in zip((x, y), face.table, face.free, strict=True)
    )


def _owners(pieces: Sequence[Box], scale: Fraction, across: int, down: int) -> list[list[int]]:
    """By quarters from the lowest line which piece lies there, from 1; 0 is none.

    Between pieces that are nearer to each other than can be drawn a quarter is left free, so that
    each is seen for itself.
    """
    owners = [[0] * across for _ in range(down)]
    spans = []
    for number, (x, y, long, wide) in enumerate(pieces, 1):
        columns = _span(x, x + long, scale / _HIGH, across)
        lines = _span(y, y + wide, scale, down)
        spans.append((columns, lines))
        for line in lines:
            for column in columns:
                owners[line][column] = number
    for number, (columns, lines) in enumerate(spans, 1):
        last, top = columns[-1], lines[-1]
        if len(columns) > 1 and any(_other(owners, line, last + 1, number) for line in lines):
            for line in lines:
                owners[line][last] = 0
        if len(lines) > 1 and any(_other(owners, top + 1, column, number) for column in columns):
            for column in columns:
                owners[top][column] = 0
    return owners


def _other(owners: Sequence[Sequence[int]], line: int, column: int, number: int) -> bool:
    inside = line < len(owners) and column < len(owners[0])
    return inside and owners[line][column] not in (0, number)


def _span(begin: Fraction, end: Fraction, quarter: Fraction, count: int) -> range:
    """The quarters of a side, one at least."""
    first = min(count - 1, max(0, _nearest(begin / quarter)))
    return range(first, min(count, max(first + 1, _nearest(end / quarter))))


def _write(
    cells: list[list[tuple[str, Ink]]], owners: Sequence[Sequence[int]], number: int, sign: str
) -> None:
    """A piece's number in its middle, where it has cells enough of its own."""
    down = len(cells)
    whole = [
        [at for at in range(len(cells[0])) if _is_whole(owners, at, down - 1 - line, number)]
        for line in range(down)
    ]
    lines = [line for line, columns in enumerate(whole) if columns]
    if not lines:
        return
    line = lines[len(lines) // 2]
    columns = whole[line]
    for text in (f" {number} {sign}".rstrip() + " ", f"{number}{sign}"):
        if len(text) <= len(columns):
            first = columns[0] + (len(columns) - len(text)) // 2
            cells[line][first : first + len(text)] = [(each, "number") for each in text]
            return


def _is_whole(owners: Sequence[Sequence[int]], at: int, above: int, number: int) -> bool:
    """Whether all four quarters of a cell are a piece's."""
    return all(
        owners[_HIGH * above + up][_HIGH * at + right] == number
        for up in range(_HIGH)
        for right in range(_HIGH)
    )


# -- sizes at two sides ----------------------------------------------------------------------


def _beside(face: FromAbove, units: str) -> int:
    """Cells at the right for the size of the face's width."""
    return 3 + len(length(face.table[1], units))


def _size_across(text: str, cells: int) -> str:
    if cells < len(text) + 4:
        return text
    before, after = (cells - len(text) - 4) // 2, (cells - len(text) - 3) // 2
    return f"├{'─' * before} {text} {'─' * after}┤"


def _size_down(text: str, lines: int, room: int) -> list[str]:
    """A stroke from end to end, its text beside the middle."""
    strokes = [" ┬", *[" │"] * (lines - 2), " ┴"][-lines:] if lines > 1 else [" │"]
    strokes[lines // 2] += f" {text}"
    return [stroke.ljust(room) for stroke in strokes]


def _nearest(number: Fraction) -> int:
    return floor(number + Fraction(1, 2))
