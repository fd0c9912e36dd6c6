"""Dates in a table, as moments counted from the first week measured."""

import re
from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final

from whatif.study.schema.kinds import DAYS

_ISO: Final = re.compile(r"(?P<y>\d{4})-(?P<m>\d{1,2})-(?P<d>\d{1,2})(?:[T ](?P<clock>.+))?")
_DOTTED: Final = re.compile(
    r"(?P<d>\d{1,2})\.\s?(?P<m>\d{1,2})\.\s?(?P<y>\d{4})(?: (?P<clock>.+))?"
)
_SLASHED: Final = re.compile(r"(?P<a>\d{1,2})/(?P<b>\d{1,2})/(?P<y>\d{4})(?: (?P<clock>.+))?")
_CLOCK: Final = re.compile(r"(\d{1,2}:\d{2})(?::00)?")

DAY_FIRST, MONTH_FIRST = "day first", "month first"


class DateUnclear(ValueError):
    """A date that can be read in two ways."""


def order_in(cells: Iterable[str]) -> str:
    """Whether dates with slashes have the day or the month first; "" where they do not show it."""
    shown = set()
    for cell in cells:
        found = _SLASHED.fullmatch(cell)
        if found and int(found["a"]) > 12:
            shown.add(DAY_FIRST)
        if found and int(found["b"]) > 12:
            shown.add(MONTH_FIRST)
    return shown.pop() if len(shown) == 1 else ""


def date_in(cell: str, order: str) -> tuple[date, str] | None:
    """The date in a cell and the time of day behind it, "" where there is none.

    None where it is no date at all. Raises `DateUnclear`.
    """
    found = _ISO.fullmatch(cell) or _DOTTED.fullmatch(cell)
    if found is not None:
        year, month, day = (int(found[each]) for each in "ymd")
    else:
        found = _SLASHED.fullmatch(cell)
        if found is None:
            return None
        first, second, year = (int(found[each]) for each in "aby")
        if not order and first != second:
            raise DateUnclear
        day, month = (first, second) if order != MONTH_FIRST else (second, first)
    clock = _CLOCK.fullmatch(found["clock"] or "")
    if found["clock"] and clock is None:
        return None
    try:
        return date(year, month, day), clock[1].zfill(5) if clock else ""
    except ValueError:
        return None


def monday_in(text: str) -> date | None:
    """The Monday that is meant by a date (ISO 8601); None where it is none."""
    try:
        found = date.fromisoformat(text.strip())
    except ValueError:
        return None
    return found if found.weekday() == 0 else None


def moment_of_week(day: date, clock: str, week_1: date) -> str | None:
    """A moment as a study has it: "week 2 wed 12:00"; None where it is before week 1."""
    days = (day - week_1) // timedelta(days=1)
    if days < 0:
        return None
    week, weekday = divmod(days, 7)
    return f"week {week + 1} {DAYS[weekday]} {clock}"
