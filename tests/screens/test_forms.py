"""Forms for days, breaks, sides and machines; lists to choose a word from."""

from __future__ import annotations

from pathlib import Path
from typing import cast

import pytest
from lengths import first_of
from looks import Silent
from screen import SMALL_FIRST, Screen, on_screen
from small_study import STUDY
from syrupy.assertion import SnapshotAssertion
from textual.app import App
from textual.css.stylesheet import Stylesheet
from textual.widgets import Input, OptionList, Static

from whatif.screens.dialogs.forms import (
    BreakLine,
    BreaksForm,
    DaysForm,
    Form,
    MachinesForm,
    SidesForm,
    WordsForm,
)
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.widgets.editor import Editor
from whatif.study.edits import ClearValue
from whatif.study.schema.catalogue import key_for

NARROW = (80, 24)
DAYS = ("shift", "day", "days")
BREAKS = ("shift", "day", "breaks")
SIZE = ("part", "plate", "size")
MADE_ON = ("part", "plate", "machines")
MORE = """
[scenario.now.machine.lathe]

[scenario.now.order.big]
part = "plate"
pieces = 5
due = "fri 12:00"

[scenario.now.part.cap]
cycle = "5 min"
weekly = 20
"""


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY + MORE, "utf-8")
    return path


def raw(screen: Screen, path: tuple[str, ...], scenario: str = "now") -> object:
    return screen.session.checked.resolved[scenario].raw(*path)


def entered(screen: Screen, path: tuple[str, ...], scenario: str) -> object:
    return screen.session.draft.scenario(scenario).entered.get(path)


async def opened(screen: Screen, path: tuple[str, ...], column: int = 0) -> None:
    """Put the cursor on a row by its path, and press Enter."""
    await screen.put_on(path, column)
    await screen.press("enter")


@pytest.mark.parametrize("path", [BREAKS, DAYS, SIZE, MADE_ON], ids=".".join)
async def test_help_tells_of_the_value_that_is_filled_in_and_loses_nothing(
    path: tuple[str, ...], study: Path
) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, path)
        form = screen.app.screen
        assert isinstance(form, Form)
        assert "F1 help" in screen.text
        if path == BREAKS:
            await screen.type("09:00")
        filled = form.text
        await screen.press("f1")
        key = key_for(path)
        assert key is not None
        assert f"In the file: {key.dotted}" in screen.text
        assert f"Allowed: {key.kind.allowed}"[:40] in screen.text
        # As it is typed, without the brackets and quotes of the file, where it has any there.
        is_other = key.kind.typed_as != key.kind.allowed
        assert (f"Typed here: {key.kind.typed_as}"[:40] in screen.text) is is_other
        await screen.press("f1")
        assert screen.app.screen is form
        assert form.text == filled


# -- days ------------------------------------------------------------------------------------


@pytest.mark.long
async def test_days_are_ticked_and_followed_at_once(study: Path) -> None:
    async with on_screen(study, NARROW) as screen:
        await opened(screen, DAYS)
        assert isinstance(screen.app.screen, DaysForm)
        before = screen.app.desk.controllers.calculation.current()["now"].figures
        await screen.press("space", "right", "right", "space")
        after = screen.app.desk.controllers.calculation.current()["now"].figures
        assert before is not None
        assert after is not None
        assert after.people.paid < before.people.paid
        assert "= 3 days a week" in screen.text
        await screen.press("enter")
        assert raw(screen, DAYS) == ("tue", "thu", "fri")
        assert len(screen.session.history.done) == 1
        await screen.press("u")
        assert raw(screen, DAYS) == ("mon", "tue", "wed", "thu", "fri")


