"""The smallest study with two columns, for tests of the session and the screens."""

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
