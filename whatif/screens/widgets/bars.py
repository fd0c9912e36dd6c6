"""Bars of gains with their likely ranges, all on one scale."""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING

from whatif.screens.widgets.drawing import Span, SpanRow, Tone
from whatif.telling.blocks import LIKELY

if TYPE_CHECKING:
    from whatif.telling.strip import Ends, Scale

ZERO, SOLID = "│", "█"
_EIGHTHS = ("", "▏", "▎", "▍", "▌", "▋", "▊", "▉")
"""What fills a cell from its left by so many eighths."""

_FROM_THE_RIGHT = ("", "▕", "▐", "▐", "▐", "▐", "█", "█")
"""The same from its right, as near as there are signs for it."""


def bar(drawn: Ends | None, scale: Scale | None, width: int, tone: Tone) -> SpanRow:
    """A bar of ``width`` cells: solid from 0 to the near end of its range, then dotted.

    What loses goes to the left of 0. Dots are a likely range in plots too. They are as many cells
    as the range is wide, wherever it begins. One of less than half a cell is not drawn: the bar is
    as long as its gain then, to an eighth of a cell.
    """
    cells = max(0, width - 1)
    if scale is None or cells < 2:
        return (Span(" " * width),)
    left = 0
    if scale.low:
        left = max(
            1, min(cells - bool(scale.high), round(cells * scale.low / (scale.low - scale.high)))
        )
    right = cells - left
    percent = max(-scale.low / left if left else 0.0, scale.high / right if right else 0.0)
    if drawn is None or not percent:
        losing = gaining = ""
    else:
        low, gain, high = (end / percent for end in drawn)
        begin, end = _dotted(low, high)
        losing = _arm(-end, -gain, -begin, _FROM_THE_RIGHT)[::-1][-left:] if left else ""
        gaining = _arm(begin, gain, end, _EIGHTHS)[:right]
    return (
        Span(losing.rjust(left), tone),
        Span(ZERO, "faint"),
        Span(gaining.ljust(right), tone),
    )


def _dotted(low: float, high: float) -> tuple[int, int]:
    """The cells from and to that are dotted: as many as the range is wide, where most of it is.

    Each end rounded for itself would draw one of two ranges as wide as each other, or even the
    narrower one, and not the other.
    """
    many = floor(high - low + 0.5 + _HARDLY)
    begin = round((low + high - many) / 2)
    return begin, begin + many


_HARDLY = 1e-9


def _arm(near: int, gain: float, far: int, parts: tuple[str, ...]) -> str:
    """One side of a bar, outwards from 0: dotted between cells where these are apart."""
    if far > near:
        solid, end = max(0, near), max(0, far)
        return SOLID * solid + LIKELY * (end - solid)
    eighths = round(8 * max(0.0, gain))
    # However small it is, it is seen.
    whole, part = divmod(max(eighths, 1) if gain > 0 else 0, 8)
    return SOLID * whole + parts[part]
