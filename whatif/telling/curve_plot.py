"""What a curve may be drawn of, and its bars, each with its figure, to scale from nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil

from whatif.answers.moves.changing import Outcome
from whatif.answers.moves.vary import Curve
from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, grouped, number, rounded
from whatif.telling.money.ranges import leading_returns, payback_texts, year_gain_texts
from whatif.telling.moves import gain_in_short


@dataclass(frozen=True, slots=True)
class Measure:
    """A figure that a curve may be drawn of.

    Attributes:
        of, text: the figure of one try as a number and as it is written into the picture.
    """

    name: str
    unit: str
    of: Callable[[Outcome], float | None]
    text: Callable[[Outcome], str]

    @property
    def title(self) -> str:
        """Name and unit."""
        return f"{self.name}, {self.unit}" if self.unit else self.name


def measures(curve: Curve) -> tuple[Measure, ...]:
    """The figures that the curve has; first one that its input moves."""
    outcomes = [point.outcome for point in curve.points]
    parts = dict.fromkeys(part for outcome in outcomes for part in outcome.pieces)
    gain = Measure("saleable gain", "%", lambda outcome: outcome.gains.saleable, gain_in_short)
    offered = (
        gain,
        _plain("spindle hours", "a week", lambda outcome: outcome.spindle_hours, 1),
        _plain("demand met, part furthest behind", "%", lambda outcome: outcome.least_met, 0),
        *(_pieces(part) for part in parts),
        Measure("year's gain", "money", _year_gain, _year),
        Measure("payback", "years", _payback_years, _payback),
        Measure("hours that are said", "a day", _said_hours, _said),
    )
    known = [each for each in offered if any(each.of(outcome) is not None for outcome in outcomes)]
    if not _varies(gain, outcomes):
        # A price moves payback and no output, so that is what it is drawn of first.
        known.sort(key=lambda each: not _varies(each, outcomes))
    return tuple(known)


def _varies(measure: Measure, outcomes: Sequence[Outcome]) -> bool:
    return len({measure.of(outcome) for outcome in outcomes if not outcome.problem}) > 1


def _plain(name: str, unit: str, of: Callable[[Outcome], float | None], digits: int) -> Measure:
    return Measure(name, unit, of, lambda outcome: number(of(outcome), digits))


def _pieces(part: str) -> Measure:
    return _plain(f"good pieces of {part}", "a week", lambda outcome: outcome.pieces.get(part), 0)


def _said_hours(outcome: Outcome) -> float | None:
    return None if outcome.said is None else outcome.said.hours_per_day


def _said(outcome: Outcome) -> str:
    return number(_said_hours(outcome))


def _year_gain(outcome: Outcome) -> float | None:
    return (
        None
        if outcome.money is None
        else leading_returns(outcome.money, outcome.likely_money).year_gain
    )


def _year(outcome: Outcome) -> str:
    if outcome.money is None:
        return NOTHING
    return year_gain_texts(outcome.money, outcome.likely_money)[-1]


def _payback_years(outcome: Outcome) -> float | None:
    """None too where a year's gain is not clear, so that no bar tells of one."""
    if outcome.money is None:
        return None
    return leading_returns(outcome.money, outcome.likely_money).payback_years


def _payback(outcome: Outcome) -> str:
    if outcome.money is None:
        return NOTHING
    return payback_texts(outcome.money, outcome.likely_money, "")[-1]


# -- bars ----------------------------------------------------------------------------------

_EIGHTHS = " ▁▂▃▄▅▆▇█"
BELOW, HALF_BELOW = "▒", "▀"
"""Cells of less than nothing, so that a loss is seen without colour."""

NARROW = 3
"""Cells of the narrowest column: a bar of two and a gap."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Which values are shown, and how wide the column of each is."""

    first: int
    many: int
    column: int

    @property
    def places(self) -> range:
        """The places of the values shown."""
        return range(self.first, self.first + self.many)


@dataclass(frozen=True, slots=True)
class BarRow:
    """A row: the amount at its outer edge ("" where it is not told), then a cell for each value."""

    label: str
    cells: tuple[str, ...]


