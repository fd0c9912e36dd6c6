"""A terminal whose size is dragged: each size that it has for a while is laid out a few times."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from screen import on_screen
from small_study import STUDY
from textual import events
from textual.geometry import Size

STEPS = 8
OF_A_STEP = 4.5
"""Layouts of a step at most: two of Textual, what it lays out for its size and for scroll bars, two
for what the columns say and need, as there is more room; where the tree comes, one more."""


@pytest.mark.long
async def test_a_size_is_laid_out_once_and_for_its_columns(
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
        for step in range(1, STEPS + 1):
            size = Size(80 + 320 * step // STEPS, 24 + 96 * step // STEPS)
            screen.app.post_message(events.Resize(size, size))
            screen.app.post_message(events.Key("down", None))
            await screen.settle()
        await screen.settle()
        assert desk.size == (400, 120)
        assert STEPS <= len(laid) <= STEPS * OF_A_STEP
