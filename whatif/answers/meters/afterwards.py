"""What a scenario foretold, beside what was measured after it was done (rule `meters.afterwards`).

Foretold are hours in cut of a week, all machines together, as the study has them. A single week is
one of many, so its likely range is made of single weeks: those of every draw.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Final

from whatif.answers.meters.reading import gaps_read
from whatif.answers.ranks import range_of
from whatif.answers.running import figures_once, plain_figures, run_once
from whatif.answers.simulate import Simulate, ahead
from whatif.cell.model import HOUR, WEEK
from whatif.plan.build import plans_of
from whatif.plan.draws import drawn_plan
from whatif.plan.model import Plan
from whatif.records import dataclass
from whatif.study.check.check import Checked

_WEEKS: Final = 6
"""Weeks of each draw that a single week's likely range is made of."""


@dataclass(frozen=True, slots=True)
class Foretold:
    """Hours in cut of a week.

    Attributes:
        hours: as typed.
        week: between which a single week lies in eight of ten, of all weeks of all draws.
        mean: between which the mean of many weeks lies in eight of ten draws.
        powered: in-cut share of the hours switched on, in percent, as typed.
        machines: how many there are.
    """

    scenario: str
    title: str
    hours: float
    week: tuple[float, float]
    mean: tuple[float, float]
    powered: float | None
    machines: int


@dataclass(frozen=True, slots=True)
class MeasuredWeek:
    """A calendar week after the scenario was done; hours of all machines together.

    Attributes:
        begin: its Monday.
        unknown: hours of which nobody knows.
    """

    begin: date
    on: float
    cut: float
    unknown: float = 0.0


@dataclass(frozen=True, slots=True)
class Afterwards:
    """What was foretold and what was measured, week by week.

    Attributes:
        machines: of which there are readings.
    """

    foretold: Foretold
    done_on: date
    machines: int
    weeks: tuple[MeasuredWeek, ...]

    @property
    def measured(self) -> float:
        """Hours in cut of a week, the mean of all weeks; there must be one."""
        return sum(week.cut for week in self.weeks) / len(self.weeks)

    @property
    def furthest(self) -> MeasuredWeek:
        """The week that is furthest from what was foretold; the earlier of equal ones."""
        return max(self.weeks, key=lambda week: abs(self.more(week)))

    def more(self, week: MeasuredWeek) -> float:
        """Hours in cut that were measured more than foretold."""
        return week.cut - self.foretold.hours

    def lies(self, week: MeasuredWeek) -> int:
        """-1 below the likely range of a week, 1 above it, 0 within."""
        low, high = self.foretold.week
        return -1 if week.cut < low else 1 if week.cut > high else 0


def foretold_of_study(checked: Checked, scenario: str, simulate: Simulate) -> Foretold | None:
    """What a scenario foretells of its weeks; None where it has nothing to run."""
    plans = plans_of(checked)
    plan = plans[scenario]
    if plan.cell is None:
        return None
    meters = plan.meters
    if meters is not None and meters.gap != "show":
        needed = {id_: plans[id_] for id_ in (scenario, meters.scenario)}
        plan = gaps_read(needed, simulate)[scenario]
    figures = plain_figures(plan, simulate)
    weeks = min(_WEEKS, plan.weeks)
    draws = [drawn_plan(plan, draw) for draw in range(1, plan.draws + 1)]
    singles = [
        replace(drawn, weeks=1, warm_up=drawn.warm_up + number)
        for drawn in draws
        for number in range(weeks)
    ]
    ahead(simulate, (run_once(each) for each in (*singles, *draws)))
    assert figures is not None
    low, _, high = range_of([_in_cut(each, simulate) for each in singles])
    least, _, most = range_of([_in_cut(each, simulate) for each in draws])
    return Foretold(
        scenario,
        checked.draft.scenario(scenario).title,
        _hours(plan, figures.utilization.of_week),
        (low, high),
        (least, most),
        figures.utilization.of_powered,
        plan.machines,
    )


def _in_cut(plan: Plan, simulate: Simulate) -> float:
    worthless = {part.id: Fraction(0) for part in plan.parts}
    return _hours(plan, figures_once(plan, simulate, worthless).utilization.of_week)


def _hours(plan: Plan, of_week: float | None) -> float:
    return (of_week or 0.0) / 100 * plan.machines * WEEK / HOUR
