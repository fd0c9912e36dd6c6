"""The drawing of a machine's table: to scale, every piece seen, turned ones and edges told."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest

from whatif.telling.fit_drawing import Box, Drawn, FromAbove, mm_per_cell, to_scale


def _box(*numbers: int) -> Box:
    x, y, length, width = (Fraction(number) for number in numbers)
    return x, y, length, width


def _face(
    length: int, width: int, pieces: Sequence[Box], edge: int = 0, turned: Sequence[int] = ()
) -> FromAbove:
    table = Fraction(length), Fraction(width)
    free = table[0] - 2 * edge, table[1] - 2 * edge
    return FromAbove(table, free, pieces, [place in turned for place in range(len(pieces))])


def _texts(lines: Sequence[Drawn]) -> list[str]:
    return ["".join(text for text, _ in line) for line in lines]


def _inside(face: FromAbove, scale: int) -> list[str]:
    """What lies within the outline, from the lowest line."""
    lines = _texts(to_scale(face, Fraction(scale), "metric"))[1:-2]
    return [line.split("│")[1] for line in lines][::-1]


def test_a_piece_is_drawn_where_it_lies() -> None:
    """400 x 200 mm at 10 mm a column and 20 mm a line: 40 x 10 cells. From 100 to 205 mm are
    columns 10 to 19 and the left half of 20; from 40 to 130 mm lines 2 to 5 and the lower half of
    line 6, counted from below."""
    inside = _inside(_face(400, 200, [_box(100, 40, 105, 90)]), 10)
    assert len(inside) == 10
    assert {len(line) for line in inside} == {40}
    assert inside[2] == " " * 10 + "█" * 10 + "▌" + " " * 19
    assert inside[6] == " " * 10 + "▄" * 10 + "▖" + " " * 19
    assert inside[1].strip() == inside[7].strip() == ""


def test_pieces_are_numbered_and_turned_ones_have_their_sign_and_ink() -> None:
    face = _face(400, 200, [_box(0, 0, 100, 60), _box(200, 0, 60, 100)], turned=[1])
    lines = to_scale(face, Fraction(10), "metric")
    runs = [run for line in lines for run in line]
    assert [text.strip() for text, ink in runs if ink == "number"] == ["2 ↻", "1"]
    assert {"piece", "turned"} <= {ink for _, ink in runs}


def test_the_edge_left_free_is_hatched() -> None:
    """30 mm at 10 mm a column are three columns; at 20 mm a line the middle of line 1 is at 30."""
    inside = _inside(_face(400, 200, [_box(30, 30, 100, 100)], edge=30), 10)
    assert inside[0] == "╱" * 40
    assert inside[4].startswith("╱╱╱█")
    assert inside[8].startswith("╱╱╱ ")


@pytest.mark.parametrize("gap", [0, 1])
def test_a_gap_is_seen_however_small(gap: int) -> None:
    pieces = [_box(0, 0, 100, 100), _box(100 + gap, 0, 100, 100)]
    middle = _inside(_face(400, 100, pieces), 10)[0]
    assert middle.startswith("█" * 9 + "▌█")


def test_every_piece_is_seen_however_small() -> None:
    pieces = [_box(x, y, 4, 4) for x in (0, 200, 400) for y in (0, 200)]
    inside = _inside(_face(500, 300, pieces), 20)
    assert sum(sign not in " " for line in inside for sign in line) == 6


def test_sizes_stand_at_two_sides_in_the_units_asked_for() -> None:
    face = _face(508, 254, [_box(0, 0, 100, 100)])
    metric, inch = (" ".join(_texts(to_scale(face, Fraction(10), u))) for u in ("metric", "inch"))
    assert "508 mm" in metric
    assert "254 mm" in metric
    assert "20 in" in inch
    assert "10 in" in inch
    assert "mm" not in inch


@pytest.mark.parametrize(("width", "height"), [(24, 8), (40, 10), (80, 30), (200, 12)])
def test_it_fills_its_room_and_keeps_to_it(width: int, height: int) -> None:
    face = _face(700, 500, [_box(0, 0, 700, 500)])
    lines = _texts(to_scale(face, mm_per_cell(face, width, height, "metric"), "metric"))
    assert len(lines) <= height
    assert max(map(len, lines)) <= width
    assert len(lines) == height or max(map(len, lines)) >= width - 1
