"""A part on a table: its limits in figures, and what one more would take."""

from __future__ import annotations

from pathlib import Path

from whatif.answers.on_table import OnTable, on_table
from whatif.study.check.check import check
from whatif.study.file.reading import read_file
from whatif.telling.fit import changes_told, check_rows, limits_told, load_and_room, verdict

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


def _bed(
    tmp_path: Path,
    mass: str = "1 kg",
    fixture: str = "50 mm",
    more: str = "",
    *,
    plate: bool = False,
) -> OnTable:
    path = tmp_path / "study.toml"
    text = STUDY.format(mass=mass, fixture=fixture, more=more)
    if plate:
        text = text.replace('"500 mm", "300 mm"', '"370 mm", "370 mm"')
        text = text.replace('"100 mm", "80 mm", "60 mm"', '"560 mm", "380 mm", "30 mm"')
    path.write_text(text)
    study = check(read_file(path).draft).study
    assert study is not None
    return on_table(study.scenarios["now"], "body", "mill")


def test_one_more_by_pencil(tmp_path: Path) -> None:
    """Free is 480 x 280. Plain rows of 100 x 80 with gaps of 20: 4 along (4 x 120 - 20 = 460), 3
    across (3 x 100 - 20 = 280), so 12, which fill the width; a fifth column takes 5 x 120 - 20 =
    580, that is 100 more, and 80 wide columns (80 + 20 each) need 5 x 100 - 20 = 480 and two
    rows of 100 (220)."""
    found = _bed(tmp_path)
    assert load_and_room(found.found) == ("12", "12")
    assert [
        sign for sign, _ in limits_told(found.found, "body", "mill", "metric") if sign == "no"
    ] == []
    assert changes_told(found, "metric")[0] == "For one more:"
    assert "Room for 13 pieces" in changes_told(found, "metric")[1]


def test_which_pieces_lie_turned_on_a_larger_face_is_told(tmp_path: Path) -> None:
    """560 x 380 lacks 210 and 30 of 350 x 350, turned 30 and 210: the sentence told the second
    pair below a table of the first, and not that it is of the piece turned."""
    found = _bed(tmp_path, plate=True)
    needs = [row.left for row in check_rows(found.found, "metric")[:2]]
    assert needs == ["-210", "-30"]
    assert changes_told(found, "metric")[1] == (
        "Room for 1 piece on a face takes 30 mm more length and 210 mm more width (for the piece "
        "turned)."
    )


def test_some_of_the_pieces_may_lie_turned_on_a_larger_face(tmp_path: Path) -> None:
    """Free is 480 x 280. 540 hold two columns of 80 across (80 + 20 + 80 + 20 = 200), two turned
    in each (2 x 100 + 20 = 220), so 4, beside three of 100 (340) with 3 each, so 9: 13 in all."""
    words = changes_told(_bed(tmp_path), "metric")[1]
    assert "60 mm more length (4 of them turned) or 20 mm more width (5 of them turned)." in words


def test_the_load_limits_before_the_face(tmp_path: Path) -> None:
    """40 kg carry 8 pieces of 5 kg; a ninth needs 5 kg more than the 0 that are to spare."""
    found = _bed(tmp_path, mass="5 kg")
    assert load_and_room(found.found) == ("8", "8")
    assert "The table would have to carry 5 kg more." in changes_told(found, "metric")


def test_too_high_by_pencil(tmp_path: Path) -> None:
    """60 of part and 150 of fixture make 210, 10 more than the work height of 200."""
    found = _bed(tmp_path, fixture="150 mm")
    assert verdict(found.found) == "does not fit"
    assert changes_told(found, "metric") == (
        "To fit at all:",
        "10 mm less of part and fixture, or as much more work height.",
    )


def test_a_stated_load_is_told(tmp_path: Path) -> None:
    found = _bed(tmp_path, more="per_pallet = 5")
    assert verdict(found.found) == "5 pieces in a load, room for 12"
    assert "there is room for 12" in changes_told(found, "metric")[1]
    assert len(found.found.layout) == 5


def test_each_limit_is_told_in_figures_of_one_unit(tmp_path: Path) -> None:
    """Free are 480 x 280, of which 460 x 280 are needed; 60 + 50 of 200 in height; 12 kg of 40."""
    rows = check_rows(_bed(tmp_path).found, "metric")
    assert [(row.label, row.needs, row.has, row.left, row.unit) for row in rows if row.unit] == [
        ("length", "460", "480", "20", "mm"),
        ("width", "280", "280", "0", "mm"),
        ("height", "110", "200", "90", "mm"),
        ("load", "12", "40", "28", "kg"),
    ]
    unchecked = [row for row in rows if not row.unit]
    assert [(row.sign, row.label, row.unchecked) for row in unchecked] == [
        ("?", "reach", "enter the machine's travel")
    ]


def test_what_misses_is_told_below_nothing(tmp_path: Path) -> None:
    """60 of part and 150 of fixture are 10 more than 200 mm; 10 mm are 0.394 in."""
    missed = list(check_rows(_bed(tmp_path, fixture="150 mm").found, "inch"))
    assert [(row.left, row.unit) for row in missed if row.sign == "no"] == [("-0.394", "in")]


def test_what_would_have_to_change_is_rounded_up_so_that_it_is_enough(tmp_path: Path) -> None:
    """60 mm of part on 141 of fixture below 200: 1 mm, 0.0394 in, are too much. Told as 0.039 in,
    who took that off still had 0.01 mm too much."""
    found = _bed(tmp_path, fixture="141 mm")
    assert changes_told(found, "inch")[1].startswith("0.04 in less of part and fixture")
    assert changes_told(found, "metric")[1].startswith("1 mm less of part and fixture")
    # 40 kg bear, 41 lie on them: 1 kg is 2.2046 lb.
    heavy = _bed(tmp_path, mass="41 kg")
    assert changes_told(heavy, "inch")[1].startswith("2.21 lb less")
    assert changes_told(heavy, "metric")[1].startswith("1 kg less")


def test_a_larger_face_is_rounded_up_in_the_units_that_it_is_told_in(tmp_path: Path) -> None:
    """A sixth block of 7.5 x 4 in on 22 x 17: 4 x 4 in and three gaps of 50 mm take 556.4 mm, and
    508.8 mm are between the edges: 47.6 mm more (pencil), that is 1.874 in, rounded up 1.88.
    Whole mm told as inches were 1.89."""
    path = tmp_path / "study.toml"
    block = 'size = ["7.5 in", "4 in", "3.25 in"]'
    text = STUDY.format(mass="1 kg", fixture="0 mm", more="")
    text = text.replace('["500 mm", "300 mm"]', '["22 in", "17 in"]')
    text = text.replace('size = ["100 mm", "80 mm", "60 mm"]', block)
    text = text.replace('gap = "20 mm"\nedge = "10 mm"\n', 'gap = "50 mm"\nedge = "25 mm"\n')
    path.write_text(text)
    study = check(read_file(path).draft).study
    assert study is not None
    now = study.scenarios["now"]
    inch = changes_told(on_table(now, "body", "mill", "inch"), "inch")[1]
    assert "Room for 6 pieces on a face takes 1.88 in more length" in inch
    metric = changes_told(on_table(now, "body", "mill", "metric"), "metric")[1]
    assert "Room for 6 pieces on a face takes 48 mm more length" in metric
