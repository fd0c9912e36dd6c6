"""The program where no folder, home or account is, and what a fault of its own leaves."""

from __future__ import annotations

import os
import subprocess
import sys
import termios
import time
from pathlib import Path

import pytest
from small_study import PALLETS, STUDY
from terminal import Terminal

from whatif.session.kept.left import left_behind

PROGRAM = "from whatif.command.entry import run; run()"
NOBODY = f"""
import pwd
def nobody(number): raise KeyError(number)
pwd.getpwuid = nobody
{PROGRAM}
"""
FAULTY = """
import sys
if __name__ == "__main__":
    from whatif.screens.desk.changes import Changes
    from whatif.screens.terminal import open_study

    def undo(self):
        secret = "what the user typed"
        raise ValueError(secret)

    Changes.undo = undo
    sys.exit(open_study(sys.argv[1]))
"""


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


def test_a_folder_that_has_gone_is_no_place_to_be(study: Path, tmp_path: Path) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, "check", study],
        cwd=gone,
        preexec_fn=gone.rmdir,
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stdout) == (0, f"{study}: no problems\n")
    assert done.stderr == "this folder has been removed; name files from the root on\n"


@pytest.mark.long
@pytest.mark.parametrize("words", [("check",), ("week", "now"), ()])
def test_whoever_has_no_home_and_no_account_is_answered(
    words: tuple[str, ...], study: Path
) -> None:
    command, *rest = words or ("",)
    kept_out = ("HOME", "LOGNAME", "USER", "LNAME", "USERNAME")
    without = {name: value for name, value in os.environ.items() if name not in kept_out}
    without = {name: value for name, value in without.items() if not name.startswith("XDG")}
    done = subprocess.run(
        [sys.executable, "-c", NOBODY, *([command, study, *rest] if command else [study])],
        env={**without, "TERM": "dumb"},
        capture_output=True,
        text=True,
    )
    assert done.returncode == (0 if command else 1)
    assert "Traceback" not in done.stderr
    assert bool(done.stdout) == bool(command)


@pytest.mark.long
def test_a_crash_leaves_a_terminal_and_a_way_back(study: Path, tmp_path: Path) -> None:
    script = tmp_path / "faulty" / "run.py"
    terminal = Terminal(study, tmp_path / "state", script, program=FAULTY)
    try:
        terminal.wait_for("reference")
        before = terminal.settings()
        terminal.press("\x1b[C\x1b[B\x1b[B\x1b[B\x1b[B9\r")
        terminal.wait_for("not saved, safe")
        terminal.press("u")
        said = ""
        until = time.monotonic() + 60
        while terminal.process.poll() is None and time.monotonic() < until:
            said += terminal.read_until(time.monotonic() + 0.2)
        said += terminal.read_until(time.monotonic() + 0.2)
        assert terminal.process.returncode not in (0, None)
        assert "\x1b[?1049l" in said  # the other screen is left
        assert "\x1b[?25h" in said  # the cursor is seen
        after = said[said.index("\x1b[?1049l") :]
        assert "what the user typed" not in said
        assert "ValueError" in after
        assert ".unsaved.toml" in after.replace("\r\n", "")
        assert before[3] & termios.ECHO == 0
        assert terminal.settings()[3] & termios.ECHO
        (left,) = left_behind(study, tmp_path / "state" / "whatif")
        assert left.draft.scenario("pool").entered[PALLETS] == 9
    finally:
        terminal.close()