def layout(many: int, widest: int, room: int, at: int) -> Layout:
    """Columns as wide as the texts where they fit, else narrower, else only those about ``at``."""
    column = widest + 1
    if many * column <= room:
        return Layout(0, many, max(column, min(14, room // max(1, many))))
    column = max(NARROW, room // max(1, many))
    shown = min(many, max(1, room // column))
    return Layout(max(0, min(at - shown // 2, many - shown)), shown, column)


def bars(
    values: Sequence[float | None], texts: Sequence[str], column: int, height: int
) -> tuple[BarRow, ...]:
    """Bars up for more than nothing and down for less, their texts at the ends where they fit.

    Args:
        values: None where there is no figure; its text stands in the place of a bar.
        height: rows there are, those of the texts among them.
    """
    known = [value for value in values if value is not None]
    high, low = max(0.0, *known, 0.0), max(0.0, -min((*known, 0.0)))
    up, down = _shared(high, low, max(1 + (high > 0 < low), height - 1 - (low > 0)))
    per_row = max(high / up if up else 0.0, low / down if down else 0.0) or 1.0
    rows = []
    for k in range(up, -1, -1):  # the row above the highest bar is for its text
        label = _amount(up * per_row) if up and k == up - 1 else ""
        cells = [_above(value, text, k, per_row) for value, text in zip(values, texts, strict=True)]
        rows.append(BarRow(label, tuple(_in(cell, column) for cell in cells)))
    for k in range(down + 1 if low else 0):
        cells = [_below(value, text, k, per_row) for value, text in zip(values, texts, strict=True)]
        label = _amount(-down * per_row) if k == down - 1 else ""
        rows.append(BarRow(label, tuple(_in(cell, column) for cell in cells)))
    return tuple(rows)


def _shared(high: float, low: float, rows: int) -> tuple[int, int]:
    """Rows above and below nothing."""
    if not low:
        return rows, 0
    if not high:
        return 0, rows
    below = min(rows - 1, max(1, ceil(rows * low / (high + low))))
    return rows - below, below


def _amount(value: float) -> str:
    return grouped(value) if abs(value) >= 100 else rounded(value)


def _above(value: float | None, text: str, k: int, per_row: float) -> str | int:
    """The sign of a bar k rows above nothing, or the text on top of it."""
    eighths = 0 if value is None or value < 0 else _at_least(8 * value / per_row)
    full = ceil(eighths / 8)
    if k < full:
        return min(8, eighths - 8 * k)
    return text if k == full and (value is None or value >= 0) else ""


def _below(value: float | None, text: str, k: int, per_row: float) -> str | int:
    halves = 0 if value is None or value >= 0 else _at_least(-2 * value / per_row)
    full = ceil(halves / 2)
    if k < full:
        return -min(2, halves - 2 * k)
    return text if k == full and value is not None and value < 0 else ""


def _at_least(amount: float) -> int:
    """Rounded; what is more than nothing is seen."""
    return max(1, round(amount)) if amount > 0 else 0


def _in(cell: str | int, column: int) -> str:
    """A sign or a text in the middle of its column; a text that has no room is left out."""
    if isinstance(cell, str):
        return cell.center(column) if len(cell) < column else " " * column
    bar = max(1, column - 2 if column > NARROW else column - 1)
    sign = _EIGHTHS[cell] if cell >= 0 else (BELOW if cell == -2 else HALF_BELOW)
    return (sign * bar).center(column)


def ticks(names: Sequence[str], layout: Layout, at: int) -> tuple[str, str, str]:
    """The line of values below the bars, cut in three: the one at ``at`` is in brackets.

    That one always stands there; of the others every one, or every second or third and so on.
    """
    widest = max(len(names[place]) for place in layout.places) + 1
    every = ceil(widest / layout.column)
    mark = f"[{names[at]}]"
    middle = _middle(at, layout, mark)
    line = " " * (layout.column * layout.many)
    for place in layout.places:
        begin = _middle(place, layout, names[place])
        clashes = begin + len(names[place]) >= middle and begin <= middle + len(mark)
        if place != at and not clashes and (place - layout.first) % every == 0:
            line = f"{line[:begin]}{names[place]}{line[begin + len(names[place]) :]}"
    return line[:middle], mark, line[middle + len(mark) :].rstrip()


def under(words: Sequence[str], layout: Layout) -> str | None:
    """A line with a word below each value that has one; None where two would touch."""
    line, taken = " " * (layout.column * layout.many), -1
    for place, word in zip(layout.places, words, strict=True):
        if not word:
            continue
        begin = min(_middle(place, layout, word), max(0, len(line) - len(word)))
        if begin <= taken:
            return None
        taken = begin + len(word)
        line = f"{line[:begin]}{word}{line[taken:]}"
    return line.rstrip()


def _middle(place: int, layout: Layout, text: str) -> int:
    """Where a text begins that stands in the middle of its value's column."""
    return max(0, (place - layout.first) * layout.column + (layout.column - len(text)) // 2)
