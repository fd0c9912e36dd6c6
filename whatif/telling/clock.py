"""Days of the week, hours of the clock and lengths of time as people read them."""

from __future__ import annotations

from whatif.cell.model import DAY, MINUTE, WEEK
from whatif.units import Dimension, show

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


def duration_text(seconds: float) -> str:
    """A length of time in the units that its size calls for: "49 s", "22 min 27 s"."""
    return show(seconds, Dimension.TIME, "metric")
