"""Magazines that hold fewer tools than the parts made on their machines take."""

from __future__ import annotations

from pathlib import Path

import pytest
from study_texts import today

from whatif.command.main import main
from whatif.plan.build import plans_of
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.telling.warnings import plan_warning


def warnings(draft: Draft) -> list[str]:
    """All of them, in every scenario."""
    checked = check(draft)
    assert checked.problems == ()
    return [plan_warning(each) for plan in plans_of(checked).values() for each in plan.warnings]


TOOLS = ("machine.mill.pockets = 30", "part.body.tools = 20")


@pytest.mark.parametrize(
    ("lines", "needed"),
    [
        (("part.body.sister_tools = 11",), 31),
        (("part.axle = {cycle = '1 min', weekly = 5, tools = 11}",), 31),
        (
            (
                "part.axle = {cycle = '1 min', weekly = 0, tools = 11}",
                "rush.r = {part = 'axle', pieces = 1}",
            ),
            31,
        ),
    ],
)
def test_more_tools_than_the_magazine_holds(lines: tuple[str, ...], needed: int) -> None:
    (warning,) = warnings(today(*TOOLS, *lines))
    assert warning.startswith("mill, magazine places = 30: ")
    assert f"take {needed} places" in warning


@pytest.mark.parametrize(
    "lines",
    [
        ("part.body.sister_tools = 10",),
        ("part.axle = {cycle = '1 min', weekly = 0, tools = 11}",),
        ("part.axle = {cycle = '1 min', weekly = 5, sister_tools = 11}",),
        (
            "machine.lathe.count = 1",
            "part.axle = {cycle = '1 min', weekly = 5, tools = 11, machines = ['lathe']}",
        ),
    ],
)
def test_tools_that_the_magazine_holds(lines: tuple[str, ...]) -> None:
    assert warnings(today(*TOOLS, *lines)) == []


FITS_NOWHERE = (
    "machine.mill.work_height = '100 mm'",
    "part.body.sister_tools = 6",
    "part.axle = {cycle = '1 min', weekly = 5, tools = 5}",
    "part.plate = {cycle = '1 min', weekly = 5, tools = 14, size = ['9 mm', '9 mm', '101 mm']}",
)


def test_a_part_that_does_not_fit_takes_no_place() -> None:
    """Of 20 + 6, 5 and 14 places the last are those of a part that is 1 mm too high."""
    (places, _) = warnings(today(*TOOLS, *FITS_NOWHERE))
    assert "take 31 places" in places


def test_it_is_told_by_a_check_where_it_arises(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "study.toml"
    path.write_text(TEXT, encoding="utf-8")
    assert main(["check", str(path)]) == 0
    assert capsys.readouterr().out.count("take 31 places") == 1


TEXT = """\
format = 1
[scenario.today]
shift.day = {days = ["mon"], start = "06:00", end = "14:00"}
machine.mill = {count = 1, pockets = 30}
part.body = {cycle = "1 min", weekly = 5, tools = 31}
[scenario.child]
parent = "today"
machine.mill.price = 10
"""
