"""The line of keys: six of them on a narrow screen, more where there is room, all to be clicked."""

from __future__ import annotations

from pathlib import Path

import pytest
from rich.cells import cell_len
from screen import on_screen
from small_study import STUDY

MORE = ("u undo", "l changes", "e scenario", "n add")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


async def test_it_follows_the_width_of_the_screen(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        assert not all(words in screen.text for words in MORE)
        await screen.pilot.resize_terminal(120, 32)
        await screen.settle()
        keys = screen.text.splitlines()[-1]
        assert all(words in keys for words in MORE)
        assert cell_len(keys) < 120
        await screen.pilot.resize_terminal(80, 32)
        await screen.settle()
        assert not all(words in screen.text for words in MORE)
        # Told or not, the keys are there.
        await screen.press("e")
        assert "The scenario Now:" in screen.text


async def test_its_words_are_clicked(study: Path) -> None:
    async with on_screen(study) as screen:
        for words, asked in (("n add", "In Now:"), ("e scenario", "The scenario Now:")):
            await screen.pilot.click(offset=(screen.text.splitlines()[-1].index(words) + 3, 31))
            await screen.settle()
            assert asked in screen.text
            await screen.press("escape")


async def test_the_menu_of_scenarios_adds_one_where_there_is_none(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("", "utf-8")
    async with on_screen(path) as screen:
        assert screen.session.draft.scenarios == ()
        await screen.press("escape", "e")
        assert "The first scenario: what is it called?" in screen.text
        await screen.type("Now")
        await screen.press("enter", "e", "a")
        assert "A new scenario based on Now" in " ".join(screen.text.split())
