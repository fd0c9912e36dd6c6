"""Texts for values that are worked out and then entered, in a unit that somebody chose."""

from fractions import Fraction
from math import floor
from typing import Final

from whatif.units.factors import factor
from whatif.units.table import UNITS

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
