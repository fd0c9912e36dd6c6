"""Amounts of money as people read them."""

from __future__ import annotations

_SPACE = "\u00a0"
"""Between thousands: a space, as ISO 80000-1 has it, since a comma or a point is the decimal sign
of one half of the world or the other. It does not break, so that an amount stays in one line."""


def grouped(value: float) -> str:
    """A whole amount in groups of three digits: "441 535", "-38 000"."""
    return f"{round(value):,}".replace(",", _SPACE)


def priced(value: float, currency: str) -> str:
    """An amount behind its currency's code (ISO 4217): "EUR 441 535"."""
    return f"{currency}{_SPACE}{grouped(value)}"
