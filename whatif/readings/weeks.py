"""Whole calendar weeks of readings, and the table that is kept beside a study."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

from whatif.readings.stamps import begin_of
from whatif.readings.understood import ClockHours, Understood

MOST_WEEKS_READ = 520
"""Whole weeks that are told at most."""


def whole_weeks(understood: Understood, since: date) -> Iterator[tuple[date, ClockHours]]:
    """Each Monday from a day on whose week all machines' readings cover, with their hours."""
    period = understood.period
    if period is None:
        return
    monday = since + timedelta(days=-since.weekday() % 7)
    for number in range(MOST_WEEKS_READ):
        day = monday + timedelta(weeks=number)
        try:
            begin = begin_of(day, understood.zone)
            end = begin_of(day + timedelta(weeks=1), understood.zone)
        except OverflowError:
            return
        if end > period[1]:
            return
        if begin >= period[0]:
            yield day, understood.in_all(begin, end)


def kept_beside(study: Path) -> Path:
    """Where the readings of a study are kept: "shop.readings.csv" beside "shop.toml"."""
    return study.with_name(f"{study.stem}.readings.csv")
