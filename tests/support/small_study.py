"""The smallest studies: with two columns, and with one, for what only has to be answered soon."""

from __future__ import annotations

STUDY = """\
# Two columns.
format = 1
title = "Small"
weeks = 1
runs = 3
warm_up = 0

[scenario.now]
title = "Now"

[scenario.now.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "07:00"
end = "15:00"
breaks = ["11:00-11:30"]

[scenario.now.machine.mill]
count = 2

[scenario.now.part.plate]
cycle = "9 min"
weekly = 300

[scenario.pool]
title = "Pool"
parent = "now"
machine.mill.pallets = 4

[scenario.other]
title = "Another shop"

[scenario.other.machine.borer]
"""


CYCLE = ("part", "plate", "cycle")


PALLETS = ("machine", "mill", "pallets")


ONE_SHIFT = """\
format = 1
weeks = 1
warm_up = 0
runs = 3
[scenario.today]
machine.mill.pallets = 2
part.body.cycle = "30 min"
part.body.weekly = 10
shift.early = {days = ["mon"], start = "06:00", end = "09:00"}
"""
"""Three hours a week."""
