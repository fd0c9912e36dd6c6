"""A share taken off a quantity or put on it: "-20 %" typed over "1 h 30 min" is "1 h 12 min"."""

import re
from fractions import Fraction
from typing import Final

from whatif.units.dimension import Dimension, UnitsError
from whatif.units.quantity import parse
from whatif.units.texts import decimal, show, write

_SHARE: Final = re.compile(r"\s*([+\u2212-])\s*(\d{1,6}(?:\.\d{1,6})?)\s*%\s*", re.ASCII)
_PLAIN: Final = re.compile(r"\d{1,15}(?:\.\d{1,12})?", re.ASCII)
_UNIT: Final = re.compile(r"[a-z]+", re.ASCII)
_FINE: Final = 10**6
"""Of a value that a share has no end of decimals of, so small a part is none."""


def share_typed(text: str) -> Fraction | None:
    """What is left of a value by a typed share: 4/5 for "-20 %", 11/10 for "+10 %"; else None."""
    found = _SHARE.fullmatch(text)
    if found is None:
        return None
    share = Fraction(found[2]) / 100
    return 1 + share if found[1] == "+" else 1 - share


def share_of(
    text: str, dimension: Dimension | None, left: Fraction, *, whole: bool = False
) -> str | None:
    """So much of what a text says, written in its unit; None where the text is no amount above 0.

    A time of several units stays one, to the second; ``whole`` rounds to a whole number.
    """
    if dimension is None:
        if not _PLAIN.fullmatch(text.strip()) or not Fraction(text.strip()):
            return None
        amount = Fraction(text.strip()) * left
        return decimal(Fraction(int(amount + Fraction(1, 2))) if whole else amount, amount / _FINE)
    try:
        quantity = parse(text, dimension)
    except UnitsError:
        return None
    if quantity.value <= 0:
        return None
    amount = quantity.value * left
    if dimension is Dimension.TIME and len(_UNIT.findall(text)) > 1:
        return show(amount, dimension, "metric")
    return write(amount, quantity.unit, amount / _FINE)
