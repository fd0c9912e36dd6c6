"""What a scenario is counted by otherwise than the reference (rule `money.rests`)."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum, auto
from fractions import Fraction

from whatif.answers.money.year import prices_of
from whatif.plan.model import GroupPrices, Plan
from whatif.records import dataclass


class CountedBy(Enum):
    """What gains of money are worked out with, and nobody buys."""

    RATE = auto()
    YEARS = auto()
    WAGE = auto()
    """Of a shift."""
    CONTRIBUTION = auto()
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
    if prices.years and any(map(_has_price, prices.groups.values())):
        # Of nothing that has to be bought nothing has to come back.
        yield (CountedBy.RATE, ""), prices.rate
        yield (CountedBy.YEARS, ""), prices.years
    for shift in prices.shifts:
        if shift.seconds:
            yield (CountedBy.WAGE, shift.id), shift.wage
    for part in plan.parts:
        if part.place is not None and part.weekly:
            yield (CountedBy.CONTRIBUTION, part.id), part.contribution


def _has_price(of: GroupPrices) -> bool:
    return any(each is not None for each in (of.price, of.pallet_price, of.pallet_system_price))
