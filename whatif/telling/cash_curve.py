"""What has come back of the capital, year after year, drawn to scale in characters."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from whatif.telling.amounts import grouped

Sense = Literal["good", "bad", "plain"]


@dataclass(frozen=True, slots=True)
class CurveRow:
    """A row: the amount at its outer edge, then a cell for each step of time."""

    label: str
    cells: str
    sense: Sense


@dataclass(frozen=True, slots=True)
class Curve:
    """Rows from the largest amount down; then the years below them.

    ``row_stands_for`` is the amount that one row stands for; ``has_back`` whether the capital is
    back within the years shown, where the line of nothing is marked.
    """

    rows: tuple[CurveRow, ...]
    row_stands_for: float
    has_back: bool


ABOVE, HALF_ABOVE, BELOW, HALF_BELOW, ZERO, BACK = "█", "▄", "▒", "▀", "─", "┼"
"""Cells and half cells of more and of less than nothing, the line of nothing, and its mark."""


def cumulated(capital: float, yearly: float, years: float) -> float:
    """What has come in less what was laid out, so many years on, without interest.

    A year's amount is taken to come in evenly, which is how payback is reckoned too.
    """
    return yearly * years - capital


def cash_curve(
    capital: float, yearly: float, years: float, back: float | None, width: int, height: int
) -> Curve:
    """The cumulated cash over the years as bars from the line of nothing.

    Args:
        years: how many are counted, at the right edge; more than 0.
        back: years until the capital has come back; None where it never does.
        width, height: cells there are for the bars, labels and the line of years left out.
    """
    width, height = max(8, width), max(3, height)
    amounts = [cumulated(capital, yearly, years * at / (width - 1)) for at in range(width)]
    high, low = max(0.0, *amounts), max(0.0, -min(amounts))
    one = _row(high, low, height - 1)
    halves = [math.floor(2 * amount / one + 0.5) for amount in amounts]
    up, down = math.ceil(max(0, *halves) / 2), math.ceil(max(0, -min(halves)) / 2)
    rows = [
        CurveRow(grouped(k * one), _cells(halves, k, ABOVE, HALF_ABOVE), "good")
        for k in range(up, 0, -1)
    ]
    has_back = back is not None and 0 < back <= years
    rows.append(CurveRow("0", _zero_line(years, back if has_back else None, width), "plain"))
    less = [-half for half in halves]
    rows += [
        CurveRow(grouped(-k * one), _cells(less, k, BELOW, HALF_BELOW), "bad")
        for k in range(1, down + 1)
    ]
    rows.append(CurveRow("years", _years_line(years, width), "plain"))
    return Curve(tuple(rows), one, has_back)


def _cells(halves: Sequence[int], k: int, whole: str, half: str) -> str:
    """The k-th row from the line of nothing."""
    return "".join(whole if h >= 2 * k else half if h == 2 * k - 1 else " " for h in halves)


def _row(high: float, low: float, rows: int) -> float:
    """The least amount of 1, 2 or 5 and zeros with which all rows have room."""
    power = 10.0 ** math.floor(math.log10(max(1.0, (high + low) / rows)))
    for times in (1, 2, 5, 10, 20):
        one = times * power
        if math.ceil(high / one - 1e-9) + math.ceil(low / one - 1e-9) <= rows:
            return one
    return 50 * power


def _zero_line(years: float, back: float | None, width: int) -> str:
    line = [ZERO] * width
    if back is not None:
        line[round(back / years * (width - 1))] = BACK
    return "".join(line)


def _years_line(years: float, width: int) -> str:
    """Every year at its place; every second or fifth where there is no room for all."""
    line = [" "] * (width + 3)
    room = (width - 1) / years
    every = next((step for step in (1, 2, 5, 10, 20, 50) if step * room >= 4), 100)
    for year in range(0, math.floor(years) + 1, every):
        at = round(year * room)
        for i, sign in enumerate(str(year)):
            line[at + i] = sign
    return "".join(line).rstrip()
