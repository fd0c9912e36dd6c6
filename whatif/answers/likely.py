"""Gains draw by draw, of which their likely ranges are made (rule `likely.range`)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from whatif.answers.figures import Figures
from whatif.answers.gains import Gains, gains
from whatif.answers.running import figures_once
from whatif.answers.simulate import Simulate, ahead
from whatif.plan.draws import MOST_WEEKS, drawn_plan
from whatif.plan.model import Plan, in_money, worth


class Draws:
    """The gains of scenarios draw by draw; the reference's runs are the same for all of them."""

    def __init__(self, plans: Mapping[str, Plan], reference: str, simulate: Simulate) -> None:
        self._reference, self._simulate = reference, simulate
        self.draws = plans[reference].draws
        # Worth is money where any scenario has a contribution.
        self._paid = in_money(plans)
        self._plans = plans
        self._drawn: dict[tuple[str, int], Plan] = {}
        self._base: dict[int, Figures] = {}

    def take_over(self, before: Draws) -> None:
        """Take what was drawn before of the reference, where that is the same."""
        there = self._reference
        if (before._reference, before._paid) == (there, self._paid) and before._plans[
            there
        ] == self._plans[there]:
            self._base = before._base
            self._drawn |= {at: plan for at, plan in before._drawn.items() if at[0] == there}

    def gains(self, scenario: str) -> tuple[Gains, ...]:
        """The gains of a scenario in each draw; none where a side is not simulated."""
        if not self._is_run(scenario):
            return ()
        self.ahead((scenario,))
        found = tuple(
            gains(self._figures(scenario, draw), self._reference_figures(draw))
            for draw in range(1, self.draws + 1)
        )
        if scenario != self._reference:
            for draw in range(1, self.draws + 1):
                # Nobody asks for them again, and of many scenarios they are large.
                del self._drawn[scenario, draw]
        return found

    def ahead(self, scenarios: Iterable[str]) -> None:
        """Say whose gains will be asked for, the first of them first."""
        ahead(
            self._simulate,
            (
                (plan.cell, plan.warm_up, plan.weeks)
                for scenario in scenarios
                if self._is_run(scenario)
                for draw in range(1, self.draws + 1)
                for id_ in (self._reference, scenario)
                if (plan := self._plan(id_, draw)).cell is not None
            ),
        )

    def _is_run(self, scenario: str) -> bool:
        return all(self._plans[id_].cell is not None for id_ in (self._reference, scenario))

    def _plan(self, scenario: str, draw: int) -> Plan:
        """A scenario's plan in a draw, made once."""
        found = self._drawn.get((scenario, draw))
        if found is None:
            found = self._drawn[scenario, draw] = drawn_plan(self._plans[scenario], draw)
        return found

    def _figures(self, scenario: str, draw: int) -> Figures:
        plans = {id_: self._plan(id_, draw) for id_ in (self._reference, scenario)}
        value = worth(plans, scenario, self._reference, paid=self._paid)
        return figures_once(plans[scenario], self._simulate, value)

    def _reference_figures(self, draw: int) -> Figures:
        """Those of the reference, worked out once for all scenarios."""
        if draw not in self._base:
            self._base[draw] = self._figures(self._reference, draw)
        return self._base[draw]


def weeks_of_draws(plans: Mapping[str, Plan]) -> int:
    """Weeks that all draws of all scenarios take, warm-up included."""
    return sum(
        plan.draws * (plan.warm_up + min(plan.weeks, MOST_WEEKS))
        for plan in plans.values()
        if plan.cell is not None
    )
