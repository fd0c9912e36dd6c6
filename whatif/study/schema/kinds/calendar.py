"""Kinds of the calendar: days, times of the day, breaks, moments of a week."""

import re
from datetime import date, datetime
from typing import ClassVar, Final

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.raw import Raw, shown
from whatif.study.schema.kinds.kind import NONE_TYPED, Kind, KindError

DAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAY: Final = 86_400
WEEK: Final = 7 * DAY
_SPANS: Final = {
    **dict.fromkeys(("weekdays", "weekday", "workdays"), "mon-fri"),
    **dict.fromkeys(("daily", "all", "everyday"), "mon-sun"),
    **dict.fromkeys(("weekend", "weekends"), "sat-sun"),
}
"""What is said for several days, in an editor."""

ANY_HOUR: Final = "any hour"
LAST_WEEK: Final = 999

_NAMES: Final = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_CLOCK: Final = re.compile(r"([01][0-9]|2[0-3]):([0-5][0-9])")
_BREAK: Final = re.compile(rf"({_CLOCK.pattern})-({_CLOCK.pattern})")
_MOMENT: Final = re.compile(rf"({'|'.join(DAYS)}) ({_CLOCK.pattern})")
_WEEK_MOMENT: Final = re.compile(rf"(?:week ([1-9][0-9]*) )?({_MOMENT.pattern})")
_DATE: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_DOTTED_DATE: Final = re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})")
_TYPED_CLOCK: Final = re.compile(r"([0-9]{1,2})(?:[:.]?([0-5][0-9]))?")


def clock_seconds(text: str) -> int | None:
    """Seconds since midnight of "HH:MM", or None where it is no time of day."""
    clock = _CLOCK.fullmatch(text)
    return int(clock[1]) * 3600 + int(clock[2]) * 60 if clock else None


def _day(word: str) -> str | None:
    """The day a word of an editor means: "mon", "Mon", "monday", "Mo"."""
    word = word.lower().rstrip(".")
    for day, name in zip(DAYS, _NAMES, strict=True):
        if len(word) >= 2 and name.startswith(word):
            return day
    return None


def _clock(word: str) -> str | None:
    """The time of day a word of an editor means: "6:00", "6.00", "600" and "6" are "06:00"."""
    clock = _TYPED_CLOCK.fullmatch(word)
    return f"{int(clock[1]):02}:{clock[2] or '00'}" if clock else None


def _tidy(text: str) -> str:
    """Small letters, single spaces, "06:00" for "6:00" and "600", "mon" for "Monday"."""
    words = text.lower().split()
    return " ".join(
        _day(word) or (None if before == "week" else _clock(word)) or word
        for before, word in zip(("", *words), words, strict=False)
    )


def _in_spans(text: str) -> str:
    """A typed text with "a - b" and "a to b" as "a-b"."""
    # One blank at most in a row: the pattern would go through a long one again from each place.
    return re.sub(r" ?(?:[-–]|\bto\b) ?", "-", " ".join(text.split()))


@dataclass(frozen=True)
class Days(Kind[tuple[str, ...]]):
    """Days of the week, each once, in the order of the week when read.

    `may_be_none`: whether the list may be empty.
    """

    may_be_none: bool = False

    @property
    @override
    def allowed(self) -> str:
        few = "[] for none or " if self.may_be_none else ""
        return f'{few}a list of days, each once, such as ["mon", "tue", "wed", "thu", "fri"]'

    @property
    @override
    def typed_as(self) -> str:
        few = "; or none" if self.may_be_none else ""
        return f"days, each once, such as mon-fri, or mon wed sat{few}"

    @override
    def _read(self, raw: Raw) -> tuple[str, ...]:
        days = self.must_be(tuple, raw, "a list")
        if not days and not self.may_be_none:
            raise self.refuse("there is no day in it")
        for day in days:
            if day not in DAYS:
                raise self.refuse(f"{shown(day)} is none of {', '.join(DAYS)}")
            if days.count(day) > 1:
                raise self.refuse(f"{day} stands in it twice")
        return tuple(day for day in DAYS if day in days)

    @override
    def typed(self, text: str) -> Raw:
        """ "mon-fri sun" is a list of six days."""
        if self.may_be_none and text.strip().lower() in NONE_TYPED:
            return ()
        spans = _in_spans(text.lower())
        words = [word for word in re.split(r"[,;\s]+", spans) if word]
        days: list[str] = []
        for typed in words:
            word = _SPANS.get(typed, typed)
            first, dash, last = word.replace("–", "-").partition("-")
            begin, end = _day(first), _day(last)
            if dash and begin and end:
                start = DAYS.index(begin)
                span = (DAYS.index(end) - start) % 7 + 1
                days.extend(DAYS[(start + step) % 7] for step in range(span))
            else:
                days.append(_day(word) or word)
        return tuple(days) if days else ""

    @override
    def written(self, raw: Raw) -> str:
        """Three days or more in a row as "mon-fri"."""
        if raw == () and self.may_be_none:
            return "none"
        if not isinstance(raw, tuple) or not raw or not all(isinstance(day, str) for day in raw):
            return super().written(raw)
        if not all(day in DAYS for day in raw):
            return " ".join(map(str, raw))
        runs: list[list[str]] = []
        for day in (str(day) for day in raw):
            if runs and DAYS.index(day) == DAYS.index(runs[-1][-1]) + 1:
                runs[-1].append(day)
            else:
                runs.append([day])
        return " ".join(f"{run[0]}-{run[-1]}" if len(run) > 2 else " ".join(run) for run in runs)


