"""How far a command is, on a terminal alone, and how Ctrl-C ends it."""

from __future__ import annotations

import fcntl
import io
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path
from typing import Any

import pytest

from whatif.answers.progress import Stage
from whatif.command import terminal
from whatif.command.terminal import ProgressLine

DEMO = Path(__file__).parent.parent.parent / "scenarios" / "small-orders.toml"
PROGRAM = "from whatif.command.entry import run; run()"
LONGEST = 60


class Screen(io.StringIO):
    """A terminal of one line: ``line`` is what can be read in it."""

    def isatty(self) -> bool:
        return True

    @property
    def line(self) -> str:
        return shown(self.getvalue())[-1]


def shown(written: str) -> list[str]:
    """The lines of a terminal after all that was written, without spaces at their ends."""
    lines = []
    for line in written.split("\n"):
        cells = ""
        for text in line.split("\r"):
            cells = text + cells[len(text) :]
        lines.append(cells.rstrip())
    return lines


class Clock:
    now = 0.0

    def __call__(self) -> float:
        return self.now


def on_screen(monkeypatch: pytest.MonkeyPatch) -> Screen:
    """To be called in the test itself: pytest puts another stream there when one begins."""
    screen = Screen()
    monkeypatch.setattr(sys, "stderr", screen)
    return screen


def test_what_takes_no_time_says_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = on_screen(monkeypatch)
    clock = Clock()
    with ProgressLine(clock) as progress:
        progress.begin(Stage.AS_TYPED, 0)
        for _ in range(1000):
            progress.week()
        progress.steps(lambda far: f"{far.done} of {far.of}")(1, 2)
    assert screen.getvalue() == ""


def test_stages_and_weeks_are_told_and_wiped_out(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = on_screen(monkeypatch)
    clock = Clock()
    with ProgressLine(clock) as progress:
        progress.begin(Stage.AS_TYPED, 0)
        clock.now = 1.0
        progress.week()
        assert screen.line == "as typed: 1 week simulated"
        progress.week()
        assert screen.line == "as typed: 1 week simulated"  # no more often than can be read
        clock.now = 2.0
        progress.begin(Stage.LIKELY, 40)
        for _ in range(9):
            progress.week()
        clock.now = 4.0
        progress.week()
        assert screen.line == "likely ranges: 25 %, about 6 s left"
    assert screen.line == ""


def test_steps_that_come_too_soon_are_told_with_the_next_week(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    screen = on_screen(monkeypatch)
    clock = Clock()
    with ProgressLine(clock) as progress:
        progress.steps(lambda far: f"{far.done} of {far.of} tried")(1, 4)
        assert screen.line == ""
        clock.now = 1.0
        progress.week()
        assert screen.line == "1 of 4 tried"


@pytest.mark.parametrize("columns", [80, 20, 8, 2, 1])
def test_a_narrow_terminal_has_one_line_too(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    screen = on_screen(monkeypatch)
    monkeypatch.setattr(terminal, "_columns", lambda: columns)
    clock = Clock()
    with ProgressLine(clock) as progress:
        for weeks in (7, 70000):
            progress.begin(Stage.AS_TYPED, 0)
            clock.now += 1
            for _ in range(weeks):
                progress.week()
            assert all(len(text) < columns for text in screen.getvalue().split("\r"))
    assert screen.line == ""


def test_nothing_is_said_off_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    clock = Clock()
    with ProgressLine(clock) as progress:
        progress.begin(Stage.AS_TYPED, 0)
        clock.now = 10.0
        progress.week()
        progress.steps(lambda far: f"{far.done} of {far.of}")(1, 2)
    assert capsys.readouterr().err == ""


def test_a_terminal_that_has_gone_is_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    class Gone(Screen):
        def write(self, text: str) -> int:
            raise OSError(5, "it has gone")

    monkeypatch.setattr(sys, "stderr", Gone())
    clock = Clock()
    with ProgressLine(clock) as progress:
        progress.begin(Stage.AS_TYPED, 0)
        clock.now = 1.0
        progress.week()


def test_what_tells_nothing_of_itself_is_told_to_go_on(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = on_screen(monkeypatch)
    clock = Clock()
    with ProgressLine(clock) as progress:
        clock.now = 0.9
        progress.beat()
        assert screen.getvalue() == ""
        clock.now = 2.0
        progress.beat()
        assert screen.line == "reading the study (2 s so far)"
        progress.begin(Stage.RUSH, 0)
        clock.now = 4.0
        progress.beat()
        assert screen.line == "rush orders: 0 weeks simulated (4 s so far)"
        progress.week()
        clock.now = 4.5
        progress.beat()
        assert screen.line == "rush orders: 1 week simulated"
    assert screen.line == ""


def test_a_timer_interrupts_what_tells_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = on_screen(monkeypatch)
    monkeypatch.setattr(terminal, "_SILENT", 0.01)
    monkeypatch.setattr(terminal, "_SOON", 0.0)
    before = signal.getsignal(signal.SIGALRM)
    with ProgressLine():
        ends = time.monotonic() + LONGEST
        while "so far" not in screen.line and time.monotonic() < ends:
            sum(range(1000))
        assert screen.line.startswith("reading the study")
    assert screen.line == ""
    assert signal.getsignal(signal.SIGALRM) is before


# -- Ctrl-C --------------------------------------------------------------------------------


def begun(words: list[str], **streams: Any) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, "-c", PROGRAM, *words], **streams)


@pytest.mark.long
def test_ctrl_c_on_a_terminal_leaves_a_clean_line() -> None:
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 24, 0, 0))

    def take_terminal() -> None:
        os.setsid()
        fcntl.ioctl(theirs, termios.TIOCSCTTY, 0)

    process = begun(
        ["compare", str(DEMO)],
        stdin=theirs,
        stdout=subprocess.PIPE,
        stderr=theirs,
        preexec_fn=take_terminal,
    )
    os.close(theirs)
    written = ""
    while "as typed: " not in written:
        assert select.select([ours], [], [], LONGEST)[0]
        written += os.read(ours, 1000).decode()
    os.write(ours, b"\x03")
    assert process.wait(LONGEST) == 130
    assert process.stdout is not None
    assert process.stdout.read() == b""
    process.stdout.close()
    while select.select([ours], [], [], 0)[0]:
        try:
            written += os.read(ours, 1000).decode()
        except OSError:
            break  # the last who had it open has gone
    os.close(ours)
    assert shown(written.replace("\r\n", "\n")) == ["stopped", ""]


@pytest.mark.long
def test_an_interrupt_off_a_terminal_ends_it_at_once() -> None:
    process = begun(
        ["sensitivity", str(DEMO), "today"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None
    assert not select.select([process.stdout], [], [], 0.3)[0]
    process.send_signal(signal.SIGINT)
    assert process.communicate(timeout=LONGEST) == (b"", b"stopped\n")
    assert process.returncode == 130


def test_whoever_is_begun_without_ctrl_c_goes_on(tmp_path: Path) -> None:
    """As a shell begins what runs in the background."""
    process = begun(
        ["explain", "--rule", "states"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN),
    )
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=LONGEST)
    assert (process.returncode, err) == (0, b"")
    assert b"states" in out
