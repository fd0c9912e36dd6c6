"""The meeting on the desk: what is hidden is left out, and each page begins at its top."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import AtOnce, on_screen
from small_study import STUDY

from whatif.screens.views.pane import ViewPane


@pytest.mark.parametrize("hidden", ["now", "pool", "more"])
async def test_what_is_hidden_is_left_out(hidden: str, tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    shop = STUDY.partition("[scenario.other]")[0]
    more = '[scenario.more]\ntitle = "More"\nparent = "now"\nmachine.mill.count = 3\n'
    study.write_text(shop + more, "utf-8")
    async with on_screen(study, calculator=AtOnce) as screen:
        state = screen.app.desk.state
        title = state.title(hidden)
        state.choose(hidden)
        await screen.press("h")
        await screen.open_view("meeting")
        assert screen.app.return_code is None
        if hidden != "now":
            assert title not in screen.text
        assert "likely" in screen.text


@pytest.mark.parametrize("size", [(80, 24), (120, 32)])
async def test_a_reference_that_is_hidden_is_named_by_what_is_told_against_it(
    size: tuple[int, int], tmp_path: Path
) -> None:
    study = tmp_path / "small.toml"
    shop = STUDY.partition("[scenario.other]")[0]
    study.write_text(shop.replace('title = "Now"', 'title = "As it stands"'), "utf-8")
    async with on_screen(study, size, calculator=AtOnce) as screen:
        screen.app.desk.state.choose("now")
        await screen.press("h")
        assert "As it stands is hidden, and gains are against it still." in screen.text
        assert "against: As it stands" in screen.text.splitlines()[0]
        assert "Against As it stands (hidden). " in " ".join(screen.text.split())
        await screen.press("f2")
        assert "Saleable output against As it stands: " in " ".join(screen.text.split())
        await screen.press("escape")
        await screen.press("f5", "k")
        assert "points against As it stands" in screen.text


async def test_each_page_and_the_verdict_begin_at_their_top(tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    shop = STUDY.partition("[scenario.other]")[0]
    study.write_text(shop, "utf-8")
    async with on_screen(study, (80, 13), calculator=AtOnce) as screen:
        await screen.open_view("meeting")
        pane = screen.app.desk.query_one(ViewPane)
        # The verdict, a page, another page by Space and by an arrow, and the verdict again.
        for key in ("space", "space", "right", "escape"):
            await screen.press("pagedown")
            assert pane.scroll_y > 0
            await screen.press(key)
            assert pane.scroll_y == 0, key
        # What is drawn anew of the same page stays where it was scrolled to.
        await screen.press("pagedown")
        screen.app.desk.repaint()
        await screen.settle()
        assert pane.scroll_y > 0
