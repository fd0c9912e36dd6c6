"""What a scenario takes beside the reference, priced or not (rule `verdict.takes`)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.answers.money.capital import (
    Bought,
    Costed,
    MoreFixtures,
    bought,
    capital_of,
    given_up,
    more_fixtures,
)
from whatif.answers.money.flows import investment, net_present_value
from whatif.answers.money.missing import leans_of, not_priced
from whatif.answers.money.year import prices_of, year_of
from whatif.records import dataclass

if TYPE_CHECKING:
    from fractions import Fraction

    from whatif.answers.answer import Answer
    from whatif.answers.money.missing import Missing
    from whatif.plan.model import GroupPrices, Plan


@dataclass(frozen=True, slots=True)
class Takes:
    """What it takes more than the reference, below 0 where it takes less.

    Attributes:
        one_off: laid out once; what has no price counts as 0.
        yearly: what is paid a year whatever is sold: wages, spindle hours, scrap, floor, contracts.
        paid_hours: of people, a week.
        people: of all shifts together.
        missing: what has no price, here or in the reference.
        is_priced: whether all that makes it dearer has a price.
        is_wage_open: whether prices that are missing move what it costs a year.
        over_years: what both costs come to today, over the years counted, or the first where none
            are.
    """

    one_off: float
    yearly: float
    paid_hours: float
    people: int
    missing: tuple[Missing, ...]
    is_priced: bool
    is_wage_open: bool
    over_years: float

    @property
    def buys_unpriced(self) -> bool:
        """Whether something that has to be bought has no price."""
        return not self.is_priced and any(
            each.what != "wage" and not each.reference for each in self.missing
        )

    @property
    def takes_nothing(self) -> bool:
        """Whether it takes nothing more of anything that is known to cost."""
        costs = self.one_off >= A_UNIT or self.yearly >= A_UNIT
        return not (costs or self.paid_hours >= NO_HOURS or self.people > 0 or self.buys_unpriced)


A_UNIT = 1.0
"""Of the currency; what differs by less is told as the same amount."""

NO_HOURS = 0.05
"""Hours a week that are told as none."""


def takes_of(answer: Answer, base: Answer, today: Answer) -> Takes | None:
    """What it takes against the reference ``base``; None where either simulates nothing."""
    here, there = answer.figures, base.figures
    if here is None or there is None:
        return None
    money, prices = answer.money, prices_of(answer.plan)
    years, rate = float(prices.years), float(prices.rate)
    if money is not None and base.money is not None:
        years, rate = money.terms.years, money.terms.rate
        one_off, missing, leans = money.more_capital, money.not_priced, money.leans
        yearly = money.of_year.paid - base.money.of_year.paid
    else:
        own, reference, now = map(_costed, (answer, base, today))
        one_off = float(capital_of(own, now).total - capital_of(reference, now).total)
        missing, leans = not_priced(own, reference, now), leans_of(own, reference, now)
        yearly = year_of(answer.plan, here).paid - year_of(base.plan, there).paid
    is_bare = not one_off and any(each.what != "wage" for each in missing)
    # Where no years are counted the first one is: nobody pays wages for none.
    flows = investment(one_off, -yearly, 0.0, years or 1.0)
    return Takes(
        one_off,
        yearly,
        here.people.paid - there.people.paid,
        _people(answer.plan) - _people(base.plan),
        missing,
        is_priced=not is_bare and leans.returns in ("none", "better"),
        is_wage_open=leans.year_gain != "none",
        over_years=-net_present_value(flows, rate),
    )


def _costed(answer: Answer) -> Costed:
    return Costed(answer.plan, answer.figures, answer.held)


def _people(plan: Plan) -> int:
    return 0 if plan.cell is None else sum(shift.people for shift in plan.cell.shifts)


@dataclass(frozen=True, slots=True)
class Buys:
    """What has to be bought against what stands in the shop today.

    Attributes:
        groups: by machine group, of those of which something is, with what it costs each.
        given_up: machines of today's that are not kept, by group.
        currency: of what they cost.
        one_off: what else is paid once.
        comes_back: what is paid for the machines given up.
    """

    groups: tuple[tuple[str, Bought, GroupPrices], ...]
    fixtures: tuple[MoreFixtures, ...]
    given_up: tuple[tuple[str, int], ...]
    currency: str
    one_off: Fraction
    comes_back: Fraction


def buys_of(answer: Answer, today: Answer) -> Buys:
    """The same, priced or not."""
    here, now = _costed(answer), _costed(today)
    there = now.prices.groups
    groups = [
        (id_, bought(group, there.get(id_)), group) for id_, group in here.prices.groups.items()
    ]
    return Buys(
        tuple(each for each in groups if each[1].machines or each[1].pallets or each[1].systems),
        tuple(more_fixtures(here, now).values()),
        tuple(given_up(here.prices, now.prices).items()),
        here.prices.currency,
        here.prices.one_off,
        capital_of(here, now).given_up,
    )
