"""When shifts run: from when to when on a day, and what of the week they cover."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Final, TypeAlias

from whatif.records import dataclass
from whatif.study.resolve import Resolved
from whatif.study.schema.kinds import DAY, DAYS, WEEK

_STEP: Final = 5 * 60
"""Seconds to which the beginning of a break is rounded down, as on any shift plan."""

Span: TypeAlias = tuple[int, int]
"""From when, and for how long, in seconds of the week; it may run on into Monday."""


@dataclass(frozen=True, slots=True)
class Hours:
    """A shift's start and length in seconds."""

    start: int
    length: int

    @classmethod
    def between(cls, start: int, end: int) -> Hours:
        """From a time of day to another one, on the next day where that is not later."""
        return cls(start, (end - start) % DAY or DAY)

    @property
    def end(self) -> int:
        """The time of day at which it ends, in seconds since midnight."""
        return (self.start + self.length) % DAY

    def longer(self, seconds: int) -> Hours:
        """The same shift, ending later."""
        return Hours(self.start, self.length + seconds)

    def next(self) -> Hours:
        """As long a shift right after it."""
        return Hours(self.end, self.length)

    def middle(self, seconds: int) -> str:
        """A break of so many seconds in the middle: "10:20-11:05"."""
        begin = (self.length - seconds) // 2
        begin = self.start + begin - begin % _STEP
        return f"{clock(begin)}-{clock(begin + seconds)}"

    def on(self, days: Collection[str]) -> list[Span]:
        """The shift on each of some days, such as "mon"."""
        return [(DAYS.index(day) * DAY + self.start, self.length) for day in days]


def hours_of(resolved: Resolved, shift: str) -> Hours | None:
    """The hours of a shift that holds in a scenario; None where they cannot be read."""
    start, end = (resolved.value("shift", shift, key) for key in ("start", "end"))
    return None if start is None or end is None else Hours.between(start, end)


def spans_of(resolved: Resolved) -> list[Span] | None:
    """All shifts in use in a scenario; None where one cannot be read."""
    spans: list[Span] = []
    for shift in resolved.in_use("shift"):
        hours, days = hours_of(resolved, shift), resolved.value("shift", shift, "days")
        if hours is None or days is None:
            return None
        spans += hours.on(days)
    return spans


def covered(spans: Iterable[Span]) -> list[tuple[int, int]]:
    """When some shift runs, breaks included: (from, to) in seconds of the week, merged."""
    cut: list[tuple[int, int]] = []
    for begin, length in spans:
        cut.append((begin, min(begin + length, WEEK)))
        if begin + length > WEEK:
            cut.append((0, begin + length - WEEK))
    merged: list[tuple[int, int]] = []
    for start, end in sorted(cut):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end))
        else:
            merged.append((start, end))
    return merged


def busiest_day(spans: Iterable[Span]) -> int:
    """Seconds of the busiest calendar day that some shift covers (rule `said.hours`)."""
    merged = covered(spans)
    return max(
        sum(max(0, min(end, midnight + DAY) - max(start, midnight)) for start, end in merged)
        for midnight in range(0, WEEK, DAY)
    )


def clock(seconds: int) -> str:
    """A time of day as the file has it: "06:30"."""
    minutes = seconds % DAY // 60
    return f"{minutes // 60:02}:{minutes % 60:02}"
