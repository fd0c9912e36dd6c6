"""The view of the table: choosing a part, editing what decides its fit, by key and by mouse."""

from __future__ import annotations

from pathlib import Path

from looks import Looking
from screen import SCENARIOS, Screen, on_screen
from small_study import STUDY

from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.editor import Editor

TWO = f"""{STUDY}
[scenario.now.part.lid]
cycle = "5 min"
size = ["90 mm", "60 mm", "20 mm"]
weekly = 10
""".replace("count = 2", 'count = 2\ntable = ["600 mm", "400 mm"]').replace(
    "weekly = 300", 'weekly = 300\nsize = ["150 mm", "100 mm", "50 mm"]'
)
"""Two parts that stand on one table."""


async def _opened(screen: Screen) -> Screen:
    return await screen.open_view("table")


async def test_the_gap_is_edited_from_the_table(tmp_path: Path) -> None:
    path = tmp_path / "two.toml"
    path.write_text(TWO, "utf-8")
    async with on_screen(path, (80, 24)) as screen:
        await _opened(screen)
        await screen.press("down", "g")
        line = screen.app.desk.state.line
        assert line is not None
        assert line.path == ("part", "lid", "gap")
        editor = screen.app.desk.query_one(Editor)
        assert editor.is_open
        before = screen.text
        await screen.press(*["backspace"] * len(editor.value))
        await screen.type("400 mm")
        await screen.press("enter")
        assert screen.text != before
        assert screen.session.draft.scenario("now").entered[("part", "lid", "gap")] == "400 mm"
        assert isinstance(screen.app.focused, ViewPane)
        # The keys are the view's again: the next press moves in its list.
        await screen.press("up")
        assert ">plate on mill" in screen.text


async def test_a_click_chooses_a_part(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "pallets-until-demand.toml", state=tmp_path) as screen:
        await _opened(screen)
        lines = screen.text.splitlines()
        y = next(i for i, line in enumerate(lines) if "lid on mill" in line)
        pane = screen.app.desk.query_one(ViewPane)
        await screen.pilot.click(ViewPane, offset=(5, y - pane.region.y))
        await screen.settle()
        assert ">lid on mill" in screen.text
        await screen.pilot.click(ViewPane, offset=(25, 0))
        await screen.settle()
        # How it may be turned is one of a few words, so they are laid out.
        assert isinstance(screen.app.screen, ChooseOne)
        assert "turned only about the vertical" in screen.text
        await screen.press("escape")
        assert screen.app.desk.state.view is not None


def test_a_scenario_without_parts_says_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("format = 1\n[scenario.now]\n")
    assert "n adds a part" in Looking(path, "table", column=0).words
