"""The hours of one shift or more in one answer."""

from __future__ import annotations

import re
from typing import Final

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.raw import Raw
from whatif.study.schema.kinds import DAY
from whatif.study.schema.kinds.kind import Kind
from whatif.study.shifts import Hours

MOST = 3
"""Shifts in one answer."""

_LENGTH: Final = re.compile(r"[0-9.]+\s*(?:h|hrs?|hours?)?")
_TIME: Final = re.compile(r"([0-9]{1,2})(?:[:.h]?([0-9]{2}))?h?(am|pm|a|p)?")


@dataclass(frozen=True)
class ShiftHours(Kind[tuple[Hours, ...]]):
    """Hours such as "06:00-14:00"; one that ends at or before its start ends the next day."""

    @property
    @override
    def allowed(self) -> str:
        return "from-to, such as 06:00-14:30, or more shifts with a comma between them"

    @override
    def typed(self, text: str) -> Raw:
        # "6:30 - 15:00, 3pm to 11pm" is two.
        tidy = re.sub(r"\s*(?:[-–]|\bto\b)\s*", "-", text.strip().lower())
        tidy = re.sub(r"(?<=[0-9])\s+(?=[a-z])", "", tidy)
        return tuple(span for span in re.split(r"[,;\s]+", tidy) if span)

    @override
    def _read(self, raw: Raw) -> tuple[Hours, ...]:
        spans = raw if isinstance(raw, tuple) else ()
        shifts = tuple(self._one(str(span)) for span in spans)
        if not 1 <= len(shifts) <= MOST:
            raise self.refuse(f"there are {len(shifts)} shifts in it, and 1 to {MOST} are taken")
        if len({shift.start for shift in shifts}) < len(shifts):
            raise self.refuse("two shifts in it begin at the same time")
        return shifts

    def _one(self, span: str) -> Hours:
        first, dash, last = span.partition("-")
        if _LENGTH.fullmatch(span):
            raise self.refuse("that is how long it lasts, not from when to when")
        if not dash or not first or not last:
            raise self.refuse("a shift has two times, from when and to when")
        start, end = self._clock(first), self._clock(last)
        return Hours.between(start, end)

    def _clock(self, text: str) -> int:
        # An hour alone is how a shift is talked of: "6-14", "7am-3:30pm".
        time = _TIME.fullmatch(text)
        hour, minute = (int(time[1]), int(time[2] or 0)) if time else (99, 0)
        half = time[3] if time else None
        if half and not 1 <= hour <= 12:
            hour = 99
        elif half:
            hour = hour % 12 + (12 if half.startswith("p") else 0)
        if hour * 60 + minute > DAY // 60 or minute > 59:
            raise self.refuse(f'"{text}" is no time of day')
        return (hour * 60 + minute) * 60 % DAY
