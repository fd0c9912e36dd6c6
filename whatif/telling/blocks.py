"""How what machines do is drawn: the more a spindle cuts, the denser the block."""

from __future__ import annotations

from typing import Final

from whatif.answers.shares import Band

BLOCKS: Final[dict[Band, str]] = {
    "cutting": "█",
    "unsold": "▓",
    "serving": "▒",
    "waiting": "░",
    "resting": "·",
}
"""A sign for each, so that it can be read without colour."""

_AROUND = 6
"""Cells around a word in a bar: a space and two signs on either side."""


def segment(sign: str, cells: int, *words: str) -> str:
    """A stretch of a bar, the first of the ``words`` that has room in its middle."""
    text = next((f" {each} " for each in words if len(each) + _AROUND <= cells), "")
    return text.center(cells, sign) if text else sign * cells
