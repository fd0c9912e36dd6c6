"""What a year's gain returns of what is laid out: as typed, and over its likely range."""

from __future__ import annotations

from typing import Literal

from whatif.answers.gains import is_difference, is_naught, is_nothing, lies_outside
from whatif.answers.money.flows import investment, net_present_value, payback, rate_of_return
from whatif.answers.ranks import Range
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class Terms:
    """What a gain is worked out on with: years counted, share of one a year, ramp in years."""

    years: float
    rate: float
    ramp: float


@dataclass(frozen=True, slots=True)
class Returns:
    """What a year's gain makes of the capital (rules `money.payback`, `money.worth`)."""

    year_gain: float
    payback_years: float | None
    net_present_value: float
    rate_of_return_percent: float | None


def returns_of(capital: float, year_gain: float, terms: Terms) -> Returns:
    """The same of one gain a year."""
    flows = investment(capital, year_gain, terms.ramp, terms.years)
    return Returns(
        year_gain,
        payback(capital, year_gain, terms.ramp),
        net_present_value(flows, terms.rate),
        rate_of_return(flows),
    )


def worth_of(capital: float, year_gain: float, terms: Terms) -> float:
    """The present value alone: nothing is looked for by trying."""
    return net_present_value(investment(capital, year_gain, terms.ramp, terms.years), terms.rate)


@dataclass(frozen=True, slots=True)
class LikelyReturns:
    """A scenario's returns at the ends and the middle of its likely range (rule `money.likely`).

    Attributes:
        is_clear: whether a year's gain is a difference.
        is_nothing: whether it is 0 in all but a few draws.
        is_outside: whether what is worked out as typed lies outside; the range then leads.
    """

    low: Returns
    middle: Returns
    high: Returns
    is_clear: bool
    is_nothing: bool
    is_outside: bool

    @property
    def year_gain(self) -> Range:
        """The range of a year's gain."""
        return self.low.year_gain, self.middle.year_gain, self.high.year_gain


def likely_returns(
    capital: float, as_typed: float, of_a_percent: float, terms: Terms, gain: float, likely: Range
) -> LikelyReturns:
    """The year's gain as typed, moved by what the saleable gain moves, and what that returns.

    The saleable gain's range is in percent of the reference's saleable output, and so is this in
    what it contributes; wages and prices stay as they are.

    Args:
        capital: more than the reference's.
        as_typed: the year's gain.
        of_a_percent: a year's contribution of one percent of the reference's saleable output.
        gain: the saleable gain as typed, in percent.
        likely: its range.
    """
    is_outside = lies_outside(gain, likely)
    least, most = likely[0], likely[2]
    if not is_outside:
        # What reads as an end of the range is within it, in money too.
        least, most = min(least, gain), max(most, gain)
    low, middle, high = (as_typed + (end - gain) * of_a_percent for end in (least, likely[1], most))
    ends = low, middle, high
    return LikelyReturns(
        returns_of(capital, low, terms),
        returns_of(capital, middle, terms),
        returns_of(capital, high, terms),
        is_clear=is_difference(as_typed, ends),
        is_nothing=is_nothing(ends),
        is_outside=is_outside,
    )


Standing = Literal["typed", "outside", "unclear", "nothing"]
"""How a scenario's money is to be told: as typed, by its range since that lies outside, as no clear
difference, or as none at all."""


def standing_of(year_gain: float, likely: LikelyReturns | None) -> Standing:
    """The same; what is not known yet is told as typed."""
    if likely is None:
        return "nothing" if is_naught(year_gain) else "typed"
    if not likely.is_clear:
        return "nothing" if likely.is_nothing else "unclear"
    return "outside" if likely.is_outside else "typed"
