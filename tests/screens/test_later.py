"""What is to be done after a while is done, however late the program is by then."""

from __future__ import annotations

import asyncio
from itertools import count
from pathlib import Path
from time import monotonic

import pytest
from looks import Silent
from screen import on_screen
from small_study import STUDY


async def test_a_repaint_comes_where_its_moment_has_passed_before_it_is_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As where another program has had the processor in between."""
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        desk, minutes = screen.app.desk, count(0, 60)
        with monkeypatch.context() as patch:
            patch.setattr("textual.timer._time.get_time", lambda: float(next(minutes)))
            patch.setattr(desk, "_caught_up", monotonic())
            desk.repaint_soon()
            assert desk.is_waiting
            await asyncio.sleep(0.05)
            await screen.drawn()
        assert not desk.is_waiting
