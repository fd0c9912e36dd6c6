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
from whatif.study.schema.kinds.plain import (
    Choice,
    Count,
    CountOr,
    Currency,
    Flag,
    Id,
    Ids,
    Number,
    Several,
    Text,
)
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
    "CountOr",
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
    "Several",
    "Text",
    "Time",
    "TimeOr",
    "WeekMoment",
]
