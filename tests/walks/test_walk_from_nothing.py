"""Three scenarios from a file that is not there: built, compared, saved."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import on_start
from walking import Later, Walk, are_alike, gains_in_csv, likely_gain
from ways import BY_KEYS_LONG, BY_MOUSE_LONG, Way

from whatif.command.main import main
from whatif.study.file.reading import read_file


@pytest.mark.parametrize("way_of", [BY_KEYS_LONG, BY_MOUSE_LONG])
async def test_three_scenarios_from_nothing(
    way_of: type[Way], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    study = tmp_path / "covers.toml"
    async with on_start(tmp_path / "state", way_of.size, missing=study, calculator=Later) as screen:
        walk = Walk(screen)
        way = way_of(walk)
        walk.sees("covers.toml is not there yet: a few questions", "Esc: an empty study")
        await walk.keys("escape")
        await way.offered("an empty study instead")
        walk.sees("No machines yet: n adds one; a shift and a part come after it.")
        await way.ready()
        await way.does("e", "scenario")
        await way.offered("rename")
        await way.named("Two tables")
        walk.chooses("Two tables")
        await first_scenario(way)
        await six_pallets(way)
        await second_shift(way)

        # What it is measured against is chosen; then the strip tells what each brings.
        calculator = screen.app.study.calculator
        assert isinstance(calculator, Later)
        calculator.awake = True
        gains = {}
        await way.column("Six pallets")
        await way.does("e", "scenario")
        await way.offered("measure against it")
        walk.sees("against: Six pallets")
        await way.column("Two tables")
        assert likely_gain(walk.told("saleable output"))[1] < 0
        await way.does("e", "scenario")
        await way.offered("measure against it")
        for title in ("Six pallets", "Late shift"):
            await way.column(title)
            gains[title] = walk.told("saleable output")
        assert len(set(gains.values())) == 2
        assert all(likely_gain(gain)[0] > 0 for gain in gains.values())
        await way.does("f10", "save")
        walk.sees("Saved covers.toml")
        walk.sees_no("not saved")
        walk.fits()
        await way.does("q", "leave")
    assert not screen.app.is_running

    # The command says the same of the file.
    assert main(["check", str(study)]) == 0
    capsys.readouterr()
    assert main(["compare", str(study), "--format", "csv"]) == 0
    told = gains_in_csv(capsys.readouterr().out, but="Two tables")
    assert are_alike(told, gains)
    entered = read_file(study).draft.scenarios[0].entered
    assert entered[("shift", "early", "breaks")] == ("09:00-09:15", "12:00-12:30")


async def adds(way: Way, words: str, name: str) -> None:
    """Add a thing to the chosen scenario, under a name of its own."""
    await way.does("n", "add")
    await way.offered(words)
    way.walk.sees("its short name:")
    await way.named(name)
    way.walk.sees(name, "u undoes it")


async def first_scenario(way: Way) -> None:
    """A machine, a shift, a part; the screen says each time what is still wanted."""
    walk = way.walk
    await adds(way, "add a machine", "mill")
    walk.remembers()
    await way.enters("machines: mill", "machines", "2")
    await way.row("machines: mill", "table")
    await way.does("enter", "edit")
    walk.sees("a bare number takes the unit of the others")
    await walk.types("700 mm")
    await walk.keys("tab")
    await walk.types("500")
    walk.sees("= 700 mm x 500 mm")
    await way.press("enter", "Enter keep")
    await adds(way, "add a shift", "early")
    await way.row("people: early", "days")
    await way.does("enter", "edit")
    await way.ticks("sat")
    walk.sees("= 6 days a week")
    await way.press("enter", "Enter keep")
    await way.enters("people: early", "start", "6:00")
    await way.enters("people: early", "end", "14:00")
    await way.row("people: early", "breaks")
    await way.does("enter", "edit")
    walk.sees("type into the empty line to add")
    for begin, end in (("09:00", "09:15"), ("12:00", "12:30")):
        await walk.types(begin)
        await walk.keys("tab")
        await walk.types(end)
        await walk.keys("tab")
    walk.sees("= 09:00-09:15, 12:00-12:30")
    await way.press("enter", "Enter keep")
    await adds(way, "add a part", "cover")
    walk.sees("what is marked ~ is only assumed")
    await way.enters("part: cover", "cycle", "9 min")
    await way.enters("part: cover", "weekly demand", "900")
    await way.row("part: cover", "size")
    await way.does("enter", "edit")
    for at, side in enumerate(("140 mm", "90", "60")):
        if at:
            await walk.keys("tab")
        await walk.types(side)
    await way.press("enter", "Enter keep")
    await way.row("part: cover", "size")
    assert walk.value.startswith("140")


async def six_pallets(way: Way) -> None:
    walk = way.walk
    await way.does("e", "scenario")
    await way.offered("add one")
    walk.sees("A new scenario based on Two tables: what is different in it? Its name:")
    await way.named("Six pallets")
    walk.chooses("Six pallets")
    await way.enters("machines: mill", "pallets each", "6", "1")
    walk.sees("Pallets each 1 -> 6 in Six pallets.")


async def second_shift(way: Way) -> None:
    walk = way.walk
    await way.does("e", "scenario")
    await way.offered("add one")
    await way.named("Late shift")
    walk.chooses("Late shift")
    await adds(way, "add a shift", "late")
    await way.enters("people: late", "start", "14:00")
    await way.enters("people: late", "end", "20:00")
