"""From key to screen: how long it takes, and whether the event loop is ever held.

    .venv/bin/python tests/bench/keys.py [--seconds 20] [--python OTHER/bin/python] [STUDY ...]

The program runs on a pseudo-terminal under a monitor (``watched.py``). First keys come at thirty a
second: moving, editing, undo, views, columns, a value typed in. Then two edits a second, each of
which has time to be answered. Times of the processor are those of the loop's own thread.
"""

from __future__ import annotations

import argparse
import fcntl
import json
import os
import pty
import struct
import subprocess
import sys
import tempfile
import termios
import threading
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import cycle, islice
from pathlib import Path
from time import monotonic, sleep
from typing import Any

HERE = Path(__file__).parent
DEMOS = HERE.parent.parent / "scenarios"

A_SECOND = 30
EDITS_A_SECOND = 2.5
COLUMNS, LINES = 120, 32

HELD = 20
"""Milliseconds from which the loop counts as held."""

PRECEDENCE = "BENCH_FIRST"
"""Set in the environment: the programs that are measured go before all others."""

UP, DOWN, RIGHT, LEFT = "\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D"
PAGE_DOWN, PAGE_UP = "\x1b[6~", "\x1b[5~"
F4, F5, F7, F8, F9 = "\x1bOS", "\x1b[15~", "\x1b[18~", "\x1b[19~", "\x1b[20~"
ENTER = "\r"

ROUND: tuple[str, ...] = (
    *"77", " ", "s", ENTER, "u", "r", "u",
    *[DOWN] * 5, *[UP] * 5, RIGHT, RIGHT, LEFT, ">", "<", LEFT,
    F5, DOWN, DOWN, RIGHT, LEFT, F5,
    *"8.5", ENTER, PAGE_DOWN, PAGE_UP, *"/cycle", ENTER, *"9", ENTER,
    F7, RIGHT, LEFT, F7, F8, RIGHT, LEFT, F8,
    "=", "=", *"6", ENTER, "u", "u",
    F9, DOWN, DOWN, RIGHT, LEFT, F9, F4, RIGHT, LEFT, F4,
    "t", "t", "+", "-", "u", "r", "u",
)  # fmt: skip
"""Begins and ends on a part's time in the machine, where each digit is a value."""

TYPES, UNDOES = "type", "undo or do again"
"""The kinds of keys that edit."""

EDITS: tuple[str, ...] = (*"77", ENTER, *"91", ENTER, *"65", ENTER, "u", "u", "r")


@dataclass
class Figures:
    """What was measured with one study, in milliseconds.

    Attributes:
        processor: of each key, from its turn until it was on the screen; ``by_kind``: the same of
            keys that type, move, undo or open and close a view, ``edits`` of those that edit.
        wall: of each key, from its coming until it was on the screen.
        gain: of each edit, from its key to the column's gain on the screen, where edits had time.
        holds, own_holds: the times at which the loop was held for more than 20 ms: by the clock,
            and by the processor, which leaves out that other programs and threads ran.
        near: of the loop's thread, the times at which it was held for more than 10 ms.
        ran: what ran meanwhile.
    """

    study: str
    processor: list[float] = field(default_factory=list)
    by_kind: dict[str, list[float]] = field(default_factory=dict)
    edits: list[float] = field(default_factory=list)
    wall: list[float] = field(default_factory=list)
    gain: list[float] = field(default_factory=list)
    unanswered: int = 0
    holds: list[float] = field(default_factory=list)
    own_holds: list[float] = field(default_factory=list)
    near: list[float] = field(default_factory=list)
    ran: Counter[str] = field(default_factory=Counter)
    keys: int = 0
    seconds: float = 0
    collections: list[float] = field(default_factory=list)
    replies: list[float] = field(default_factory=list)
    reply_bytes: list[int] = field(default_factory=list)


