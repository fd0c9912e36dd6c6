"""A terminal whose size is dragged: it is laid out for where it ends, not for each step."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from screen import on_screen
from small_study import STUDY
from textual import events
from textual.geometry import Size

STEPS = 60


async def test_a_dragged_size_is_laid_out_a_few_times(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        desk, laid = screen.app.desk, list[Size]()
        lay_out = desk._refresh_layout

        def counted(size: Size | None = None, **others: bool) -> None:
            laid.append(size or desk.size)
            lay_out(size, **others)

        monkeypatch.setattr(desk, "_refresh_layout", counted)
        for step in range(STEPS):
            size = Size(80 + 320 * step // (STEPS - 1), 24 + 96 * step // (STEPS - 1))
            screen.app.post_message(events.Resize(size, size))
            screen.app.post_message(events.Key("down", None))
        await screen.settle()
        await screen.settle()
        assert desk.size == (400, 120)
        assert len(laid) < STEPS / 4
