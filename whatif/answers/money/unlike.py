"""What a scenario is counted by otherwise than the reference (rule `money.rests`)."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum, auto
from fractions import Fraction

from whatif.answers.money.year import prices_of
from whatif.plan.model import Plan
from whatif.records import dataclass


class CountedBy(Enum):
    """What gains of money are worked out with, and nobody buys."""

    RATE = auto()
    YEARS = auto()
    RAMP = auto()
    WEEKS_A_YEAR = auto()
    FLOOR = auto()
    SPINDLE_HOUR = auto()
    WAGE = auto()
    """Of a shift."""
    CONTRIBUTION = auto()
    """Of a part."""
    MATERIAL = auto()
    """Of a part."""


@dataclass(frozen=True, slots=True)
class Unlike:
    """One that differs, in the units of :class:`whatif.plan.model.Prices`; None is not given.

    Attributes:
        of: id of the shift or part, else "".
    """

    what: CountedBy
    of: str
    here: Fraction | None
    there: Fraction | None


def unlike(here: Plan, reference: Plan) -> tuple[Unlike, ...]:
    """Where two scenarios are counted by different rates, so that their money cannot be compared.

    Shifts and parts that only one of them has are none of it, nor what has to be bought.
    """
    known = _counted_by(reference)
    return tuple(
        Unlike(what, of, value, known[what, of])
        for (what, of), value in _counted_by(here).items()
        if (what, of) in known and known[what, of] != value
    )


def _counted_by(plan: Plan) -> dict[tuple[CountedBy, str], Fraction | None]:
    return dict(_each(plan))


def _each(plan: Plan) -> Iterator[tuple[tuple[CountedBy, str], Fraction | None]]:
    prices = prices_of(plan)
    yield (CountedBy.RATE, ""), prices.rate
    yield (CountedBy.YEARS, ""), prices.years
    yield (CountedBy.RAMP, ""), prices.ramp
    yield (CountedBy.WEEKS_A_YEAR, ""), prices.weeks_per_year
    yield (CountedBy.FLOOR, ""), prices.floor_price
    yield (CountedBy.SPINDLE_HOUR, ""), prices.spindle_hour
    for shift in prices.shifts:
        yield (CountedBy.WAGE, shift.id), shift.wage
    for part in plan.parts:
        yield (CountedBy.CONTRIBUTION, part.id), part.contribution
    for id_, of in prices.parts.items():
        yield (CountedBy.MATERIAL, id_), of.material
