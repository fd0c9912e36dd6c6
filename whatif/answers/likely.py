"""Gains draw by draw, of which their likely ranges are made (rule `likely.range`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from whatif.answers.figures import Figures
from whatif.answers.gains import Gains, gains
from whatif.answers.running import Simulate, figures_once
from whatif.plan.draws import MOST_WEEKS, drawn_plan
from whatif.plan.model import Plan, worth


class Draws:
    """The gains of scenarios draw by draw; the reference's runs are the same for all of them."""

    def __init__(self, plans: Mapping[str, Plan], reference: str, simulate: Simulate) -> None:
        self._plans, self._reference, self._simulate = plans, reference, simulate

    def gains(self, scenario: str) -> tuple[Gains, ...]:
        """The gains of a scenario in each draw; none where a side is not simulated."""
        pair = {id_: self._plans[id_] for id_ in (self._reference, scenario)}
        if any(plan.cell is None for plan in pair.values()):
            return ()
        # Worth is money where any scenario has a contribution.
        paid = any(plan.contributes for plan in self._plans.values())
        pair = {id_: replace(plan, contributes=paid) for id_, plan in pair.items()}
        found = []
        for draw in range(1, self._plans[self._reference].draws + 1):
            plans = {id_: drawn_plan(plan, draw) for id_, plan in pair.items()}
            found.append(
                gains(self._figures(plans, scenario), self._figures(plans, self._reference))
            )
        return tuple(found)

    def _figures(self, plans: Mapping[str, Plan], scenario: str) -> Figures:
        value = worth(plans, scenario, self._reference)
        return figures_once(plans[scenario], self._simulate, value)


def weeks_of_draws(plans: Mapping[str, Plan]) -> int:
    """Weeks that all draws of all scenarios take, warm-up included."""
    return sum(
        plan.draws * (plan.warm_up + min(plan.weeks, MOST_WEEKS))
        for plan in plans.values()
        if plan.cell is not None
    )
