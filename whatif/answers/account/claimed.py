"""Accounts of what is claimed in the meeting, and of the machines' hour meters."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account.account import Check, Figure, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family, figure, nothing
from whatif.answers.account.terms import Expr, Term
from whatif.study.resolve import Source
from whatif.telling.warnings import claim_warning

# -- claimed ---------------------------------------------------------------------------------


def _claimed_figures(case: Case) -> Iterator[Figure]:
    claim = case.answer.claimed
    if claim is None:
        yield figure("claimed", "what is claimed", "", None)
        return
    yield figure("claimed.hours_per_day", "claimed spindle hours", "h a day", claim.hours_per_day)
    yield figure("claimed.gain_percent", "claimed gain", "%", claim.gain)


_CLAIMED = "What is said in the meeting, kept apart from what the model finds."


def _claimed(case: Case, of: Figure) -> Worked:
    claim = case.answer.claimed
    if claim is None:
        why = "Nothing is claimed: enter the attended utilization that people speak of."
        return nothing(_CLAIMED, why)
    against = claim_warning(case.answer)
    said = (against,) if against else ()
    if of.id == "claimed.hours_per_day":
        day = _hours(case)
        return Worked(_CLAIMED, (step(day, "h a day"),), said, tuple(_claim_checks(case)))
    base = case.reference.answer.claimed
    if claim.gain is None or base is None:
        why = f"{case.reference.title} has no claim, or one of 0 hours, to hold it against."
        return nothing(_CLAIMED, why)
    here = Term("claimed hours a day", claim.hours_per_day, "h", "see claimed.hours_per_day")
    title = f"claimed hours a day, {case.reference.title}"
    there = Term(title, base.hours_per_day, "h", "see claimed.hours_per_day there")
    return Worked(
        _CLAIMED,
        (step(100 * (here / there - 1), "%"),),
        said,
        (
            check(
                "What is more than in the reference, over a hundredth of the reference.",
                (here - there) / (there / 100),
                "is",
                claim.gain,
                "%",
            ),
        ),
    )


def _hours(case: Case) -> Expr:
    """Machines times hours times shares, attended and not."""
    attended, share = _attended(case), _said(case, "attended_utilization", "attended share")
    alone = _said(case, "unattended_hours", "unattended hours a day", "h")
    alone_share = _said(case, "unattended_utilization", "unattended share")
    return _machines(case) * (attended * (share / 100) + alone * (alone_share / 100))


def _said(case: Case, key: str, label: str, unit: str = "%") -> Term:
    return case.given(label, unit, "claimed", key)


def _attended(case: Case) -> Term:
    claim = case.plan.claim
    assert claim is not None
    hours = float(claim.attended_hours)
    origin = case.checked.resolved[case.scenario].origin("claimed", "attended_hours")
    if origin.kind is Source.ASSUMED:
        return Term("attended hours a day", hours, "h", "assumed: the busiest day of the shifts")
    return _said(case, "attended_hours", "attended hours a day", "h")


def _machines(case: Case) -> Term:
    claim = case.plan.claim
    assert claim is not None
    origin = case.checked.resolved[case.scenario].origin("claimed", "machines")
    if origin.kind is Source.ASSUMED:
        return Term("machines claimed for", claim.machines, "", "assumed: all of the scenario")
    return case.given("machines claimed for", "", "claimed", "machines")


def _claim_checks(case: Case) -> Iterator[Check]:
    claim = case.answer.claimed
    assert claim is not None
    hours = _attended(case) + _said(case, "unattended_hours", "unattended hours a day", "h")
    yield check(
        "No more than all machines cutting all those hours.",
        _machines(case) * hours,
        "at most",
        claim.hours_per_day,
        "h a day",
    )
    if case.figures is not None and case.figures.days:
        total = Term(
            "spindle hours", case.figures.spindle.total, "h a week", "see spindle_hours.total"
        )
        days = Term("days on which a shift starts", case.figures.days, "", "from the shifts' days")
        yield check(
            "What the model finds of spindle hours a day, to hold the claim against.",
            total / days,
            "about",
            claim.hours_per_day,
            "h a day",
        )


# -- hour meters -----------------------------------------------------------------------------


def _meter_figures(case: Case) -> Iterator[Figure]:
    meters = case.plan.meters
    if meters is None:
        yield figure("hour_meters", "hour meters", "", None)
        return
    measured = 100 * float(meters.measured) if meters.own else None
    yield figure("hour_meters.utilization_percent", "in cut, by the hour meters", "%", measured)
    gains = case.answer.gain_range
    title = "gain, the gap being people or machines"
    yield figure("hour_meters.gain_range_percent", title, "%", gains)


_MEASURED = "Hours in cut over hours switched on, by the machines' own hour meters."
_RANGE = (
    "The saleable gain if the hours that the model finds beyond the hour meters are lost by people "
    "who are away, and if they are lost by machines that are tied up."
)
_READ = {"people": "each visit", "machine": "each load"}
_TO = {"people": "people", "machine": "machines"}


def _meters(case: Case, of: Figure) -> Worked:
    meters = case.plan.meters
    if meters is None:
        return nothing(_MEASURED, "Neither here nor above are hour meters entered.")
    if of.id == "hour_meters.gain_range_percent":
        return _range(case)
    if not meters.own:
        title = case.plans[meters.scenario].title
        return nothing(_MEASURED, f"The hour meters are those of {title}; here there are none.")
    on = case.given("hours switched on", "h", "hour_meters", "switched_on")
    cut = case.given("hours in cut", "h", "hour_meters", "in_cut")
    return Worked(_MEASURED, (step(100 * cut / on, "%"),), _gap(case), tuple(_powered(case)))


def _gap(case: Case) -> tuple[str, ...]:
    cell = case.plan.cell
    if cell is not None and cell.visit_extra:
        return (f"The gap is laid to people: each visit takes {cell.visit_extra} s longer.",)
    if cell is not None and cell.load_extra:
        return (f"The gap is laid to machines: each load takes {cell.load_extra} s longer.",)
    return ("The gap to what the model finds is shown, and laid to nobody.",)


def _powered(case: Case) -> Iterator[Check]:
    meters, figures = case.plan.meters, case.figures
    if meters is None or figures is None or figures.utilization.of_powered is None:
        return
    found = Term(
        "in cut, over powered hours",
        figures.utilization.of_powered,
        "%",
        "see utilization_percent.of_powered",
    )
    yield check(
        "What the model finds; what is more than the meters nothing entered explains.",
        found,
        "about",
        100 * float(meters.measured),
        "%",
    )


def _range(case: Case) -> Worked:
    meters, gains = case.plan.meters, case.answer.gain_range
    assert meters is not None
    if gains is None or not case.answer.laid:
        why = (
            "The gap is laid to people or machines already."
            if meters.gap != "show"
            else "There is no gain to be worked out for it, or it has not been worked out."
        )
        return nothing(_RANGE, why)
    unit = f"{case.worth_unit} a week"
    steps, said = [], []
    for one in sorted(case.answer.laid, key=lambda laid: laid.gain):
        here = Term(
            f"saleable output, gap laid to {_TO[one.kind]}", one.saleable, unit, case.counted
        )
        title = f"the same, {case.reference.title}, gap laid to {_TO[one.kind]}"
        there = Term(title, one.reference, unit, case.counted)
        steps.append(step(100 * (here / there - 1), f"%, laid to {_TO[one.kind]}"))
        if one.seconds:
            said.append(f"Laid to {_TO[one.kind]}, {_READ[one.kind]} takes {one.seconds} s longer.")
        else:
            said.append(f"There is no gap to lay to {_TO[one.kind]}.")
    gain = case.answer.gains.saleable
    checks = []
    if gain is not None:
        own = Term("gain in saleable output", gain, "%", "see gain_percent.saleable")
        rule = "The gain with the gap laid to nobody, to hold the range against."
        checks.append(check(rule, own, "about", gains[0], "%"))
    return Worked(_RANGE, tuple(steps), tuple(said), tuple(checks))


FAMILIES = (Family(_claimed_figures, _claimed), Family(_meter_figures, _meters))
