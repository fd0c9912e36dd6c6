"""The cell of most tests of nights, with its arithmetic in test_night."""

from __future__ import annotations

from answer_studies import plan_of

from whatif.answers.night.night import Nights, NightsAfter, nights_of

HEAD = """\
format = 1
title = "Nights"
weeks = 1
runs = 3
warm_up = 0
[scenario.today]
unattended.after_shift = "until done"
handling.walk = "0 min"
machine.mill.count = 1
machine.mill.pallets = 4
machine.mill.pallet_change = "1 min"
part.body.cycle = "20 min"
part.body.per_pallet = 3
part.body.load = "1 min"
part.body.unload = "1 min"
part.body.batch = 3000
part.body.at_once = 60
part.body.weekly = 10000
"""


SHIFT = """\
[scenario.today.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
"""


def silent(done: int, of: int) -> None:
    """Nobody wants to know how far the work is."""


def study(*lines: str, shift: str = SHIFT) -> str:
    """The study above; a line that names a known key replaces it."""
    known = HEAD.splitlines()
    for line in lines:
        key = line.split(" = ")[0]
        known = [other for other in known if not other.startswith(f"{key} ")]
        known.insert(2 if key in {"weeks", "warm_up", "runs"} else len(known), line)
    return "\n".join([*known, shift])


def nights(*lines: str, shift: str = SHIFT) -> Nights:
    found = nights_of(plan_of(study(*lines, shift=shift)), silent)
    assert found is not None
    return found


def monday(*lines: str, shift: str = SHIFT) -> NightsAfter:
    return nights(*lines, shift=shift).after[0]
