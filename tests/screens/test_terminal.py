"""The program on a real terminal: the line drops, somebody ends it, and nothing kept is lost."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from test_session import PALLETS, STUDY

from whatif.session.kept.first_time import is_first_time
from whatif.session.kept.recovery import left_behind

READ_AT_ONCE = 65536
LONGEST = 120


class Terminal:
    """A terminal with the program on it."""

    def __init__(self, study: Path, state: Path) -> None:
        self.state = state
        is_first_time(state / "whatif")  # so that no hint lies over the desk
        self._master, slave = pty.openpty()
        environment = {
            **os.environ,
            "TERM": "xterm-256color",
            "XDG_STATE_HOME": str(state),
            "COLUMNS": "100",
            "LINES": "30",
        }
        program = "from whatif.command.main import run\nif __name__ == '__main__': run()"
        script = study.parent / "run_whatif.py"
        script.write_text(program, "utf-8")
        self.process = subprocess.Popen(
            [sys.executable, script, study],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env=environment,
            start_new_session=True,
        )
        os.close(slave)
        self.seen = ""

    def wait_for(self, text: str) -> None:
        """Read until the screen has said a text."""
        while text not in self.seen:
            ready, _, _ = select.select([self._master], [], [], LONGEST)
            assert ready, f"never said {text}"
            self.seen += os.read(self._master, READ_AT_ONCE).decode("utf-8", "replace")

    def press(self, keys: str) -> None:
        self.seen = ""
        os.write(self._master, keys.encode())

    def drain(self) -> None:
        """Read what comes until the program has gone."""
        while True:
            try:
                if not os.read(self._master, READ_AT_ONCE):
                    return
            except OSError:
                return

    def close(self) -> None:
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        os.close(self._master)


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    one = Terminal(study, tmp_path / "state")
    yield one
    one.close()


@pytest.mark.parametrize("number", [signal.SIGHUP, signal.SIGTERM, signal.SIGKILL])
def test_what_was_kept_outlives_the_program(
    terminal: Terminal, tmp_path: Path, number: signal.Signals
) -> None:
    terminal.wait_for("reference")
    # To the second column, down to "pallets each", six, kept.
    terminal.press("\x1b[C\x1b[B\x1b[B\x1b[B\x1b[B6\r")
    terminal.wait_for("unsaved")
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
