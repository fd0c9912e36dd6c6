"""The hint of the first time: shown once, gone with any key, and never in the way."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import SCENARIOS, SMALL_FIRST, on_screen

from whatif.screens.dialogs.texts import TEXT, FirstHint
from whatif.session.kept.state import is_first_time

ONE = SCENARIOS / "one-person.toml"


def test_the_first_time_comes_once(tmp_path: Path) -> None:
    assert is_first_time(tmp_path / "state")
    assert not is_first_time(tmp_path / "state")


def test_where_state_cannot_be_kept_there_is_no_hint(tmp_path: Path) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("", "utf-8")
    assert not is_first_time(blocked / "state")


def test_it_is_kept_in_the_users_own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    assert is_first_time()
    assert [path.parent for path in tmp_path.rglob("desk-seen")] == [tmp_path / "whatif"]


@pytest.mark.parametrize("size", SMALL_FIRST, ids=str)
@pytest.mark.long
async def test_the_hint_fits_and_comes_once(size: tuple[int, int], tmp_path: Path) -> None:
    async with on_screen(ONE, size, state=tmp_path, first_time=True) as screen:
        assert isinstance(screen.app.screen, FirstHint)
        for words in ("Your first time here?", "A column is a scenario", "Esc or a click"):
            assert words in screen.text
        await screen.press("escape")
        assert screen.app.screen is screen.app.desk
    async with on_screen(ONE, size, state=tmp_path, first_time=True) as screen:
        assert screen.app.screen is screen.app.desk


async def test_a_key_that_closes_it_is_not_lost(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path, first_time=True) as screen:
        row = screen.app.desk.state.line
        await screen.press("down")
        assert screen.app.screen is screen.app.desk
        assert screen.app.desk.state.line != row


async def test_keys_that_come_behind_the_one_that_closes_it_stay_behind_it(tmp_path: Path) -> None:
    """A name typed at once was looked for by its slash last: its letters had run commands."""
    async with on_screen(ONE, state=tmp_path, first_time=True) as screen:
        await screen.burst("slash", *"wanted")
        assert "find a row: wanted" in screen.text
        await screen.press("escape")
        assert screen.session.unsaved == 0


async def test_a_click_closes_it(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path, first_time=True) as screen:
        await screen.pilot.click(offset=(3, 3))
        await screen.settle()
        assert screen.app.screen is screen.app.desk


def test_no_line_of_it_is_broken_at_80_columns() -> None:
    for line in TEXT.splitlines():
        assert len(line) <= 71, line
