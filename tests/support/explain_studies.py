"""Small studies for tests of the accounts, and the evaluation of their printed lines."""

from __future__ import annotations

from functools import cache

from answer_studies import sound, wholly
from hypothesis import strategies as st
from remembered import remembered

from whatif.answers.answer import Comparison
from whatif.study.check.check import Checked

SHOP = """\
format = 1
weeks = 2
warm_up = 0
runs = 3
[scenario.today]
title = "Now"
hour_meters.switched_on = "400 h"
hour_meters.in_cut = "200 h"
hour_meters.gap = "show"
said.with_people.cutting = "60 %"
handling.other_duties = "10 %"
unattended.after_shift = "3 h"
machine.mill.count = 2
machine.mill.warm_up = "7 min"
machine.mill.floor = "10 m^2"
machine.mill.resale = 12000
machine.mill.price = 90000
machine.mill.table = ["600 mm", "400 mm"]
machine.mill.table_load = "40 kg"
machine.lathe.count = 1
machine.lathe.floor = "6 m^2"
machine.lathe.table = ["200 mm", "200 mm"]
part.body.cycle = "12 min"
part.body.weekly = 150
part.body.scrap = "4 %"
part.body.contribution = 30
part.body.on.lathe.cycle = "10 min"
part.body.bench = "1 min"
part.body.in_cut = "80 %"
part.body.fixtures = 3
part.body.per_pallet = 1
part.plate.cycle = "20 min"
part.plate.size = ["150 mm", "100 mm", "50 mm"]
part.plate.mass = "6 kg"
part.plate.weekly = 60
part.plate.setup = "20 min"
part.plate.prove_out = "5 min"
part.plate.first_piece = "15 min"
part.plate.tool_life = 30
part.plate.contribution = 45.5
part.plate.fixture_price = 800
part.plate.machines = ["mill"]
part.spare.cycle = "30 min"
part.spare.weekly = 0
part.spare.contribution = 20
part.long.cycle = "5 min"
part.long.size = ["900 mm", "50 mm", "50 mm"]
part.long.weekly = 3
rush.now = { part = "plate", pieces = 4, arrives = "tue 10:00", price = 500 }
rush.any = { part = "spare", pieces = 2 }
rush.never = { part = "long", pieces = 2 }
order.big = { part = "spare", pieces = 30, due = "week 1 tue 12:00" }
order.late = { part = "plate", pieces = 500, arrives = "tue 06:00", due = "week 2 tue 12:00" }
money.wage = 40
money.floor_price = 120
money.years = 6.5
[scenario.today.shift.early]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
people = 2
unpaid_breaks = ["09:00-09:30"]
[scenario.today.shift.night]
days = ["sun", "tue"]
start = "22:00"
end = "06:00"
does = ["load", "setup", "prove_out", "tools", "repair"]
breaks = ["01:00-01:30"]
[scenario.cell]
title = "Cell"
parent = "today"
machine.mill.count = 1
machine.mill.pallets = 4
machine.mill.pallet_price = 3000
machine.mill.pallet_system_price = 6000
money.one_off = 5000
machine.mill.pallet_floor = "1 m^2"
part.plate.fixtures = 6
part.plate.weekly = 90
[scenario.bare]
parent = "cell"
part.body.weekly = 0
part.plate.weekly = 0
part.long.weekly = 0
order.big.pieces = 0
order.late.pieces = 0
rush.any.pieces = 0
rush.now.pieces = 0
rush.never.pieces = 0
[scenario.alone]
"""
"""Money, orders, rush orders, hours said and hour meters; a part that does not fit; one that is not
wanted by the week; a machine that differs; and a scenario with nothing in it."""

STOP = 'stop.jam = { every = "9 h", repair = "20 min" }\n'

FIRST = 'part.spare.cycle = "30 min"\n'

PENCIL = """\
format = 1
weeks = 4
runs = 3
warm_up = 0
[scenario.now]
title = "Now"
machine.mill.count = 1
part.plate.cycle = "1 h 30 min"
part.plate.weekly = 100
[scenario.now.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
people = 2
breaks = ["09:00-09:30"]
[scenario.more]
title = "More"
parent = "now"
machine.mill.count = 2
[scenario.most]
title = "Most"
parent = "more"
machine.mill.pallets = 2
"""