@pytest.mark.parametrize(
    ("typed", "days"),
    first_of(
        [
            ("mon-thu", ("mon", "tue", "wed", "thu")),
            ("Mon,Tue", ("mon", "tue")),
            ("weekdays", ("mon", "tue", "wed", "thu", "fri")),
            ("sat sun", ("sat", "sun")),
        ]
    ),
)
@pytest.mark.long
async def test_days_may_be_typed(study: Path, typed: str, days: tuple[str, ...]) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DAYS)
        await screen.press("space")  # monday's tick is out; what is typed says all the same
        await screen.type(typed)
        assert f"= {typed}: {len(days)} day" in screen.text
        await screen.press("enter")
        assert set(cast("tuple[str, ...]", raw(screen, DAYS))) == set(days)


@pytest.mark.long
async def test_what_is_no_day_is_refused_and_taken_back(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DAYS)
        await screen.type("tuex")
        await screen.press("enter")
        assert isinstance(screen.app.screen, DaysForm)
        assert "! tuex: " in screen.text
        await screen.press("backspace", "enter")
        assert raw(screen, DAYS) == ("tue",)


@pytest.mark.long
async def test_no_day_is_refused_in_place(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DAYS)
        await screen.press(*["space", "right"] * 5, "enter")
        assert isinstance(screen.app.screen, DaysForm)
        assert "! Tick one day at least" in screen.text
        await screen.press("left", "space", "enter")
        assert raw(screen, DAYS) == ("fri",)


async def test_escape_goes_back_and_redo_takes_it_up(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DAYS)
        await screen.press("left", "left", "space", "escape")
        assert raw(screen, DAYS) == ("mon", "tue", "wed", "thu", "fri")
        assert screen.session.is_saved
        assert "r takes mon tue wed thu fri sat up again" in screen.text
        await screen.press("r")
        assert raw(screen, DAYS) == ("mon", "tue", "wed", "thu", "fri", "sat")


async def test_looking_at_an_inherited_list_enters_nothing(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DAYS, 1)
        await screen.press("s", "s", "s", "s", "enter")
        assert screen.session.is_saved
        assert entered(screen, DAYS, "pool") is None


@pytest.mark.long
async def test_days_are_ticked_by_mouse(study: Path) -> None:
    async with on_screen(study, (120, 32), calculator=Silent) as screen:
        await opened(screen, DAYS)
        await screen.pilot.click(".tick:last-of-type", offset=(3, 0))
        await screen.settle()
        await screen.pilot.click(".form-ends .answer", offset=(1, 0))
        await screen.settle()
        assert raw(screen, DAYS) == ("mon", "tue", "wed", "thu", "fri", "sun")
        assert screen.app.screen is screen.app.desk


@pytest.mark.long
async def test_one_key_goes_on_in_one_line(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DAYS)
        await screen.press("f4")
        editor = screen.app.desk.query_one(Editor)
        assert (editor.is_open, editor.value) == (True, "mon-fri")
        await screen.press("escape", "enter", "left", "left", "space", "f4")
        assert editor.value == "mon tue wed thu fri sat"
        await screen.press("enter")
        assert raw(screen, DAYS) == ("mon", "tue", "wed", "thu", "fri", "sat")


# -- breaks ----------------------------------------------------------------------------------


@pytest.mark.long
async def test_a_break_is_added_in_the_empty_line(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, BREAKS)
        assert isinstance(screen.app.screen, BreaksForm)
        await screen.press("down")
        await screen.type("9:00")
        assert "! The break from 9:00 has no end yet." in screen.text
        await screen.press("enter")
        assert isinstance(screen.app.screen, BreaksForm)
        await screen.press("tab")
        await screen.type("9:15")
        assert len(screen.app.screen.query(BreakLine)) == 3
        await screen.press("enter")
        assert raw(screen, BREAKS) == ("11:00-11:30", "09:00-09:15")


@pytest.mark.long
async def test_what_is_typed_first_replaces_a_time(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, BREAKS)
        await screen.type("10:45")
        await screen.press("enter")
        assert raw(screen, BREAKS) == ("10:45-11:30",)


async def test_x_takes_a_break_out(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, BREAKS)
        await screen.press("x")
        assert "= no break" in screen.text
        await screen.press("x", "enter")
        assert raw(screen, BREAKS) == ()


