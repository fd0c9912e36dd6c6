"""Every figure of the results accounted for: formula, numbers, their origins, a pencil check.

A figure's id is its place in the JSON of ``compare``, below "simulated" where it is there
("spindle_hours.total", "fit.body.mill"); what is below a figure there (a layout below its fit) is
accounted for with it. A new figure is one row here, with the function that works it out, and one
row of words in `whatif.telling.account.sentences`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Final

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
from whatif.answers.account.account import Account, Figure, Worked, nothing
from whatif.answers.account.case import Case
from whatif.answers.answer import Comparison
from whatif.answers.limits import HeldBack
from whatif.answers.orders.rush import RushArrival
from whatif.records import dataclass
from whatif.study.check.check import Checked
from whatif.study.refused import FIGURE, NotThere, Refused

if TYPE_CHECKING:
    from whatif.answers.ranks import Range

# -- the table -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Family:
    """Figures of one theme.

    Attributes:
        at: where they stand, from a `Case` on, with the asterisks of the family's id.
        rules: anchors of the rules of the cell that they follow.
    """

    at: str
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FigureRow:
    """Figures of a family that differ only in what the study names.

    Attributes:
        title: with {0}, {1}, ... for those names.
        unit: {worth} in it is the unit of output.
        account: how one of them is worked out.
        at: where the value stands below the family's, where it is not what the id ends with.
        told: more names for the title and the meaning, from the name in the id.
    """

    title: str
    unit: str
    account: Callable[[Case, Figure], Worked]
    digits: int = 1
    at: str = ""
    told: Callable[[Case, str], tuple[str, ...]] | None = None


ITSELF: Final = "itself"
"""What a row's id ends with whose figure is the family: it has no others, or none in a study."""


def _none(title: str, why: str, unit: str = "") -> FigureRow:
    """A family whose figures there are none of; ``why`` is the id of a note."""
    return FigureRow(title, unit, lambda case, of: nothing(why))


_GAINS = {
    "saleable": "saleable output",
    "output": "output",
    "spindle_hours": "spindle hours",
    "per_paid_hour": "output per paid hour",
    "per_floor_area": "spindle hours per floor area",
}
_RUSH = {
    "hours": ("off after", "h"),
    "lost_spindle_hours": ("other work loses", "spindle h"),
    "lost_contribution": ("it costs other work", "{worth}"),
}
_RUSH_ENDS = {
    "": "",
    ".median": ", the median of all attended hours",
    ".worst": ", the worst of all attended hours",
}
"""One arrival has its figures; one at any hour has the median and the worst of each."""

