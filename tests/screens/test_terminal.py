"""The program on a real terminal: the line drops, somebody ends it, and nothing kept is lost."""

from __future__ import annotations

import select
import signal
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from lengths import first_of
from small_study import PALLETS, STUDY
from terminal import LONGEST, Terminal

from whatif.session.kept.left import left_behind
from whatif.study.file.processes import ENDED, UNTOLD, started


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    one = Terminal(study, tmp_path / "state")
    yield one
    one.close()


@pytest.mark.long
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


@pytest.mark.long
def test_leaving_ends_with_nothing_left(terminal: Terminal, tmp_path: Path) -> None:
    terminal.wait_for("reference")
    terminal.press("q")
    terminal.drain()
    assert terminal.process.wait(LONGEST) == 0
    assert left_behind(tmp_path / "small.toml", tmp_path / "state" / "whatif") == []


def _children(process: int) -> set[int]:
    """All processes below one, as proc(5) tells."""
    below: set[int] = set()
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            parent = int((folder / "stat").read_text().rpartition(")")[2].split()[1])
        except OSError:
            continue
        if parent == process:
            below |= {int(folder.name), *_children(int(folder.name))}
    return below


def _are_gone(processes: set[int], seconds: float) -> bool:
    until = time.monotonic() + seconds
    # One that has ended may stand there until whoever took it over takes notice.
    while any(started(process) not in (ENDED, UNTOLD) for process in processes):
        if time.monotonic() > until:
            return False
        time.sleep(0.02)
    return True


@pytest.mark.long
def test_it_ends_with_its_terminal_where_no_signal_tells(
    terminal: Terminal, tmp_path: Path
) -> None:
    terminal.wait_for("reference")
    terminal.press("\x1b[C\x1b[B\x1b[B\x1b[B\x1b[B6\r")
    terminal.wait_for("not saved")
    below = _children(terminal.process.pid)
    assert below, "the calculating process"
    terminal.hang_up()
    assert terminal.process.wait(LONGEST) == 128 + signal.SIGHUP
    assert _are_gone(below, 2)
    left = left_behind(tmp_path / "small.toml", tmp_path / "state" / "whatif")
    assert [one.draft.scenario("pool").entered[PALLETS] for one in left] == [6]


@pytest.mark.long
def test_a_kill_takes_the_calculating_processes_along(terminal: Terminal) -> None:
    terminal.wait_for("reference")
    below = _children(terminal.process.pid)
    assert below
    terminal.process.kill()
    assert _are_gone(below, 2)


@pytest.mark.long
def test_a_byte_that_is_no_utf_8_is_a_key_like_others(terminal: Terminal) -> None:
    terminal.wait_for("reference")
    terminal.press_bytes(b"/\xfc")
    terminal.wait_for("ü")
    assert terminal.process.poll() is None


@pytest.mark.long
def test_modules_beside_a_study_are_never_run(tmp_path: Path) -> None:
    """Whatever Python and its packages have loaded by then lies beside the study, as a trap."""
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    trap = f"open({str(tmp_path / 'sprung')!r}, 'a').write(__name__ + '\\n')\nraise SystemExit(3)\n"
    names = {name.partition(".")[0] for name in sys.modules} - {"__main__", "whatif", "run_whatif"}
    for name in names:
        if name.isidentifier():
            (tmp_path / f"{name}.py").write_text(trap, "utf-8")
    one = Terminal(study, tmp_path / "state", script=tmp_path / "program" / "run_whatif.py")
    try:
        one.wait_for("per week, ")  # and for how many weeks, which is told with the answers
        assert not (tmp_path / "sprung").exists()
    finally:
        one.close()
