"""A whole study answered: every scenario's figures, gains, limits, fit and cautions.

The runs themselves are asked for through ``simulate``, so that a session can remember, stop
and spread them, and the command line can simply run them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from whatif.answers.cautions import cautions
from whatif.answers.figures import Figures, figures
from whatif.answers.gains import NO_GRAIN, Gains, gains, grain, percent
from whatif.answers.limits import Limit, limit
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.plan.nudge import nudged
from whatif.plan.worth import worth
from whatif.study.check import Checked

Simulate = Callable[[Cell, int, int], Tally]
"""Runs a cell: (cell, weeks to run before measuring, weeks to measure) -> what was counted."""

NUDGES = (1, -1)
"""Seconds by which people's times are moved to find the grain (section 7)."""


@dataclass(frozen=True, slots=True)
class Claimed:
    """What is claimed, kept apart from what the model finds (section 2)."""

    hours_per_day: float
    gain: float | None
    against_simulated: str


@dataclass(frozen=True, slots=True)
class Answer:
    """One scenario answered.

    Attributes:
        figures: None where the scenario has no parts.
        grain: None while it has not been found yet.
    """

    plan: Plan
    claimed: Claimed | None
    figures: Figures | None
    gains: Gains
    grain: Gains | None
    limit: Limit | None
    cautions: tuple[str, ...]

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the user must know before believing the figures."""
        said = self.plan.warnings
        if self.claimed is not None and self.claimed.against_simulated:
            said = (*said, self.claimed.against_simulated)
        return said


@dataclass(frozen=True, slots=True)
class Comparison:
    """A study answered; scenarios in the file's order."""

    title: str
    reference: str
    answers: Mapping[str, Answer]


def compare(checked: Checked, simulate: Simulate) -> Comparison:
    """Answer a study without problems, yet without the grain of its gains."""
    plans = plans_of(checked)
    assert checked.study is not None  # or there would be no plans
    reference = checked.study.reference
    results = _results(plans, reference, simulate)
    base = results[reference]
    answers = {}
    for id_, plan in plans.items():
        result = results[id_]
        held = None if result is None else limit(plan, result)
        answers[id_] = Answer(
            plan=plan,
            claimed=_claimed(plan, plans[reference], result, held),
            figures=result,
            gains=NO_GRAIN if result is None or base is None else gains(result, base),
            grain=None,
            limit=held,
            cautions=cautions(plan, plans[reference], result),
        )
    return Comparison(checked.study.title, reference, answers)


def with_grain(found: Comparison, simulate: Simulate) -> Comparison:
    """The same comparison with the grain of every gain (section 7)."""
    plans = {id_: answer.plan for id_, answer in found.answers.items()}
    pairs: dict[str, list[Gains]] = {id_: [] for id_ in plans}
    for by in NUDGES:
        moved = {id_: _nudged(plan, by) for id_, plan in plans.items()}
        results = _results(moved, found.reference, simulate)
        base = results[found.reference]
        for id_, result in results.items():
            if result is not None and base is not None:
                pairs[id_].append(gains(result, base))
    return replace(
        found,
        answers={
            id_: replace(answer, grain=grain(answer.gains, pairs[id_]))
            for id_, answer in found.answers.items()
        },
    )


def _nudged(plan: Plan, by: int) -> Plan:
    return plan if plan.cell is None else replace(plan, cell=nudged(plan.cell, by))


def _results(
    plans: Mapping[str, Plan], reference: str, simulate: Simulate
) -> dict[str, Figures | None]:
    return {
        id_: None
        if plan.cell is None
        else figures(
            plan, simulate(plan.cell, plan.warm_up, plan.weeks), worth(plans, id_, reference)
        )
        for id_, plan in plans.items()
    }


def _claimed(
    plan: Plan, reference: Plan, result: Figures | None, held: Limit | None
) -> Claimed | None:
    if plan.claim is None:
        return None
    hours = float(plan.claim.hours_per_day)
    base = None if reference.claim is None else float(reference.claim.hours_per_day)
    return Claimed(hours, percent(hours, base), _against(hours, result, held))


def _against(claimed: float, result: Figures | None, held: Limit | None) -> str:
    """Which way claim and model differ, where they do by more than a tenth of the claim."""
    if result is None or held is None or not result.days:
        return ""
    found = result.spindle.total / result.days
    # A billionth of an hour is no difference but what floats make of an exact tenth.
    if abs(found - claimed) <= claimed / 10 + 1e-9:
        return ""
    text = f"Claimed are {claimed:.1f} spindle hours a day; the model finds {found:.1f}, "
    if found > claimed:
        return text + f"{found - claimed:.1f} more."
    return text + f"{claimed - found:.1f} fewer. What holds it back: {held.short}."
