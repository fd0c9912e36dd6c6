"""An engineer on a slow line: eighty columns, twenty-four lines, keys alone."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from screen import SCENARIOS, on_screen
from walking import Gains, Walk, likely_gain

from whatif.study.check.check import check
from whatif.study.file.reading import read_file


@pytest.mark.long
async def test_eighty_columns_by_keys_alone(tmp_path: Path) -> None:
    study = tmp_path / "one-person.toml"
    shutil.copy(SCENARIOS / study.name, study)
    before = study.read_text("utf-8")
    async with on_screen(study, (80, 24), state=tmp_path / "state", calculator=Gains) as screen:
        walk = Walk(screen)
        walk.sees("Gate hardware", "reference", "F1 help")
        await walk.reads_help()

        # What would more pallets bring? A row is found by its name, the scenario by its title.
        await walk.finds("pallets each")
        await walk.goes_to("Second pallet")
        assert walk.value == "2"
        assert is_little(walk.told("saleable output"))
        await walk.types("3")
        walk.sees("keep", "Esc back")
        walk.fits()
        await walk.keys("enter")
        walk.sees("Pallets each 2 -> 3 in Second pallet each", "u undoes it", "1 change not saved")
        assert is_little(walk.told("saleable output"))
        walk.fits()

        # Hardly anything: people hold it back. One more of them, on the day shift.
        walk.sees_in("limit, %", "nobody free 40 %")
        await walk.finds("people")
        assert walk.value == "1"
        await walk.types("2")
        await walk.keys("enter")
        walk.sees("-> 2 in Second pallet each")
        one_more = walk.told("saleable output")
        assert likely_gain(one_more)[0] > 20
        walk.fits()

        # And hours after the shift, with the unit typed as one says it: more is cut at night, but
        # nobody buys more, which the strip tells apart.
        by_day = hours_with_nobody(walk)
        await walk.finds("unattended after")
        await walk.types("4 hours")
        await walk.keys("enter")
        walk.sees("4 hours in Second pallet each", "3 changes not saved")
        assert hours_with_nobody(walk) > by_day
        assert walk.told("saleable output") == one_more
        walk.fits()

        # Undone, and done again; the screen says each time what it was.
        await walk.keys("u")
        walk.sees("Undone: ", "r does it again")
        assert hours_with_nobody(walk) == by_day
        await walk.keys("r")
        walk.sees("Done again: ")
        assert hours_with_nobody(walk) > by_day

        # Only what differs; the table stands there in metric and in inches.
        await walk.keys("equals_sign")
        walk.sees("only differences", "= ends.")
        walk.sees("pallets each")
        walk.sees_no("warm-up")
        await walk.finds("table")
        await walk.keys("i")
        walk.sees("in metric")
        assert walk.value.startswith("558")
        await walk.keys("i")
        walk.sees("in inch")
        assert walk.value.startswith("22")
        walk.fits()
        await walk.keys("equals_sign")
        walk.sees_no("only differences")

        # Hours for a month.
        week = hours_with_people(walk)
        await walk.keys("p")
        walk.sees("per month", "Hours and pieces per month")
        assert hours_with_people(walk) > 4 * week
        assert walk.told("saleable output") == one_more

        # A column that is not needed goes, and comes back; the chosen one is kept in sight.
        await walk.keys("k")
        walk.sees("stays in sight at the left; k lets it go.")
        await walk.goes_to("Four each")
        await walk.keys("h")
        walk.sees("Four each, all night is hidden", "1 hidden: H")
        walk.sees_no("Four each, all…")
        walk.fits()
        await walk.goes_to("Mills")
        walk.sees("Second pal")
        await walk.keys("H")
        walk.chooses("Four each")
        walk.sees_no("hidden: H")

        # Saved; what was typed is what stands in the file.
        await walk.keys("f10")
        walk.sees("Saved one-person.toml")
        walk.sees_no("not saved")
        walk.fits()
        await walk.keys("q")
    assert not screen.app.is_running
    after = study.read_text("utf-8")
    assert after != before
    assert '"4 hours"' in after
    assert check(read_file(study).draft).study is not None


def is_little(gain: str) -> bool:
    """Whether a gain, with its range where there is room, is within 1.5 points of nothing."""
    low, high = likely_gain(gain)
    return -1.5 < low <= high < 1.5


def hours_with_people(walk: Walk) -> float:
    return float(walk.told("spindle h attended/other").split("/")[0])


def hours_with_nobody(walk: Walk) -> float:
    return float(walk.told("spindle h attended/other").split("/")[1])