TABLE: Final[Mapping[str, Family | FigureRow]] = {
    "gain_percent": Family("answer.gains", ("results.gains", "results.saleable", "results.worth")),
    **{
        f"gain_percent.{key}": FigureRow(f"gain in {what}", "%", gains.gain)
        for key, what in _GAINS.items()
    },
    "likely_percent": Family("answer.likely", ("likely.range", "likely.draw", "likely.difference")),
    "likely_percent.itself": _none("likely range of the gains", "no range yet", "%"),
    **{
        f"likely_percent.{key}": FigureRow(f"likely range of the gain in {what}", "%", gains.likely)
        for key, what in _GAINS.items()
    },
    "spindle_hours": Family("figures.spindle", ("results.hours", "calendar.attended")),
    "spindle_hours.total": FigureRow("spindle hours", "h a week", hours.all_hours),
    "spindle_hours.attended": FigureRow("spindle hours, attended", "h a week", hours.of_mode),
    "spindle_hours.breaks": FigureRow("spindle hours, on breaks", "h a week", hours.of_mode),
    "spindle_hours.after_hours": FigureRow("spindle hours, after hours", "h a week", hours.of_mode),
    "hours_by_state": Family("figures.by_state", ("states", "states.sum")),
    "hours_by_state.*": FigureRow("{1}", "h a week", hours.state, told=hours.state_names),
    "utilization_percent": Family("figures.utilization", ("results.utilization",)),
    "utilization_percent.of_shift": FigureRow(
        "in cut by day and night, as a share of shift hours", "%", hours.share
    ),
    "utilization_percent.of_powered": FigureRow("in cut, over powered hours", "%", hours.share),
    "utilization_percent.of_week": FigureRow("in cut, over the whole week", "%", hours.share),
    "simulated": Family("figures", ("results.window",)),
    "simulated.itself": _none("what the simulation finds", "no parts"),
    "weeks": Family("figures.weeks", ("results.window",)),
    "weeks.itself": FigureRow("weeks measured", "weeks", hours.weeks, 0),
    "limit": Family("answer.held_back", ("limits.held-back",)),
    "limit.itself": FigureRow("limited by", "", hours.limit),
    "band": Family("answer.band", ("results.runs", "stops.luck")),
    "band.itself": FigureRow("spindle hours, in 8 of 10 runs", "h a week", hours.band),
    "indicators_percent": Family("indicators", ("results.indicators",)),
    "indicators_percent.itself": _none("indicators as in ISO 22400-2", "not simulated"),
    "indicators_percent.*": FigureRow(
        "{1}", "%", indicators.indicator, at="*.percent", told=indicators.names
    ),
    "pieces": Family("figures.pieces", ("results.pieces",)),
    "pieces.*": FigureRow("good pieces: {0}", "pieces a week", pieces.pieces),
    "demand_met_percent": Family("figures.demand_met", ("results.demand", "orders.due")),
    "demand_met_percent.*": FigureRow("demand met: {0}", "%", pieces.demand),
    "could_make_percent": Family("answer.could_make", ("results.could-make", "orders.open")),
    "could_make_percent.itself": FigureRow(
        "could make at most, of the demand", "%", gains.made_at_most
    ),
    "people_hours": Family("figures.people", ("results.people", "people.free")),
    "people_hours.paid": FigureRow("people paid", "h a week", people.by_shifts),
    "people_hours.on_duty": FigureRow("people on duty", "h a week", people.by_shifts),
    "people_hours.busy": FigureRow("people busy", "h a week", people.busy),
    "people_hours.free_stretches": FigureRow(
        "people free, in stretches of half an hour and more", "h a week", people.free
    ),
    "fit": Family("plan.fits", ("fit.load", "fit.face", "fit.count", "fit.permission")),
    "fit.*.*": FigureRow("fit: {0} on {1}", "pieces per load", fit.fits, 0, "*.*.per_pallet"),
    "money": Family(
        "answer.money",
        ("money.year", "money.capital", "money.payback", "money.ramp", "money.worth"),
    ),
    "money.itself": _none("money", "no contribution"),
    "money.year": FigureRow("yearly result", "{worth} a year", money.year, 0),
    "money.year_gain": FigureRow("yearly gain", "{worth} a year", money.year_gain, 0),
    "money.capital": FigureRow("investment against today", "{worth}", money.capital, 0),
    "money.payback_years": FigureRow("payback", "years", money.paid_back),
    "money.net_present_value": FigureRow("net present value", "{worth}", money.worth_today, 0),
    "money.rate_of_return_percent": FigureRow("rate of return", "% a year", money.rate_by_trying),
    "orders.*": Family(
        "answer.orders.*", ("promises.off", "promises.runs", "promises.loads", "orders.real")
    ),
    "orders.*.first_off": FigureRow("order {0}: first piece off", "h", orders.order),
    "orders.*.last_off": FigureRow("order {0}: last piece off", "h", orders.order),
    "orders.*.late_hours": FigureRow("order {0}: late", "h", orders.order),
    "orders.*.on_time_percent": FigureRow("order {0}: odds to be in time", "%", orders.odds),
    "orders.*.worst_last_off": FigureRow(
        "order {0}: last piece off, worst run", "h", orders.worst_order
    ),
    "orders.*.worst_late_hours": FigureRow("order {0}: late, worst run", "h", orders.worst_order),
    "rush.*": Family("answer.rush.*", ("rush.trial", "rush.result", "rush.range")),
    "rush.*.itself": FigureRow("rush {0}", "", orders.no_rush),
    **{
        f"rush.*.{key}{end}": FigureRow(
            f"rush {{0}}: {what}{which}", unit, orders.rush, at=f"{end}.{key}".lstrip(".")
        )
        for key, (what, unit) in _RUSH.items()
        for end, which in _RUSH_ENDS.items()
    },
    "said": Family("answer.said", ("said.hours", "said.gain", "said.against")),
    "said.itself": _none("what is said", "nothing said"),
    "said.hours_per_day": FigureRow("spindle hours said", "h a day", said.said_hours),
    "said.gain_percent": FigureRow("gain that is said", "%", said.said_gain, at="gain"),
    "hour_meters": Family("hour_meters", ("meters.share", "meters.gap")),
    "hour_meters.itself": _none("hour meters", "no meters"),
    "hour_meters.utilization_percent": FigureRow(
        "in cut, by the hour meters", "%", said.share_by_meters
    ),
    "hour_meters.gain_range_percent": FigureRow(
        "gain however the meters' gap is read", "%", said.gain_range
    ),
}
"""Each family by what its ids begin with, and below it its figures by their ids; an asterisk
stands for what the study names."""