@pytest.mark.long
async def test_x_takes_nothing_out_while_a_time_is_typed(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, BREAKS)
        await screen.type("9:00")
        await screen.press("x")
        assert "! A time has no x in it; behind Tab or an arrow x removes the break." in screen.text
        assert len(screen.app.screen.query(BreakLine)) == 2
        await screen.press("tab", "x")
        assert len(screen.app.screen.query(BreakLine)) == 1


@pytest.mark.long
async def test_a_break_is_taken_out_by_mouse(study: Path) -> None:
    async with on_screen(study, (120, 32), calculator=Silent) as screen:
        await opened(screen, BREAKS)
        await screen.pilot.click(".line-out", offset=(4, 0))
        await screen.settle()
        await screen.press("enter")
        assert raw(screen, BREAKS) == ()


@pytest.mark.long
async def test_what_is_no_time_is_told_in_place_and_not_lost(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, BREAKS)
        await screen.type("26:00")
        assert '! "26:00" is no time of day' in screen.text
        await screen.press("enter")
        assert isinstance(screen.app.screen, BreaksForm)
        await screen.press("escape")
        assert raw(screen, BREAKS) == ("11:00-11:30",)
        assert "The form said 26:00-11:30." in screen.text


# -- sides -----------------------------------------------------------------------------------


@pytest.mark.long
async def test_sides_are_filled_in_by_name(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, SIZE)
        assert isinstance(screen.app.screen, SidesForm)
        await screen.type("5 1/2 in")
        assert "! Not filled in yet: width, height." in screen.text
        await screen.press("tab")
        await screen.type("4")
        await screen.press("down")
        await screen.type("60 mm")
        await screen.press("enter")
        assert raw(screen, SIZE) == ("5 1/2 in", "4 in", "60 mm")


@pytest.mark.long
async def test_enter_goes_on_to_the_side_that_is_missing(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, SIZE)
        await screen.type("300 mm")
        await screen.press("enter")
        await screen.type("200")
        await screen.press("enter")
        await screen.type("80")
        await screen.press("enter")
        assert raw(screen, SIZE) == ("300 mm", "200 mm", "80 mm")


@pytest.mark.long
async def test_emptied_sides_are_not_given(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, ("machine", "mill", "table"))
        await screen.type("900 mm")
        await screen.press("down")
        await screen.type("500")
        await screen.press("enter")
        assert raw(screen, ("machine", "mill", "table")) == ("900 mm", "500 mm")
        await screen.press("up", "enter", "delete", "tab", "delete", "enter")
        assert raw(screen, ("machine", "mill", "table")) is None


@pytest.mark.long
async def test_a_side_that_is_no_length_is_told(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, ("machine", "mill", "travel"))
        await screen.type("900 min")
        await screen.press("down")
        await screen.type("500 mm")
        assert "! " in screen.text
        await screen.press("enter")
        form = screen.app.screen
        assert isinstance(form, SidesForm)
        assert form.wrong.startswith("along the length: min is minutes")


# -- machines --------------------------------------------------------------------------------


@pytest.mark.long
async def test_machines_are_ticked_and_none_means_all(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, MADE_ON)
        assert isinstance(screen.app.screen, MachinesForm)
        assert "= all machines" in screen.text
        await screen.press("down", "space", "enter")
        assert raw(screen, MADE_ON) == ("lathe",)
        await screen.press("up", "enter", "l", "enter")
        assert raw(screen, MADE_ON) is None


async def test_what_is_no_list_is_typed(tmp_path: Path) -> None:
    path = tmp_path / "wrong.toml"
    path.write_text(STUDY.replace('["mon", "tue", "wed", "thu", "fri"]', '"mon"'), "utf-8")
    async with on_screen(path, NARROW, calculator=Silent) as screen:
        await screen.press("escape")  # what is wrong with the file
        await opened(screen, DAYS)
        assert screen.app.screen is screen.app.desk
        assert screen.app.desk.query_one(Editor).is_open


