"""A year's money: what saleable pieces contribute, and what is paid of it (rule `money.year`)."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from whatif.answers.figures import Figures
from whatif.cell.model import HOUR
from whatif.plan.model import PartPlan, Plan, Prices, ShiftPaid
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class Year:
    """Amounts of a year; all but the first are paid.

    Attributes:
        scrap: material of scrapped pieces.
        spindle: what hours in cycle cost.
        yearly: what the shop pays whatever it makes.
        machines: what each machine costs.
    """

    contribution: float
    scrap: float
    wages: float
    spindle: float
    floor: float
    yearly: float
    machines: float

    @property
    def left(self) -> float:
        """What is left."""
        by_week = self.contribution - self.scrap - self.wages - self.spindle
        return by_week - self.floor - self.yearly - self.machines

    @property
    def paid(self) -> float:
        """All that is paid of it."""
        by_week = self.scrap + self.wages + self.spindle
        return by_week + self.floor + self.yearly + self.machines


def year_of(plan: Plan, figures: Figures) -> Year:
    """A scenario's year; its saleable output must be in money."""
    prices = prices_of(plan)
    weeks = float(prices.weeks_per_year)
    none = Fraction(0)
    return Year(
        contribution=weeks * figures.saleable,
        scrap=weeks
        * sum(
            scrapped(plan, figures, part.id) * float(prices.parts[part.id].material)
            for part in plan.parts
            if part.id in prices.parts
        ),
        wages=weeks * float(sum((_wages(shift) for shift in prices.shifts), none)),
        spindle=weeks * float(prices.spindle_hour) * figures.spindle.total,
        floor=float(prices.floor_price) * (figures.floor or 0.0),
        yearly=float(prices.yearly),
        machines=float(
            sum((group.count * (group.yearly or none) for group in prices.groups.values()), none)
        ),
    )


def _wages(shift: ShiftPaid) -> Fraction:
    return (shift.wage or Fraction(0)) * shift.seconds / HOUR


def prices_of(plan: Plan) -> Prices:
    """The prices that every plan of a study has."""
    assert plan.prices is not None
    return plan.prices


def scrapped(plan: Plan, figures: Figures, part: str) -> float:
    """Pieces of a part a week that are not good."""
    share = next(of.scrap for of in plan.parts if of.id == part)
    return figures.counted.good.get(part, 0.0) * float(share / (1 - share))


def unpaid_hours(prices: Prices) -> float:
    """Paid hours a week of shifts for which no wage is given."""
    return sum(shift.seconds for shift in prices.shifts if shift.wage is None) / HOUR


def without_contribution(plan: Plan) -> tuple[str, ...]:
    """Parts that are made, are sold and have no contribution; an entered 0 is one."""
    return tuple(part.id for part in _sold(plan) if not part.is_contribution_given)


def at_nothing(plan: Plan) -> tuple[str, ...]:
    """Parts that are made, are sold and have a contribution of 0."""
    return tuple(
        part.id for part in _sold(plan) if part.is_contribution_given and not part.contribution
    )


def _sold(plan: Plan) -> Iterator[PartPlan]:
    """Parts that are made, and of which no other is made."""
    cell = plan.cell
    before = set() if cell is None else {part.after for part in cell.parts}
    for part in plan.parts:
        if part.place is not None and part.place not in before:
            yield part
