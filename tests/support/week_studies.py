"""Studies whose week can be written down with a pencil."""

from __future__ import annotations

from whatif.answers.week import Week, week
from whatif.cell.model import HOUR
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.study.check.check import check
from whatif.study.file.reading import read_text

STUDY = """\
format = 1
title = "A week"
weeks = 3
runs = 3
warm_up = 0
[scenario.table]
title = "One table"
machine.mill.count = 1
part.body.cycle = "10 min"
part.body.weekly = 300
[scenario.table.shift.early]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "08:00"
breaks = ["07:00-07:15"]
[scenario.pallets]
title = "Two mills with three pallets"
parent = "table"
machine.mill.count = 2
machine.mill.pallets = 3
shift.early.people = 2
shift.early.breaks = []
unattended.after_shift = "1 h"
[scenario.stops]
parent = "table"
stop.jam.every = "1 h"
stop.jam.repair = "5 min"
[scenario.nothing]
parent = "table"
part.body.weekly = 0
[scenario.sundays]
parent = "table"
shift.early.people = 0
[scenario.sundays.shift.night]
days = ["sun"]
start = "22:00"
end = "06:00"
breaks = ["01:00-01:30"]
"""
"""Times of the table as in tests/test_watch.py: 3 min the first visit, 4 the others, 10 a piece."""


SIX = 6 * HOUR


def plan(scenario: str, text: str = STUDY) -> Plan:
    checked = check(read_text(text))
    assert checked.problems == ()
    return plans_of(checked)[scenario]


def week_of(scenario: str, number: int = 1, text: str = STUDY) -> Week:
    found = week(plan(scenario, text), number)
    assert found is not None
    return found