@pytest.mark.long
async def test_typing_over_a_list_still_opens_the_line(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, SIZE)
        await screen.press("escape", "9")
        editor = screen.app.desk.query_one(Editor)
        assert (editor.is_open, editor.value) == (True, "9")


# -- words -----------------------------------------------------------------------------------


@pytest.mark.long
async def test_a_word_is_chosen_by_typing_it(study: Path) -> None:
    path = ("part", "plate", "unattended")
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, path)
        await screen.type("no")
        await screen.press("enter")
        assert raw(screen, path) is False
        await screen.press("up", "enter")
        await screen.type("yesterday")
        assert "! none is called yesterday" in screen.text
        await screen.press("enter")
        assert isinstance(screen.app.screen, ChooseOne), "what the cursor is left on is not meant"
        await screen.press(*["backspace"] * 6, "enter")
        assert raw(screen, path) is True


@pytest.mark.long
async def test_one_of_many_is_found_by_its_name(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        names = {str(number): f"{number} Part number {number}" for number in range(60)}
        taken: list[str | None] = []
        screen.app.push_screen(ChooseOne("Which?", names), taken.append)
        await screen.settle()
        await screen.type("number 47")
        assert "looked for: number 47" in screen.text
        await screen.press("enter")
        assert taken == ["47"]


@pytest.mark.long
async def test_a_word_is_chosen_from_a_list(study: Path) -> None:
    path = ("part", "plate", "unattended")
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, path)
        menu = screen.app.screen
        assert isinstance(menu, ChooseOne)
        assert "its pieces are begun only while somebody is on duty" in screen.text
        await screen.press("enter")
        assert raw(screen, path) is True
        assert screen.session.unsaved == 1, "what was assumed is entered now"
        await screen.press("up", "enter", "down", "enter")
        assert raw(screen, path) is False


async def test_the_part_of_an_order_is_chosen_from_a_list(study: Path) -> None:
    path = ("order", "big", "part")
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, path)
        menu = screen.app.screen
        assert isinstance(menu, ChooseOne)
        assert menu.query_one(OptionList).highlighted == 0
        await screen.press("down", "enter")
        assert raw(screen, path) == "cap"


async def test_a_value_of_a_thing_that_is_not_there_opens_no_form(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DAYS, 2)
        assert not screen.app.screen.query(Input).exclude("#editor").exclude("#find-name")
        assert screen.app.screen is screen.app.desk


