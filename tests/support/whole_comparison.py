"""A comparison in which a scenario has nearly everything that can be told, and one has nothing."""

from __future__ import annotations

from functools import cache

from answer_studies import FLOOR, sound, today, wholly
from remembered import remembered

from whatif.answers.answer import Comparison

WHOLE = (
    today(
        'said.with_people.cutting = "50 %"',
        'hour_meters.in_cut = "650 h"',
        'hour_meters.switched_on = "1000 h"',
        'part.body.size = ["100 mm", "80 mm", "60 mm"]',
        'machine.mill.table = ["500 mm", "400 mm"]',
        FLOOR,
    )
    + """\
[scenario.child]
title = "Pallets, and a second machine"
parent = "today"
unattended.after_shift = "until done"
machine.mill.pallets = 3
machine.lathe.count = 1
machine.saw.count = 0
part.cover.cycle = "9 min"
part.cover.weekly = 40
part.cover.mass = "20 kg"
part.cover.machines = ["lathe"]
part.flange.cycle = "9 min"
part.flange.weekly = 0
[scenario.said]
part.body.weekly = 0
said.with_people.cutting = "70 %"
"""
).replace("[scenario.said]", '[scenario.said]\nparent = "today"')


@cache
def whole() -> Comparison:
    """The study answered, once for all tests."""

    return remembered(f"compared wholly\n{WHOLE}", lambda: wholly(sound(WHOLE)))
