"""What is measured side by side: an earlier checkout, and this one plain and compiled.

Each is a Python with a ``whatif`` of its own. In-process work is asked of a worker that stays
(``worker.py``); commands and screens are started anew each time.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import zipfile
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from time import monotonic
from typing import Any

HERE = Path(__file__).parent
ROOT = HERE.parent.parent

WHATIF = ("-c", "import sys; sys.argv[0] = 'whatif'; from whatif.command.entry import run; run()")


NOT_INSTALLED = ("PYTHONDONTWRITEBYTECODE",)
"""What an installed program does not run under: its modules are compiled to bytecode."""

ENOUGH = 10.0
"""Seconds by the clock after which a measurement is not repeated."""


@dataclass
class Variant:
    """A checkout as it is run."""

    name: str
    python: str
    folder: Path
    environment: Mapping[str, str] = field(default_factory=dict)
    _worker: subprocess.Popen[str] | None = None

    def environ(self, **more: str) -> dict[str, str]:
        """The environment that it runs in: no state of its user, nothing remembered."""
        left_out = ("PYTHONPATH", "WHATIF_PLAIN", *NOT_INSTALLED)
        kept = {k: v for k, v in os.environ.items() if k not in left_out}
        return {**kept, "PYTHONHASHSEED": "0", **self.environment, **more}

    def ask(self, do: str, **asked: Any) -> dict[str, Any]:
        """Let its worker do something; what it answers, seconds of processor among it."""
        if self._worker is None:
            self._worker = subprocess.Popen(
                [self.python, str(HERE / "worker.py")],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
                cwd="/",
                env=self.environ(),
            )
        worker = self._worker
        assert worker.stdin is not None
        assert worker.stdout is not None
        worker.stdin.write(json.dumps({"do": do, **asked}) + "\n")
        worker.stdin.flush()
        line = worker.stdout.readline()
        if not line:
            self._worker = None
            raise RuntimeError(f"the worker of {self.name} has ended over {do}")
        answer: dict[str, Any] = json.loads(line)
        if "fault" in answer:
            raise RuntimeError(f"{self.name}, {do}: {answer['fault']}")
        return answer

    def run(self, *words: str, patience: float = 120, state: Path | None = None) -> Spent:
        """Run a command of the program from its start to its end."""
        more = (
            {}
            if state is None
            else dict.fromkeys(("XDG_STATE_HOME", "XDG_CACHE_HOME", "HOME"), str(state))
        )
        return spent([self.python, *WHATIF, *words], self.environ(**more), patience)

    def end(self) -> None:
        """Let the worker end."""
        if self._worker is not None and self._worker.stdin is not None:
            with suppress(OSError):
                self._worker.stdin.close()
            self._worker.wait(timeout=10)
            self._worker = None


@dataclass(frozen=True)
class Spent:
    """What a command took, its children with it: seconds of processor, and by the clock."""

    processor: float
    wall: float
    ended: bool = True


def spent(words: list[str], environment: Mapping[str, str], patience: float = 120) -> Spent:
    """Run a command to its end; given up after so many seconds by the clock."""
    before, begun = resource.getrusage(resource.RUSAGE_CHILDREN), monotonic()
    process = subprocess.Popen(
        words,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        cwd="/",
        env=dict(environment),
        text=True,
    )
    ended = True
    try:
        _, said = process.communicate(timeout=patience)
        if process.returncode not in (0, 1):
            raise RuntimeError(f"{' '.join(words[-3:])}: {said[-500:]}")
    except subprocess.TimeoutExpired:
        ended = False
        process.kill()
        process.communicate()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Spent(used, monotonic() - begun, ended)


def alternately(
    variants: Sequence[Variant],
    measure: Callable[[Variant], float],
    times: int,
    choose: Callable[[list[float]], float] = min,
) -> dict[str, float]:
    """Measure one after the other, so many rounds of it; by variant the least of each.

    What ends a measurement with an error is left out, and told.
    """
    found: dict[str, list[float]] = {variant.name: [] for variant in variants}
    faulty = set()
    took = dict.fromkeys(found, 0.0)
    for _ in range(times):
        for variant in variants:
            if variant.name in faulty or took[variant.name] > ENOUGH:
                continue
            begun = monotonic()
            try:
                found[variant.name].append(measure(variant))
            except (RuntimeError, OSError) as fault:
                print(f"  ({fault})", file=sys.stderr)
                faulty.add(variant.name)
            took[variant.name] += monotonic() - begun
    return {name: choose(values) for name, values in found.items() if name not in faulty}


def middle(values: list[float]) -> float:
    """The median."""
    return median(values)


def python_of(checkout: Path) -> tuple[str, dict[str, str]]:
    """What runs a checkout: its own Python where it has one, else this one, told where it is."""
    own = checkout / ".venv" / "bin" / "python"
    if own.exists():
        return str(own), {}
    return sys.executable, {"PYTHONPATH": str(checkout)}


def compiled_copy(folder: Path) -> Path | None:
    """The wheel that the build hook makes, unpacked; None where the cell stays plain."""
    done = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation",
         "--disable-pip-version-check", "-w", str(folder), str(ROOT)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    wheels = list(folder.glob("*.whl"))
    if done.returncode or not wheels or wheels[0].stem.endswith("-any"):
        print(f"no compiled cell: {done.stderr.strip()[-300:] or 'the hook left it plain'}")
        return None
    with zipfile.ZipFile(wheels[0]) as wheel:
        wheel.extractall(folder / "unpacked")
    return folder / "unpacked"


def variants(before: Path | None, compiled: Path | None) -> list[Variant]:
    """Those that there are, in the order of the columns."""
    found = []
    if before is not None:
        python, environment = python_of(before)
        found.append(Variant("before", python, before, environment))
    found.append(Variant("plain", sys.executable, ROOT, {"WHATIF_PLAIN": "1"}))
    if compiled is not None:
        found.append(Variant("compiled", sys.executable, compiled, {"PYTHONPATH": str(compiled)}))
    return found
