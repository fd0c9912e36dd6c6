"""The program on a terminal of its own."""

from __future__ import annotations

import os
import pty
import select
import subprocess
import sys
import termios
import time
from pathlib import Path
from typing import Any

from whatif.session.kept.state import is_first_time

READ_AT_ONCE = 65536


LONGEST = 120

PROGRAM = "from whatif.command.main import run_command\nif __name__ == '__main__': run_command()"


class Terminal:
    """A terminal with the program on it."""

    def __init__(
        self, study: Path, state: Path, script: Path | None = None, *, program: str = PROGRAM
    ) -> None:
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
        script = study.parent / "run_whatif.py" if script is None else script
        script.parent.mkdir(exist_ok=True)
        script.write_text(program, "utf-8")
        self.process = subprocess.Popen(
            [sys.executable, script, study],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env=environment,
            cwd=study.parent,
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

    def settings(self) -> list[Any]:
        """How the terminal treats what is typed and shown."""
        return termios.tcgetattr(self._master)

    def press(self, keys: str) -> None:
        self.seen = ""
        os.write(self._master, keys.encode())

    def press_bytes(self, keys: bytes) -> None:
        """Send bytes that may be no text."""
        self.seen = ""
        os.write(self._master, keys)

    def hang_up(self) -> None:
        """Have the terminal gone, of which no signal tells."""
        os.close(self._master)
        self._master = -1

    def drain(self) -> None:
        """Read what comes until the program has gone."""
        while True:
            try:
                if not os.read(self._master, READ_AT_ONCE):
                    return
            except OSError:
                return

    def read_until(self, moment: float) -> str:
        """What the screen sends until a moment of the monotonic clock."""
        came = ""
        while (left := moment - time.monotonic()) > 0:
            if select.select([self._master], [], [], left)[0]:
                try:
                    came += os.read(self._master, READ_AT_ONCE).decode("utf-8", "replace")
                except OSError:
                    break
        return came

    def drain_until_ended(self) -> None:
        """Read what comes, if there is a terminal still, until the program has ended."""
        if self._master >= 0:
            self.drain()
        self.process.wait(LONGEST)

    def close(self) -> None:
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        if self._master >= 0:
            os.close(self._master)
