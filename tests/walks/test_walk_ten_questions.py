"""From `whatif` alone through the questions to a saved comparison."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import on_start
from walking import Gains, Walk, are_alike, gains_in_csv, likely_gain

from whatif.command.main import main
from whatif.study.file.reading import read_file


@pytest.mark.long
async def test_ten_questions_to_a_saved_comparison(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    async with on_start(tmp_path / "state", (80, 24), calculator=Gains) as screen:
        walk = Walk(screen)

        # The first screen says what can be begun.
        walk.sees("Begin", "1  A few questions", "What you don't know is assumed")
        await walk.keys("1")
        walk.sees("First study: a few questions", "Not known? Leave it empty (~ assumed)")
        walk.fits()

        # Questions; each says how its number is found.
        walk.sees("The shift plan, or the time clock.")
        await answer(walk, "6:30-15:00")
        walk.sees_in("Shift, from - to", "= 8 h 30 min a day")
        await answer(walk, "mon-fri")
        await answer(walk, "45")
        walk.sees_in("Breaks, in all", "= 10:20-11:05")
        walk.sees("Those who load these machines")
        await do_not_know(walk)
        walk.sees_in("People on a shift", "~ 1 person")
        await do_not_know(walk)
        await answer(walk, "2")
        await answer(walk, "1")
        walk.sees("A stop-watch from start to end")
        await answer(walk, "11")
        await answer(walk, "4")
        walk.sees("the middle one of ten")
        await answer(walk, "6")
        walk.sees("Count the different parts")
        await answer(walk, "30")
        walk.sees("Last month's work orders")
        await answer(walk, "40")
        await answer(walk, "1.5")
        await answer(walk, "30")

        # More hours than the machines have in those weeks are told at the question.
        walk.sees("Read the control's hour meters")
        await answer(walk, "400")
        await answer(walk, "180")
        await walk.types("1")
        walk.sees("2 machines in 1 week can be switched on for 336 h at most, day and night.")
        walk.sees_in("Hour meters: switched on", "! cannot be taken")
        walk.fits()
        await walk.clicks("Hour meters: switched on")
        walk.sees_in("weeks between readings", "! cannot be taken")
        await do_not_know(walk)
        await do_not_know(walk)
        await do_not_know(walk)
        walk.sees("The order book")
        await walk.types("401")
        walk.sees_in("order size", "= 10 orders a week")
        walk.fits()
        await walk.keys("f10")

        # What was found comes first; any key goes on.
        walk.sees("Where the hours go", "What limits", "What would bring most")
        walk.fits()
        await walk.keys("enter")

        # The study is open: today's arrangement, alternatives beside it, what is assumed is told.
        walk.sees("Your first study, not saved yet. 4 answers are assumed: F2 says which.")
        walk.chooses("Today")
        walk.sees("reference", "›")
        walk.fits()
        await walk.keys("f2")
        walk.sees("Today", "arrows scroll")
        await walk.keys("escape")

        # From column to column, by keys that the help tells, the strip says what each would bring.
        await walk.reads_help()
        gains = await gains_by_title(walk)
        assert gains.pop("Today") == "reference"
        assert len(gains) >= 4
        best = max(gains, key=lambda title: likely_gain(gains[title]))
        assert likely_gain(gains[best])[0] > 10

        # Saved under a name that is typed.
        await walk.keys("f10")
        walk.sees("Save under which name?", "study.toml", "Enter take it")
        await walk.retypes("my-shop.toml")
        await walk.keys("enter")
        walk.sees("Saved my-shop.toml")
        walk.sees_no("not saved")
        await walk.keys("q")
    assert not screen.app.is_running

    # The command without a screen says the same of the file.
    assert main(["compare", "my-shop.toml", "--format", "csv"]) == 0
    assert are_alike(gains_in_csv(capsys.readouterr().out, but="Today"), gains)
    assert read_file(tmp_path / "my-shop.toml").draft.reference_id == "today"


async def answer(walk: Walk, text: str) -> None:
    await walk.types(text)
    await walk.keys("enter")


async def do_not_know(walk: Walk) -> None:
    walk.sees("F9 don't know")
    await walk.keys("f9")


async def gains_by_title(walk: Walk) -> dict[str, str]:
    """Go through all columns and read the whole title and the gain of each."""
    found: dict[str, str] = {}
    await walk.keys("greater_than_sign", "less_than_sign")
    for _ in range(30):
        # The line below the sheet has the title in full.
        line = walk.line(" attended, ")
        title = line.removeprefix(" attended, ").partition(": a time;")[0]
        found[title] = walk.told("saleable output")
        before = walk.text
        await walk.keys("greater_than_sign")
        if walk.text == before:
            return found
    raise AssertionError("the columns have no end")
