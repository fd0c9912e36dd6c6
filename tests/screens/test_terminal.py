"""The program on a real terminal: the line drops, somebody ends it, and nothing kept is lost."""

from __future__ import annotations

import select
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from lengths import first_of
from small_study import PALLETS, STUDY
from terminal import LONGEST, Terminal

from whatif.session.kept.left import left_behind


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    one = Terminal(study, tmp_path / "state")
    yield one
    one.close()


@pytest.mark.parametrize("number", first_of([signal.SIGHUP, signal.SIGTERM, signal.SIGKILL]))
def test_what_was_kept_outlives_the_program(
    terminal: Terminal, tmp_path: Path, number: signal.Signals
) -> None:
    terminal.wait_for("reference")
    # To the second column, down to "pallets each", six, kept.
    terminal.press("\x1b[C\x1b[B\x1b[B\x1b[B\x1b[B6\r")
    terminal.wait_for("not saved")
    if number == signal.SIGKILL:
        # Nothing runs after a kill, so the file must be there by itself.
        while not list((tmp_path / "state" / "whatif").glob("*.toml")):
            select.select([], [], [], 0.05)
    terminal.process.send_signal(number)
    terminal.drain()
    status = terminal.process.wait(LONGEST)
    assert status == (-9 if number == signal.SIGKILL else 128 + number)
    left = left_behind(tmp_path / "small.toml", tmp_path / "state" / "whatif")
    assert [one.draft.scenario("pool").entered[PALLETS] for one in left] == [6]


def test_leaving_ends_with_nothing_left(terminal: Terminal, tmp_path: Path) -> None:
    terminal.wait_for("reference")
    terminal.press("q")
    terminal.drain()
    assert terminal.process.wait(LONGEST) == 0
    assert left_behind(tmp_path / "small.toml", tmp_path / "state" / "whatif") == []
