"""Accounts of what is said in the meeting, and of the machines' hour meters."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account.account import Check, Figure, Note, Worked, WorkedLine, nothing
from whatif.answers.account.case import Case
from whatif.answers.account.origins import FoundBy
from whatif.answers.account.terms import Expr, Term
from whatif.study.resolve import Source

# -- said ------------------------------------------------------------------------------------


def said_hours(case: Case, of: Figure) -> Worked:
    """Machines times hours times shares."""
    checks = (of.check("all hours", "at most", _whole(case)), *_simulated(case, of))
    return of.worked(_hours(case), _against(case), checks)


def said_gain(case: Case, of: Figure) -> Worked:
    """Hours said here over those of the reference."""
    if of.value is None:
        return nothing("nothing said there", case.reference.title)
    here, there = (
        side.figure_term("hours a day said", "said.hours_per_day", "h")
        for side in (case, case.reference)
    )
    checks = (of.check("all hours", "at most", 100 * (_whole(case) / there - 1)),)
    gain = 100 * (here / there - 1)
    return of.worked(gain, _against(case), () if case.is_reference else checks)


def _against(case: Case) -> tuple[Note, ...]:
    """That the model finds other hours than are said."""
    differs = case.answer.said_differs and case.answer.held_back
    return (Note("against simulated", of=case.answer),) if differs else ()


def _whole(case: Case) -> Expr:
    """All machines in all hours said."""
    return _machines(case) * (_attended(case) + _alone(case))


def _hours(case: Case) -> Expr:
    """Machines times hours times shares, attended and not."""
    share = _said(case, "share cutting with people", "%", "with_people", "cutting")
    alone_share = _said(case, "share cutting with nobody", "%", "with_nobody", "cutting")
    hours = _attended(case) * (share / 100) + _alone(case) * (alone_share / 100)
    return _machines(case) * hours


def _said(case: Case, label: str, unit: str, *path: str) -> Term:
    return case.given(label, unit, "said", *path)


def _alone(case: Case) -> Term:
    return _said(case, "hours a day with nobody", "h", "with_nobody", "hours")


def _is_said(case: Case, *path: str) -> bool:
    """Whether somebody says it; else what holds in the scenario stands in."""
    return case.entered("said", *path).origin.kind is not Source.ASSUMED


def _attended(case: Case) -> Term:
    label, said = "hours a day with people", case.plan.said
    if said is None or _is_said(case, "with_people", "hours"):
        return _said(case, label, "h", "with_people", "hours")
    return Term(label, float(said.with_people.hours), "h", FoundBy("busiest day"))


def _machines(case: Case) -> Term:
    label, said = "machines it is said of", case.plan.said
    if said is None or _is_said(case, "machines"):
        return _said(case, label, "", "machines")
    return Term(label, said.machines, "", FoundBy("all machines"))


def _simulated(case: Case, of: Figure) -> Iterator[Check]:
    """What the model finds of spindle hours a day."""
    if case.figures is None or not case.figures.days:
        return
    hours = case.figure_term("spindle hours", "spindle_hours.total")
    days = Term("days on which a shift starts", case.figures.days, "", FoundBy("shift days"))
    yield of.check("model a day", "about", hours / days)


# -- hour meters -----------------------------------------------------------------------------

_LAID_TO = {"people": "people", "machine": "machines"}


def share_by_meters(case: Case, of: Figure) -> Worked:
    """Hours in cut over hours switched on."""
    meters = case.plan.meters
    assert meters is not None
    if not meters.own:
        return nothing("meters of", case.found.plans[meters.scenario].title)
    on = case.given("hours switched on", "h", "hour_meters", "switched_on")
    cut = case.given("hours in cut", "h", "hour_meters", "in_cut")
    checks: tuple[Check, ...] = ()
    if case.figures is not None and case.figures.utilization.of_powered is not None:
        powered = "utilization_percent.of_powered"
        model = case.figure_term("in cut, over powered hours", powered, "%")
        checks = (of.check("model of powered", "about", model),)
    return of.worked(100 * cut / on, (_gap(case),), checks, without="no model")


def _gap(case: Case) -> Note:
    cell = case.plan.cell
    if cell is not None and cell.visit_extra:
        return Note("gap to people", numbers=(cell.visit_extra,))
    if cell is not None and cell.load_extra:
        return Note("gap to machines", numbers=(cell.load_extra,))
    return Note("gap open")


def gain_range(case: Case, of: Figure) -> Worked:
    """The gains with the gap read either way."""
    meters = case.plan.meters
    assert meters is not None
    if of.value is None or not case.answer.gap_read:
        return nothing("no range")
    unit = f"{case.worth_unit} a week"
    lines: list[WorkedLine] = []
    said: list[Note] = []
    for read in sorted(case.answer.gap_read, key=lambda reading: reading.gain):
        to = _LAID_TO[read.kind]
        label = f"saleable output, gap laid to {to}"
        here = case.counted_term(label, read.saleable, unit)
        there = case.reference.counted_term(label, read.reference, unit)
        lines.append(WorkedLine(100 * (here / there - 1), f"%, laid to {to}"))
        numbers = (read.seconds,) if read.seconds else ()
        said.append(Note(f"{'longer' if numbers else 'no gap'}.{to}", numbers=numbers))
    checks: tuple[Check, ...] = ()
    if case.answer.gains.saleable is not None:
        own = case.figure_term("gain in saleable output", "gain_percent.saleable", "%")
        low = lines[0].term("lower end", "%")
        checks = (Check("gap open", WorkedLine(own, "%"), "about", low),)
    return Worked(tuple(lines), tuple(said), checks)
