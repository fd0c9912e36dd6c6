"""A year's gain and what it returns, each beside what it lies between (rule `money.likely`)."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from whatif.answers.money.returns import LikelyReturns, Returns, Standing, standing_of
from whatif.telling.amounts import grouped, priced, result_told, rounded, to_four_figures
from whatif.telling.gain_texts import SAME, without_plus
from whatif.telling.money.rests import least, most

if TYPE_CHECKING:
    from whatif.answers.money.money import MoneyFigures

NEVER = "never"
NOT_CLEAR = "not clear"
AT_ONCE = "at once"
NOT_PRICED = "not priced"
NOTHING_LAID_OUT = "nothing invested"
"""Of a payback and of a rate of return where nothing is laid out, or money comes free."""

NO_RETURN = "no return"
ONLY_COSTS = "only costs"
LOAN = "a loan"
OUT_OF_RANGE = "out of range"
"""Why there is no rate of return: cases that have nothing in common are not all "none"."""

NO_RATE = (NOTHING_LAID_OUT, NO_RETURN, ONLY_COSTS, LOAN, OUT_OF_RANGE)


# -- in columns, each text shorter than the one before -----------------------------------------


def year_gain_texts(money: MoneyFigures, likely: LikelyReturns | None) -> tuple[str, ...]:
    """A year's gain: "+52 000 (44 000 to 58 000)"; the range first where it lies outside."""
    stands = money.standing(likely)
    if stands in ("unclear", "nothing"):
        return _none(stands)
    ends = () if likely is None else (likely.low, likely.high)
    return _ranged(
        signed_result(money.year_gain),
        [signed_result(end.year_gain) for end in ends],
        most(money.leans.year_gain),
        is_outside=stands == "outside",
    )


def payback_texts(
    money: MoneyFigures, likely: LikelyReturns | None, unit: str = " years"
) -> tuple[str, ...]:
    """When the capital is back: "at least 2.4 years (2.1 to 2.9)", "at once", "never"."""
    stands = money.standing(likely)
    if money.is_bare:
        return (NEVER if _never_pays(money, likely) else NOT_PRICED,)
    if stands == "unclear":
        return (NOT_CLEAR,)
    if stands == "nothing":
        return (NEVER if money.more_capital > 0 else NOTHING_LAID_OUT,)
    # The most a year brings is back the soonest.
    ends = () if likely is None else (likely.high, likely.low)
    return _ranged(
        _back(money, money.as_typed),
        [_back(money, end) for end in ends],
        least(money.lean),
        unit,
        is_outside=stands == "outside",
    )


def worth_texts(money: MoneyFigures, likely: LikelyReturns | None) -> tuple[str, ...]:
    """The net present value: "+359 000 (320 000 to 370 000)"."""
    stands = money.standing(likely)
    if stands == "unclear":
        return (NOT_CLEAR,)
    ends = () if likely is None else (likely.low, likely.high)
    return _ranged(
        signed_result(money.net_present_value),
        [signed_result(end.net_present_value) for end in ends],
        most(money.lean),
        is_outside=stands == "outside",
    )


def rate_texts(
    money: MoneyFigures, likely: LikelyReturns | None, unit: str = " %"
) -> tuple[str, ...]:
    """The rate of return: "at most 37.0 % (33.1 to 40.2)", "no return"."""
    stands = money.standing(likely)
    if money.is_bare:
        return (NO_RETURN if _never_pays(money, likely) else NOT_PRICED,)
    if stands == "unclear":
        return (NOT_CLEAR,)
    ends = () if likely is None else (likely.low, likely.high)
    return _ranged(
        _rate(money, money.as_typed),
        [_rate(money, end) for end in ends],
        most(money.lean),
        unit,
        is_outside=stands == "outside",
    )


def _none(stands: Standing) -> tuple[str, ...]:
    return ("no clear difference", NOT_CLEAR) if stands == "unclear" else (SAME, "same")


def _never_pays(money: MoneyFigures, likely: LikelyReturns | None) -> bool:
    """Whether a year is sure to bring less, so that nothing ever pays, whatever it takes."""
    clearly = standing_of(money.year_gain, likely) in ("typed", "outside")
    less = money.leading(likely).year_gain < 0
    return clearly and less and money.leans.capital == "worse"


def _back(money: MoneyFigures, returns: Returns) -> str:
    years = returns.payback_years
    if years is None:
        return NEVER if money.more_capital > 0 else NOTHING_LAID_OUT
    return years_text(years) if years else AT_ONCE