@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("path", [BREAKS, SIZE], ids=["breaks", "size"])
async def test_the_form_as_it_looks(
    study: Path, size: tuple[int, int], path: tuple[str, ...], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(study, size) as screen:
        await opened(screen, path)
        form = screen.app.screen.query_one(".dialog").region
        lines = screen.text.splitlines()[form.y : form.bottom]
        assert "\n".join(line[form.x : form.right] for line in lines) == snapshot


async def test_days_that_were_a_guess_are_confirmed_as_they_stand(study: Path) -> None:
    text = study.read_text("utf-8")
    said = "Assumed until measured: shift.day.days = mon-fri."
    study.write_text(text.replace("[scenario.now]", f"[scenario.now]\nnotes = '{said}'", 1))
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        assert screen.session.checked.resolved["now"].origin(*DAYS).guessed
        await opened(screen, DAYS)
        await screen.press("enter")
        assert not screen.session.checked.resolved["now"].origin(*DAYS).guessed
        assert "mon-fri confirmed in Now" in screen.text
        await screen.press("u")
        assert screen.session.checked.resolved["now"].origin(*DAYS).guessed


# -- what is no list of the calendar ---------------------------------------------------------

DOES = ("shift", "day", "does")
NIGHTS = ("unattended", "nights")
AFTER = ("part", "plate", "after")


async def test_works_are_ticked_and_a_setup_needs_a_load(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DOES)
        assert isinstance(screen.app.screen, WordsForm)
        assert "[✓] release    first pieces can be released in its hours" in screen.text
        await screen.press("l", "enter")
        assert isinstance(screen.app.screen, WordsForm)
        assert "! Whoever sets up has to load too; " in screen.text
        await screen.press("s", "enter")
        assert raw(screen, DOES) == ("prove_out", "tools", "repair", "release")
        await screen.press("u")
        assert entered(screen, DOES, "now") is None


@pytest.mark.long
async def test_nights_may_be_none(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("slash")
        await screen.type("nights")
        await screen.press("enter", "enter")
        assert isinstance(screen.app.screen, DaysForm)
        await screen.press(*["space", "right"] * 7)
        assert "= 0 days a week" in screen.text
        await screen.press("enter")
        assert entered(screen, NIGHTS, "now") == ()


@pytest.mark.long
async def test_the_part_before_is_chosen_and_let_go_again(study: Path) -> None:
    """A part comes after another one, not after itself."""
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, AFTER)
        assert isinstance(screen.app.screen, ChooseOne)
        assert [offer.id for offer in screen.app.screen.offers] == ["none", "cap"]
        await screen.press("down", "enter")
        assert raw(screen, AFTER) == "cap"
        await opened(screen, AFTER)
        await screen.press("up", "enter")
        assert not raw(screen, AFTER)


@pytest.mark.long
async def test_what_holds_for_the_study_as_a_whole_is_listed_and_changed(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("y")
        assert isinstance(screen.app.screen, ChooseOne)
        assert "weeks: 1" in screen.text
        await screen.press("enter")
        await screen.type("settled")
        await screen.press("enter")
        assert screen.session.draft.head["weeks"] == "settled"
        await screen.press("y", "up", "enter", "down", "enter")
        assert screen.session.draft.head["today"] == "pool"
        await screen.press("u", "u")
        assert screen.session.is_saved


# -- refusals ----------------------------------------------------------------------------


@pytest.fixture
def rung(monkeypatch: pytest.MonkeyPatch) -> list[App[None]]:
    """A list that gets longer whenever the terminal's bell is rung."""
    rings: list[App[None]] = []
    monkeypatch.setattr(App, "bell", lambda app: rings.append(app))
    return rings


@pytest.mark.long
async def test_a_refused_value_rings_and_is_told_with_a_sign_and_a_colour(
    study: Path, rung: list[App[None]]
) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, ("machine", "mill", "count"))
        await screen.press("backspace", "x")
        assert not rung, "only Enter is refused"
        await screen.press("enter")
        assert len(rung) == 1
        info = screen.app.desk.query_one("#info", Static)
        assert info.has_class("wrong")
        assert str(info.render()).startswith(" ! ")
        await screen.press("escape")
        assert not info.has_class("wrong")


@pytest.mark.long
async def test_a_form_that_cannot_be_kept_rings(study: Path, rung: list[App[None]]) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await opened(screen, DAYS)
        await screen.press(*["space", "right"] * 5, "enter")
        assert len(rung) == 1
        assert "! Tick one day at least." in screen.text


async def test_an_edit_that_cannot_be_made_rings(study: Path, rung: list[App[None]]) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        screen.app.desk.state.put_on(("machine", "mill"), ("machine", "mill", "count"))
        screen.app.desk.controllers.changes.do(ClearValue("pool", ("machine", "mill", "count")))
        await screen.settle()
        assert len(rung) == 1
        assert "! " in str(screen.app.desk.query_one("#info", Static).render())


async def test_styles_of_dialogs_are_read_beside_those_that_are_there(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        app = screen.app
        before = set(app.stylesheet.source)
        monkeypatch.setattr(Stylesheet, "reparse", lambda _: pytest.fail("all are read anew"))
        for _ in range(2):
            await screen.press("f1", "escape")
        read = [Path(file).name for file, _ in app.stylesheet.source.keys() - before]
        assert [name for name in read if name.endswith(".tcss")] == ["dialogs.tcss"]
        assert app.stylesheet.source.keys() >= before
