"""Keys in a burst: each finds the list, form or question that the one before it has opened."""

from __future__ import annotations

import sys
import threading
from importlib import import_module
from pathlib import Path
from time import sleep
from types import ModuleType

import pytest
from lengths import first_of
from looks import Silent
from screen import on_screen, on_start
from small_study import CYCLE, STUDY
from textual.events import Key, Paste

from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.reading import ReadText
from whatif.screens.views import account, night, opening
from whatif.telling import rules


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


@pytest.mark.long
async def test_a_letter_behind_the_one_that_opens_a_menu_reaches_the_menu(study: Path) -> None:
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        await screen.burst("n", "p", *"cover", "enter", *"12", "space", *"min", "enter")
        resolved = screen.session.checked.resolved["now"]
        assert resolved.raw("part", "cover", "cycle") == "12 min"
        assert screen.app.screen is screen.app.desk
        assert screen.app.desk.state.line is not None
        assert screen.app.desk.state.line.path == ("part", "cover", "in_cut")
        # Nothing of it was taken for a command of the desk.
        assert screen.app.desk.state.arrangement.per.value == "week"


@pytest.mark.long
async def test_one_list_leads_to_the_next(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        await screen.go_to("pallets each", 1)
        await screen.burst("e", "r", *"Deep", "enter", "e", "b", "down", "enter", "y", "6", "enter")
        draft = screen.session.draft
        assert draft.scenario("pool").title == "Deep"
        assert draft.scenario("pool").parent is None
        assert draft.scenario("pool").entered[("machine", "mill", "pallets")] == 6


@pytest.mark.long
async def test_a_form_gets_what_is_typed_behind_enter(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        await screen.go_to("days")
        await screen.burst("enter", *"mon-sat", "enter", *("6", "colon", "3", "0"), "enter")
        days = screen.session.draft.scenario("now").entered[("shift", "day", "days")]
        assert days == ("mon", "tue", "wed", "thu", "fri", "sat")
        assert screen.session.draft.scenario("now").entered[("shift", "day", "start")] in (
            "6:30",
            "06:30",
        )


async def test_a_name_is_pasted_into_the_question_that_asks_for_it(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        for event in (Key("a", "a"), Paste("Two more"), Key("enter", None)):
            screen.app.post_message(event)
        await screen.settle()
        assert "Two more" in [one.title for one in screen.session.draft.scenarios]


@pytest.mark.long
async def test_a_text_to_read_is_opened_and_left(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        await screen.burst("f1", "escape", "x")
        assert isinstance(screen.app.screen, Ask)
        await screen.burst("escape", "f1")
        assert isinstance(screen.app.screen, ReadText)
        await screen.burst("escape", "ctrl+p", *"undo", "enter")
        assert screen.app.desk.state.notice == "Nothing to undo."


async def test_a_key_whose_field_goes_with_it_does_not_hold_up_the_next(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        await screen.go_to("breaks")
        await screen.burst("enter", "x", "enter", "u")
        assert screen.app.screen is screen.app.desk
        assert screen.app.desk.state.notice.startswith("Undone: ")
        assert screen.session.is_saved


@pytest.mark.long
async def test_keys_from_the_start_on(tmp_path: Path) -> None:
    async with on_start(tmp_path / "state") as screen:
        await screen.burst("2", "e", "r", *"Now", "enter")
        assert screen.session.draft.scenarios[0].title == "Now"


@pytest.mark.long
async def test_keys_wait_for_a_view_that_is_loaded_beside_the_event_loop(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    loaded_by: list[threading.Thread] = []

    def load(name: str) -> ModuleType:
        if name != night.__name__:
            return import_module(name)
        if not loaded_by:
            sleep(0.2)
        loaded_by.append(threading.current_thread())
        return night

    monkeypatch.delitem(sys.modules, night.__name__)
    monkeypatch.setattr(opening, "import_module", load)
    async with on_screen(study, calculator=Silent) as screen:
        await screen.burst("f8", "f5")
        assert loaded_by[0] is not threading.main_thread()
        # The night has been opened first, and the hours in its place.
        view = screen.app.desk.state.view
        assert view is not None
        assert view.name == "hours"


async def test_what_the_first_view_would_wait_for_is_read_by_the_thread_that_loads_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    readers: list[threading.Thread] = []
    monkeypatch.setattr(rules, "rules", lambda: readers.append(threading.current_thread()))
    monkeypatch.delitem(sys.modules, account.__name__)
    await opening.load_view("account")
    assert readers
    assert threading.main_thread() not in readers


@pytest.mark.long
@pytest.mark.parametrize("values", first_of([15, 60]))
async def test_a_rush_of_keys_loses_none(study: Path, values: int) -> None:
    """Values typed in forty scenarios that all inherit, with no rest between the keys."""
    more = "".join(f'[scenario.s{at}]\nparent = "now"\n' for at in range(40))
    study.write_text(STUDY + more, "utf-8")
    async with on_screen(study, calculator=Silent) as screen:
        await screen.go_to("cycle", 0)
        keys: list[str] = []
        for number in range(values):
            keys += [*str(100 + number), "enter", "up"]
        await screen.burst(*keys)
        assert len(screen.session.history.done) == values
        assert screen.session.draft.scenario("now").entered[CYCLE] == f"{99 + values} min"


async def test_lines_that_come_as_keys_go_one_below_the_other(study: Path) -> None:
    """A terminal that does not say that it pastes sends a line end as Enter or as Ctrl+J."""
    async with on_screen(study, calculator=Silent) as screen:
        await screen.go_to("cycle", 0)
        await screen.burst(*"7", "enter", *"6", "ctrl+j", *"5", "enter")
        entered = screen.session.draft.scenario("now").entered
        values = [entered[("part", "plate", name)] for name in ("cycle", "in_cut", "load")]
        assert values == ["7 min", "6 %", "5 min"]