def rows_of(family: str) -> dict[str, FigureRow]:
    """The figures of a family by what their ids end with."""
    return {
        id_.removeprefix(f"{family}."): row
        for id_, row in TABLE.items()
        if isinstance(row, FigureRow) and id_.startswith(f"{family}.")
    }


FAMILIES: Final = tuple(
    (id_, family, rows_of(id_)) for id_, family in TABLE.items() if isinstance(family, Family)
)

# -- the figures of a scenario ---------------------------------------------------------------

_ROOT = "simulated."
"""What an id leaves out of its place in the JSON; it may be written all the same."""

_ALIKE = 0.5
"""Share of its letters from which an id is like what was asked for."""


def _figures(case: Case) -> Iterator[tuple[Family, FigureRow, Figure]]:
    """The figures of a scenario with their rows, in the order of the table."""
    for id_, family, rows in FAMILIES:
        for names, found in _found(case, family.at):
            for key, row in rows.items():
                at = "" if key == ITSELF else row.at or key
                for more, value in _found(found, at):
                    if value is None or isinstance(value, int | float | tuple | HeldBack):
                        yield family, row, _figure(case, id_, key, row, (*names, *more), value)


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


def _figure(
    case: Case, family: str, key: str, row: FigureRow, names: tuple[str, ...], value: Any
) -> Figure:
    id_ = f"{family}.{key}".removesuffix(f".{ITSELF}").replace("*", "{}").format(*names)
    if row.told is not None:
        names = (*names, *row.told(case, *names))
    is_gain = family == "gain_percent"
    return Figure(
        id_,
        row.title.format(*names),
        row.unit.format(worth=case.worth_unit),
        float(value) if isinstance(value, int) else value,
        row.digits,
        key,
        names,
        case.answer.range_of(key) if is_gain else _rush_range(case, family, key, names),
        (is_gain or key == "gain_range_percent") and case.is_reference,
        getattr(case.answer.gains, key, None) if family == "likely_percent" else None,
    )


def _rush_range(case: Case, family: str, key: str, names: Sequence[str]) -> Range | None:
    """The likely range of a figure of a rush order at one hour; None of all others."""
    found = case.answer.rush.get(names[0]) if family == "rush.*" and names else None
    if not isinstance(found, RushArrival) or found.likely is None:
        return None
    likely: Range | None = getattr(found.likely, key, None)
    return likely


def figures(found: Comparison, checked: Checked, scenario: str) -> list[Figure]:
    """The figures of a scenario, in the order of the families; KeyError for no such scenario."""
    return list(_case(found, checked, scenario).listed.values())


def explain(found: Comparison, checked: Checked, scenario: str, figure: str) -> Account:
    """Account for one figure of a scenario.

    Args:
        figure: its id, or its name in the tables.
        found: the study answered; what has not been worked out in it is told as such.
        checked: the check of the same study, which has the values' origins.

    Raises:
        KeyError: there is no such scenario.
        Refused: the scenario has no such figure.
    """
    case = _case(found, checked, scenario)
    family, row, of = _asked(case, figure)
    return Account(scenario, case.title, of, row.account(case, of), family.rules)


def named(found: Comparison, checked: Checked, scenario: str, figure: str) -> Figure:
    """The figure of a scenario that :func:`explain` accounts for; it raises the same."""
    return _asked(_case(found, checked, scenario), figure)[2]


def _asked(case: Case, figure: str) -> tuple[Family, FigureRow, Figure]:
    wanted = figure.removeprefix(_ROOT)
    known: list[str] = []
    for family, row, of in _figures(case):
        if wanted == of.id or wanted.startswith(f"{of.id}.") or _is_title(of, wanted):
            return family, row, of
        known.append(of.id)
    raise Refused(NotThere(FIGURE, figure, case.title, _nearest(wanted, known), tuple(known)))


def _is_title(figure: Figure, wanted: str) -> bool:
    """Whether a figure is asked for by its name in the tables; what leads up to it may be left."""
    title, asked = figure.title.lower(), wanted.lower()
    return asked == title or title.endswith(f": {asked}")


def _case(found: Comparison, checked: Checked, scenario: str) -> Case:
    if scenario not in found.answers:
        raise KeyError(scenario)
    return Case(found, checked, scenario, lambda case: (of for _, _, of in _figures(case)))


def _nearest(asked: str, known: list[str]) -> tuple[str, ...]:
    """Up to three ids that are like what was asked for, or that stand below or at its end."""
    below = [id_ for id_ in known if id_.startswith(asked) or id_.endswith(f".{asked}")]
    if not below:
        from difflib import get_close_matches  # only now: an id is rarely misspelled

        below = get_close_matches(asked.lower(), known, 3, _ALIKE)
    return tuple(below[:3])
