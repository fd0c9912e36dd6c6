"""What ten thousand edits leave behind: in the session, and in the calculating process's memory.

    .venv/bin/python tests/bench/memory.py [--edits 10000] [STUDY]

Values are typed, kept, undone and done again, as from the keys; in the second half as much is kept
for undoing as in the first, so what the second half adds should be nothing. Answers are worked out
for some of the edits, over few weeks, as the calculating process does.
"""

from __future__ import annotations

import argparse
import gc
import sys
import tracemalloc
from dataclasses import replace
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))

import made  # noqa: E402 - after the path is set

from whatif.session.calculate.memory import Memory  # noqa: E402
from whatif.session.session import Session  # noqa: E402
from whatif.study.file.reading import read_file  # noqa: E402

MB = 1_000_000
_FEW = 50
_PATHS = (("handling", "walk"), ("handling", "other_duties"))


def edits(count: int, study: Path) -> dict[str, Any]:
    """Megabytes that the session holds after half of some edits and after all, undo aside.

    Undo is what the last half shares out: the kept steps are as many in both halves once the
    history is full, and else the rise of them is told apart.
    """
    session = Session(read_file(study))
    scenarios = session.draft.ids
    tracemalloc.start()
    held: list[float] = []
    steps: list[int] = []
    begun = 0.0
    for place in range(count):
        if place == _FEW:
            begun = _held(session)
        scenario = scenarios[place % len(scenarios)]
        path = _PATHS[place % 2]
        text = f"{20 + place * 7 % 83} s" if place % 2 == 0 else f"{place * 3 % 41} %"
        session.type(scenario, path, text)
        session.keep()
        session.checked  # noqa: B018 - as the sheet asks after each key
        if place % 5 == 4:
            session.undo()
            session.undo()
            session.redo()
        if (place + 1) % max(1, count // 10) == 0:
            gc.collect()
            held.append(tracemalloc.get_traced_memory()[0] / MB)
            steps.append(len(session.history.steps))
    without = _held(session)
    tracemalloc.stop()
    return {"seconds": 0.0, "held": held, "steps": steps, "begun": begun, "without": without}


def _held(session: Session) -> float:
    """Megabytes that are held when nothing can be undone any more."""
    session.history = type(session.history)()
    gc.collect()
    return tracemalloc.get_traced_memory()[0] / MB


def cells(count: int) -> dict[str, Any]:
    """Megabytes that the calculating process remembers after so many cells, big ones."""
    memory = Memory()
    one = made.cell(**made.BIG)
    tracemalloc.start()
    held = []
    for place in range(count):
        memory(replace(one, walk=30 + place), 0, 1)
        if (place + 1) % max(1, count // 10) == 0:
            gc.collect()
            held.append(tracemalloc.get_traced_memory()[0] / MB)
    tracemalloc.stop()
    return {"seconds": 0.0, "held": held}


def main() -> None:
    """Print how memory grows."""
    parser = argparse.ArgumentParser()
    default = sorted((HERE.parent.parent / "scenarios").glob("*.toml"))[0]
    parser.add_argument("study", nargs="?", type=Path, default=default)
    parser.add_argument("--edits", type=int, default=10_000)
    parser.add_argument("--cells", type=int, default=300)
    asked = parser.parse_args()
    found = edits(asked.edits, asked.study)
    print(f"{asked.edits} edits; MB held after each tenth, with steps kept for undoing")
    for megabytes, steps in zip(found["held"], found["steps"], strict=True):
        print(f"  {megabytes:7.2f} MB  {steps:5} steps")
    print(f"  {found['without']:7.2f} MB  without the steps")
    remembered = cells(asked.cells)["held"]
    print(f"{asked.cells} big cells of one week each; MB remembered after each tenth")
    print("  " + " ".join(f"{megabytes:.1f}" for megabytes in remembered))


if __name__ == "__main__":
    main()
