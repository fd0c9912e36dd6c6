"""Every kind of value that a study file holds (rule `study.ranges`)."""

from whatif.study.schema.kinds.calendar import (
    ANY_HOUR,
    DAY,
    DAYS,
    WEEK,
    Breaks,
    Clock,
    Days,
    Moment,
    WeekMoment,
)
from whatif.study.schema.kinds.kind import Kind, KindError
from whatif.study.schema.kinds.plain import Choice, Count, Currency, Flag, Id, Ids, Number, Text
from whatif.study.schema.kinds.quantity import Area, Length, Lengths, Mass, Percent, Time, TimeOr

__all__ = [
    "ANY_HOUR",
    "DAY",
    "DAYS",
    "WEEK",
    "Area",
    "Breaks",
    "Choice",
    "Clock",
    "Count",
    "Currency",
    "Days",
    "Flag",
    "Id",
    "Ids",
    "Kind",
    "KindError",
    "Length",
    "Lengths",
    "Mass",
    "Moment",
    "Number",
    "Percent",
    "Text",
    "Time",
    "TimeOr",
    "WeekMoment",
]
