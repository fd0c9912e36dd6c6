"""How soon a study is seen, and what the program holds, beside a bare Textual application.

    .venv/bin/python tests/bench/first_paint.py [RUNS] [TREE ...]

Each is run on a terminal of its own, in turn, from the start of its process to the first frame
that shows the sheet (of the bare application: its one label). Another TREE is a checkout, measured
alternately with this one, by its own `.venv` where it has one. Ratios are of medians; the
processor's time is that of the process on the screen, its own memory that of smaps (Linux alone).
"""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import tempfile
import termios
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import clock_gettime, perf_counter

sys.path.insert(0, str(Path(__file__).parent))

from variants import NOT_INSTALLED, WHATIF, python_of

TREE = Path(__file__).parent.parent.parent
STUDY = "scenarios/small-orders.toml"

BARE = """\
from textual.app import App
from textual.widgets import Label


class Bare(App):
    def compose(self):
        yield Label("only this")


Bare().run()
"""

WIDTH, HEIGHT = 120, 32
LONGEST = 60.0

_NO_TEXT = re.compile(
    rb"\x1b(?:\[[0-9;?=>]*[a-zA-Z$]|\][^\x07\x1b]*(?:\x07|\x1b\\)|P[^\x1b]*\x1b\\)"
)
"""What moves the cursor, colours or asks the terminal (ECMA-48)."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A program that was run until a text stood on its screen.

    Attributes:
        processor, wall: seconds until then.
        memory: kB that it holds a while later, pages that it shares divided among those who do.
        others: the same of each process that it has started.
    """

    processor: float
    wall: float
    memory: int
    others: tuple[int, ...]


def seen(command: Sequence[str], text: str, environment: Mapping[str, str], rest: float) -> Seen:
    """Run a program on a terminal until a text is seen, and then for ``rest`` seconds."""
    master, slave = pty.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", HEIGHT, WIDTH, 0, 0))
    begun = perf_counter()
    process = subprocess.Popen(
        command,
        stdin=slave,
        stdout=slave,
        stderr=slave,
        env=environment,
        cwd="/",  # where no module of another checkout is found
        start_new_session=True,
    )
    os.close(slave)
    said = b""
    try:
        while text.encode() not in _NO_TEXT.sub(b"", said):
            said += _read(master, LONGEST - (perf_counter() - begun))
        # The process's own clock: POSIX makes its number from that of the process.
        processor, wall = clock_gettime(~process.pid << 3 | 2), perf_counter() - begun
        until = perf_counter() + rest
        while (left := until - perf_counter()) > 0:
            with suppress(TimeoutError):
                _read(master, left)
        others = _started_by(process.pid)
        return Seen(processor, wall, _held(process.pid), tuple(map(_held, others)))
    finally:
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()
        os.close(master)


def _read(master: int, longest: float) -> bytes:
    ready, _, _ = select.select([master], [], [], max(0.0, longest))
    if not ready:
        raise TimeoutError
    return os.read(master, 65536)


def _held(process: int) -> int:
    lines = Path(f"/proc/{process}/smaps_rollup").read_text("utf-8").splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("Pss:"))


def _started_by(process: int) -> list[int]:
    """Its children and theirs."""
    found = []
    for task in Path(f"/proc/{process}/task").iterdir():
        found += [int(child) for child in (task / "children").read_text("utf-8").split()]
    return [each for child in found for each in (child, *_started_by(child))]


def measured(
    trees: Sequence[Path] = (TREE,), runs: int = 5, rest: float = 0.0
) -> dict[str, list[Seen]]:
    """The bare application and each tree's program, run alternately; the first of each is a try."""
    with tempfile.TemporaryDirectory() as folder:
        bare = Path(folder) / "bare.py"
        bare.write_text(BARE, "utf-8")
        state = Path(folder) / "whatif"
        state.mkdir()
        (state / "desk-seen").write_text("shown\n", "utf-8")  # no hint lies over the desk
        environment = {
            **{name: value for name, value in os.environ.items() if name not in _LEFT_OUT},
            "TERM": "xterm-256color",
            "COLORTERM": "truecolor",
            "XDG_STATE_HOME": folder,
            "WHATIF_KEEP": "no",  # else it hangs on earlier runs how many workers there are
        }
        programs = {"bare": ([python_of(TREE)[0], str(bare)], "only this", environment)}
        for tree in trees:
            python, more = python_of(tree)
            command = [python, *WHATIF, f"{tree}/{STUDY}"]
            programs[str(tree)] = (command, "hours a day", {**environment, **more})
        found: dict[str, list[Seen]] = {name: [] for name in programs}
        for run in range(runs + 1):
            for name, (command, text, around) in programs.items():
                each = seen(command, text, around, rest if run else 0.0)
                if run:
                    found[name].append(each)
        return found


_LEFT_OUT = (*NOT_INSTALLED, "PYTHONPATH", "COLUMNS", "LINES")


def ratios(
    trees: Sequence[Path] = (TREE,), runs: int = 5, rest: float = 8.0
) -> dict[str, dict[str, float]]:
    """Of each tree: processor and wall to the first frame, and memory, over the bare one's."""
    found = measured(trees, runs, rest)
    bare = found.pop("bare")
    return {
        name: {
            "processor": _of(each, "processor") / _of(bare, "processor"),
            "wall": _of(each, "wall") / _of(bare, "wall"),
            "memory": _of(each, "memory") / _of(bare, "memory"),
            "memory of the calculation": median(sum(one.others) for one in each)
            / _of(bare, "memory"),
        }
        for name, each in found.items()
    }


def _of(runs: Sequence[Seen], what: str) -> float:
    return median(getattr(run, what) for run in runs)


def main(words: Sequence[str]) -> None:
    """Print the ratios."""
    runs = int(words[0]) if words else 5
    trees = [Path(word).resolve() for word in words[1:]] or [TREE]
    for name, told in ratios(trees, runs).items():
        print(name, *(f"{what} {ratio:.2f}" for what, ratio in told.items()), sep="  ")


if __name__ == "__main__":
    main(sys.argv[1:])
