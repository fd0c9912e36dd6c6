"""A week of one scenario of a study: one run, and no more of the study than that hangs on."""

from __future__ import annotations

from dataclasses import replace

from whatif.answers.compare import plans_as_read
from whatif.answers.meters.reading import gaps_read
from whatif.answers.progress import Told
from whatif.answers.simulate import Simulate
from whatif.answers.week import Week, week
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.study.check.check import Checked


class NotMeasured(Exception):
    """The week asked for is none of those measured, of which there are ``weeks``."""

    def __init__(self, weeks: int) -> None:
        super().__init__(weeks)
        self.weeks = weeks


def week_of_study(
    checked: Checked, scenario: str, number: int, simulate: Simulate, told: Told
) -> Week | None:
    """Week ``number`` of a scenario; None where it has no parts.

    How many weeks are measured is left open where it hangs on all scenarios and nothing that is
    shown hangs on it.

    Raises:
        NotMeasured: it is none of those measured.
    """
    plans = plans_of(checked)
    plan = plans[scenario]
    if plan.cell is None:
        return None
    is_open = plan.settled and number <= plan.weeks and not has_gap_laid(plan)
    if not is_open:
        plan = _as_measured(checked, plans, scenario, simulate)
    if not 1 <= number <= plan.weeks:
        raise NotMeasured(plan.weeks)
    found = week(plan, number, told)
    return None if found is None else replace(found, may_be_more=is_open)


def has_gap_laid(plan: Plan) -> bool:
    """Whether a visit or a load may take longer by what the hour meters say."""
    return plan.meters is not None and plan.meters.gap != "show"


def _as_measured(
    checked: Checked, plans: dict[str, Plan], scenario: str, simulate: Simulate
) -> Plan:
    plan = plans[scenario]
    if plan.settled:
        return plans_as_read(checked, simulate, plans)[scenario]
    if not has_gap_laid(plan) or plan.meters is None:
        return plan
    # What the meters say is found in the scenario that has them.
    needed = {id_: plans[id_] for id_ in (scenario, plan.meters.scenario)}
    return gaps_read(needed, simulate)[scenario]
