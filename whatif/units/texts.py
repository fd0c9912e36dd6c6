"""Texts for values: short ones to be read, and exact ones to be entered."""

from fractions import Fraction
from math import floor
from typing import Final

from whatif.units.dimension import Dimension
from whatif.units.table import UNITS, factor

_HOUR: Final = 3600
_WEEK: Final = 168 * _HOUR

# Unit and decimals, by kind and system.
_SHOWN_IN: Final[dict[tuple[Dimension, str], tuple[str, int]]] = {
    (Dimension.LENGTH, "metric"): ("mm", 2),
    (Dimension.LENGTH, "inch"): ("in", 3),
    (Dimension.MASS, "metric"): ("kg", 2),
    (Dimension.MASS, "inch"): ("lb", 2),
    (Dimension.AREA, "metric"): ("m²", 2),
    (Dimension.AREA, "inch"): ("ft²", 1),
    (Dimension.PERCENT, "metric"): ("%", 1),
    (Dimension.PERCENT, "inch"): ("%", 1),
}


def show(value: Fraction | int | float, dimension: Dimension, system: str) -> str:
    """`value` (in the base unit of `dimension`) as a short text, such as "1 h 30 min".

    `system` is a study's `units`: "metric" or "inch" (rule `study.head`).
    Rounded, halves away from 0, so a text for reading and not for saving.
    """
    if system not in ("metric", "inch"):
        raise ValueError(f'a system of units is "metric" or "inch", not {system!r}')
    exact = Fraction(value)
    sign = "-" if exact < 0 else ""
    if dimension is Dimension.TIME:
        text = _time(abs(exact))
    else:
        symbol, decimals = _SHOWN_IN[dimension, system]
        text = f"{_decimal(abs(exact) / factor(UNITS[symbol]), decimals)} {symbol}"
    return text if text.startswith("0 ") else sign + text


def _time(seconds: Fraction) -> str:
    """Whole weeks as weeks; else hours, minutes and seconds: a shop counts in hours, not days."""
    whole = _rounded(seconds)
    if whole < 60:
        return f"{_decimal(seconds, 1)} s"
    if whole % _WEEK == 0:
        weeks = whole // _WEEK
        return "1 week" if weeks == 1 else f"{weeks} weeks"
    counts = (whole // _HOUR, "h"), (whole // 60 % 60, "min"), (whole % 60, "s")
    return " ".join(f"{count} {unit}" for count, unit in counts if count)


def _decimal(value: Fraction, decimals: int) -> str:
    """`value` with so many decimals, with more below 1 so that three figures remain."""
    while decimals < 9 and 0 < value * 10**decimals < 100 and value < 1:
        decimals += 1
    scaled = _rounded(value * 10**decimals)
    whole, rest = divmod(scaled, 10**decimals)
    return f"{whole}.{rest:0{decimals}d}".rstrip("0").rstrip(".")


def _rounded(value: Fraction) -> int:
    return floor(value + Fraction(1, 2))


MOST_DECIMALS: Final = 6


def write(value: Fraction, symbol: str, within: Fraction = Fraction(0)) -> str:
    """`value` (not below 0, in the base unit) in the unit of `symbol`, such as "11.62 min".

    Exact where six decimals are enough, else with the fewest decimals that are no more than
    `within` (in the base unit) off, or with six.
    """
    worth = factor(UNITS[symbol])
    return f"{decimal(value / worth, within / worth)} {symbol}"


def is_exact(value: Fraction, symbol: str) -> bool:
    """Whether six decimals are enough to write `value` exactly in the unit of `symbol`."""
    return (value / factor(UNITS[symbol]) * 10**MOST_DECIMALS).denominator == 1


def in_unit(value: Fraction, symbol: str) -> Fraction:
    """`value` (in the base unit) as a number of the unit of `symbol`."""
    return value / factor(UNITS[symbol])


def decimal(number: Fraction, within: Fraction = Fraction(0)) -> str:
    """A number not below 0 without a unit; see `write`."""
    if (number * 10**MOST_DECIMALS).denominator == 1:
        within = Fraction(0)
    for decimals in range(MOST_DECIMALS + 1):
        scaled = floor(number * 10**decimals + Fraction(1, 2))
        if abs(Fraction(scaled, 10**decimals) - number) <= within:
            break
    whole, rest = divmod(scaled, 10**decimals)
    return f"{whole}.{rest:0{decimals}d}" if decimals else str(whole)
