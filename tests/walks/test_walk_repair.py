"""A file with ten errors is put right from what the screen says, until the command finds none."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import on_screen
from walking import Gains, Walk
from ways import BY_KEYS, BY_MOUSE_LONG, Way

from whatif.command.main import main
from whatif.study.file.reading import read_file

BAD = """\
format = 1
title = "Pump covers"
weeks = 2
warm_up = 1

[scenario.today]
title = "Today"
machine.mill.cuont = 2
machine.mill.warm_up = "10 mm"
part.cover.cycle = 9
part.cover.weekly = 400
part.cover.scrap = "120 %"

[scenario.today.shift.day]
days = ["mon", "tue", "wed", "thu", "fir"]
start = "06:00"
end = "14:00"
breaks = ["13:45-14:15"]

[scenario.pool]
title = "Four pallets each"
parent = "today"
handling = "by hand"
machine.mill.pallets = 4
part.base.weekly = 40

[scenario.night]
title = "And the night"
parent = "poll"
unattended.after_shift = "4 h"

[scenario.three]
title = "Three mills"
parent = "four"
machine.mill.count = 3

[scenario.four]
title = "Four mills"
parent = "three"
machine.mill.count = 4
"""


@pytest.mark.long
@pytest.mark.parametrize("way_of", [BY_KEYS, BY_MOUSE_LONG])
async def test_ten_errors_are_mended_from_what_the_screen_says(
    way_of: type[Way], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    study = tmp_path / "covers.toml"
    study.write_text(BAD, "utf-8")
    assert main(["check", str(study)]) == 1
    assert len(capsys.readouterr().err.strip().splitlines()) >= 10
    async with on_screen(study, way_of.size, state=tmp_path / "s", calculator=Gains) as screen:
        walk = Walk(screen)
        way = way_of(walk)

        # The list stands there at once; it can be left, and opened again by what the head says.
        walk.sees("Problems and warnings. Enter goes to one.", "10 problems: F3")
        await way.press("escape", "Esc go back")
        await way.ready()
        await mend_tree(way)
        await mend_texts(way)
        await mend_things(way)

        # Nothing is left; the gains stand there.
        walk.sees_no("problem")
        walk.sees("reference")
        await way.column("Four pallets")
        walk.told("saleable output")
        await way.does("f10", "save")
        walk.sees("Saved covers.toml")
        walk.sees_no("not saved", "problems")
        walk.fits()
        await way.does("q", "leave")
    assert not screen.app.is_running
    capsys.readouterr()
    assert main(["check", str(study)]) == 0
    draft = read_file(study).draft
    assert draft.scenario("today").entered[("machine", "mill", "count")] == 2
    assert draft.scenario("night").parent == "pool"
    assert draft.scenario("three").parent == "today"


async def goes_to_first(way: Way, words: str) -> None:
    """Open the list and go to the problem that stands there first."""
    await way.problems()
    way.walk.sees("Enter goes to one.")
    first = next(line for line in way.walk.lines if "│ ! " in line)
    assert words in first, f"{words!r} does not stand first:\n{way.walk.text}"
    await way.offered(words)


async def mend_tree(way: Way) -> None:
    walk = way.walk

    # A parent that is not there: the list of those that are.
    await goes_to_first(way, 'Scenario night, parent = "poll"')
    walk.sees('Now it names "poll", which is not there.', "Base And the night on which scenario?")
    await way.offered("Four pallets each")
    walk.sees("And the night -> Four pallets each", "move it")
    await way.offered("move it")
    walk.sees("9 problems: F3")

    # Parents in a circle.
    await goes_to_first(way, 'Scenario three, parent = "four"')
    walk.sees("Base Three mills on which scenario?")
    await way.offered("Today")
    walk.sees("Three mills -> Today")
    await way.offered("move it")
    walk.sees("8 problems: F3")


async def mend_texts(way: Way) -> None:
    walk = way.walk

    # A day that there is not: the days to tick.
    await goes_to_first(way, "Scenario today, shift.day.days")
    assert walk.row_label == "days"
    walk.sees('"fir" is none of mon, tue, wed, thu, fri, sat, sun')
    await way.does("enter", "edit")
    await way.ticks("fri")
    await way.press("enter", "Enter keep")
    walk.sees("7 problems: F3")

    # A unit that means something else; a key with a slip in it.
    await goes_to_first(way, "Scenario today, machine.mill.warm_up")
    walk.sees("is millimetres, and a time is wanted", 'such as "10 min"')
    assert walk.value == "10 mm"
    await way.types_over("10 min")
    await goes_to_first(way, "Scenario today, machine.mill.cuont")
    walk.sees("cuont: there is no such key.", "Did you mean machine.mill.count?")
    await way.does("enter", "edit")
    walk.sees("machine.mill.cuont = 2: there is no such key.")
    await way.offered("rename it to machine.mill.count")
    assert (walk.row_label, walk.value) == ("machines", "2")

    # A bare number, and one that is out of range.
    await goes_to_first(way, "Scenario today, part.cover.cycle")
    walk.sees("It is a bare number", 'such as "9 min"')
    await way.types_over("9 min")
    await goes_to_first(way, "Scenario today, part.cover.scrap")
    walk.sees("It is too large", "0 % to 99 %")
    await way.types_over("3 %")
    walk.sees("3 problems: F3")


async def mend_things(way: Way) -> None:
    walk = way.walk

    # A break outside its shift: lines of times.
    await goes_to_first(way, "Scenario today, shift.day.breaks")
    walk.sees("is not inside the shift 06:00-14:00", "allowed is breaks within 06:00-14:00")
    await way.does("enter", "edit")
    walk.sees("from", "to", "type into the empty line to add", "x removes one")
    await walk.types("09:00")
    await walk.keys("tab")
    await walk.types("09:30")
    walk.sees("= 09:00-09:30")
    await way.press("enter", "Enter keep")
    walk.sees("2 problems: F3")

    # A text where a table is meant, which nothing can be made of; what a part must have.
    await goes_to_first(way, "Scenario pool, handling")
    walk.sees("a table is wanted")
    await way.does("enter", "edit")
    walk.sees('handling = "by hand"')
    await way.offered("remove it, with its value")
    walk.sees("1 problem: F3")
    await goes_to_first(way, "Scenario pool, part.base.cycle")
    walk.sees("It is missing", 'such as "12 min"')
    await way.types_over("7 min")
