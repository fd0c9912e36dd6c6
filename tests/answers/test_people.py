"""People's hours: busy, free, and free in stretches of half an hour and more (rule `people.free`).

One table and one person from 06:00 to 14:00. A visit takes 10 min, the first, with nothing to take
off, 5; in between the person is free for as long as the piece is cut.
"""

from __future__ import annotations

import csv
import io

import pytest
from answer_studies import sound

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS
from whatif.session.calculate.memory import Memory

STUDY = """\
format = 1
weeks = 1
warm_up = 0
[scenario.today]
handling.walk = "0 min"
part.body.load = "5 min"
part.body.unload = "5 min"
part.body.weekly = 1000
machine.mill.count = 1
part.body.cycle = "{cycle}"
[scenario.today.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
unpaid_breaks = [{breaks}]
"""


def answered(cycle: str, breaks: str = "") -> Comparison:
    return compare(sound(STUDY.format(cycle=cycle, breaks=breaks)), Memory())


def people(cycle: str, breaks: str = "") -> tuple[float, ...]:
    """Minutes a week on duty, busy, free, and free in stretches."""
    found = answered(cycle, breaks).answers["today"].figures
    assert found is not None
    hours = found.people
    return tuple(
        round(60 * one, 6) for one in (hours.on_duty, hours.busy, hours.free, hours.free_stretches)
    )


def test_free_time_in_stretches_of_half_an_hour() -> None:
    """Cuts of 40 min. Monday: 5 min busy, 40 free, then 10 and 40 by turns until 13:25, 10 more to
    13:35, and 25 min that are too short. Every other day begins with what was finished at 14:15:
    nine times 10 and 40 min, then 10 and 20.
    """
    busy = (5 + 9 * 10) + 4 * 10 * 10
    stretches = 5 * 9 * 40
    assert people("40 min") == (2400, busy, 2400 - busy, stretches)


def test_half_an_hour_is_enough_and_less_is_not() -> None:
    """Cuts of 30 min: twelve of 40 min on every other day, and 11 stretches and more on Monday."""
    # Monday: 5 busy, 30 free, then 10 and 30 by turns: 11 times until 13:55, then 5 busy, the
    # visit cut off. On the other days what is left of it comes first: 5 and 30, and so on alike.
    assert people("30 min") == (2400, 2400 - 5 * 12 * 30, 5 * 12 * 30, 5 * 12 * 30)
    *_, free, stretches = people("29 min 59 s")
    assert free > 1700
    assert stretches == 0


def test_a_break_parts_a_stretch() -> None:
    """A break from 06:25 to 06:30 makes 20 and 15 min of the first stretch of Monday."""
    breaks = '"06:25-06:30"'
    on_duty, busy, free, stretches = people("40 min", breaks)
    assert on_duty == 2400 - 5 * 5
    assert free == on_duty - busy
    # The piece is cut through the break, so nothing else of the day moves but its first stretch.
    assert stretches == 5 * 9 * 40 - 5 * 40


@pytest.mark.parametrize("form", ["text", "markdown", "csv"])
def test_compare_tells_all_of_them(form: str) -> None:
    text = WRITERS[form](comparison_report(answered("40 min", '"10:00-10:30"')))
    for label in (
        "people paid",
        "people on duty",
        "people busy",
        "people free",
        "people free, half hours and more",
    ):
        assert label in text
    if form == "csv":
        rows = {row[0]: row[2] for row in csv.reader(io.StringIO(text))}
        assert rows["people paid"] == rows["people on duty"] == "37.5"
        free = float(rows["people on duty"]) - float(rows["people busy"])
        assert float(rows["people free"]) == pytest.approx(free, abs=0.11)


# -- by shift ----------------------------------------------------------------------------

BOTH = """\
[scenario.today.shift.late]
days = ["mon"]
start = "14:00"
end = "18:00"
people = 2
does = ["load"]
[scenario.today.shift.gauge]
days = ["mon"]
start = "06:00"
end = "14:00"
does = ["release"]
"""


def test_each_shift_has_its_own_hours() -> None:
    """Cuts of 40 min. Monday by day as above: 5 min, then nine visits of 10, the last of them until
    13:35. The piece cut until 14:15 waits for the first who is listed of the late shift: 14:15-25,
    15:05-15, 15:55-05, 16:45-55, 17:35-45. The others of the week as above, 9 x 10 + 10 by day."""
    found = compare(sound(STUDY.format(cycle="40 min", breaks="") + BOTH), Memory())
    figures = found.answers["today"].figures
    assert figures is not None
    by_shift = figures.shifts
    assert by_shift.on_duty == {"day": 40, "late": 8, "gauge": 8}
    assert by_shift.paid == by_shift.on_duty
    assert 60 * by_shift.busy["late"] == pytest.approx(5 * 10)
    assert sum(by_shift.busy.values()) == pytest.approx(figures.people.busy)
    assert by_shift.share("late") == pytest.approx(50 / 480)
    assert by_shift.share("day", "late") == pytest.approx(figures.people.busy / 48)


def test_compare_tells_how_full_each_shift_is_where_there_are_several() -> None:
    """Who only releases does no work that is counted, and is left out."""
    one = comparison_report(answered("40 min"))
    assert "busy, day" not in WRITERS["text"](one)
    found = compare(sound(STUDY.format(cycle="40 min", breaks="") + BOTH), Memory())
    rows = {row[0]: row[1:] for row in comparison_report(found).rows}
    assert rows["busy, late"] == ("%", "10")
    assert rows["busy, day"][0] == "%"
    assert "busy, gauge" not in rows
    # The JSON has what it had.
    told = comparison_report(found).data["scenarios"]["today"]["simulated"]["people_hours"]
    assert set(told) == {"paid", "on_duty", "busy", "free_stretches"}
