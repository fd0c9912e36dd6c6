"""Beginning a study on a real terminal, and what is left of it when the line drops."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from terminal import LONGEST, Terminal

from whatif.session.kept.left import left_behind

F10 = "\x1b[21~"


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    one = Terminal(tmp_path / "new.toml", tmp_path / "state")
    yield one
    one.close()


@pytest.mark.long
def test_a_path_that_is_not_there_is_begun_and_left_again(
    terminal: Terminal, tmp_path: Path
) -> None:
    terminal.wait_for("is not there yet")
    terminal.press("\x1b")
    terminal.wait_for("an empty study instead")
    terminal.press("e")
    terminal.wait_for("No machines yet")
    terminal.press("q")
    terminal.drain()
    assert terminal.process.wait(LONGEST) == 0
    assert not (tmp_path / "new.toml").exists()


@pytest.mark.long
def test_a_first_study_outlives_a_dropped_line(terminal: Terminal, tmp_path: Path) -> None:
    terminal.wait_for("is not there yet")
    terminal.press(F10)
    terminal.wait_for("what was found")
    terminal.press("\r")
    terminal.wait_for("not saved yet")
    terminal.wait_for("reference")
    terminal.process.send_signal(signal.SIGHUP)
    terminal.drain()
    assert terminal.process.wait(LONGEST) == 128 + signal.SIGHUP
    (left,) = left_behind(tmp_path / "new.toml", tmp_path / "state" / "whatif")
    assert left.draft.head["title"] == "First study"
