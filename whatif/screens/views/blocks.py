"""Signs of what machines do, as a screen draws them."""

from __future__ import annotations

from whatif.telling.week.signs import CUTS, CUTS_MOST

_BLOCKS = {CUTS: "█", CUTS_MOST: "▒"}


def block(sign: str) -> str:
    """A sign of what machines do as a screen draws it: where they cut stands out."""
    return _BLOCKS.get(sign, sign)
