"""Cash flows: what they are worth today, at which rate that is nothing, when they are back.

All of it as in textbooks of engineering economy; flows may be as uneven as they like.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from whatif.records import dataclass

_LEAST_RATE, _MOST_RATE = -0.9, 1e6
"""Shares of one a year between which a rate of return is looked for."""

_HALVINGS = 200


@dataclass(frozen=True, slots=True)
class Flow:
    """An amount at a time in years from now, below 0 where it is paid.

    ``times`` above 1 is a row of them, each a year after the one before.
    """

    at: float
    amount: float
    times: int = 1

    def worth(self, rate: float) -> float:
        """Worth today at a rate a year, a share of one above -1."""
        log = math.log1p(rate)
        alone = self.amount * math.exp(-self.at * log)
        if self.times == 1:
            return alone
        return alone * (math.expm1(-self.times * log) / math.expm1(-log) if rate else self.times)


def at_year_ends(amounts: Sequence[float]) -> tuple[Flow, ...]:
    """The first amount now, each other at the end of a year."""
    return tuple(Flow(year, amount) for year, amount in enumerate(amounts))


def net_present_value(flows: Sequence[Flow], rate: float) -> float:
    """What flows are worth today, those that are paid taken off (rule `money.worth`)."""
    return math.fsum(flow.worth(rate) for flow in flows)


def rate_of_return(flows: Sequence[Flow]) -> float | None:
    """Percent a year at which flows are worth nothing today (rule `money.worth`).

    There is just one where all that is paid comes before all that is brought. None where there is
    none, or more than one may be, or it lies beyond -90 % and a million percent.
    """
    signs = [flow.amount > 0 for flow in flows if flow.amount]
    if not signs or signs != sorted(signs) or signs[0] == signs[-1]:
        return None
    low, high = _lowest(flows), _MOST_RATE
    if net_present_value(flows, high) > 0 or net_present_value(flows, low) < 0:
        return None
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if middle in (low, high):
            # Nothing lies between them.
            break
        if net_present_value(flows, middle) > 0:
            low = middle
        else:
            high = middle
    return 100 * (low + high) / 2


def _lowest(flows: Sequence[Flow]) -> float:
    """The least rate at which their worth is still a number: of centuries none is at -90 %."""
    low = _LEAST_RATE
    while True:
        try:
            net_present_value(flows, low)
        except OverflowError:
            low /= 2
        else:
            return low


# -- capital now, and a gain a year ----------------------------------------------------------


def brought(yearly: float, ramp: float, years: float) -> float:
    """What has come in so many years on, without interest (rule `money.ramp`).

    A gain grows from nothing to full over the ramp, straight, and comes in evenly from then on. A
    loss needs no ramp.
    """
    if yearly <= 0 or ramp <= 0:
        return yearly * years
    if years <= ramp:
        return yearly * years * years / (2 * ramp)
    return yearly * (years - ramp / 2)


def investment(capital: float, yearly: float, ramp: float, years: float) -> tuple[Flow, ...]:
    """Capital now, and each year's gain at its end; a begun last year has its share at its own."""
    whole = math.floor(years)
    begun = min(whole, math.ceil(ramp)) if yearly > 0 else 0
    flows = [Flow(0, -capital)]
    flows += [
        Flow(year, brought(yearly, ramp, year) - brought(yearly, ramp, year - 1))
        for year in range(1, begun + 1)
    ]
    if whole > begun:
        flows.append(Flow(begun + 1, yearly, whole - begun))
    if years > whole:
        flows.append(Flow(years, brought(yearly, ramp, years) - brought(yearly, ramp, whole)))
    return tuple(flows)


def payback(capital: float, yearly: float, ramp: float = 0.0) -> float | None:
    """Years from the start until the capital has come back, the ramp included.

    0 where there is nothing to lay out and a year gains; None where nothing ever comes back
    (rule `money.payback`).
    """
    if yearly <= 0:
        return None
    if capital <= 0:
        return 0.0
    if capital < yearly * ramp / 2:
        return math.sqrt(2 * ramp * capital / yearly)
    return capital / yearly + ramp / 2
