"""What has come in less what was laid out, year after year, as bars."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from whatif.records import dataclass
from whatif.telling.amounts import grouped
from whatif.telling.said import Sense


@dataclass(frozen=True, slots=True)
class CashRow:
    """A row: the amount at its outer edge, then a cell for each step of time."""

    label: str
    cells: str
    sense: Sense


@dataclass(frozen=True, slots=True)
class CashCurve:
    """Rows from the largest amount down; then the years below them.

    ``row_stands_for`` is the amount that one row stands for; ``has_back`` whether the capital is
    back within the years shown, where the line of nothing is marked.
    """

    rows: tuple[CashRow, ...]
    row_stands_for: float
    has_back: bool


ABOVE, HALF_ABOVE, BELOW, HALF_BELOW, ZERO, BACK = "█", "▄", "▒", "▀", "─", "┼"
"""Cells and half cells of more and of less than nothing, the line of nothing, and its mark."""


def cash_curve(
    laid_out: float,
    come_in: Callable[[float], float],
    years: float,
    back: float | None,
    width: int,
    height: int,
) -> CashCurve:
    """The cumulated cash over the years as bars from the line of nothing.

    Args:
        laid_out: at once.
        come_in: what has come in so many years on, without interest.
        years: how many are counted, at the right edge; more than 0.
        back: years until the capital has come back; None where it never does.
        width, height: cells there are for the bars, labels and the line of years left out.
    """
    width, height = max(8, width), max(3, height)
    amounts = [come_in(years * at / (width - 1)) - laid_out for at in range(width)]
    high, low = max(0.0, *amounts), max(0.0, -min(amounts))
    per_row = _row_amount(high, low, height - 1)
    halves = [math.floor(2 * amount / per_row + 0.5) for amount in amounts]
    up, down = math.ceil(max(0, *halves) / 2), math.ceil(max(0, -min(halves)) / 2)
    rows = [
        CashRow(grouped(k * per_row), _bar_cells(halves, k, ABOVE, HALF_ABOVE), "good")
        for k in range(up, 0, -1)
    ]
    has_back = back is not None and 0 < back <= years
    rows.append(CashRow("0", _zero_line(years, back if has_back else None, width), "plain"))
    less = [-half for half in halves]
    rows += [
        CashRow(grouped(-k * per_row), _bar_cells(less, k, BELOW, HALF_BELOW), "bad")
        for k in range(1, down + 1)
    ]
    rows.append(CashRow("years", _years_line(years, width), "plain"))
    return CashCurve(tuple(rows), per_row, has_back)


def _bar_cells(halves: Sequence[int], k: int, whole: str, half: str) -> str:
    """The k-th row from the line of nothing."""
    return "".join(whole if h >= 2 * k else half if h == 2 * k - 1 else " " for h in halves)


def _row_amount(high: float, low: float, rows: int) -> float:
    """The least amount of 1, 2 or 5 and zeros with which all rows have room."""
    power = 10.0 ** math.floor(math.log10(max(1.0, (high + low) / rows)))
    for times in (1, 2, 5, 10, 20):
        amount = times * power
        if math.ceil(high / amount - 1e-9) + math.ceil(low / amount - 1e-9) <= rows:
            return amount
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
