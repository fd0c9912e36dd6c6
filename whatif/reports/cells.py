"""How many character cells a text takes, for tables that stand in columns of characters."""

from __future__ import annotations

import unicodedata


def cells(text: str) -> int:
    """Cells of a text on a terminal: wide signs take two, marks on other signs none.

    Source: Unicode Standard Annex 11, East Asian Width.
    """
    return sum(
        0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1
        for sign in text
    )


def left(text: str, width: int) -> str:
    """A text at the left of so many cells."""
    return text + " " * (width - cells(text))


def right(text: str, width: int) -> str:
    """A text at the right of so many cells."""
    return " " * (width - cells(text)) + text
