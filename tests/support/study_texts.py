"""Studies that several tests begin with."""

from whatif.study.draft import Draft
from whatif.study.file.reading import read_text

# Two scenarios as a study begins (rule `study.tree`), and a third below them.
VALVES = """\
format = 1
title = "Valve bodies"
units = "metric"
reference = "today"
weeks = 13
warm_up = 2
runs = 20

[scenario.today]
title = "Three mills, parts loaded on the table"

[scenario.today.shift.early]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
people = 2
breaks = ["08:30-08:45", "11:00-11:30"]

[scenario.today.shift.late]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "14:00"
end = "22:00"
breaks = ["18:00-18:30"]

[scenario.today.machine.mill]
count = 3
pallets = 1
table = ["900 mm", "500 mm"]

[scenario.today.part.body]
size = ["140 mm", "90 mm", "60 mm"]
cycle = "11 min"
weekly = 1100

[scenario.six_pallets]
title = "Six pallets"
parent = "today"
unattended.after_shift = "5 h"
machine.mill.count = 2
machine.mill.pallets = 6
machine.mill.table = ["630 mm", "500 mm"]

[scenario.night]
parent = "six_pallets"
unattended.after_shift = "until done"
"""


def valves(*more: str) -> Draft:
    """The draft of the example, with lines added at the end (so to the last scenario)."""
    return read_text(VALVES + "\n".join(more))


def today(*lines: str) -> Draft:
    """A study of one sound scenario, one machine and one part, with more lines in it."""
    return read_text("\n".join((*SMALLEST, *lines)))


SMALLEST = (
    "format = 1",
    "[scenario.today]",
    "machine.mill.count = 1",
    'part.body.cycle = "11 min"',
    "part.body.weekly = 1100",
)
