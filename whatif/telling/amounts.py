"""Amounts, lists, days and hours of the clock as people read them."""

from __future__ import annotations

from collections.abc import Sequence
from math import copysign

from whatif.cell.model import DAY, MINUTE, WEEK

_SPACE = "\u00a0"
"""Between thousands: a space, as ISO 80000-1 has it, since a comma or a point is the decimal sign
of one half of the world or the other. It does not break, so that an amount stays in one line."""


_FLOATS = 1e-9
"""What sums of seconds may miss a half by."""


def rounded(value: float, digits: int = 1) -> str:
    """A figure with so many decimals; halves go away from 0, as on paper: 38.75 is 38.8."""
    return f"{_past_half(value):.{digits}f}"


def signed(value: float, digits: int = 1) -> str:
    """The same with its sign, more than nothing too: "+3.1"."""
    return f"{value:+.{digits}f}"


def _past_half(value: float) -> float:
    return value + copysign(_FLOATS, value) if value else value


def grouped(value: float) -> str:
    """A whole amount in groups of three digits: "441 535", "-38 000"."""
    return f"{_past_half(value):,.0f}".replace(",", _SPACE)


def priced(value: float, currency: str) -> str:
    """An amount behind its currency's code (ISO 4217): "EUR 441 535"."""
    return f"{currency}{_SPACE}{grouped(value)}"


def listed(names: Sequence[str]) -> str:
    """Names with commas and an "and": "a, b and c"."""
    return " and ".join([*([", ".join(names[:-1])] if names[1:] else []), *names[-1:]])


# -- days and hours ------------------------------------------------------------------------

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
DAY_NAMES = tuple(name[:3] for name in WEEKDAYS)


def hour_text(second: int) -> str:
    """ "02:10" of a second counted from some Monday 00:00; whole minutes, down."""
    minutes = second % DAY // MINUTE
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def end_text(second: int) -> str:
    """The hour at which something ends: midnight is that of the day which ends then, "24:00"."""
    return hour_text(second) if second % DAY else "24:00"


def clock_text(second: int) -> str:
    """The same with its day: "Tue 02:10"."""
    return f"{day_name(second)} {hour_text(second)}"


def day_name(second: int) -> str:
    """ "Tue" of a second counted from some Monday 00:00."""
    return DAY_NAMES[second % WEEK // DAY]
