"""The main walk on a real terminal of eighty columns: keys are sent, the screen is read."""

from __future__ import annotations

import contextlib
import os
import re
import select
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from screen import SCENARIOS

from whatif.session.kept.state import is_first_time
from whatif.study.file.reading import read_file

TMUX = shutil.which("tmux")
LONGEST = 120
"""Seconds after which something that is waited for is taken never to come."""

PALLETS = ("machine", "mill", "pallets")

pytestmark = pytest.mark.skipif(
    TMUX is None,
    reason="tmux is not installed, and only it can hold a real terminal (apt-get install tmux)",
)


class Tmux:
    """A terminal of its own, on a server that nobody else uses, ended with all that runs in it."""

    def __init__(self, folder: Path, study: Path) -> None:
        self._socket = folder / "socket"
        self._frozen = ""
        is_first_time(folder / "state" / "whatif")  # so that no hint lies over the desk
        environment = {
            name: value for name, value in os.environ.items() if name not in ("TMUX", "TMUX_PANE")
        }
        self._environment = environment | {
            "TERM": "xterm-256color",
            "LANG": "C.UTF-8",
            "XDG_STATE_HOME": str(folder / "state"),
            "PYTHONPATH": os.pathsep.join(sys.path),
        }
        program = (
            "from whatif.command.main import run_command\nif __name__ == '__main__': run_command()"
        )
        script = folder / "run_whatif.py"
        script.write_text(program, "utf-8")
        self._run(
            "-f", "/dev/null", "new-session", "-d", "-x", "80", "-y", "24", "-c", str(folder),
            sys.executable, str(script), str(study),
        )  # fmt: skip
        # What is left to be read when the program has gone.
        self._run("set-option", "-g", "remain-on-exit", "on")
        self.server = int(self._run("display-message", "-p", "#{pid}"))
        self.program = int(self._run("display-message", "-p", "#{pane_pid}"))

    def _run(self, *words: str) -> str:
        assert TMUX is not None
        done = subprocess.run(
            [TMUX, "-S", str(self._socket), *words],
            env=self._environment,
            capture_output=True,
            text=True,
            check=True,
            timeout=LONGEST,
        )
        return done.stdout

    @property
    def text(self) -> str:
        return self._run("capture-pane", "-p")

    def press(self, *keys: str) -> None:
        """Send keys by their names."""
        self._run("send-keys", *keys)

    def type(self, text: str) -> None:
        """Send a text as it stands."""
        self._run("send-keys", "-l", text)

    def until(self, holds: Callable[[str], object], what: str) -> str:
        """Read the screen again and again until something holds of it."""
        end = time.monotonic() + LONGEST
        while not holds(text := self.text):
            assert time.monotonic() < end, f"{what} never came:\n{text}"
            if not self.is_running and "Pane is dead" not in text:
                # Where its end is waited for, the program is gone before tmux writes so: that
                # it has gone is now and then only noticed when another one of tmux ends.
                assert "Pane is dead" in what, f"the terminal has gone:\n{text}"
                # Not waited for: that it ends may be noticed no sooner.
                self._run("run-shell", "-b", "true")
            # Gives the program the processor; nothing depends on how long.
            select.select([], [], [], 0.05)
        return text

    def sees(self, words: str) -> str:
        return self.until(lambda text: words in text, words)

    @property
    def is_running(self) -> bool:
        return _is_there(self.program)

    def close(self) -> None:
        """End the server and with it the program; whatever is still there is killed by number."""
        with contextlib.suppress(subprocess.SubprocessError):
            self._run("kill-server")
        for one in (self.program, self.server):
            end = time.monotonic() + 10
            while _is_there(one) and time.monotonic() < end:
                select.select([], [], [], 0.05)
            if _is_there(one):
                with contextlib.suppress(ProcessLookupError):
                    os.kill(one, signal.SIGKILL)


def _is_there(process: int) -> bool:
    """Whether a process runs; one that has ended and waits to be taken note of does not."""
    try:
        state = Path(f"/proc/{process}/stat").read_text("ascii").rpartition(")")[2].split()[0]
    except OSError:
        try:
            os.kill(process, 0)
        except OSError:
            return False
        return not Path("/proc/self/stat").exists()
    return state != "Z"


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Tmux]:
    study = tmp_path / "one-person.toml"
    # Few weeks and draws: what is walked is the way from keys to what stands on the terminal.
    demo = (SCENARIOS / study.name).read_text("utf-8")
    few = demo.replace("runs = 9", "weeks = 4\nwarm_up = 1\nruns = 3")
    assert few != demo
    study.write_text(few, "utf-8")
    one = Tmux(tmp_path, study)
    try:
        yield one
    finally:
        one.close()
        assert not _is_there(one.program)
        assert not _is_there(one.server)


