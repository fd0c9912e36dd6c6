"""The menu on a scenario: its name, its place in the tree, its notes, copy, removal."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from moving_scenarios import OTHER, study
from screen import SMALL_FIRST, Screen, on_screen
from textual.widgets import Input, OptionList, TextArea

from whatif.screens.desk.state import Spot
from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.texts import WeighText, WriteNotes
from whatif.study.draft import Draft
from whatif.study.file.writing import to_text

both_sizes = pytest.mark.parametrize("size", SMALL_FIRST[:2], ids=["80x24", "120x32"])


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "valves.toml"
    found.write_text(to_text(study(OTHER)), "utf-8")
    return found


async def choose(screen: Screen, scenario: str) -> None:
    screen.app.desk.state.choose(scenario)
    screen.app.desk.repaint()
    await screen.settle()


async def click_line(screen: Screen, words: str) -> None:
    """Click where a text stands on the screen."""
    for y, line in enumerate(screen.text.splitlines()):
        if words in line:
            await screen.pilot.click(offset=(line.index(words) + 1, y))
            await screen.settle()
            return
    raise AssertionError(f"no {words} on the screen")


async def menu(screen: Screen, words: str) -> None:
    """Open the menu and take the line that has these words, by keys."""
    await screen.press("e")
    pick = screen.app.screen
    assert isinstance(pick, ChooseOne)
    options = pick.query_one(OptionList)
    place = next(
        i
        for i in range(options.option_count)
        if words in str(options.get_option_at_index(i).prompt)
    )
    await screen.press(*["down"] * place, "enter")


async def retype(screen: Screen, text: str) -> None:
    line = screen.app.screen.query_one(Input)
    await screen.press(*["backspace"] * len(line.value))
    await screen.type(text)
    await screen.press("enter")


def parent(draft: Draft, scenario: str) -> str | None:
    return draft.scenario(scenario).parent


@both_sizes
@pytest.mark.long
async def test_renaming_by_keys(path: Path, size: tuple[int, int]) -> None:
    async with on_screen(path, size, calculator=Silent) as screen:
        await choose(screen, "night")
        await menu(screen, "rename")
        await retype(screen, "night run")
        assert screen.session.draft.scenario("night").title == "night run"
        assert "night run" in screen.text
        await screen.press("u")
        assert screen.session.is_saved


@pytest.mark.long
async def test_another_id_is_followed_by_what_names_it(path: Path) -> None:
    async with on_screen(path, calculator=Silent) as screen:
        await choose(screen, "six_pallets")
        await menu(screen, "change its id")
        await retype(screen, "pool")
        assert parent(screen.session.draft, "night") == "pool"
        assert screen.app.desk.state.chosen == "pool"
        await menu(screen, "change its id")
        await retype(screen, "night")
        assert "already" in screen.text
        await screen.press("u")
        assert screen.session.is_saved


@pytest.mark.long
@both_sizes
async def test_moving_by_keys_shows_first_what_would_change(
    path: Path, size: tuple[int, int]
) -> None:
    async with on_screen(path, size) as screen:
        await choose(screen, "six_pallets")
        await menu(screen, "base on another")
        assert "Now it is based on Three mills" in " ".join(screen.text.split())
        # Neither itself nor what is below it is offered, nor what it is based on already.
        offered = screen.app.screen.query_one(OptionList)
        assert [one.id for one in offered.options] == ["other", "*"]
        await screen.press("enter")
        assert isinstance(screen.app.screen, WeighText)
        assert "machine lathe" in screen.text
        assert "not there -> there" in screen.text
        assert "move it (Enter)" in screen.text
        assert "all values stay" in screen.text
        assert screen.session.is_saved
        seen = screen.text
        for _ in range(8):
            await screen.press("pagedown")
            seen += screen.text
        assert "body: weekly demand" in seen
        assert "1100 -> 500  (from Another shop)" in seen
        assert "night, below it" in seen
        assert "its gain now" in seen
        await screen.press("enter")
        assert parent(screen.session.draft, "six_pallets") == "other"
        assert "based on Another shop" in screen.text
        await screen.press("u")
        assert screen.session.is_saved


@pytest.mark.long
async def test_going_back_from_a_move_changes_nothing(path: Path) -> None:
    async with on_screen(path, calculator=Silent) as screen:
        await choose(screen, "six_pallets")
        await menu(screen, "base on another")
        await screen.press("enter", "escape")
        assert screen.session.is_saved
        assert not screen.session.history.steps


@pytest.mark.long
@both_sizes
async def test_moving_by_mouse_with_all_values_kept(path: Path, size: tuple[int, int]) -> None:
    async with on_screen(path, size, calculator=Silent) as screen:
        await choose(screen, "six_pallets")
        before = screen.session.checked.resolved["night"]
        await screen.press("e")
        await click_line(screen, "base on another")
        await click_line(screen, "none: a tree of its own")
        await click_line(screen, "all values stay")
        draft = screen.session.draft
        assert parent(draft, "six_pallets") is None
        after = screen.session.checked.resolved["night"]
        assert before.raw("part", "body", "size") == after.raw("part", "body", "size")
        assert before.ids("shift") == after.ids("shift")
        await screen.press("u")
        assert screen.session.is_saved


@pytest.mark.long
async def test_a_move_that_cannot_be_done_says_why(tmp_path: Path) -> None:
    path = tmp_path / "rush.toml"
    rush = '\n[scenario.call]\nparent = "today"\nrush.one.part = "body"\nrush.one.pieces = 5\n'
    path.write_text(to_text(study(rush)), "utf-8")
    async with on_screen(path, calculator=Silent) as screen:
        await choose(screen, "call")
        await menu(screen, "base on another")
        await click_line(screen, "none: a tree of its own")
        assert "It cannot be moved there" in screen.text
        assert "there is no part body in this scenario" in " ".join(screen.text.split())
        assert "move it (Enter)" not in screen.text
        # Enter does what is marked: the way back.
        await screen.press("enter")
        assert not isinstance(screen.app.screen, WeighText)
        assert parent(screen.session.draft, "call") == "today"
        await menu(screen, "base on another")
        await click_line(screen, "none: a tree of its own")
        assert isinstance(screen.app.screen, WeighText)
        await screen.press("k")
        assert parent(screen.session.draft, "call") is None
        assert screen.session.checked.problems == ()


@pytest.mark.long
@both_sizes
async def test_notes_are_one_step(path: Path, size: tuple[int, int]) -> None:
    async with on_screen(path, size, calculator=Silent) as screen:
        await choose(screen, "night")
        await menu(screen, "notes")
        await screen.type("from the book")
        await screen.press("enter")
        await screen.type("of may")
        await screen.press("f10")
        draft = screen.session.draft
        assert draft.scenario("night").entered[("notes",)] == "from the book\nof may"
        assert len(screen.session.history.done) == 1
        screen.app.desk.state.spot = Spot()
        await screen.go_to("notes", 2)
        row = next(line for line in screen.text.splitlines() if "   notes " in line)
        assert "from the" in row
        # The row of the notes opens them as they are, in lines.
        await screen.press("enter")
        assert screen.app.screen.query_one(TextArea).text == "from the book\nof may"
        screen.app.screen.query_one(TextArea).text = ""
        await screen.press("ctrl+s")
        assert ("notes",) not in screen.session.draft.scenario("night").entered
        await screen.press("u", "u")
        assert screen.session.is_saved


@pytest.mark.long
async def test_escape_never_throws_notes_away(path: Path) -> None:
    async with on_screen(path, calculator=Silent) as screen:
        await choose(screen, "night")
        await menu(screen, "notes")
        await screen.press("escape")
        assert screen.app.screen is screen.app.desk
        await menu(screen, "notes")
        await screen.type("mine")
        await screen.press("escape")
        assert isinstance(screen.app.screen, Ask)
        await screen.press("escape")
        assert isinstance(screen.app.screen, WriteNotes)
        await screen.press("escape", "k")
        assert screen.session.draft.scenario("night").entered[("notes",)] == "mine"
        await menu(screen, "notes")
        await screen.type(" more")
        await screen.press("escape")
        await click_line(screen, "throw it away")
        assert screen.session.draft.scenario("night").entered[("notes",)] == "mine"


@pytest.mark.long
async def test_notes_are_kept_by_mouse(path: Path) -> None:
    async with on_screen(path, calculator=Silent) as screen:
        await choose(screen, "night")
        await menu(screen, "notes")
        await screen.type("mine")
        await click_line(screen, "keep the notes")
        assert screen.session.draft.scenario("night").entered[("notes",)] == "mine"


@pytest.mark.long
@both_sizes
async def test_removing_names_what_goes_and_undo_brings_all_back(
    path: Path, size: tuple[int, int]
) -> None:
    async with on_screen(path, size, calculator=Silent) as screen:
        before = screen.session.draft
        await choose(screen, "six_pallets")
        await menu(screen, "remove")
        assert "Remove Six pallets and what is based on it (night)?" in " ".join(
            screen.text.split()
        )
        await screen.press("escape")
        assert screen.session.draft == before
        await menu(screen, "remove")
        await screen.press("y")
        assert screen.session.draft.ids == ("today", "other")
        await screen.press("u")
        assert screen.session.draft == before


@pytest.mark.long
async def test_the_parent_is_chosen_from_its_row(path: Path) -> None:
    async with on_screen(path, calculator=Silent) as screen:
        screen.app.desk.state.spot = Spot()
        await screen.go_to("based on", 2)
        await screen.press("enter", "enter")
        assert isinstance(screen.app.screen, WeighText)
        await screen.press("y")
        assert parent(screen.session.draft, "night") == "today"


async def test_all_is_in_the_palette(path: Path) -> None:
    async with on_screen(path, calculator=Silent) as screen:
        offered = {one.title for one in screen.app.get_system_commands(screen.app.screen)}
        assert {
            "This scenario ...",
            "Rename the scenario",
            "Change the scenario's id",
            "Base the scenario on another",
            "Notes on the scenario",
            "List of changes",
            "Read the file again",
        } <= offered


@pytest.mark.long
async def test_a_letter_takes_a_line_of_the_menu(path: Path) -> None:
    async with on_screen(path, calculator=Silent) as screen:
        await choose(screen, "night")
        await screen.press("e", "r")
        await retype(screen, "dark")
        assert screen.session.draft.scenario("night").title == "dark"
