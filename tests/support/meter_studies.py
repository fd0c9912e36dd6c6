"""One table with hour meters."""

from __future__ import annotations

# One table, one person, 8 h a day without breaks: a piece is 10 min of cut and a visit of
# 1 + 1 + 2 = 4 min (1 + 2 min the first time), so 10 of 14 minutes are cut: 71.4 % of the day.
STUDY = """\
format = 1
weeks = 1
runs = 3
warm_up = 0
[scenario.now]
hour_meters.switched_on = "1000 h"
hour_meters.in_cut = "{in_cut} h"
hour_meters.gap = "{gap}"
[scenario.now.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
[scenario.now.machine.mill]
[scenario.now.part.plate]
cycle = "10 min"
weekly = 500
[scenario.pair]
parent = "now"
machine.mill.pallets = 2
"""


def study(in_cut: int = 500, gap: str = "show") -> str:
    return STUDY.format(in_cut=in_cut, gap=gap)
