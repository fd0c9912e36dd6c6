"""Each view on each demo study at three sizes, its keys, and how it follows edits."""

from __future__ import annotations

from pathlib import Path

import pytest
from rich.cells import cell_len
from screen import SCENARIOS, SIZES, AtOnce, AWhile, Screen, on_screen
from syrupy.assertion import SnapshotAssertion

from whatif.screens.views.all import VIEWS
from whatif.screens.views.pane import ViewPane
from whatif.session.calculate.requests import Reply, Request

DEMOS = ("pallets-until-demand", "one-person", "small-orders")
NAMES = [view.name for view in VIEWS]
LONG = {"moves"}
"""Views whose question takes a minute on some demo: they are looked at while it is worked out."""


def _sizes(size: tuple[int, int]) -> str:
    return f"{size[0]}x{size[1]}"


def calculator(name: str) -> type:
    return AWhile if name in LONG else AtOnce


class Silent(AtOnce):
    """Answers nothing, where only what stands around a view is looked at."""

    def answer(self, request: Request) -> None:
        self._deliver(Reply(request.revision, final=True))


async def opened(screen: Screen, name: str) -> Screen:
    """Open a view through the desk's own command."""
    screen.app.desk.controllers.views.open(name)
    return await screen.settle()


@pytest.mark.parametrize("size", SIZES, ids=_sizes)
@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("name", NAMES)
async def test_a_view_of_a_demo(
    name: str, demo: str, size: tuple[int, int], tmp_path: Path, snapshot: SnapshotAssertion
) -> None:
    study, calculates = SCENARIOS / f"{demo}.toml", calculator(name)
    async with on_screen(study, size, state=tmp_path, calculator=calculates) as screen:
        await screen.press("right")
        await opened(screen, name)
        assert screen.text == snapshot


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("name", NAMES)
async def test_it_needs_no_scrolling_at_120x32(name: str, demo: str, tmp_path: Path) -> None:
    study, calculates = SCENARIOS / f"{demo}.toml", calculator(name)
    async with on_screen(study, (120, 32), state=tmp_path, calculator=calculates) as screen:
        await screen.press("right")
        await opened(screen, name)
        pane = screen.app.desk.query_one(ViewPane)
        assert pane.max_scroll_y == 0


async def test_the_list_opens_a_view_and_escape_goes_back(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        sheet = screen.text
        await screen.press("f6", "1")
        assert VIEWS[0].title in screen.text or "Machine hours" in screen.text
        await screen.press("escape")
        assert screen.text == sheet


@pytest.mark.parametrize("size", SIZES, ids=_sizes)
async def test_the_list_of_views_shows_all_and_the_way_back(
    size: tuple[int, int], tmp_path: Path
) -> None:
    study = SCENARIOS / "one-person.toml"
    async with on_screen(study, size, state=tmp_path, calculator=Silent) as screen:
        await screen.press("f6")
        for view in VIEWS:
            assert f"{view.title} " in screen.text
        assert "Esc go back" in screen.text


@pytest.mark.parametrize("name", NAMES)
async def test_a_view_says_the_way_back_and_its_keys(name: str, tmp_path: Path) -> None:
    view = next(one for one in VIEWS if one.name == name)
    study = SCENARIOS / "one-person.toml"
    async with on_screen(study, (80, 24), state=tmp_path, calculator=Silent) as screen:
        assert "Esc back" not in screen.text
        await opened(screen, name)
        footer = screen.text.splitlines()[-1]
        assert footer.startswith(" Esc back ")
        assert cell_len(footer) < 80
        await screen.press("f1")
        assert f"Help: {view.title}" in screen.text
        await screen.press("escape", "escape")
        assert "Esc back" not in screen.text


async def test_escape_goes_back_from_the_line_of_inputs_too(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        before = screen.text
        await screen.press("f5", "tab")
        assert screen.text != before
        await screen.press("escape")
        assert screen.text == before


async def test_the_meeting_opens_no_editor_that_cannot_be_seen(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        await opened(screen, "meeting")
        for key in ("5", "enter", "tab", "slash"):
            await screen.press(key)
            assert isinstance(screen.app.focused, ViewPane)
        assert "Values are changed in the sheet: Esc goes back to it." in screen.text
        assert screen.session.is_saved


@pytest.mark.parametrize("name", NAMES)
async def test_a_view_follows_an_edit_and_its_undo(name: str, tmp_path: Path) -> None:
    study, calculates = SCENARIOS / "one-person.toml", calculator(name)
    async with on_screen(study, state=tmp_path, calculator=calculates) as screen:
        await screen.go_to("pallets each", 1)
        await opened(screen, name)
        before = screen.text
        await screen.press("9", "enter")
        assert screen.text != before
        await screen.press("u")
        # What was done last is told below; the rest is as it was.
        assert screen.text.splitlines()[1:-4] == before.splitlines()[1:-4]


async def test_the_keys_go_to_the_line_of_inputs_and_back(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        await opened(screen, "hours")
        first = screen.app.desk.state.line
        await screen.press("tab", "down", "tab")
        assert screen.app.desk.state.line != first
        assert isinstance(screen.app.focused, ViewPane)


@pytest.mark.parametrize("name", NAMES)
async def test_a_view_of_a_study_whose_reference_is_not_there(name: str, tmp_path: Path) -> None:
    path = tmp_path / "study.toml"
    text = (SCENARIOS / "one-person.toml").read_text("utf-8")
    path.write_text(text.replace('reference = "today"', 'reference = "nowhere"'), "utf-8")
    async with on_screen(path, calculator=Silent) as screen:
        await screen.press("escape")  # the problems, told at once
        await opened(screen, name)
        for key in ("b", "g", "v", "y", "down", "right", "enter", "f1", "escape"):
            await screen.press(key)
        assert "1 problem: F3" in screen.text
