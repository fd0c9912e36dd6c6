"""What is typed or comes at once on a row is its value; no letter of it runs a command unseen."""

from __future__ import annotations

from pathlib import Path

import pytest
from lengths import first_of
from looks import Silent
from screen import Screen, on_screen
from small_study import STUDY
from textual.events import Key

from whatif.screens.escape import EscapeApart
from whatif.screens.widgets.bursts import Burst

NARROW = (80, 24)
DAYS = ("shift", "day", "days")
FOUR = ("mon", "tue", "wed", "thu")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


async def read(screen: Screen, sent: str) -> Screen:
    """Have the program read so much at once."""
    for event in EscapeApart().feed(sent):
        screen.app.post_message(event)
    return await screen.settle()


def days(screen: Screen) -> object:
    return screen.session.checked.resolved["now"].raw(*DAYS)


@pytest.mark.parametrize("typed", first_of(["mon-thu", "Mon-Thu", "mon tue wed thu"]))
@pytest.mark.long
async def test_days_are_typed_over_as_numbers_are(study: Path, typed: str) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(DAYS)
        await screen.type(typed)
        assert screen.app.desk.state.typing is not None
        await screen.press("enter")
        assert days(screen) == FOUR
        assert len(screen.session.history.done) == 1


@pytest.mark.long
async def test_weekdays_saves_nothing(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(DAYS)
        await screen.press("6", "escape")
        await screen.type("weekdays")
        await screen.press("enter")
        assert days(screen) == (*FOUR, "fri")
        assert screen.app.screen is screen.app.desk


@pytest.mark.long
async def test_a_letter_that_was_meant_as_a_command_says_where_it_is_one(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(DAYS)
        assert " t tree" not in screen.text
        await screen.press("t", "escape")
        assert "On this row t begins a value; commands: Ctrl+P, or another row." in screen.text
        await screen.press("down")
        assert " t tree" in screen.text
        await screen.press("t")
        assert screen.app.desk.state.tree_shown


@pytest.mark.long
async def test_undo_stays_undo_on_every_row(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(DAYS)
        await screen.type("mon-thu")
        await screen.press("enter", "up", "u")
        assert days(screen) == (*FOUR, "fri")


@pytest.mark.parametrize("folded", [False, True], ids=["open", "closed"])
async def test_a_value_typed_on_a_heading_is_refused_and_runs_no_command(
    study: Path, folded: bool
) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        state, before = screen.app.desk.state, screen.session.draft
        state.put_on(("machine", "mill"), opening=not folded)
        if folded:
            state.fold()
        screen.app.desk.repaint()
        opens = "Space opens it, then " if folded else ""
        # "a", "d" and "x" would add, duplicate and remove; "q" would leave.
        await screen.type("30 madxq")
        assert (
            f"! machines: mill is a heading; {opens}go to a row below it to type a value."
            in " ".join(screen.text.split())
        )
        assert screen.app.screen is screen.app.desk
        assert screen.session.draft is before
        assert state.line is None


@pytest.mark.parametrize("key", ["down", "escape", "enter", "pause"])
async def test_behind_a_refused_value_letters_are_commands_again(study: Path, key: str) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        state = screen.app.desk.state
        state.put_on(("machine", "mill"))
        screen.app.desk.repaint()
        await screen.press("3", "t")
        assert not state.tree_shown
        if key == "pause":
            assert state.refused_at is not None
            state.refused_at -= 1.1
        else:
            await screen.press(key)
        await screen.press("t")
        assert state.tree_shown


async def test_a_unit_typed_where_a_scenario_has_no_such_thing_runs_no_command(
    study: Path,
) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(("machine", "borer", "pallets"))
        count = len(screen.session.draft.scenarios)
        await screen.type("3 a")
        assert "has no machine borer" in screen.text
        assert len(screen.session.draft.scenarios) == count
        assert screen.app.screen is screen.app.desk


# -- what comes at once ----------------------------------------------------------------------


async def test_days_that_come_at_once_are_typed_over_the_value(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(DAYS)
        await read(screen, "mon-thu\r")
        assert days(screen) == FOUR


async def test_a_text_that_is_no_value_runs_no_command(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.go_to("pallets each")
        before = screen.session.draft
        await read(screen, "mad horse\rbad cow\r")
        assert screen.session.draft is before
        assert "Nothing is pasted into" in screen.text


async def test_a_column_that_comes_as_keys_is_asked_about(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.go_to("pallets each")
        await read(screen, "pallets each\t7\rload stations each\t2\r")
        assert "pallets each: " in screen.text
        await screen.press("y")
        assert screen.session.checked.resolved["now"].raw("machine", "mill", "pallets") == 7


async def test_in_a_view_it_is_told_that_the_sheet_takes_it(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("f5")
        await read(screen, "cycle\t5 min\r")
        assert (
            'Not taken: "cycle 5 min" came all at once; values are pasted in the sheet.'
            in screen.text
        )


async def test_in_a_line_it_is_typed(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("e", "r")
        await read(screen, "Deep\r")
        assert screen.session.draft.scenarios[0].title == "Deep"


@pytest.mark.parametrize(
    "sent",
    [
        *("uuu", "nm", "12.5 min", "12\ru", "/cycle\r", "\rmon-thu\r", "\x1bxyz", "\x1b[A"),
        *("mon-thu\r", "nmlathe\r", "aFour pallets\r", "aFour pallets\rm"),
    ],
)
def test_keys_that_come_fast_are_still_keys(sent: str) -> None:
    assert all(isinstance(each, Key) for each in EscapeApart().feed(sent))


@pytest.mark.parametrize(
    "sent", ["mon-thu\rmon-fri", "cycle\t5 min", "8\rnight\rday", "cycle\t5 min\rload\t2 min\r"]
)
def test_a_text_is_one(sent: str) -> None:
    (burst,) = EscapeApart().feed(sent)
    assert isinstance(burst, Burst)
    assert burst.text == sent.replace("\r", "\n")


async def test_a_slash_in_a_view_finds_a_row_of_the_sheet(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("f5")
        await screen.type("/days")
        assert screen.app.desk.state.view is None
        await screen.press("enter")
        line = screen.app.desk.state.line
        assert line is not None
        assert line.path == DAYS
        assert screen.session.is_saved


async def test_only_differences_tells_how_two_are_compared(study: Path) -> None:
    text = (
        STUDY.partition("[scenario.other]")[0]
        + '\n[scenario.more]\nparent = "now"\n[scenario.more.part.plate]\nbench = "7 min"\n'
    )
    study.write_text(text, "utf-8")
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("equals_sign")
        count = len(screen.app.desk.state.ids)
        assert f"the {count} columns differ; b leaves the reference" in " ".join(
            screen.text.split()
        )
        bench = ("part", "plate", "bench")
        assert any(row.path == bench for row in screen.app.desk.state.differing())
        screen.app.desk.state.choose("more")
        await screen.press("h")
        assert f"the {count - 1} columns differ" in screen.text
        assert not any(row.path == bench for row in screen.app.desk.state.differing())


@pytest.mark.long
async def test_a_scenario_needs_a_name_and_one_of_its_own(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        titles = [each.title for each in screen.session.draft.scenarios]
        await screen.press("e", "r", "ctrl+u", "enter")
        assert "! A scenario needs a name" in screen.text
        await screen.type(titles[1])
        await screen.press("enter")
        assert f"! Another scenario is called {titles[1]}" in screen.text
        assert [each.title for each in screen.session.draft.scenarios] == titles
        await screen.press("enter")
        assert screen.session.draft.scenarios[0].title == titles[1]


@pytest.mark.long
async def test_a_share_and_all_alike_begin_on_the_sheet(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        await screen.go_to("cycle")
        before = screen.session.draft
        await screen.press("minus")
        assert "-20 % or +10 % of what stands here, and * before it for all parts" in screen.text
        await screen.type("20 %")
        assert not screen.app.desk.state.typing.wrong  # type: ignore[union-attr]
        await screen.press("enter")
        assert "Cycle 9 min -> 7.2 min in Now" in screen.text
        await screen.press("u")
        assert screen.session.draft == before
        await screen.go_to("cycle")
        await screen.press("asterisk")
        await screen.type(" 12 min")
        await screen.press("enter")
        assert "12 min" in str(screen.session.history.done[-1].says)
        await screen.press("u")
        assert screen.session.draft == before
