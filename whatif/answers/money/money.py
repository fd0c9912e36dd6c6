"""What a scenario costs and brings in money (rule `money.shown`)."""

from __future__ import annotations

from whatif.answers.money.capital import Capital, Costed, capital_of
from whatif.answers.money.missing import Lean, Leans, Missing, leans_of, not_priced
from whatif.answers.money.rests import RestsOn, rests_on
from whatif.answers.money.returns import (
    LikelyReturns,
    Returns,
    Standing,
    Terms,
    likely_returns,
    returns_of,
    standing_of,
)
from whatif.answers.money.unlike import Unlike, unlike
from whatif.answers.money.year import Year, year_of
from whatif.answers.ranks import Range
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class MoneyFigures:
    """A scenario in money, the currency being the reference's.

    Attributes:
        year: what is left of a year.
        year_gain: that, less the reference's.
        capital: to be laid out against what stands in the shop today.
        more_capital: that, less the reference's; what the figures below are worked out from.
        payback_years: from the start; None where nothing ever comes back.
        rate_of_return_percent: a year, None where there is none.
        not_priced: what has no price, and counts as 0.
        leans: what these prices will make of capital, gain, and what is worked out from both.
        rests: what the payback rests on.
        of_year, of_capital: what the two come to, item by item.
        is_compared: whether it is another scenario than the reference.
        of_a_percent: what one percent of the reference's saleable output contributes a year.
        terms: what payback, value and rate are worked out with.
        unlike: what the reference is counted by otherwise; ``reference`` its title.
    """

    currency: str
    year: float
    year_gain: float
    capital: float
    more_capital: float
    payback_years: float | None
    net_present_value: float
    rate_of_return_percent: float | None
    not_priced: tuple[Missing, ...]
    leans: Leans
    rests: RestsOn
    of_year: Year
    of_capital: Capital
    is_compared: bool
    of_a_percent: float
    terms: Terms
    unlike: tuple[Unlike, ...] = ()
    reference: str = ""

    @property
    def lean(self) -> Lean:
        """What prices that are missing will make of payback, value and rate."""
        return self.leans.returns

    def likely(self, gain: float | None, likely: Range | None) -> LikelyReturns | None:
        """What it lies between with a saleable gain and its range; None for the reference."""
        if not self.is_compared or gain is None or likely is None:
            return None
        return likely_returns(
            self.more_capital, self.year_gain, self.of_a_percent, self.terms, gain, likely
        )

    @property
    def as_typed(self) -> Returns:
        """What is worked out as typed."""
        return Returns(
            self.year_gain,
            self.payback_years,
            self.net_present_value,
            self.rate_of_return_percent,
        )

    def standing(self, likely: LikelyReturns | None) -> Standing:
        """How it is to be told beside what it lies between."""
        return standing_of(self.year_gain, likely)

    def leading(self, likely: LikelyReturns | None) -> Returns:
        """The figures that lead as one number each: the middle where the range leads.

        Of no clear difference a year's gain is 0, and nothing comes back.
        """
        stands = self.standing(likely)
        if likely is not None and stands == "outside":
            return likely.middle
        if stands in ("unclear", "nothing"):
            return Returns(0.0, None, -self.more_capital, None)
        return self.as_typed

    @property
    def is_bare(self) -> bool:
        """Whether there is nothing to lay out only because prices are missing."""
        return not self.more_capital and any(each.what != "wage" for each in self.not_priced)


def money_of(here: Costed, reference: Costed, today: Costed) -> MoneyFigures:
    """A scenario's money against the reference, both simulated."""
    assert here.figures is not None
    assert reference.figures is not None
    prices = here.prices
    year, capital = year_of(here.plan, here.figures), capital_of(here, today)
    more = float(capital.total - capital_of(reference, today).total)
    terms = Terms(float(prices.years), float(prices.rate), float(prices.ramp))
    base = year_of(reference.plan, reference.figures)
    returns = returns_of(more, year.left - base.left, terms)
    return MoneyFigures(
        currency=reference.prices.currency,
        year=year.left,
        year_gain=returns.year_gain,
        capital=float(capital.total),
        more_capital=more,
        payback_years=returns.payback_years,
        net_present_value=returns.net_present_value,
        rate_of_return_percent=returns.rate_of_return_percent,
        not_priced=not_priced(here, reference, today),
        leans=leans_of(here, reference, today),
        rests=rests_on(here, today),
        of_year=year,
        of_capital=capital,
        is_compared=here.plan.scenario != reference.plan.scenario,
        of_a_percent=base.contribution / 100,
        terms=terms,
        unlike=unlike(here.plan, reference.plan),
        reference=reference.plan.title,
    )
