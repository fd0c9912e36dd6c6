"""A demo is taken apart, and put together again by undo alone."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from screen import SCENARIOS, on_screen
from walking import Later, Walk
from ways import BY_KEYS_LONG, BY_MOUSE_LONG, Way

from whatif.study.file.reading import read_file

FEWEST_CHANGES = 16


@pytest.mark.parametrize("way_of", [BY_KEYS_LONG, BY_MOUSE_LONG])
async def test_a_demo_is_taken_apart_and_put_together(way_of: type[Way], tmp_path: Path) -> None:
    study = tmp_path / "one-person.toml"
    shutil.copy(SCENARIOS / study.name, study)
    before = study.read_bytes()
    async with on_screen(study, way_of.size, state=tmp_path / "s", calculator=Later) as screen:
        walk = Walk(screen)
        way = way_of(walk)
        await way.ready()
        await take_things(way)
        await take_scenarios(way)
        await change_values(way)
        count = int(walk.lines[0].partition(" changes not saved")[0].split()[-1])
        assert count >= FEWEST_CHANGES
        apart = screen.session.draft
        assert apart != read_file(study).draft
        walk.fits()

        # Undo alone, and the screen says each time what it was.
        for left in range(count - 1, -1, -1):
            await way.does("u", "undo")
            walk.sees("Undone: ")
            assert (f"  {left} change" in walk.lines[0]) == (left > 0)
        walk.sees_no("not saved")
        assert screen.session.draft == read_file(study).draft
        await way.does("u", "undo")
        walk.sees("Nothing to undo.")

        # All of it again, and back to the beginning, each in one go by the list of changes.
        await way.does("l", "changes")
        walk.sees("Changes, the newest first.")
        await way.offered("load 3 min 30 s -> 4 min in Four each")
        walk.sees(f"{count} changes done again.", f"{count} changes not saved")
        assert screen.session.draft == apart
        await way.does("l", "changes")
        await way.offered("as it was at first")
        walk.sees(f"{count} changes undone. Now as it was at first.")
        walk.sees_no("not saved")
        assert screen.session.draft == read_file(study).draft
        assert screen.session.is_saved

        # So nothing is asked on the way out.
        await way.does("q", "leave")
    assert not screen.app.is_running
    assert study.read_bytes() == before


async def take_things(way: Way) -> None:
    """A part goes; the machine gets another name, and another beside it."""
    walk = way.walk
    await way.row("part: latch", "cycle")
    await way.does("n", "add")
    await way.offered("remove part latch")
    walk.sees("u undoes it")
    await way.offered("yes, remove it")
    walk.sees("Part latch", "u undoes it")
    walk.sees_no("part: latch")
    await way.row("machines: mill", "pallets each")
    await way.does("n", "add")
    await way.offered("rename machine mill")
    walk.sees("Another short name for machine mill, in the whole study:")
    await way.named("borer")
    walk.sees("machines: borer")
    await way.does("n", "add")
    await way.offered("duplicate machine borer")
    await way.named("second")
    walk.sees("machines: second")


async def take_scenarios(way: Way) -> None:
    """Scenarios go, with what is based on them; others get another place, title, reference."""
    walk = way.walk
    await way.column("Mills moved")
    await way.does("e", "scenario")
    await way.offered("and what is based on it")
    walk.sees(
        "Remove Mills moved together and what is based on it "
        "(Moved, no bench work, Moved, second pallet)? u undoes it."
    )
    await way.offered("yes, remove")
    walk.sees("Mills moved together removed, with all based on it", "u undoes it")

    # What a move would change stands there before it is made.
    await way.column("Helper")
    await way.does("e", "scenario")
    await way.offered("base on another")
    walk.sees("Base Helper, half a shift on which scenario? Now it is based on Today: four tables.")
    await way.offered("Second pallet each")
    walk.sees("Helper, half a shift -> Second pallet each", "pallets each", "1 -> 2")
    await way.press("escape", "Esc  go back, nothing is changed")
    await way.does("e", "scenario")
    await way.offered("base on another")
    await way.offered("Second pallet each")
    await way.offered("move it (Enter)")
    walk.sees("u undoes it")

    await way.does("e", "scenario")
    await way.offered("rename")
    await way.named("Student, mornings")
    walk.chooses("Student, m")
    await way.does("e", "scenario")
    await way.offered("measure against it")
    walk.sees("Reference Today: four tables -> Student, mornings")
    await way.does("e", "scenario")
    await way.offered("where its numbers are from")
    walk.sees("keep the notes")
    await walk.types("asked at the school")
    await way.press("f10", "keep the notes")
    walk.sees("u undoes it")


async def change_values(way: Way) -> None:
    """Numbers, units, days, sizes."""
    walk = way.walk
    await way.column("Today")
    await way.enters("machines: borer", "machines", "3", "4")
    await way.enters("part: block", "cycle", "0.4 h", "25 min")
    await way.enters("part: block", "weekly demand", "200", "180")
    await way.enters("part: block", "mass per piece", "11 kg", "26 lb")
    await way.row("part: block", "size")
    await way.does("enter", "edit")
    walk.sees("length", "width", "height")
    await walk.types("190 mm")
    await way.press("enter", "Enter keep")
    await way.row("part: block", "size")
    assert walk.value.startswith("190 mm")
    await way.row("people: day", "days")
    await way.does("enter", "edit")
    await way.ticks("fri", "sat")
    walk.sees("= 5 days a week")
    await way.press("enter", "Enter keep")
    await way.row("people: day", "breaks")
    await way.does("enter", "edit")
    await walk.types("10:00")
    await walk.keys("tab")
    await walk.types("10:20")
    await way.press("enter", "Enter keep")
    walk.sees("u undoes it")
    await way.column("Four each")
    await way.enters("machines: borer", "pallets each", "7", "4")
    await way.enters("part: block", "load", "4 min", "3 min 30 s")