def _rate(money: MoneyFigures, returns: Returns) -> str:
    rate = returns.rate_of_return_percent
    if rate is not None:
        return rounded(rate)
    gains = returns.year_gain > 0
    if money.more_capital > 0:
        return OUT_OF_RANGE if gains else NO_RETURN
    if gains or not returns.year_gain:
        return NOTHING_LAID_OUT
    return LOAN if money.more_capital < 0 else ONLY_COSTS


def _ranged(
    as_typed: str, ends: list[str], bound: str = "", unit: str = "", *, is_outside: bool
) -> tuple[str, ...]:
    """A figure and its range, with what missing prices make of it where it is a number."""
    alone = _with(as_typed, bound, unit)
    if set(ends) <= {as_typed}:
        return (alone,)
    if is_outside:
        led, alone = _bounded(ends, bound, unit), _bounded(ends, bound, "")
        return f"likely {led} (as typed {as_typed})", f"likely {led}", led, alone
    both = _bounded(without_plus(ends).split(" to "), bound, "")
    return f"{alone} ({both})", f"{_with(as_typed, bound, '')} ({both})", alone


def _bounded(ends: Sequence[str], bound: str, unit: str) -> str:
    """A range that leads; what missing prices make of it stands before the end that it moves.

    "33.1 to at most 40.2 %", never "at most 33.1 to 40.2 %", which nobody can read.
    """
    low, *others = dict.fromkeys(ends)
    if not others:
        return _with(low, bound, unit)
    (high,) = others
    if bound == most("worse"):
        return f"{low} to {_with(high, bound, unit)}"
    return f"{bound}{low} to {_with(high, '', unit)}"


def beside_range(texts: Sequence[str]) -> tuple[str, str]:
    """Of such texts the figure alone, and what stands beside it in brackets; "" where nothing."""
    first, alone = texts[0], texts[-1]
    if first == alone or not first.startswith(alone):
        return alone, ""
    return alone, first.removeprefix(alone).strip(" ()")


def _with(text: str, bound: str, unit: str) -> str:
    return f"{bound}{text}{unit}" if text[-1].isdigit() else text


def signed_amount(amount: float) -> str:
    """A whole amount with its sign: "+52 000"."""
    return f"{'+' if round(amount) > 0 else ''}{grouped(amount)}"


def signed_result(amount: float) -> str:
    """The same of one that hangs on what is simulated: "+115 600"."""
    return signed_amount(to_four_figures(amount))


# -- in sentences ------------------------------------------------------------------------------


def amounts(low: float, high: float, currency: str) -> str:
    """Two amounts as a range: "USD 44 000 to 50 000"."""
    first, last = priced(to_four_figures(low), currency), result_told(high)
    return first if result_told(low) == last else f"{first} to {last}"


LONGEST_YEARS = 100.0
"""A payback that takes longer is told as that: no machine, and nobody's figures, last so long."""


def years_text(years: float) -> str:
    """A payback in years: "1.9", "over 100"."""
    return f"over {LONGEST_YEARS:g}" if years > LONGEST_YEARS else rounded(years)


def years_between(*ends: float) -> str:
    """Times as a range, without their unit: "1.7 to 2.1"."""
    first, last = years_text(min(ends)), years_text(max(ends))
    return first if first == last else f"{first} to {last}"


def likely_amounts(shown: float, low: float, high: float, bound: str = "") -> str:
    """A range behind an amount: " (likely 44 000 to 50 000)"; "" where it says the same.

    ``bound`` is what missing prices make of it, as of the amount: " (likely 44 000 to at most
    50 000)".
    """
    ends = [result_told(low), result_told(high)]
    return "" if set(ends) == {result_told(shown)} else f" (likely {_bounded(ends, bound, '')})"


def money_likely_words(key: str, money: MoneyFigures, likely: LikelyReturns | None) -> str:
    """What a figure of money lies between, by its key, for a line of its own; "" of the others."""
    texts = MONEY_TEXTS.get(key)
    if texts is None or likely is None:
        return ""
    first = texts(money, likely)[0]
    if money.standing(likely) == "outside":
        return f"{first}: as typed it lies outside the likely range, which leads"
    return first if "(" in first or money.standing(likely) == "unclear" else ""


MONEY_TEXTS: Mapping[str, Callable[[MoneyFigures, LikelyReturns | None], tuple[str, ...]]] = {
    "year_gain": year_gain_texts,
    "payback_years": partial(payback_texts, unit=""),
    "net_present_value": worth_texts,
    "rate_of_return_percent": partial(rate_texts, unit=""),
}
"""By figure: its texts without its unit, which stands beside them."""
