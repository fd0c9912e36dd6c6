"""Accounts of the ISO 22400-2 indicators: which hours of ours are which time of the standard."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Figure, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family, figure, nothing
from whatif.answers.account.terms import Expr, Plain, Term, Total
from whatif.answers.indicators import DELAY, PRODUCTION, SETUP, Times, indicators, times_of
from whatif.answers.states import STATE_ROWS

_SOURCE = "ISO 22400-2:2014, from an open ontology of the standard"


def _figures(case: Case) -> Iterator[Figure]:
    if case.figures is None:
        yield figure("indicators_percent", "indicators as in ISO 22400-2", "", None)
        return
    for key, one in indicators(case.plan, case.figures).items():
        yield figure(f"indicators_percent.{key}", one.name, "%", one.percent)


def _account(case: Case, of: Figure) -> Worked:
    if of.id == "indicators_percent":
        return nothing("Indicators of the machines' week.", "Nothing is simulated.")
    one = indicators(case.plan, case.simulated)[of.id.split(".")[1]]
    meaning = f"The {one.name} of ISO 22400-2: {one.formula}."
    if of.id.endswith("loading_loss_product"):
        meaning = f"The {one.name} (Nakajima's, as reprinted in textbooks): {one.formula}."
    if one.percent is None:
        return nothing(meaning, one.words)
    times = times_of(case.plan, case.simulated)
    line = step(_line(case, times, of.id.split(".")[1]), "%")
    whole = Term("the whole, in percent", 100.0, "%", "plain arithmetic")
    return Worked(
        meaning,
        (line,),
        binds.limits(case),
        (
            check(
                "A share is no more than the whole.",
                whole,
                "at most",
                one.percent,
                "%",
                source="" if of.id.endswith("product") else _SOURCE,
            ),
        ),
    )


def _states(case: Case, states: Iterable[str]) -> list[Expr]:
    hours = case.simulated.by_state
    return [
        Term(
            f"hours {STATE_ROWS[state].label}",
            hours[state],
            "h a week",
            f"see hours_by_state.{state}",
        )
        for state in states
    ]


def _line(case: Case, times: Times, key: str) -> Expr:
    """The formula of one indicator with this scenario's hours in it."""
    in_cycle = Total("in cycle", tuple(_states(case, PRODUCTION)))
    planned = Term("planned machine hours", times.planned, "h a week", case.counted)
    busy = Total("busy: in cycle + setup + delay", tuple(_states(case, PRODUCTION + SETUP + DELAY)))
    people = case.simulated.people
    good = Term("good pieces", times.good, "a week", case.counted)
    made = Term("pieces made", times.made, "a week", case.counted)
    hundred = Plain(100)
    if key == "availability":
        return hundred * in_cycle / planned
    if key == "utilization_efficiency":
        return hundred * in_cycle / busy
    if key == "allocation_efficiency":
        return hundred * busy / planned
    if key == "setup_ratio":
        setup = Total("setup", tuple(_states(case, SETUP)))
        both = Total("in cycle + setup", tuple(_states(case, PRODUCTION + SETUP)))
        return hundred * setup / both
    if key == "technical_efficiency":
        both = Total("in cycle + delay", tuple(_states(case, PRODUCTION + DELAY)))
        return hundred * in_cycle / both
    if key == "worker_efficiency":
        work = Term("hours busy", people.busy, "h a week", "see people_hours.busy")
        return (
            hundred
            * work
            / Term("hours on duty", people.on_duty, "h a week", "see people_hours.on_duty")
        )
    if key == "quality_ratio":
        return hundred * good / made
    down = Term("lost to setups and stops", times.down, "h a week", case.counted)
    uptime = (planned - down) / planned
    speed = Term("in cycle", times.production, "h a week", "see spindle_hours.total") / (
        planned - down
    )
    return hundred * uptime * speed * (good / made)


FAMILIES = (Family(_figures, _account),)
