"""Accounts of the weeks measured, the band over seeded runs, and what limits a scenario."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Figure, Step, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family, figure, nothing
from whatif.answers.account.terms import Plain, Term, Total
from whatif.answers.states import STATE_ROWS
from whatif.telling.limits import limit_text

# -- weeks measured --------------------------------------------------------------------------


def _weeks_figures(case: Case) -> Iterator[Figure]:
    if case.figures is None:
        yield figure("simulated", "what the simulation finds", "", None)
        return
    yield figure("weeks", "weeks measured", "weeks", float(case.figures.weeks), 0)


def _weeks(case: Case, of: Figure) -> Worked:
    if of.value is None:
        return nothing(
            "What the simulation finds.",
            "The scenario wants no part, by the week or by an order: nothing is simulated.",
        )
    before = case.head("warm_up", "weeks run before", case.plan.warm_up)
    total = before + case.weeks()
    return Worked(
        "Weeks over which everything is counted; figures a week are divided by them.",
        (step(case.weeks(), "weeks", 0),),
        ("More weeks make the figures steadier and the answer slower.",),
        (
            check(
                "So many weeks are simulated in each run; those run before are not counted.",
                total - before,
                "is",
                float(case.plan.weeks),
                "weeks",
                digits=0,
            ),
        ),
    )


# -- band ------------------------------------------------------------------------------------


def _band_figures(case: Case) -> Iterator[Figure]:
    yield figure("band", "spindle hours, in 8 of 10 runs", "h a week", case.answer.band)


def _band(case: Case, of: Figure) -> Worked:
    meaning = (
        "The runs differ in when stops come. One run in ten has fewer spindle hours than the "
        "first number, one in ten more than the second."
    )
    if case.answer.band is None:
        return nothing(meaning, "The scenario has no stops, so that all runs are alike.")
    runs = sorted(case.answer.spindle_by_run)
    mean = Total(
        "spindle hours of the runs, added up",
        (Term("spindle hours of the runs, added up", sum(runs), "h a week", "counted run by run"),),
    )
    return Worked(
        meaning,
        (_tenth(runs, 0.1), _tenth(runs, 0.9)),
        ("What differs between the runs is the luck of the stops alone.",),
        (
            check(
                "Their mean is what is shown as spindle hours.",
                mean / case.head("runs", "seeded runs", len(runs)),
                "is",
                case.simulated.spindle.total,
                "h a week",
            ),
        ),
    )


def _tenth(runs: list[float], share: float) -> Step:
    """The runs sorted, and the place in between that a share of them lies below."""
    place = share * (len(runs) - 1)
    below = min(int(place + 1e-9), len(runs) - 1)
    low = Term(f"run {below + 1} from below", runs[below], "h a week", "counted in that run")
    part = place - below
    if part < 1e-9:
        return step(low, "h a week")
    high = Term(f"run {below + 2} from below", runs[below + 1], "h a week", "counted in that run")
    way = Plain(round(part, 9))
    return step(low + way * (high - low), "h a week")


# -- what limits -----------------------------------------------------------------------------


def _limit_figures(case: Case) -> Iterator[Figure]:
    yield figure(
        "limit", "held back by", "", limit_text(case.answer.held_back) or "nothing is simulated"
    )


def _limit(case: Case, of: Figure) -> Worked:
    meaning = (
        "The largest loss within the hours with somebody on duty, and the next one; what ends the "
        "run after hours is told apart."
    )
    held = case.answer.held_back
    if held is None or held.state is None:
        return nothing(meaning, of.shown)
    hours = case.simulated.attended
    losses = tuple(
        Term(f"attended, {STATE_ROWS[state].label}", spent, "h a week", case.counted)
        for state, spent in hours.items()
        if spent
    )
    of_largest = f"attended, {STATE_ROWS[held.state].label}"
    largest = next(loss for loss in losses if loss.label == of_largest)
    every = Total("attended machine hours", losses)
    rest = case.simulated.counted.on_breaks
    breaks = Term("machine hours on breaks", sum(rest.values()), "h a week", case.counted)
    attended = Term("attended machine hours", sum(hours.values()), "h a week", "worked out above")
    eased = STATE_ROWS[held.state].eased_by
    return Worked(
        meaning,
        (
            step(every, "attended machine hours a week"),
            step(100 * largest / attended, f"% of them: {STATE_ROWS[held.state].label}", 0),
        ),
        (*((eased,) if eased else ()), *binds.limits(case)),
        (
            check(
                "Attended hours and breaks fill the hours that a shift runs, on every machine.",
                case.machines() * case.shift_hours() - breaks,
                "is",
                sum(hours.values()),
                "h a week",
            ),
        ),
    )


FAMILIES = (
    Family(_weeks_figures, _weeks),
    Family(_limit_figures, _limit),
    Family(_band_figures, _band),
)
