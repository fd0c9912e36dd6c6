"""Amounts, lists, days and hours of the clock as people read them."""

from __future__ import annotations

from collections.abc import Sequence
from math import copysign

from whatif.answers.gains import is_difference
from whatif.cell.model import DAY, MINUTE, WEEK

_SPACE = "\u00a0"
"""Between thousands: a space, as ISO 80000-1 has it, since a comma or a point is the decimal sign
of one half of the world or the other. It does not break, so that an amount stays in one line."""


NOTHING = "-"
"""In place of a figure that there is not."""

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


def gain_text(gain: float | None, grain: float | None) -> str:
    """A gain in percent with its sign; one smaller than its grain is no difference."""
    if gain is None:
        return NOTHING
    if not is_difference(gain, grain):
        return "no difference"
    return percent_text(gain)


def percent_text(gain: float) -> str:
    """A percentage with its sign and as many digits as it takes not to read "-0.0 %"."""
    for digits in (1, 2, 3):
        text = signed(gain, digits)
        if float(text):
            return f"{text} %"
    return "0.0 %"


def whole_percent_text(gain: float) -> str:
    """A percentage without its tenth, which is for tables, unless there is nothing else to it."""
    return percent_text(gain) if abs(gain) < 1 else f"{signed(gain, 0)} %"


def number(value: float | None, digits: int = 1) -> str:
    """A plain number, or a dash where there is none."""
    return NOTHING if value is None else rounded(value, digits)


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
