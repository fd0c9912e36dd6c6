"""Amounts and lists as people read them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from math import isfinite
from typing import Final

from whatif.units.table import UNITS

_SPACE = "\u00a0"
_GROUPS: Final = re.compile(rf"\d{{1,3}}(?:{_SPACE}\d{{3}})+")
"""Between thousands: a space, as ISO 80000-1 has it, since a comma or a point is the decimal sign
of one half of the world or the other. It does not break, so that an amount stays in one line."""


_OF_ITS_OWN: Final = ("%", "pcs", "years", "year", "points")
"""What stands behind a figure like a unit and is none that anybody enters."""

_WORDS: Final = {"in"}
"""Units that are words too, behind a figure mostly words: "260 in Today"."""

_HELD: Final = re.compile(
    rf"(?<=\d) (?=(?:{'|'.join(map(re.escape, (*(UNITS.keys() - _WORDS), *_OF_ITS_OWN)))})(?!\w))"
    r"|(?<=\u2713) (?=\w)|(?<=~) (?=assumed)"
)
"""The space between a figure and its unit, which stay in one line (ISO 80000-1), or a sign and
the word that a legend has for it."""

_HOLDS: Final = "\x1f"
"""A sign that no text has, in the place of a space at which no line is broken."""


def unbroken(text: str, breaks: Callable[[str], list[str]]) -> list[str]:
    """A text in pieces, as ``breaks`` has them, no figure being parted from its unit."""
    return [each.replace(_HOLDS, " ") for each in breaks(_HELD.sub(_HOLDS, text))]


NOTHING = "–"
"""In place of a figure that there is not; a "-" is a minus and nothing else."""


def to_six(value: float) -> float:
    """A figure as files for other programs have it; all texts are rounded from this one number."""
    return round(value, 6)


def to_two_figures(value: float) -> float:
    """A value of which no more than the first two figures are known: 64 759 is 65 000."""
    return float(f"{value:.2g}")


def to_four_figures(value: float) -> float:
    """An amount that hangs on what is simulated, as people are told it: 1 084 612 is 1 085 000.

    Whole, and from 10 000 on no more than its first four figures, halves away from 0; what was
    entered, and what is only added up of that, is told as it is. Accounts, and files for other
    programs, have all digits.
    """
    digits = len(rounded(abs(value), 0)) - 4
    if digits <= 0:
        return float(rounded(value, 0))
    exact = Decimal(repr(to_six(value)))
    return float(exact.quantize(Decimal(1).scaleb(digits), ROUND_HALF_UP))


def rounded(value: float, digits: int = 1, sign: str = "") -> str:
    """A figure with so many decimals; halves go away from 0, as on paper: 38.75 is 38.8.

    ``sign`` is a plus sign, a comma between thousands, or both.
    """
    return _as_on_paper(value, digits, sign)


@lru_cache(4096)
def _as_on_paper(value: float, digits: int, sign: str) -> str:
    # A screen tells the same figures again at every key.
    if not isfinite(value):
        return f"{value}"
    exact = Decimal(repr(to_six(value)))
    # A whole number past the half in either direction, and never "-0.0".
    found = exact.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP) + 0
    return f"{found:{sign}.{digits}f}"


def whole(value: float) -> int:
    """A figure as a whole number, rounded in the same way."""
    return int(rounded(value, 0))


def signed(value: float, digits: int = 1) -> str:
    """The same with its sign, more than nothing too: "+3.1"."""
    return rounded(value, digits, "+")


def shown_difference(here: float, there: float, digits: int = 1) -> float:
    """What one figure is more than another beside it, as both read with so many decimals.

    Whoever takes the one from the other with a pencil finds what is told: 37.2 less 33.9 is 3.3,
    though 37.15 less 33.94 is 3.21.
    """
    return to_six(float(rounded(here, digits)) - float(rounded(there, digits)))


def number(value: float | None, digits: int = 1) -> str:
    """A plain number, or a dash where there is none."""
    return NOTHING if value is None else rounded(value, digits)


def same_decimals(values: Iterable[float]) -> list[str]:
    """Numbers with as many decimals as the one that needs the most: 0.1, 0.25 is 0.10, 0.25."""
    exact = [to_six(value) for value in values]
    digits = next(
        digits for digits in range(7) if all(round(each, digits) == each for each in exact)
    )
    return [rounded(each, digits) for each in exact]


def grouped(value: float) -> str:
    """A whole amount in groups of three digits: "441 535", "-38 000"."""
    return rounded(value, 0, ",").replace(",", _SPACE)


def in_thousands(text: str) -> str:
    """A text with its grouped amounts in thousands: "+128k..+134k" for "+127 608..+133 608"."""
    return _GROUPS.sub(lambda found: f"{grouped(int(found[0].replace(_SPACE, '')) / 1000)}k", text)


def range_in_millions(text: str) -> str:
    """A range in millions with the sign for them once: "+1.03 to +1.14M"."""
    return in_millions(text).replace("M to ", " to ")


def in_millions(text: str) -> str:
    """A text with its grouped amounts in millions: "+1.03M to +1.14M"."""
    return _GROUPS.sub(lambda found: f"{int(found[0].replace(_SPACE, '')) / 1e6:.2f}M", text)


def priced(value: float, currency: str) -> str:
    """An amount behind its currency's code (ISO 4217): "EUR 441 535"."""
    return f"{currency}{_SPACE}{grouped(value)}"


NO_MORE: Final = "0.0"
"""As much as in the reference; an empty cell would leave open whether that is known."""


def result_told(value: float) -> str:
    """Such an amount in groups of three digits: "115 600"."""
    return grouped(to_four_figures(value))


ROUNDED: Final = ", rounded"
"""Behind the title of a sum where the figures above it, as they read, add up to another one."""


def listed(names: Sequence[str]) -> str:
    """Names with commas and an "and": "a, b and c"."""
    return " and ".join([*([", ".join(names[:-1])] if names[1:] else []), *names[-1:]])
