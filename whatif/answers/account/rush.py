"""Accounts of rush orders: how soon they are off, and what other work loses."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Check, Figure, Step, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family, figure, nothing
from whatif.answers.account.terms import Expr, Term
from whatif.answers.orders.rush import AnyHour, RushArrival

_TITLES = {
    "hours": ("off after", "h"),
    "lost_spindle_hours": ("other work loses", "spindle h"),
    "lost_contribution": ("it must at least bring", ""),
}
_MEANING = {
    "hours": "Hours from its arrival until its last piece is off.",
    "lost_spindle_hours": "Spindle hours that other work loses in the two weeks after its arrival.",
    "lost_contribution": "Contribution that other work loses in the two weeks after its arrival: "
    "the rush order must bring at least this.",
}
_ENDS = {"median": "the median of all attended hours", "worst": "the worst of all attended hours"}
_TRIED = "tried out in a copy of the run"


def _figures(case: Case) -> Iterator[Figure]:
    for id_, found in case.answer.rush.items():
        if found is None:
            yield figure(f"rush.{id_}", f"rush {id_}", "", None)
            continue
        for key, (title, unit) in _TITLES.items():
            unit = unit or case.worth_unit
            if isinstance(found, RushArrival):
                value = getattr(found, key)
                yield figure(f"rush.{id_}.{key}", f"rush {id_}: {title}", unit, value)
                continue
            for end, words in _ENDS.items():
                value = getattr(getattr(found, end), key)
                title_ = f"rush {id_}: {title}, {words}"
                yield figure(f"rush.{id_}.{key}.{end}", title_, unit, value)


def _account(case: Case, of: Figure) -> Worked:
    id_, *rest = of.id.split(".")[1:]
    found = case.answer.rush[id_]
    if found is None or not rest:
        part = str(case.checked.resolved[case.scenario].raw("rush", id_, "part"))
        why = case.part(part).unmade if any(one.id == part for one in case.plan.parts) else ""
        return nothing(_MEANING["hours"], why or "There is no attended hour at which it can come.")
    key = rest[0]
    meaning = _MEANING[key]
    if of.value is None:
        return nothing(meaning, "It is not off within a year.")
    assert isinstance(of.value, float)
    if isinstance(found, RushArrival):
        line = _one(case, key, found)
    else:
        line = _ranked(case, found, key, rest[1], of.unit)
    said = (*_said(case, id_, key, of.value), *binds.limits(case))
    return Worked(meaning, (line,), said, tuple(_checks(case, id_, key, found, of.value)))


def _one(case: Case, key: str, found: RushArrival) -> Step:
    """One arrival: the run with the order against the run without it."""
    if key == "hours":
        assert found.hours is not None
        days, rest = divmod(found.hours, 24)
        origin = f"from arrival to last piece off, {_TRIED}"
        line = Term("whole days", days, "", origin) * 24 + Term("and hours", rest, "h", origin)
        return step(line, "h")
    if key == "lost_spindle_hours":
        before, lost, unit = found.other_spindle_hours, found.lost_spindle_hours, "spindle h"
    else:
        before, lost, unit = found.other_contribution, found.lost_contribution, case.worth_unit
    without = Term("other work without the rush order", before, unit, "counted over two weeks")
    with_it = Term("other work with it", before - lost, unit, f"the same, {_TRIED}")
    return step(without - with_it, unit)


def _ranked(case: Case, found: AnyHour, key: str, end: str, unit: str) -> Step:
    """The middle or the last of all tried hours, put in order."""
    del case
    tried = sorted(getattr(one, key) for one in found.trials)
    count = len(tried)
    origin = f"{count} attended hours of a week, each {_TRIED}"

    def place(number: int) -> Term:
        return Term(f"number {number + 1} of {count}, sorted", tried[number], unit, origin)

    if end == "worst":
        return step(place(count - 1), unit)
    middle: Expr = place(count // 2)
    if count % 2 == 0:
        middle = (place(count // 2 - 1) + middle) / 2
    return step(middle, unit)


def _said(case: Case, id_: str, key: str, value: float) -> tuple[str, ...]:
    if key == "lost_spindle_hours" and value < 0:
        return (f"Less than nothing is lost: other work gains {-value:.1f} spindle h.",)
    if key != "lost_contribution":
        return ()
    price = case.given("price", case.worth_unit, "rush", id_, "price")
    if not price.number:
        return ("No price of the rush order is entered to hold it against.",)
    which = "more" if price.number >= value else "less"
    return (
        f"The rush order brings {price.number:.0f} {case.worth_unit} ({price.origin}), {which} "
        f"than the {value:.0f} that other work loses.",
    )


def _checks(
    case: Case, id_: str, key: str, found: RushArrival | AnyHour, value: float
) -> Iterator[Check]:
    part = str(case.checked.resolved[case.scenario].raw("rush", id_, "part"))
    ways = case.ways(part)
    if key == "hours" and ways:
        group = min(ways, key=lambda name: ways[name].cycle)
        cycle = case.making(part, "cycle", f"cycle a piece of {part}", "min", group)
        pieces = case.given("pieces", "", "rush", id_, "pieces")
        yield check(
            "All its pieces must be cut, by all machines that may make it at once.",
            pieces * cycle / 60 / case.machines(tuple(ways)),
            "at least",
            value,
            "h",
        )
    if key == "lost_spindle_hours":
        # In two weeks no more can be lost than the machines have hours.
        yield check(
            "No more can be lost in two weeks than all machines have hours.",
            case.machines() * 336,
            "at most",
            value,
            "spindle h",
        )
    if key == "lost_contribution":
        trials = (found,) if isinstance(found, RushArrival) else found.trials
        whole = Term(
            "contribution of other work without it",
            max(one.other_contribution for one in trials),
            case.worth_unit,
            "counted over two weeks"
            + ("" if isinstance(found, RushArrival) else ", the most of any"),
        )
        yield check(
            "No more can be lost than other work would have brought.",
            whole,
            "at most",
            value,
            case.worth_unit,
        )


FAMILIES = (Family(_figures, _account),)
