"""Amounts and lists as people read them."""

from __future__ import annotations

from collections.abc import Sequence
from math import copysign

_SPACE = "\u00a0"
"""Between thousands: a space, as ISO 80000-1 has it, since a comma or a point is the decimal sign
of one half of the world or the other. It does not break, so that an amount stays in one line."""


_FLOATS = 1e-9
"""What sums of seconds may miss a half by."""


def rounded(value: float, digits: int = 1) -> str:
    """A figure with so many decimals; halves go away from 0, as on paper: 38.75 is 38.8."""
    return f"{_past_half(value):.{digits}f}"


def signed(value: float, digits: int = 1) -> str:
    """The same with its sign, more than nothing too: "+3.1"."""
    return f"{value:+.{digits}f}"


def _past_half(value: float) -> float:
    return value + copysign(_FLOATS, value) if value else value


def grouped(value: float) -> str:
    """A whole amount in groups of three digits: "441 535", "-38 000"."""
    return f"{_past_half(value):,.0f}".replace(",", _SPACE)


def priced(value: float, currency: str) -> str:
    """An amount behind its currency's code (ISO 4217): "EUR 441 535"."""
    return f"{currency}{_SPACE}{grouped(value)}"


def listed(names: Sequence[str]) -> str:
    """Names with commas and an "and": "a, b and c"."""
    return " and ".join([*([", ".join(names[:-1])] if names[1:] else []), *names[-1:]])
