"""Asks for a week of a scenario: the weeks before it have to be run too."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.answers.week.week import Week, week
from whatif.session.calculate.requests import Material, Question


@dataclass(frozen=True, slots=True)
class NoWeek:
    """Why there is no week to show, in words."""

    why: str


@dataclass(frozen=True, slots=True)
class WeekOf(Question):
    """A week of a scenario, from 1; one beyond those measured is taken to be the last of them."""

    scenario: str
    number: int

    def work_out(self, material: Material) -> Week | NoWeek:
        """The week as it is compared, with what hour meters say of people or machines."""
        plan = material.found.answers[self.scenario].plan
        if not plan.groups:
            return NoWeek("There is no machine in this scenario: n adds one.")
        found = week(plan, min(self.number, plan.weeks), material.told)
        if found is None:
            return NoWeek("No part is wanted in this scenario: n adds one, or enter its weekly.")
        return found
