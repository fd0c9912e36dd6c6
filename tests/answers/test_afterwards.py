"""What was foretold of weeks, and measured afterwards."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from small_study import ONE_SHIFT

from whatif.answers.meters.afterwards import (
    Afterwards,
    Foretold,
    MeasuredWeek,
    foretold_of_study,
)
from whatif.answers.simulate import run_anew
from whatif.readings.stamps import HOUR, SECOND, begin_of
from whatif.readings.table import machines_in, read_table
from whatif.readings.understood import Understood
from whatif.readings.weeks import whole_weeks
from whatif.study.check.check import check
from whatif.study.file.reading import read_text
from whatif.telling.afterwards import afterwards_sentences


def test_hours_in_cut_are_foretold_with_their_ranges() -> None:
    """One part of 30 min, ten a week, three hours a week on two pallets of one machine."""
    text = ONE_SHIFT.replace("weeks = 1", "weeks = 4")
    found = foretold_of_study(check(read_text(text)), "today", run_anew)
    assert found is not None
    assert found.machines == 1
    assert 0 < found.week[0] <= found.hours <= found.week[1]
    assert found.week[0] <= found.mean[0] <= found.mean[1] <= found.week[1]
    # As hour meters are held against: in cut of three hours of shift and what runs after it.
    assert found.powered is not None
    assert found.hours <= 5


FORETOLD = Foretold("new", "New", 100.0, (90.0, 110.0), (95.0, 105.0), 50.0, 2)
WEEKS = (
    MeasuredWeek(date(2025, 3, 3), 180, 98),
    MeasuredWeek(date(2025, 3, 10), 180, 70, unknown=20),
    MeasuredWeek(date(2025, 3, 17), 180, 112),
)


def test_the_largest_difference_is_told_in_words() -> None:
    found = Afterwards(FORETOLD, date(2025, 3, 1), 2, WEEKS)
    assert found.furthest == WEEKS[1]
    assert [found.lies(week) for week in WEEKS] == [0, -1, 1]
    said = " ".join(afterwards_sentences(found))
    assert "93.3 h in cut a week, -6.7 h against what was predicted, -6.7 %" in said
    assert "outside the likely range of the mean, 95.0 to 105.0 h" in said
    assert "2025-03-10 (week 11) the spindles cut 30.0 h less than predicted (70.0 h)" in said
    assert "Of 20.0 h in these weeks nobody knows" in said
    assert "51.9 % were in cut, and 50.0 %" in said
    assert "readings of" not in said
    other = afterwards_sentences(replace(found, machines=1))
    assert "There are readings of 1 machine, and the scenario has 2" in other[-1]


def test_whole_weeks_begin_with_the_first_monday() -> None:
    text = (
        "date,machine,switched on,in cut\n"
        "2025-02-26,a,0,0\n2025-03-10,a,120,60\n2025-03-19,a,210,150\n"
    )
    understood = Understood(("it",), machines_in(read_table(text.encode(), "it", UTC)), UTC)
    found = list(whole_weeks(understood, date(2025, 3, 1)))
    assert [day for day, _ in found] == [date(2025, 3, 3), date(2025, 3, 10)]
    assert found[0][1].cut == pytest.approx(60 / 12 * 7)
    assert found[1][1].cut == pytest.approx(90 / 9 * 7)
    monday = datetime(2025, 3, 3, tzinfo=UTC)
    assert begin_of(monday.date(), UTC) == int(monday.timestamp()) * SECOND
    assert [day for day, _ in whole_weeks(understood, date(2025, 3, 4))] == [date(2025, 3, 10)]
    assert not list(whole_weeks(understood, date(2025, 3, 11)))
    assert HOUR == 3600 * SECOND