STUDIES = {
    "stops": SHOP.replace(FIRST, STOP + FIRST).replace(
        'part = "spare", pieces = 2 }', 'part = "spare", pieces = 2, arrives = "wed 08:00" }'
    ),
    "shop": SHOP,
    "to people": SHOP.replace('"show"', '"people"'),
    "to machines": SHOP.replace('"show"', '"machine"'),
    "pencil": PENCIL,
}


OF_THE_SHOP = ("today", "cell", "bare", "alone")
"""The scenarios of the shop."""


@cache
def study(name: str) -> tuple[Comparison, Checked]:
    checked = sound(STUDIES[name])
    return remembered(f"compared wholly\n{STUDIES[name]}", lambda: wholly(checked)), checked


def evaluated(line: str) -> float:
    """What a printed line gives on a calculator."""
    signs = {
        "×": "*",
        "^": "**",
        "the smaller of (": "min(",
        "the larger of (": "max(",
    }
    for ours, theirs in signs.items():
        line = line.replace(ours, theirs)
    assert set(line) <= set("0123456789.+-*/() ,minax"), line
    found = eval(line, {"__builtins__": {}, "min": min, "max": max})
    return float(found)


@st.composite
def drawn(draw: st.DrawFn) -> str:
    """A small study of two scenarios, of which the second changes machines and pallets."""

    def one_of(*texts: str) -> str:
        return draw(st.sampled_from(texts))

    def number(low: int, high: int) -> int:
        return draw(st.integers(low, high))

    lines = [
        "format = 1",
        f"weeks = {number(1, 3)}",
        "runs = 2",
        f"warm_up = {number(0, 1)}",
        "[scenario.now]",
        f'handling.walk = "{number(0, 3)} min"',
        f'handling.other_duties = "{number(0, 40)} %"',
        f'unattended.after_shift = "{one_of("0 h", "3 h", "until done")}"',
        f'unattended.at_limit = "{one_of("finish_piece", "hold")}"',
        f"unattended.through_breaks = {one_of('true', 'false')}",
        f"machine.mill.count = {number(0, 2)}",
        f"machine.mill.pallets = {number(1, 3)}",
        f'machine.mill.warm_up = "{number(0, 9)} min"',
        f"machine.lathe.count = {number(0, 1)}",
        'machine.lathe.floor = "6 m^2"',
    ]
    for part in ("body", "plate"):
        lines += [
            f'part.{part}.cycle = "{number(1, 60)} min"',
            f'part.{part}.load = "{number(0, 300)} s"',
            f'part.{part}.unload = "{number(0, 300)} s"',
            f'part.{part}.bench = "{number(0, 120)} s"',
            f'part.{part}.setup = "{number(0, 40)} min"',
            f'part.{part}.prove_out = "{number(0, 10)} min"',
            f'part.{part}.first_piece = "{number(0, 1) * number(0, 40)} min"',
            f'part.{part}.scrap = "{number(0, 20)} %"',
            f"part.{part}.per_pallet = {number(1, 4)}",
            f"part.{part}.batch = {number(1, 20)}",
            f"part.{part}.fixtures = {number(1, 4)}",
            f"part.{part}.unattended = {one_of('true', 'false')}",
            f"part.{part}.weekly = {number(0, 200)}",
        ]
    lines += [
        f'part.body.on.lathe.cycle = "{number(1, 60)} min"',
        f"part.plate.tool_life = {number(4, 40)}",
        "[scenario.now.shift.day]",
        "days = " + one_of('["mon", "tue"]', '["fri", "sat", "sun"]'),
        f'start = "{one_of("06:00", "22:00")}"',
        f'end = "{one_of("10:00", "14:00", "23:00")}"',
        f"people = {number(0, 2)}",
        "[scenario.then]",
        'parent = "now"',
        f"machine.mill.count = {number(0, 2)}",
        f"machine.mill.pallets = {number(1, 4)}",
    ]
    return "\n".join(lines)