def gain(text: str, column: int) -> str:
    """What a column of the strip, counted from 0, tells in its first row."""
    line = next((line for line in text.splitlines() if line.startswith(" saleable output")), "")
    told = re.split(r" {2,}", line.strip())
    return told[column + 1] if len(told) > column + 1 else ""


def waits(terminal: Tmux) -> float:
    """Hours a week for which spindles wait for a person more than today, read in the hours."""
    terminal.press("F5")
    # The sheet, whose help tells of waiting too, may still stand below where the hours begin.
    text = terminal.until(hours_waited, "the hours a week")
    terminal.sees("Esc back")
    terminal.press("Escape")
    terminal.until(lambda text: "Machine hours a week" not in text, "the sheet")
    return hours_waited(text)[-1]


def hours_waited(text: str) -> list[float]:
    """What the row of waiting for a person tells of each scenario, where the hours are shown."""
    hours = text.partition("Machine hours a week: hours with somebody on duty")[2]
    line = next((one for one in hours.splitlines() if "waiting for a person" in one), "")
    return [float(figure) for figure in re.findall(r"[+-]?[0-9]+[.][0-9]", line)]


def test_the_main_walk_on_a_terminal(terminal: Tmux, tmp_path: Path) -> None:
    before = (tmp_path / "one-person.toml").read_bytes()
    terminal.until(lambda text: gain(text, 1) == "not clear", "the gain")
    text = terminal.sees("F10 save")
    assert "Gate hardware" in text
    assert len(text.rstrip("\n").splitlines()) <= 24

    # To the scenario with the mills moved together, and there down to its pallets.
    terminal.press("Right")
    terminal.sees("attended, Second pallet each:")
    terminal.press("Right", "Right")
    terminal.until(
        lambda text: "Mills moved" in text and gain(text, 2) == "+11.0 to +15.8",
        "the mills' gain",
    )
    one_pallet = waits(terminal)
    assert one_pallet < -5
    terminal.press("/")
    terminal.sees("find a row:")
    terminal.type("pallets each")
    terminal.sees("1 of 1")
    terminal.press("Enter")
    terminal.sees("mill: pallets each: a whole number")

    # Four of them: while it is typed nothing is kept; the gain follows by itself, and hardly moves.
    terminal.type("4")
    terminal.until(lambda text: gain(text, 2) not in ("+11.0 to +15.8", "...", ""), "a new gain")
    terminal.sees("Esc back")
    text = terminal.until(lambda text: gain(text, 2) == "+17 (14 to 27)", "that of four pallets")
    assert "not saved" not in text
    terminal.press("Enter")
    text = terminal.sees(
        "Pallets each 1 -> 4 in Mills moved together; Moved, no bench work follows."
    )
    assert "1 change not saved" in text
    assert "u undoes it" in " ".join(text.split())

    # Why? The hours say it: the spindles wait for a person instead. And back to the sheet.
    assert waits(terminal) > one_pallet + 5
    terminal.sees("mill: load stations each")

    # Every command stands in one list; so does saving under another name.
    terminal.press("C-p")
    terminal.sees("Search for commands")
    terminal.type("under another")
    terminal.until(
        lambda text: "Save under another name" in text and "Add a scenario" not in text,
        "the one command",
    )
    terminal.press("Enter")
    terminal.sees("Save under which name?")
    terminal.press("C-u")
    # Emptying the line is an action, which letters sent at once would overtake.
    terminal.until(lambda text: "one-person.toml" not in text, "an empty line")
    terminal.type("four-pallets.toml")
    terminal.sees("four-pallets.toml")
    terminal.press("Enter")
    text = terminal.sees("Saved four-pallets.toml.")
    assert "not saved" not in text
    terminal.press("q")
    terminal.sees("Pane is dead (status 0")

    saved = read_file(tmp_path / "four-pallets.toml").draft
    assert saved.scenario("closer").entered[PALLETS] == 4
    assert (tmp_path / "one-person.toml").read_bytes() == before
    assert not terminal.is_running
