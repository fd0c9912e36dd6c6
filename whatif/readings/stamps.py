"""Moments as documents write them, in nanoseconds since 1970 in UTC: exact, whatever they have.

A stamp of the open standard has up to seven decimals of a second and more (ISO 8601; MTConnect,
ANSI/MTC1.4, attribute ``timestamp``), which no floating point and no `datetime` keeps.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import Final

SECOND: Final = 1_000_000_000
HOUR: Final = 3600 * SECOND
DAY: Final = 24 * HOUR
WEEK: Final = 7 * DAY

_STAMP: Final = re.compile(
    r"(\d{4})-(\d\d)-(\d\d)"
    r"(?:[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,](\d{1,18}))?)?)?"
    r" ?(Z|[+-]\d\d:?\d\d)?",
)
_DOTTED: Final = re.compile(r"(\d\d?)\.(\d\d?)\.(\d{4})(?: (\d\d?):(\d\d))?")
_NANO_DIGITS: Final = 9


def stamp_of(text: str, zone: tzinfo | None = UTC) -> int | None:
    """A moment as ISO 8601 has it; one without a zone is of ``zone``, None for this computer's.

    None where it is no moment. What is finer than a nanosecond is cut off.
    """
    found = _STAMP.fullmatch(text.strip())
    if found is None:
        return None
    *numbers, decimals, offset = found.groups()
    try:
        at = datetime(*(int(number or 0) for number in numbers))  # type: ignore[arg-type]  # six
        if offset is None:
            at = at.astimezone() if zone is None else at.replace(tzinfo=zone)
        else:
            at = at.replace(tzinfo=UTC) - _offset(offset)
    except (ValueError, OverflowError, OSError):
        return None
    return _whole(at) * SECOND + int((decimals or "")[:_NANO_DIGITS].ljust(_NANO_DIGITS, "0"))


def _offset(text: str) -> timedelta:
    if text == "Z":
        return timedelta()
    hours, minutes = int(text[1:3]), int(text[-2:])
    if minutes > 59:
        raise ValueError(text)
    return (1 if text[0] == "+" else -1) * timedelta(hours=hours, minutes=minutes)


def _whole(at: datetime) -> int:
    """Whole seconds since 1970; by whole numbers, since `timestamp` is a floating point."""
    since = at - datetime(1970, 1, 1, tzinfo=UTC)
    return since.days * 86400 + since.seconds


def typed_stamp(text: str, zone: tzinfo | None) -> int | None:
    """A moment as people type it too: with dots, the day comes first; slashes may mean either."""
    dotted = _DOTTED.fullmatch(text.strip())
    if dotted is None:
        return stamp_of(text, zone)
    day, month, year, hour, minute = dotted.groups()
    clock = f"{int(hour or 0):02d}:{minute or '00'}"
    return stamp_of(f"{year}-{int(month):02d}-{int(day):02d} {clock}", zone)


def local_time(stamp: int, zone: tzinfo | None) -> datetime:
    """A moment by the clock of a zone, None for this computer's; whole seconds, down."""
    at = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=stamp // SECOND)
    return at.astimezone(zone)


def day_of(stamp: int, zone: tzinfo | None) -> date:
    """The calendar day of a moment."""
    return local_time(stamp, zone).date()


def begin_of(day: date, zone: tzinfo | None) -> int:
    """The moment at which a day begins."""
    midnight = datetime(day.year, day.month, day.day)
    at = midnight.astimezone() if zone is None else midnight.replace(tzinfo=zone)
    return _whole(at.astimezone(UTC)) * SECOND


class Borders:
    """Moments one after the other, and between which of them a moment lies."""

    def __init__(self, moments: list[int]) -> None:
        self.moments = moments

    def place(self, moment: int) -> int:
        """The stretch, from 0, that a moment lies in or begins."""
        return bisect_right(self.moments, moment) - 1
