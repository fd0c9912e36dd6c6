"""A view that is opened is drawn once, in the room that it gets."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import ONE, Silent
from screen import SMALL, on_screen
from small_study import STUDY
from textual.geometry import Size

from whatif.screens.desk.desk import Desk
from whatif.screens.views.hours import HoursView
from whatif.screens.views.pane import ViewPane
from whatif.screens.views.view import Look
from whatif.screens.widgets.drawing import SpanRow
from whatif.screens.widgets.sheet import Sheet


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


@pytest.mark.parametrize("size", [(80, 24), (120, 32)])
@pytest.mark.long
async def test_a_view_is_drawn_in_the_room_that_it_gets(
    study: Path, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[tuple[int, int]] = []
    draw = HoursView.draw

    def noted(self: HoursView, look: Look, width: int, height: int) -> list[SpanRow]:
        drawn.append((width, height))
        return draw(self, look, width, height)

    monkeypatch.setattr(HoursView, "draw", noted)
    async with on_screen(study, size) as screen:
        for _ in range(2):
            await screen.press("f5")
            assert set(drawn) == {screen.app.desk.view_room}
            assert len(drawn) == 1, "it is laid out, and drawn before that is painted"
            drawn.clear()
            await screen.press("f5")
            assert not drawn


@pytest.mark.long
async def test_a_view_opened_again_is_drawn_before_it_is_laid_out(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    laying_out = False
    drawn: list[bool] = []
    draw, lay_out = HoursView.draw, Desk._refresh_layout

    def noted(self: HoursView, look: Look, width: int, height: int) -> list[SpanRow]:
        drawn.append(laying_out)
        return draw(self, look, width, height)

    def laid_out(self: Desk, size: Size | None = None, scroll: bool = False) -> None:
        nonlocal laying_out
        laying_out = True
        lay_out(self, size, scroll)
        laying_out = False
        if self.state.view is not None:
            assert self.query_one(ViewPane).rows, "no picture is made without what it is of"

    monkeypatch.setattr(HoursView, "draw", noted)
    monkeypatch.setattr(Desk, "_refresh_layout", laid_out)
    async with on_screen(study) as screen:
        await screen.press("f5", "f5", "f5")
        assert drawn == [True, False], "the first time nobody knows how much room there will be"
        text = screen.text
        await screen.press("f5")
        await screen.pilot.resize_terminal(100, 30)
        await screen.settle()
        await screen.press("f5")
        assert drawn[2:] == [True], "what room there was says nothing about another screen"
        await screen.pilot.resize_terminal(120, 32)
        await screen.settle()
        assert screen.text == text


async def test_a_view_scrolls_to_its_end_wherever_it_was_opened(study: Path) -> None:
    async with on_screen(study, (80, 16)) as screen:
        await screen.open_view("night")
        pane = screen.app.desk.query_one(ViewPane)
        assert len(pane.rows) > pane.size.height
        await screen.press(*["pagedown"] * 9)
        assert pane.scroll_offset.y == len(pane.rows) - pane.size.height
        assert pane.show_vertical_scrollbar
        await screen.open_view("hours")
        assert pane.scroll_offset.y == 0
        await screen.open_view("night")
        assert pane.scroll_offset.y == 0
        assert pane.show_vertical_scrollbar


async def test_behind_a_view_the_sheet_stands_where_it_stood(tmp_path: Path) -> None:
    async with on_screen(ONE, SMALL, state=tmp_path, calculator=Silent) as screen:
        sheet = screen.app.desk.query_one(Sheet)
        await screen.press(*["down"] * 5, "f5")
        assert not sheet.size
        await screen.press("escape")
        assert sheet.scroll_offset.y == 0


async def test_behind_a_view_that_begins_with_a_far_column_the_same_ones_are_in_sight(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(HoursView, "begins_with", lambda _, look: look.ids[-1])
    async with on_screen(ONE, SMALL, state=tmp_path, calculator=Silent) as screen:
        state = screen.app.desk.state
        before = state.chosen, state.columns.visible
        await screen.press("f5")
        assert state.columns.visible != before[1]
        await screen.press("escape")
        assert (state.chosen, state.columns.visible) == before
