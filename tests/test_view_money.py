"""Money: table and years, following an edit, and what to do where there is none."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import SCENARIOS, SIZES, Screen, on_screen

from whatif.answers.cash_curve import BACK
from whatif.screens.editor import Editor
from whatif.screens.views.pane import ViewPane

DEMO = SCENARIOS / "pallets-until-demand.toml"


async def opened(screen: Screen) -> Screen:
    screen.app.desk.action_view("money")
    return await screen.settle()


def said(screen: Screen) -> str:
    return screen.text.replace("\u00a0", " ")


@pytest.mark.parametrize("size", SIZES)
async def test_what_comes_back_when(size: tuple[int, int], tmp_path: Path) -> None:
    async with on_screen(DEMO, size, state=tmp_path) as screen:
        await screen.press("right")
        await opened(screen)
        for text in ("+86 742", "208 600", "2.4 years", "+243 011", "37.0 %"):
            assert text in said(screen)
        if size[0] < 200:
            assert BACK not in screen.text
            await screen.press("b")
        assert BACK in screen.text
        assert "EUR 208 600 is laid out at once" in said(screen)
        assert "back after 2.4 years" in said(screen)


async def test_every_column_needs_no_scrolling_at_120x32(tmp_path: Path) -> None:
    async with on_screen(DEMO, (120, 32), state=tmp_path) as screen:
        await opened(screen)
        pane = screen.app.desk.query_one(ViewPane)
        for _ in screen.app.desk.ids:
            assert pane.max_scroll_y == 0
            await screen.press("b")
            assert pane.max_scroll_y == 0
            await screen.press("b", "right")
        assert "machines bought" in screen.text
        assert "-76 000" in said(screen)  # two mills given up at 38 000 each


async def test_the_reference_has_no_curve_and_says_what_to_do(tmp_path: Path) -> None:
    async with on_screen(DEMO, state=tmp_path) as screen:
        await opened(screen)
        await screen.press("b")
        assert "This is what the others are held against" in said(screen)
        assert "< and > choose one" in said(screen)


async def test_it_follows_the_wage(tmp_path: Path) -> None:
    async with on_screen(DEMO, (200, 50), state=tmp_path) as screen:
        await screen.press("right")
        await opened(screen)
        await screen.press("v")
        line = screen.app.desk.line
        assert line is not None
        assert line.path == ("money", "wage")
        editor = screen.app.desk.query_one(Editor)
        assert editor.is_open
        await screen.press(*["backspace"] * len(editor.value))
        await screen.type("46")
        # 50 weeks of 85 hours at 10 more, paid in this scenario alone and in those below it.
        assert "+44 242" in said(screen)
        await screen.press("escape")
        assert "+86 742" in said(screen)


async def test_by_mouse(tmp_path: Path) -> None:
    async with on_screen(DEMO, state=tmp_path) as screen:
        await opened(screen)
        pane = screen.app.desk.query_one(ViewPane)
        await screen.pilot.click(ViewPane, offset=(60, 2))
        await screen.settle()
        assert screen.app.desk.chosen == "second"
        head = screen.text.splitlines()[pane.region.y]
        await screen.pilot.click(ViewPane, offset=(head.index("over the years"), 0))
        await screen.settle()
        assert BACK in screen.text
        await screen.pilot.click(ViewPane, offset=(head.index("g a contribution") + 1, 0))
        await screen.settle()


async def test_without_a_contribution_it_says_what_to_enter(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        await opened(screen)
        assert "No part has a contribution" in screen.text
        await screen.press("g")
        line = screen.app.desk.line
        assert line is not None
        assert line.path[2] == "contribution"
        editor = screen.app.desk.query_one(Editor)
        await screen.press(*["backspace"] * len(editor.value))
        await screen.type("25")
        await screen.press("enter")
        assert "a year brings more by" in screen.text


async def test_without_a_part_g_says_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("format = 1\n[scenario.now]\n")
    async with on_screen(path, state=tmp_path) as screen:
        await opened(screen)
        await screen.press("g")
        assert "There is no part yet: n adds one." in screen.text


async def test_no_years_counted_says_so(tmp_path: Path) -> None:
    text = DEMO.read_text("utf-8").replace("wage = 36", "wage = 36\nyears = 0", 1)
    path = tmp_path / "none.toml"
    path.write_text(text, "utf-8")
    async with on_screen(path, state=tmp_path) as screen:
        await screen.press("right")
        await opened(screen)
        await screen.press("b")
        assert "No years are counted" in screen.text
