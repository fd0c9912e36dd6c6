"""Views on the whole screen: what stands around them, the way back, and all without colour."""

from __future__ import annotations

from pathlib import Path

import pytest
from lengths import first_of
from looks import NAMES, ONE, Looking, Silent, calculator, changed, view_named
from rich.cells import cell_len
from rich.style import Style
from screen import SMALL_FIRST, Screen, on_screen
from syrupy.assertion import SnapshotAssertion

from whatif.screens.views.all import BY_NAME, VIEWS
from whatif.screens.views.night import SHADES
from whatif.screens.views.pane import ViewPane
from whatif.telling.week.signs import MACHINE_SIGNS

SMALL = (80, 24)


def _segments(screen: Screen) -> list[tuple[str, Style]]:
    # As for the text: Textual has no public way to what stands in the cells.
    lines = screen.app.screen._compositor.render_strips()
    return [(part.text, part.style or Style()) for line in lines for part in line]


@pytest.mark.parametrize("name", first_of(NAMES, 4))
async def test_a_view_without_colour(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, snapshot: SnapshotAssertion
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    calculates = calculator(name)
    async with on_screen(ONE, SMALL, state=tmp_path, calculator=calculates) as screen:
        assert screen.app.no_color
        await screen.press("right")
        await screen.open_view(name)
        assert screen.text == snapshot
        for _, style in _segments(screen):
            for color in (style.color, style.bgcolor):
                if color is not None and color.triplet is not None:
                    assert len(set(color.triplet)) == 1, color
        if not view_named(name).whole:
            # The chosen scenario is marked by signs, and turned round.
            title = next(text for text, style in _segments(screen) if style.reverse)
            assert title.strip().startswith(">")
            assert title.strip().endswith("<")


@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", ["hours", "meeting"])
async def test_a_view_on_the_screen_is_what_is_drawn_without_one(
    name: str, size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(ONE, size, state=tmp_path) as screen:
        await screen.press("right")
        await screen.open_view(name)
        looking = Looking(ONE, name, size)
        pane = screen.app.desk.query_one(ViewPane)
        assert pane.scrollable_content_region.size == (looking.width, looking.height)
        drawn = looking.text.splitlines()[: looking.height]
        # The last cell is the scroll bar's.
        there = [line[: looking.width].rstrip() for line in screen.view_lines]
        assert there[: len(drawn)] == drawn


async def test_the_cursor_of_the_sheet_is_turned_round_without_colour(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with on_screen(ONE, SMALL, state=tmp_path) as screen:
        await screen.go_to("pallets each", 1)
        shown = [text.strip() for text, style in _segments(screen) if style.reverse]
        assert len(shown) >= 2


def test_no_two_states_or_shades_have_one_sign() -> None:
    assert len(set(MACHINE_SIGNS.values())) == len(MACHINE_SIGNS)
    assert len({sign for sign, _ in SHADES.values()}) == len(SHADES)


# -- the way there and back --------------------------------------------------------------


async def test_the_list_opens_a_view_and_escape_goes_back(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        sheet = screen.text
        await screen.press("f6", "1")
        assert VIEWS[0].title in screen.text or "Machine hours" in screen.text
        await screen.press("escape")
        assert screen.text == sheet


@pytest.mark.parametrize("names", first_of([NAMES[:3], NAMES[3:]]), ids=["some", "others"])
async def test_each_view_says_the_way_back_and_its_keys(names: list[str], tmp_path: Path) -> None:
    async with on_screen(ONE, SMALL, state=tmp_path, calculator=Silent) as screen:
        for name in names:
            assert "Esc back" not in screen.text
            await screen.open_view(name)
            footer = screen.text.splitlines()[-1]
            assert footer.startswith(" Esc back ")
            assert cell_len(footer) < 80
            await screen.press("f1")
            assert f"Help: {BY_NAME[name].title}" in screen.text
            assert f"It answers {BY_NAME[name].asks[:40]}" in screen.text
            await screen.press("escape", "escape")
        assert "Esc back" not in screen.text


async def test_escape_goes_back_from_the_line_of_inputs_too(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        before = screen.text
        await screen.press("f5", "tab")
        assert screen.text != before
        await screen.press("escape")
        assert screen.text == before


async def test_the_meeting_opens_no_editor_that_cannot_be_seen(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.open_view("meeting")
        for key in ("5", "enter", "tab"):
            await screen.press(key)
            assert isinstance(screen.app.focused, ViewPane)
        assert "Values are changed in the sheet: Esc goes back to it." in screen.text
        await screen.press("slash")
        assert isinstance(screen.app.focused, ViewPane)
        assert "No key here: /" in screen.text
        assert screen.session.is_saved


async def test_a_view_follows_what_is_typed_into_the_line_of_inputs(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.go_to("pallets each", 1)
        await screen.open_view("hours")
        before = screen.text
        await screen.press("9", "enter")
        assert screen.text != before
        await screen.press("u")
        # What was done last is told below; the rest is as it was.
        assert screen.text.splitlines()[1:-4] == before.splitlines()[1:-4]


async def test_the_keys_go_to_the_line_of_inputs_and_back(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path, calculator=Silent) as screen:
        await screen.open_view("hours")
        first = screen.app.desk.state.line
        await screen.press("tab", "down", "tab")
        assert screen.app.desk.state.line != first
        assert isinstance(screen.app.focused, ViewPane)


async def test_views_of_a_study_whose_reference_is_not_there(tmp_path: Path) -> None:
    path = changed(tmp_path, 'reference = "today"', 'reference = "nowhere"')
    async with on_screen(path, calculator=Silent) as screen:
        await screen.press("escape")  # the problems, told at once
        for name in ("hours", "moves"):
            await screen.open_view(name)
            await screen.press("b", "right", "enter", "f1", "escape")
            assert "1 problem: F3" in screen.text
