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
from pathlib import Path

import pytest
from lengths import first_of
from small_study import PALLETS, STUDY
from terminal import Terminal

from whatif.session.kept.left import left_behind
from whatif.study.file.reading import read_file

CUTS = int(os.environ.get("WHATIF_CUTS", "20"))
WAYS = ("hangup", "term", "kill", "closed", "stalled", "suspended")
KEPT = re.compile(r"(\d+) changes? not saved, kept")
MOST = 6
"""Edits of a session."""


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


@pytest.mark.parametrize("seed", first_of(range(CUTS), 2))
def test_what_is_marked_as_kept_is_there(seed: int, tmp_path: Path) -> None:
    luck, way = random.Random(seed), WAYS[seed % len(WAYS)]
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    terminal = Terminal(study, tmp_path / "state")
    try:
        terminal.wait_for("reference")
        terminal.press("\x1b[C\x1b[B\x1b[B\x1b[B\x1b[B")
        edits = [luck.randrange(5, 100) for _ in range(luck.randrange(1, MOST + 1))]
        ends = time.monotonic() + luck.uniform(0, 2.5)
        seen = ""
        for place, pallets in enumerate(edits):
            # Each is one change more: keeping it goes down a row, and up again for the next.
            terminal.press(f"{pallets}\r\x1b[A")
            saves = place == 2 and luck.random() < 0.5
            if saves:
                terminal.press("w")
            seen += terminal.read_until(min(ends, time.monotonic() + luck.uniform(0, 0.6)))
        if way != "stalled":
            seen += terminal.read_until(ends)
        print(f"seed {seed}, {way}: {edits}, marked {KEPT.findall(seen)}")
        marked = [int(number) for number in KEPT.findall(seen)]
        cut(terminal, way)
    finally:
        terminal.close()
    left = left_behind(study, tmp_path / "state" / "whatif")
    file = read_file(study).draft.scenario("pool").entered[PALLETS]
    held = [each.draft.scenario("pool").entered[PALLETS] for each in left] or [file]
    states = [4, *edits]
    assert held[0] in states, "nothing is there that nobody typed"
    if marked and file == 4:
        # So many edits were marked as kept; none after them need be, but may.
        assert held[0] in states[max(marked) :], (marked, edits, held)
