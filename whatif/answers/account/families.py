"""Every figure of the results, one row each: its id, value and unit, rules, and its account.

A figure's id is its place in the JSON of ``compare``, below "simulated" where it is there
("spindle_hours.total", "fit.body.mill"); what is below a figure there (a layout below its fit) is
accounted for with it. A new figure is one row here and one of words in
`whatif.telling.account.sentences`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from whatif.answers.account import (
    fit,
    gains,
    hours,
    indicators,
    money,
    orders,
    people,
    pieces,
    said,
)
from whatif.answers.account.account import Figure, Worked, nothing
from whatif.answers.account.case import Case
from whatif.answers.limits import HeldBack


@dataclass(frozen=True, slots=True)
class FigureRow:
    """Figures that differ only in what the study names.

    Attributes:
        title: with {0}, {1}, ... for those names.
        unit: {worth} in it is the unit of output.
        account: how one of them is worked out.
        at: where the value stands below the family's, where it is not the row's own key.
        told: more names for the title and the meaning, from the name in the id.
    """

    title: str
    unit: str
    account: Callable[[Case, Figure], Worked]
    digits: int = 1
    at: str = ""
    told: Callable[[Case, str], tuple[str, ...]] | None = None


@dataclass(frozen=True, slots=True)
class Family:
    """Figures of one theme.

    Attributes:
        id: what their ids begin with; an asterisk stands for what the study names.
        at: where they stand, from a `Case` on, with the same asterisks.
        rules: anchors of the rules of the cell that they follow.
        rows: by what their ids end with, "" for the family where there is none of its figures.
    """

    id: str
    at: str
    rules: tuple[str, ...]
    rows: Mapping[str, FigureRow]


def _none(title: str, why: str, unit: str = "") -> FigureRow:
    """A family whose figures there are none of; ``why`` is the id of a note."""
    return FigureRow(title, unit, lambda case, of: nothing(why))


_GAINS = {
    "saleable": "saleable output",
    "output": "output",
    "spindle_hours": "spindle hours",
    "per_paid_hour": "output a paid hour",
    "per_floor_area": "spindle hours a floor area",
}
_RUSH = {
    "hours": ("off after", "h"),
    "lost_spindle_hours": ("other work loses", "spindle h"),
    "lost_contribution": ("it must at least bring", "{worth}"),
}
_RUSH_ENDS = {
    "": "",
    ".median": ", the median of all attended hours",
    ".worst": ", the worst of all attended hours",
}
"""One arrival has its figures; one at any hour has the median and the worst of each."""

FAMILIES: Final = (
    Family(
        "gain_percent",
        "answer.gains",
        ("results.gains", "results.saleable", "results.worth"),
        {key: FigureRow(f"gain in {what}", "%", gains.gain) for key, what in _GAINS.items()},
    ),
    Family(
        "grain_percent",
        "answer.grain",
        ("grain.find", "grain.difference"),
        {"": _none("grain of the gains", "no grain yet", "%")}
        | {
            key: FigureRow(
                f"grain of the gain in {what}", "percentage points", gains.grain, digits=2
            )
            for key, what in _GAINS.items()
        },
    ),
    Family(
        "spindle_hours",
        "figures.spindle",
        ("results.hours", "calendar.attended"),
        {
            "total": FigureRow("spindle hours", "h a week", hours.all_hours),
            "attended": FigureRow("spindle hours, attended", "h a week", hours.hours_of_mode),
            "breaks": FigureRow("spindle hours, on breaks", "h a week", hours.hours_of_mode),
            "after_hours": FigureRow("spindle hours, after hours", "h a week", hours.hours_of_mode),
        },
    ),
    Family(
        "hours_by_state",
        "figures.by_state",
        ("states", "states.sum"),
        {"*": FigureRow("{1}", "h a week", hours.state, told=hours.state_names)},
    ),
    Family(
        "utilization_percent",
        "figures.utilization",
        ("results.utilization",),
        {
            "of_shift": FigureRow("in cut, nights too, over shift hours", "%", hours.share),
            "of_powered": FigureRow("in cut, over powered hours", "%", hours.share),
            "of_week": FigureRow("in cut, over the whole week", "%", hours.share),
        },
    ),
    Family(
        "simulated",
        "figures",
        ("results.window",),
        {"": _none("what the simulation finds", "no parts")},
    ),
    Family(
        "weeks",
        "figures.weeks",
        ("results.window",),
        {"": FigureRow("weeks measured", "weeks", hours.weeks, 0)},
    ),
    Family(
        "limit",
        "answer.held_back",
        ("limits.held-back",),
        {"": FigureRow("held back by", "", hours.limit)},
    ),
    Family(
        "band",
        "answer.band",
        ("results.runs", "stops.luck"),
        {"": FigureRow("spindle hours, in 8 of 10 runs", "h a week", hours.band)},
    ),
    Family(
        "indicators_percent",
        "indicators",
        ("results.indicators",),
        {
            "": _none("indicators as in ISO 22400-2", "not simulated"),
            "*": FigureRow("{1}", "%", indicators.indicator, at="*.percent", told=indicators.names),
        },
    ),
    Family(
        "pieces",
        "figures.pieces",
        ("results.pieces",),
        {"*": FigureRow("good pieces: {0}", "pieces a week", pieces.pieces)},
    ),
    Family(
        "demand_met_percent",
        "figures.demand_met",
        ("results.demand", "orders.due"),
        {"*": FigureRow("demand met: {0}", "%", pieces.demand)},
    ),
    Family(
        "people_hours",
        "figures.people",
        ("results.people", "people.free"),
        {
            "paid": FigureRow("people paid", "h a week", people.by_shifts),
            "on_duty": FigureRow("people on duty", "h a week", people.by_shifts),
            "busy": FigureRow("people busy", "h a week", people.busy),
            "free_stretches": FigureRow(
                "people free, half hours and more", "h a week", people.free
            ),
        },
    ),
    Family(
        "fit",
        "plan.fits",
        ("fit.load", "fit.face", "fit.count", "fit.permission"),
        {
            "*.*": FigureRow(
                "fit: {0} on {1}", "pieces a load", fit.fits, digits=0, at="*.*.per_pallet"
            )
        },
    ),
    Family(
        "money",
        "answer.money",
        ("money.year", "money.capital", "money.payback"),
        {
            "": _none("money", "no contribution"),
            "year": FigureRow("contribution less wages and floor", "{worth} a year", money.year, 0),
            "year_gain": FigureRow("gain of it", "{worth} a year", money.year_gain, 0),
            "capital": FigureRow("capital", "{worth}", money.capital, 0),
            "payback_years": FigureRow("payback", "years", money.paid_back),
            "net_present_value": FigureRow(
                "net present value", "{worth}", money.worth_today, digits=0
            ),
            "rate_of_return_percent": FigureRow("rate of return", "% a year", money.rate_by_trying),
        },
    ),
    Family(
        "orders.*",
        "answer.orders.*",
        ("promises.off", "orders.real"),
        {
            "first_off": FigureRow("order {0}: first piece off", "h", orders.order),
            "last_off": FigureRow("order {0}: last piece off", "h", orders.order),
            "late_hours": FigureRow("order {0}: late", "h", orders.order),
        },
    ),
    Family(
        "rush.*",
        "answer.rush.*",
        ("rush.trial", "rush.result"),
        {"": FigureRow("rush {0}", "", orders.no_rush)}
        | {
            f"{key}{end}": FigureRow(
                f"rush {{0}}: {what}{which}", unit, orders.rush, at=f"{end}.{key}".lstrip(".")
            )
            for key, (what, unit) in _RUSH.items()
            for end, which in _RUSH_ENDS.items()
        },
    ),
    Family(
        "claimed",
        "answer.claimed",
        ("said.hours", "said.gain", "said.against"),
        {
            "": _none("what is claimed", "no claim"),
            "hours_per_day": FigureRow("claimed spindle hours", "h a day", said.claimed_hours),
            "gain_percent": FigureRow("claimed gain", "%", said.claimed_gain, at="gain"),
        },
    ),
    Family(
        "hour_meters",
        "hour_meters",
        ("meters.share", "meters.gap"),
        {
            "": _none("hour meters", "no meters"),
            "utilization_percent": FigureRow(
                "in cut, by the hour meters", "%", said.share_by_meters
            ),
            "gain_range_percent": FigureRow(
                "gain, the gap being people or machines", "%", said.gain_range
            ),
        },
    ),
)


def figure_rows(case: Case) -> Iterator[tuple[Family, FigureRow, Figure]]:
    """The figures of a scenario with their rows, in the order of the table."""
    for family in FAMILIES:
        for names, found in _found(case, family.at):
            for key, row in family.rows.items():
                for more, value in _found(found, row.at or key):
                    if value is None or isinstance(value, int | float | tuple | HeldBack):
                        yield family, row, _figure(case, family, key, (*names, *more), value)


def _found(above: Any, at: str) -> Iterator[tuple[tuple[str, ...], Any]]:
    """What stands at a place below something, with the names at its asterisks; maybe nothing."""
    if not at:
        yield (), above
        return
    key, _, rest = at.partition(".")
    if key == "*":
        below = {} if above is None else above
    elif isinstance(above, Mapping):
        below = {key: above[key]}
    else:
        below = {key: getattr(above, key)} if hasattr(above, key) else {}
    for name, each in below.items():
        for names, found in _found(each, rest):
            yield ((name, *names) if key == "*" else names), found


def _figure(case: Case, family: Family, key: str, names: tuple[str, ...], value: Any) -> Figure:
    row = family.rows[key]
    id_ = f"{family.id}.{key}".rstrip(".").replace("*", "{}").format(*names)
    if row.told is not None:
        names = (*names, *row.told(case, *names))
    is_gain = family.id == "gain_percent"
    return Figure(
        id_,
        row.title.format(*names),
        row.unit.format(worth=case.worth_unit),
        float(value) if isinstance(value, int) else value,
        row.digits,
        key,
        names,
        getattr(case.answer.grain, key, None) if is_gain else None,
        is_gain and case.is_reference,
    )


def rows_of(theme: str) -> Mapping[str, FigureRow]:
    """The rows of the figures of a theme, without that of a family that has none."""
    family = next(family for family in FAMILIES if family.id == theme)
    return {key: row for key, row in family.rows.items() if key}
