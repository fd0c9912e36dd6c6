"""A file with errors is put right from its list of problems: each is gone to, and mended."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from screen import SMALL_FIRST, Screen, on_screen
from small_study import STUDY

from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.reading import ReadText
from whatif.study.check.check import check
from whatif.study.file.reading import read_text
from whatif.telling.problems import problem_sentence

both_sizes = pytest.mark.parametrize("size", SMALL_FIRST[:2], ids=["80x24", "120x32"])


def write(tmp_path: Path, *changes: tuple[str, str]) -> Path:
    text = STUDY
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "bad.toml"
    path.write_text(text, "utf-8")
    return path


async def to_problem(screen: Screen, words: str) -> None:
    """Go to the problem with these words, by keys."""
    if not isinstance(screen.app.screen, ChooseOne):
        await screen.press("f3")
    problems = screen.session.checked.problems
    place = next(i for i, one in enumerate(problems) if words in problem_sentence(one))
    await screen.press("home", *["down"] * place, "enter")


@both_sizes
@pytest.mark.long
async def test_a_slip_in_a_key_is_renamed_in_one_step(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with on_screen(
        write(tmp_path, ("count = 2", "cuont = 2")), size, calculator=Silent
    ) as screen:
        assert isinstance(screen.app.screen, ChooseOne)
        await to_problem(screen, "cuont")
        row = next(line for line in screen.text.splitlines() if "   cuont" in line)
        assert "2" in row
        assert "!" in row
        assert "Did you mean machine.mill.count?" in " ".join(screen.text.split())
        await screen.press("enter")
        assert "rename it to machine.mill.count" in screen.text
        await screen.press("y")
        assert screen.session.checked.problems == ()
        assert screen.app.desk.state.line is not None
        assert screen.app.desk.state.line.label == "machines"
        assert "   cuont" not in screen.text
        assert len(screen.session.history.done) == 1
        await screen.press("u")
        assert screen.session.is_saved


@pytest.mark.long
async def test_a_slip_in_a_key_is_renamed_by_mouse(tmp_path: Path) -> None:
    async with on_screen(write(tmp_path, ("count = 2", "cuont = 2")), calculator=Silent) as screen:
        for words in ("cuont", "rename it to"):
            lines = screen.text.splitlines()
            y = next(i for i, line in enumerate(lines) if words in line)
            if words == "cuont":
                await screen.pilot.click(offset=(lines[y].index("cuont"), y))
                await screen.settle()
                await screen.press("enter")
            else:
                await screen.pilot.click(offset=(lines[y].index("rename"), y))
                await screen.settle()
        assert screen.session.checked.problems == ()


@pytest.mark.long
async def test_an_unknown_key_is_taken_out_by_del(tmp_path: Path) -> None:
    path = write(tmp_path, ("count = 2", 'count = 2\ncolour = "grey"'))
    async with on_screen(path, calculator=Silent) as screen:
        await to_problem(screen, "colour")
        assert screen.app.desk.state.line is not None
        assert screen.app.desk.state.line.label == "colour"
        await screen.press("delete")
        assert screen.session.checked.problems == ()
        await screen.press("u")
        assert len(screen.session.checked.problems) == 1


@pytest.mark.long
async def test_keys_that_stand_under_no_heading_have_one_of_their_own(tmp_path: Path) -> None:
    path = write(tmp_path, ('title = "Now"', 'title = "Now"\nmachin.mill.count = 3'))
    async with on_screen(path, calculator=Silent) as screen:
        await to_problem(screen, "machin.mill.count")
        assert "keys that are not known" in screen.text
        await screen.press("enter")
        assert isinstance(screen.app.screen, Ask)
        # The machine has a count already, so only taking it out is offered.
        assert "rename it" not in screen.text
        await screen.press("t")
        assert screen.session.checked.problems == ()
        assert "keys that are not known" not in screen.text


@pytest.mark.long
async def test_a_wrong_text_is_gone_to_and_typed_anew(tmp_path: Path) -> None:
    async with on_screen(write(tmp_path, ('"9 min"', '"9 mm"')), calculator=Silent) as screen:
        await to_problem(screen, "9 mm")
        assert screen.app.desk.state.line is not None
        assert screen.app.desk.state.line.path[-1] == "cycle"
        await screen.type("9 min")
        await screen.press("enter")
        assert screen.session.checked.problems == ()
        await screen.press("f3")
        assert isinstance(screen.app.screen, ReadText)


@pytest.mark.long
async def test_a_missing_parent_leads_to_the_choice_of_one(tmp_path: Path) -> None:
    path = write(tmp_path, ('parent = "now"', 'parent = "nwo"'))
    async with on_screen(path, calculator=Silent) as screen:
        await to_problem(screen, "nwo")
        assert isinstance(screen.app.screen, ChooseOne)
        assert 'Now it names "nwo", which is not there.' in " ".join(screen.text.split())
        await screen.press("enter", "y")
        assert screen.session.draft.scenario("pool").parent == "now"
        assert screen.session.checked.problems == ()
        await screen.press("u")
        assert screen.session.is_saved


@pytest.mark.long
async def test_a_circle_of_parents_is_opened(tmp_path: Path) -> None:
    path = write(tmp_path, ('title = "Now"', 'title = "Now"\nparent = "pool"'))
    async with on_screen(path, calculator=Silent) as screen:
        await to_problem(screen, "circle")
        assert isinstance(screen.app.screen, ChooseOne)
        await screen.press("end", "enter", "y")
        assert screen.session.draft.scenario("now").parent is None
        assert screen.session.checked.problems == ()


HEADS = [
    ('title = "Small"', 'titel = "Small"', "titel", ("y",)),
    ('title = "Small"', 'colour = "grey"', "colour", ("t",)),
    ("format = 1\n", "", "format", ("y",)),
    ('title = "Small"', 'reference = "then"', "reference", ("enter",)),
]


@pytest.mark.parametrize(("old", "new", "words", "keys"), HEADS, ids=[each[2] for each in HEADS])
@pytest.mark.long
async def test_root_keys_are_mended(
    tmp_path: Path, old: str, new: str, words: str, keys: tuple[str, ...]
) -> None:
    async with on_screen(write(tmp_path, (old, new)), calculator=Silent) as screen:
        await to_problem(screen, words)
        await screen.press(*keys)
        assert screen.session.checked.problems == ()
        await screen.press("u")
        assert screen.session.is_saved


async def test_a_wrong_root_value_is_typed_anew(tmp_path: Path) -> None:
    async with on_screen(
        write(tmp_path, ("weeks = 1", 'weeks = "two"')), calculator=Silent
    ) as screen:
        await to_problem(screen, "two")
        await screen.press(*["backspace"] * 3)
        await screen.type("3")
        await screen.press("enter")
        assert screen.session.draft.head["weeks"] == 3
        assert screen.session.checked.problems == ()


def test_unknown_keys_are_what_stands_under_no_key() -> None:
    found = check(read_text(STUDY.replace("count = 2", "cuont = 2"))).unknown_keys
    assert found == {"now": {("machine", "mill", "cuont"): 2}}
    assert check(read_text(STUDY)).unknown_keys == {}


async def test_a_text_where_a_table_is_meant_is_told_as_that(tmp_path: Path) -> None:
    path = write(tmp_path, ('title = "Now"', 'title = "Now"\nhandling = "by hand"'))
    async with on_screen(path, calculator=Silent) as screen:
        await to_problem(screen, "by hand")
        assert "handling: it is one value, and a table is wanted. Del removes it." in screen.text
        await screen.press("enter")
        assert "it is one value, and a table is wanted." in " ".join(screen.text.split())
        await screen.press("t")
        assert screen.session.checked.problems == ()


async def test_a_unit_is_told_as_it_was_typed(tmp_path: Path) -> None:
    async with on_screen(write(tmp_path, ('"9 min"', '"9 mm"')), calculator=Silent) as screen:
        await to_problem(screen, "9 mm")
        assert " mm is millimetres, and a time is wanted" in screen.text


@pytest.mark.long
async def test_a_slip_in_a_day_is_named_and_its_form_has_the_others(tmp_path: Path) -> None:
    async with on_screen(
        write(tmp_path, ('"thu", "fri"]', '"thu", "fir"]')), calculator=Silent
    ) as screen:
        await to_problem(screen, "fir")
        assert '"fir" is none of mon, tue' in screen.text
        assert " mon tue wed" in screen.text
        await screen.press("enter")
        assert "[✓] thu" in screen.text
        assert "[ ] fri" in screen.text
        await screen.press(*["right"] * 4, "space", "enter")
        assert screen.session.checked.problems == ()
        await screen.press("u", "enter", "enter")
        # What the form shows is kept, also where nothing was ticked.
        assert screen.session.checked.problems == ()
        assert screen.session.draft.scenario("now").entered[("shift", "day", "days")][-1] == "thu"


async def test_what_a_broken_line_of_parents_hides_is_not_said_to_be_missing(
    tmp_path: Path,
) -> None:
    async with on_screen(
        write(tmp_path, ('parent = "now"', 'parent = "nwo"')), calculator=Silent
    ) as screen:
        await screen.press("escape", "right", "down", "down")
        assert screen.app.desk.state.chosen == "pool"
        assert "What it is based on is not known" in screen.text
        assert "No shift yet" not in screen.text


@pytest.mark.long
async def test_a_click_on_the_head_lists_the_problems_it_tells_of(tmp_path: Path) -> None:
    async with on_screen(write(tmp_path, ("count = 2", "cuont = 2")), calculator=Silent) as screen:
        await screen.press("escape")
        await screen.pilot.click("#head", offset=(60, 0))
        await screen.settle()
        assert isinstance(screen.app.screen, ChooseOne)
    async with on_screen(write(tmp_path), calculator=Silent) as screen:
        await screen.pilot.click("#head", offset=(60, 0))
        await screen.settle()
        assert screen.app.screen is screen.app.desk