def quantile(values: Sequence[float], share: float) -> float:
    """The value below which a share lies; 0 where there is none."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))] if ordered else 0.0


def measure(study: Path, seconds: float, python: str = sys.executable) -> Figures:
    """Run the program with a study, press keys for so many seconds, and read what it noted."""
    burst = list(islice(cycle(ROUND), round(seconds * A_SECOND / len(ROUND)) * len(ROUND)))
    paced = list(islice(cycle(EDITS), len(EDITS) * max(1, round(seconds / 5))))
    with tempfile.TemporaryDirectory() as folder:
        result = Path(folder) / "result.json"
        copy = Path(folder) / study.name
        copy.write_bytes(study.read_bytes())
        with _on_terminal([python, str(HERE / "watched.py"), str(copy), str(result),
                           str(len(burst) + len(paced))], Path(folder)) as press:  # fmt: skip
            _wait_for(result.with_suffix(".ready"), press)
            press.keys(burst, A_SECOND)
            sleep(1.5)
            press.keys(paced, EDITS_A_SECOND)
            press.process.wait(timeout=60)
        return _figures(study.stem, json.loads(result.read_text("utf-8")), len(burst))


def floor(seconds: float, python: str = sys.executable) -> Figures:
    """The same keys pressed on an application of Textual with one text that changes."""
    burst = ["x"] * round(seconds * A_SECOND)
    found = Figures("one text")
    with tempfile.TemporaryDirectory() as folder:
        result = Path(folder) / "result.json"
        words = [python, str(HERE / "bare_keys.py"), str(result), str(len(burst))]
        with _on_terminal(words, Path(folder)) as press:
            _wait_for(result.with_suffix(".ready"), press)
            press.keys(burst, A_SECOND)
            press.process.wait(timeout=60)
        noted = json.loads(result.read_text("utf-8"))
    for name, (when, used) in noted["painted"].items():
        came, began = noted["came"][int(name)]
        found.wall.append(1000 * (when - came))
        found.processor.append(1000 * (used - began))
    return found


def _wait_for(ready: Path, press: _Keyboard) -> None:
    while not ready.exists():
        assert press.process.poll() is None, press.said[-2000:].decode("utf-8", "replace")
        sleep(0.05)


def _figures(study: str, noted: dict[str, Any], burst: int) -> Figures:
    figures = Figures(study)
    came, turn = noted["came"], noted["turn"]
    figures.keys = burst
    for name, (when, used) in noted["painted"].items():
        key = int(name)
        if key < burst and key < len(turn):
            figures.wall.append(1000 * (when - came[key][0]))
            spent = 1000 * (used - turn[key][1])
            figures.processor.append(spent)
            kind = _kind(ROUND[key % len(ROUND)])
            figures.by_kind.setdefault(kind, []).append(spent)
            if kind in (TYPES, UNDOES):
                figures.edits.append(spent)
    for revision, key in noted["revisions"].items():
        if key >= burst:
            when = noted["gains"].get(revision)
            if when is None:
                figures.unanswered += 1
            else:
                figures.gain.append(1000 * (when - came[key][0]))
    for hold in noted["holds"]:
        if hold["key"] < burst:
            wall, own = 1000 * hold["wall"], 1000 * hold["processor"]
            if wall > HELD:
                figures.holds.append(wall)
            if own > HELD / 2:
                figures.near.append(own)
            if own > HELD:
                figures.own_holds.append(own)
                figures.ran.update(hold["ran"])
    figures.collections = [1000 * one for one in noted["collections"]]
    figures.replies = [1000 * spent for _, spent in noted["replies"]]
    figures.reply_bytes = [size for size, _ in noted["replies"]]
    return figures


def _kind(key: str) -> str:
    if key in (F4, F5, F7, F8, F9):
        return "open or close a view"
    if key in ("u", "r"):
        return UNDOES
    if key in (UP, DOWN, RIGHT, LEFT, PAGE_DOWN, PAGE_UP, "<", ">"):
        return "move"
    return TYPES if key.isdigit() or key in (".", " ", "s") else "others"


class _Keyboard:
    """The terminal's other end."""

    def __init__(self, process: subprocess.Popen[bytes], line: int) -> None:
        self.process = process
        self.said = b""
        self._line = line
        threading.Thread(target=self._read, daemon=True).start()

    def keys(self, keys: Sequence[str], a_second: float) -> None:
        begun = monotonic()
        for place, key in enumerate(keys):
            sleep(max(0.0, begun + place / a_second - monotonic()))
            os.write(self._line, key.encode())

    def _read(self) -> None:
        with suppress(OSError):
            while True:
                self.said = (self.said + os.read(self._line, 65536))[-20000:]

    def __enter__(self) -> _Keyboard:
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        os.close(self._line)


def _on_terminal(words: list[str], state: Path) -> _Keyboard:
    line, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", LINES, COLUMNS, 0, 0))
    environment = {**os.environ, "TERM": "xterm-256color", "XDG_STATE_HOME": str(state)}
    # A user has the compiled modules of Python at hand.
    for name in ("COLUMNS", "LINES", "PYTHONDONTWRITEBYTECODE"):
        environment.pop(name, None)
    process = subprocess.Popen(
        words, stdin=theirs, stdout=theirs, stderr=theirs, env=environment, start_new_session=True
    )
    os.close(theirs)
    take_precedence(process.pid)
    return _Keyboard(process, line)


