"""The line drops at any moment: what the screen has marked as kept is there, and nothing else.

``WHATIF_CUTS=100 pytest --long -s tests/screens/test_line_drops.py`` cuts a hundred sessions, each
at a moment of its seed, in six ways by turns; the long sets cut some, the quick set two.
"""

from __future__ import annotations

import os
import random
import re
import signal
import time
from dataclasses import dataclass
from pathlib import Path

import pytest
from lengths import first_of
from small_study import PALLETS, STUDY
from terminal import Terminal

from whatif.session.kept.left import left_behind
from whatif.study.file.reading import read_file

CUTS = int(os.environ.get("WHATIF_CUTS", "20"))
WAYS = ("hangup", "term", "kill", "closed", "stalled", "suspended")
KEPT = re.compile(r"(\d+) changes? not saved, safe")
MOST = 6
"""Edits of a session."""
TODAY = 4
"""Pallets as the study has them."""


def cut(terminal: Terminal, way: str) -> None:
    process = terminal.process
    if way == "closed":
        terminal.hang_up()
    elif way == "stalled":
        # Nobody reads what the screen sends, and then the program is to end.
        process.send_signal(signal.SIGTERM)
        process.wait(20)
        return
    elif way == "suspended":
        os.kill(process.pid, signal.SIGSTOP)
        os.kill(process.pid, signal.SIGCONT)
        process.kill()
    else:
        numbers = {"hangup": signal.SIGHUP, "term": signal.SIGTERM, "kill": signal.SIGKILL}
        process.send_signal(numbers[way])
    terminal.drain_until_ended()


@dataclass(frozen=True)
class Step:
    """One thing that is done in a session.

    Attributes:
        keys: what is pressed for it.
        pallets: what the study, as it is on the screen, says after it.
        unsaved: how many changes the screen then counts.
    """

    keys: str
    pallets: int
    unsaved: int


def steps_of(luck: random.Random) -> list[Step]:
    """Edits of one value; some are undone, or a ranking is begun, or all is saved at the end."""
    typed, steps = [TODAY], list[Step]()
    for _ in range(luck.randrange(1, MOST + 1)):
        typed.append(luck.choice([one for one in range(5, 100) if one not in typed]))
        # Keeping it goes down a row, and up again for the next.
        steps.append(Step(f"{typed[-1]}\r\x1b[A", typed[-1], len(typed) - 1))
        what = luck.choice(("nothing", "nothing", "undo", "long work", "save"))
        if what == "undo":
            typed.pop()
            steps.append(Step("u", typed[-1], len(typed) - 1))
        elif what == "long work":
            # F9 ranks the inputs; Escape leaves the view while it does.
            steps.append(Step("\x1b[20~", typed[-1], len(typed) - 1))
            steps.append(Step("\x1b", typed[-1], len(typed) - 1))
        elif what == "save":
            steps.append(Step("\x1b[21~", typed[-1], 0))
            break
    return steps


def first_marked(steps: list[Step], marked: list[int]) -> int:
    """How many steps must have been done where the screen counted these changes as kept."""
    counts, place = [0, *(step.unsaved for step in steps)], 0
    for count in marked:
        assert count in counts[place:], (steps, marked)
        place = counts.index(count, place)
    return place


@pytest.mark.parametrize("seed", first_of(range(CUTS)))
@pytest.mark.long
def test_what_is_marked_as_kept_is_there(seed: int, tmp_path: Path) -> None:
    luck, way = random.Random(seed), WAYS[seed % len(WAYS)]
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    terminal = Terminal(study, tmp_path / "state")
    try:
        terminal.wait_for("reference")
        terminal.press("\x1b[C\x1b[B\x1b[B\x1b[B\x1b[B")
        steps = steps_of(luck)
        seen = ""
        for step in steps:
            terminal.press(step.keys)
            seen += terminal.read_until(time.monotonic() + luck.uniform(0, 0.6))
        # At a moment after so many marks, or before any; a busy machine does not make it earlier.
        marks, patience = luck.randrange(len(steps) + 1), time.monotonic() + 10
        while way != "stalled" and len(KEPT.findall(seen)) < marks and time.monotonic() < patience:
            seen += terminal.read_until(time.monotonic() + 0.05)
        seen += terminal.read_until(time.monotonic() + luck.uniform(0, 0.3))
        marked = [int(number) for number in KEPT.findall(seen)]
        told = " ".join(repr(step.keys)[1:-1] for step in steps)
        print(f"seed {seed}, {way}: {told}, marked {marked}")
        cut(terminal, way)
    finally:
        terminal.close()
    left = left_behind(study, tmp_path / "state" / "whatif")
    file = read_file(study).draft.scenario("pool").entered[PALLETS]
    held = [each.draft.scenario("pool").entered[PALLETS] for each in left] or [file]
    states = [TODAY, *(step.pallets for step in steps)]
    assert file in states, "nothing is there that nobody typed"
    # So much was marked as kept; nothing after it need be, but may.
    assert held[0] in states[first_marked(steps, marked) :], (marked, steps, held)
