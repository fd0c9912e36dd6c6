"""A study with a scenario that others may be moved under."""

from __future__ import annotations

from study_texts import VALVES

from whatif.study.draft import Draft
from whatif.study.file.reading import read_text

OTHER = """
[scenario.other]
title = "Another shop"
shift.day.days = ["mon", "tue"]
shift.day.start = "07:00"
shift.day.end = "15:00"
machine.mill.count = 2
machine.lathe.count = 1
part.body.cycle = "660 s"
part.body.weekly = 500
part.body.bench = "1 min"
part.body.on.lathe.cycle = "9 min"
"""


def study(more: str = OTHER) -> Draft:
    return read_text(VALVES + more).with_head("weeks", 2)