def take_precedence(process: int) -> None:
    """On a machine with much else to do: a process before all others, where that is allowed.

    Linux shares cores out among sessions first, so that being nice counts only within one.
    """
    if PRECEDENCE in os.environ:
        with suppress(OSError):
            Path(f"/proc/{process}/autogroup").write_text("-19", "utf-8")


def grown(scenarios: int, folder: Path) -> Path:
    """The first demo with more scenarios, a tree of them, each with an edit of its own."""
    demo = sorted(DEMOS.glob("*.toml"))[0]
    text = demo.read_text("utf-8")
    ids = [line[10:-1] for line in text.splitlines() if line.startswith("[scenario.")]
    ids = list(dict.fromkeys(id_.partition(".")[0] for id_ in ids))
    for number in range(len(ids), scenarios):
        parent = ids[number // 3 if number % 4 else 0]
        id_ = f"s{number}"
        ids.append(id_)
        text += f'\n[scenario.{id_}]\ntitle = "Variant {number}"\nparent = "{parent}"\n'
        text += f'handling.walk = "{30 + number % 90} s"\n'
    path = folder / f"{scenarios}-scenarios.toml"
    path.write_text(text, "utf-8")
    return path


def figures(seconds: float = 20, python: str = sys.executable) -> Iterator[Figures]:
    """Of every demo, of a study of 60 scenarios and of one of 1,000."""
    for demo in sorted(DEMOS.glob("*.toml")):
        yield measure(demo, seconds, python)
    with tempfile.TemporaryDirectory() as folder:
        for scenarios in (60, 1000):
            yield measure(grown(scenarios, Path(folder)), seconds, python)


def lines(found: Figures, *, most: int = 6) -> Iterator[str]:
    """What was measured, in words."""

    def told(values: Sequence[float]) -> str:
        if not values:
            return "none"
        ends = (quantile(values, 0.5), quantile(values, 0.95), max(values))
        return "{:6.1f} {:6.1f} {:6.1f}".format(*ends)

    shown, own = len(found.processor), found.own_holds
    longest = max(found.collections, default=0)
    yield f"{found.study}: {found.keys} keys at {A_SECOND} a second       p50    p95    max"
    yield f"  key to repaint, processor (ms), {shown:4} keys   {told(found.processor)}"
    for kind, spent in found.by_kind.items():
        yield f"      {kind:24} {len(spent):4} keys        {told(spent)}"
    yield f"  key to repaint, clock (ms)                  {told(found.wall)}"
    left = f"{len(found.gain):3} edits, {found.unanswered} left out"
    yield f"  key to gain, clock (ms), {left:19} {told(found.gain)}"
    yield f"  loop held over 20 ms: by the clock {len(found.holds)}, by the processor {len(own)}"
    yield f"      of the processor (ms)                   {told(own)}"
    yield f"      {len(found.near):3} over 10 ms                        {told(found.near)}"
    yield f"  collections {len(found.collections)}, longest {longest:.1f} ms"
    yield f"  replies {len(found.replies)}, reading one (ms)          {told(found.replies)}"
    yield f"      their bytes                            {told(found.reply_bytes)}"
    for ran, seen in found.ran.most_common(most):
        yield f"    {seen:4} x {ran}"


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("studies", nargs="*", type=Path)
    parser.add_argument("--seconds", type=float, default=20)
    parser.add_argument("--python", default=sys.executable)
    parser.add_argument("--most", type=int, default=6)
    asked = parser.parse_args()
    take_precedence(os.getpid())
    bare = floor(asked.seconds / 2, asked.python)
    for what, values in (("processor", bare.processor), ("clock", bare.wall)):
        middle, high = quantile(values, 0.5), quantile(values, 0.95)
        print(f"one text in Textual, key to repaint, {what} (ms): {middle:.1f} {high:.1f}")
    with tempfile.TemporaryDirectory() as one:
        names = [
            grown(int(str(each)), Path(one)) if str(each).isdigit() else each
            for each in asked.studies
        ]
        each_one = (
            (measure(study, asked.seconds, asked.python) for study in names)
            if names
            else figures(asked.seconds, asked.python)
        )
        for found in each_one:
            print("\n".join(lines(found, most=asked.most)), flush=True)
