"""A part on a table: the drawing to scale, and what one more would take."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from whatif.answers.on_table import OnTable, on_table
from whatif.study.check.check import check
from whatif.study.file.reading import read_file
from whatif.telling.fit import Box, changes_told, limits_told, to_scale, verdict

STUDY = """\
format = 1
[scenario.now.shift.day]
days = ["mon"]
start = "07:00"
end = "15:00"
[scenario.now.machine.mill]
table = ["500 mm", "300 mm"]
work_height = "200 mm"
table_load = "40 kg"
[scenario.now.part.body]
size = ["100 mm", "80 mm", "60 mm"]
gap = "20 mm"
edge = "10 mm"
mass = "{mass}"
fixture_height = "{fixture}"
cycle = "5 min"
weekly = 100
{more}
"""


def _bed(tmp_path: Path, mass: str = "1 kg", fixture: str = "50 mm", more: str = "") -> OnTable:
    path = tmp_path / "study.toml"
    path.write_text(STUDY.format(mass=mass, fixture=fixture, more=more))
    study = check(read_file(path).draft).study
    assert study is not None
    return on_table(study.scenarios["now"], "body", "mill")


def _box(*numbers: int) -> Box:
    x, y, length, width = (Fraction(number) for number in numbers)
    return x, y, length, width


def test_a_drawing_is_to_scale() -> None:
    """400 x 200 mm in 40 columns: 10 mm a column, 20 mm a line, so 10 lines."""
    drawing = to_scale((Fraction(400), Fraction(200)), [_box(100, 40, 100, 80)], 42, 40)
    assert drawing.mm_per_cell == 10
    assert len(drawing.lines) == 12
    assert {len(line) for line in drawing.lines} == {42}
    # From 100 to 200 mm are columns 10 to 19; from 40 to 120 mm are lines 2 to 5 from below.
    body = [line[1:-1] for line in drawing.lines[1:-1]][::-1]
    assert body[2] == " " * 10 + "└────────┘" + " " * 20
    assert body[5] == " " * 10 + "┌────────┐" + " " * 20
    assert body[3][10] == body[3][19] == "│"
    assert body[1].strip() == body[6].strip() == ""


@pytest.mark.parametrize(("width", "height"), [(10, 5), (40, 8), (80, 30), (200, 12)])
def test_it_keeps_to_its_room(width: int, height: int) -> None:
    drawing = to_scale((Fraction(700), Fraction(500)), [_box(0, 0, 700, 500)], width, height)
    assert len(drawing.lines) <= height
    assert all(len(line) <= width for line in drawing.lines)


def test_every_piece_is_seen_however_small() -> None:
    pieces = [_box(x, y, 10, 10) for x in (0, 200, 400) for y in (0, 200)]
    drawing = to_scale((Fraction(500), Fraction(300)), pieces, 30, 12)
    assert "".join(drawing.lines).count("█") == 6


def test_one_more_by_pencil(tmp_path: Path) -> None:
    """Free is 480 x 280. Plain rows of 100 x 80 with gaps of 20: 4 along (4 x 120 - 20 = 460), 3
    across (3 x 100 - 20 = 280), so 12, which fill the width; a fifth column takes 5 x 120 - 20 =
    580, that is 100 more, and 80 wide columns (80 + 20 each) need 5 x 100 - 20 = 480 and two
    rows of 100 (220)."""
    found = _bed(tmp_path)
    assert verdict(found.found) == "12 of 12"
    assert [
        sign for sign, _ in limits_told(found.found, "body", "mill", "metric") if sign == "no"
    ] == []
    assert changes_told(found, "metric")[0] == "For one more:"
    assert "Room for 13 pieces" in changes_told(found, "metric")[1]


def test_the_load_limits_before_the_face(tmp_path: Path) -> None:
    """40 kg carry 8 pieces of 5 kg; a ninth needs 5 kg more than the 0 that are to spare."""
    found = _bed(tmp_path, mass="5 kg")
    assert verdict(found.found) == "8 of 8"
    assert "The table would have to carry 5 kg more." in changes_told(found, "metric")


def test_too_high_by_pencil(tmp_path: Path) -> None:
    """60 of part and 150 of fixture make 210, 10 more than the work height of 200."""
    found = _bed(tmp_path, fixture="150 mm")
    assert verdict(found.found) == "no"
    assert changes_told(found, "metric") == (
        "To fit at all:",
        "10 mm less of part and fixture, or as much more work height.",
    )


def test_a_stated_load_is_told(tmp_path: Path) -> None:
    found = _bed(tmp_path, more="per_pallet = 5")
    assert verdict(found.found) == "5 of 12"
    assert "there is room for 12" in changes_told(found, "metric")[1]
    assert len(found.found.layout) == 5
