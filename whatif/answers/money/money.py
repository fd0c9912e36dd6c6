"""What a scenario costs and brings in money (rule `money.shown`)."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.answers.money.capital import Capital, Costed, capital_of
from whatif.answers.money.flows import investment, net_present_value, payback, rate_of_return
from whatif.answers.money.missing import Lean, Missing, lean_of, not_priced
from whatif.answers.money.rests import RestsOn, rests_on
from whatif.answers.money.year import Year, year_of


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
        lean: what these prices will make of payback, value and rate.
        rests: what the payback rests on.
        of_year, of_capital: what the two come to, item by item.
        is_compared: whether it is another scenario than the reference.
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
    lean: Lean
    rests: RestsOn
    of_year: Year
    of_capital: Capital
    is_compared: bool

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
    gain = year.left - year_of(reference.plan, reference.figures).left
    more = float(capital.total - capital_of(reference, today).total)
    ramp, years = float(prices.ramp), float(prices.years)
    flows = investment(more, gain, ramp, years)
    return MoneyFigures(
        currency=reference.prices.currency,
        year=year.left,
        year_gain=gain,
        capital=float(capital.total),
        more_capital=more,
        payback_years=payback(more, gain, ramp),
        net_present_value=net_present_value(flows, float(prices.rate)),
        rate_of_return_percent=rate_of_return(flows),
        not_priced=not_priced(here, reference, today),
        lean=lean_of(here, reference, today),
        rests=rests_on(here, today),
        of_year=year,
        of_capital=capital,
        is_compared=here.plan.scenario != reference.plan.scenario,
    )
