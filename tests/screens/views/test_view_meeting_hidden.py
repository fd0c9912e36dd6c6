"""The meeting leaves out what is hidden on the desk, and is told all the same."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import AtOnce, on_screen
from small_study import STUDY


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