class Clock(Kind[int]):
    """A time of the day, in whole seconds since midnight."""

    numeric: ClassVar[bool] = True

    allowed = 'a time of day as "HH:MM", from "00:00" to "23:59"'

    typed_as = "a time of day, such as 06:00"

    @override
    def _read(self, raw: Raw) -> int:
        text = self.must_be(str, raw, "a text")
        seconds = clock_seconds(text)
        if seconds is None:
            midnight = text.strip() == "24:00"
            raise self.refuse('midnight is "00:00"' if midnight else "it is no time of day")
        return seconds

    @override
    def typed(self, text: str) -> Raw:
        """ "6:00" and "600" are "06:00"."""
        return _tidy(text)


class Breaks(Kind[tuple[tuple[int, int], ...]]):
    """Breaks of a shift: where each begins and ends, in seconds since midnight.

    A break that ends at a smaller time of day than it begins goes over midnight.
    """

    allowed = 'a list of breaks, such as ["08:30-08:45", "11:00-11:30"]'

    typed_as = "breaks, such as 08:30-08:45, 11:00-11:30; or none"

    @override
    def _read(self, raw: Raw) -> tuple[tuple[int, int], ...]:
        return tuple(map(self._read_one, self.must_be(tuple, raw, "a list")))

    def _read_one(self, item: Raw) -> tuple[int, int]:
        span = _BREAK.fullmatch(item) if isinstance(item, str) else None
        if span is None:
            raise self.refuse(f'{shown(item)} is no break like "08:30-08:45"')
        begin, end = span[1], span[4]
        if begin == end:
            raise self.refuse(f"the break {item} takes no time")
        return clock_seconds(begin) or 0, clock_seconds(end) or 0

    @override
    def typed(self, text: str) -> Raw:
        """ "none" is the empty list; "830-845" is "08:30-08:45"."""
        if text.strip().lower() in NONE_TYPED:
            return ()
        tidy = _in_spans(text)
        breaks = tuple(
            "-".join(_clock(end) or end for end in word.split("-"))
            for word in re.split(r"[,;\s]+", tidy)
            if word
        )
        return breaks if breaks else ""

    @override
    def written(self, raw: Raw) -> str:
        return "none" if raw == () else self.listed(raw, ", ")

    @override
    def in_short(self, raw: Raw) -> str:
        """Of several all minutes together."""
        try:
            breaks = self.read(raw)
        except KindError:
            return ""
        seconds = sum((end - begin) % DAY for begin, end in breaks)
        return f"in all {seconds // 60} min" if len(breaks) > 1 else ""


class Moment(Kind[int | str]):
    """A moment of the week in seconds from Monday 00:00, or "any hour"."""

    allowed = f'a day and time of day, such as "mon 10:00", or "{ANY_HOUR}"'

    @override
    def _read(self, raw: Raw) -> int | str:
        if raw == ANY_HOUR:
            return ANY_HOUR
        moment = _MOMENT.fullmatch(self.must_be(str, raw, "a text"))
        if moment is None:
            raise self.refuse("it is no moment of a week")
        return _seconds_of_week(moment[1], moment[2])

    @override
    def typed(self, text: str) -> Raw:
        return _tidy(text)


class Date(Kind[date]):
    """A day of the calendar (ISO 8601); TOML's own dates are read too."""

    allowed = 'a date such as "2025-03-31"'

    @override
    def _read(self, raw: Raw) -> date:
        if isinstance(raw, date) and not isinstance(raw, datetime):
            return raw
        text = self.must_be(str, raw, "a date")
        if not _DATE.fullmatch(text):
            raise self.refuse("it is no date")
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise self.refuse("there is no such day") from None

    @override
    def typed(self, text: str) -> Raw:
        dotted = _DOTTED_DATE.fullmatch(text.strip())
        if dotted is None:
            return text.strip()
        return f"{dotted[3]}-{int(dotted[2]):02}-{int(dotted[1]):02}"


class WeekMoment(Kind[int]):
    """A moment counted from Monday 00:00 of the first week measured, in seconds."""

    allowed = 'a moment such as "mon 06:00" (of week 1) or "week 2 wed 12:00"'

    @override
    def _read(self, raw: Raw) -> int:
        moment = _WEEK_MOMENT.fullmatch(self.must_be(str, raw, "a text"))
        if moment is None or len(moment[1] or "") > 9:
            raise self.refuse("it is no moment of a week")
        week = int(moment[1] or 1)
        if week > LAST_WEEK:
            raise self.refuse(f"weeks are counted up to {LAST_WEEK}")
        return (week - 1) * WEEK + _seconds_of_week(moment[3], moment[4])

    @override
    def typed(self, text: str) -> Raw:
        return _tidy(text)


def _seconds_of_week(day: str, clock: str) -> int:
    return DAYS.index(day) * DAY + (clock_seconds(clock) or 0)
