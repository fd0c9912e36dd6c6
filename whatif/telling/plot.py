"""A plot of lines: axes with round ticks, bands, signs on the lines, and words below the values.

It knows nothing of what it draws. Each cell has an ink, a name that whoever paints it has a tone
for. Lines are of dots, two by four to a cell (braille); a band is of every second dot, so that it
reads lighter without colour too.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil, floor, log10
from types import MappingProxyType
from typing import Final

from whatif.records import dataclass
from whatif.telling.amounts import grouped

AXIS, LABEL, ZERO = "axis", "label", "zero"
"""Inks of what is no line."""

POINT: Final = "●"
"""A value that was tried."""

_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_BLANK = 0x2800
_DOWN, _ACROSS = 4, 2
_MIDDLE = (_DOWN - 1) / 2
"""Dots from the lowest one of a cell to its middle."""

_ROUND_STEPS = (1.0, 2.0, 2.5, 5.0)

_Dot = tuple[int, int]
"""Column and row of dots."""
_Cell = tuple[int, int]
"""Column and row of cells."""


@dataclass(frozen=True, slots=True)
class Inked:
    """A sign in an ink; ``lit`` where a cursor stands on it.

    ``beside`` is what is drawn of a band in a cell of its line, as it would look alone.
    """

    sign: str
    ink: str = ""
    lit: bool = False
    beside: str = ""


@dataclass(frozen=True, slots=True)
class Trace:
    """A line through points, from left to right; a gap where there is no amount.

    Attributes:
        band: lower and upper end at each point; () where nothing is known of them.
        signs: texts of one cell that stand on the line, at places of their own.
        is_light: whether it is of every second dot, so that another one is read before it.
    """

    points: Sequence[tuple[float, float | None]]
    ink: str
    band: Sequence[tuple[float, float] | None] = ()
    band_ink: str = ""
    signs: Sequence[tuple[float, str]] = ()
    is_light: bool = False


@dataclass(frozen=True, slots=True)
class Upright:
    """A stroke from bottom to top, and a word for it below; ``lit`` where a cursor stands."""

    at: float
    ink: str
    word: str = ""
    lit: bool = False


@dataclass(frozen=True, slots=True)
class Across:
    """A stroke from left to right, at an amount."""

    at: float
    ink: str
    sign: str


@dataclass(frozen=True, slots=True)
class AmountScale:
    """Amounts from low to high, and round ones between them at even steps."""

    low: float
    high: float
    ticks: tuple[float, ...]

    @property
    def text_of(self) -> dict[float, str]:
        """Each tick as it is written, all with as many decimals."""
        steps = [b - a for a, b in pairwise(self.ticks)]
        step = min(steps, default=1.0)
        digits = next((n for n in range(6) if abs(step * 10**n - round(step * 10**n)) < 1e-6), 6)
        return {tick: amount_text(tick, digits) for tick in self.ticks}


def amount_text(amount: float, digits: int) -> str:
    """An amount at an axis, in groups of three; nothing is never "-0"."""
    return f"{amount + 0.0:.{digits}f}" if digits else grouped(amount + 0.0)


def scale(low: float, high: float, rows: int) -> AmountScale:
    """A scale that holds both ends, with round ticks that stand equally many rows apart.

    It goes on a little beyond them for that, upwards where there is room: of the scales that do
    so by little the one with most ticks, else the one that does so least. Three ticks at least
    where there are :data:`_ROWS_OF_THREE` rows.
    """
    if high - low < 1e-9:
        pad = max(1.0, abs(high) / 10)
        low, high = (low - pad, high + pad) if low else (0.0, pad)
    rows = max(2, rows)
    most = max(2, min(rows, max(5, rows // 2 + 1)))
    found = [each for step in _steps(high - low) for each in _even(low, high, rows, step)]
    fewest = 3 if rows >= _ROWS_OF_THREE else 2
    found = [each for each in found if fewest <= len(each.ticks) <= most]
    least = min(each.high - each.low for each in found)
    near = (each for each in found if each.high - each.low <= least + _BEYOND * (high - low))
    return max(near, key=lambda each: (len(each.ticks), each.low - each.high))


def scale_across(low: float, high: float, most: int) -> AmountScale:
    """A scale from end to end, with as many round ticks within as are no more than ``most``.

    ``most`` are two at least, and the ends are apart.
    """
    for step in _steps(high - low):
        first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
        if last - first < most:
            break
    return AmountScale(low, high, tuple(k * step for k in range(first, last + 1)))


_BEYOND = 0.15
"""Share of what is drawn by which a scale may be longer than the shortest for having more ticks."""


_ROWS_OF_THREE = 6
"""Rows from which two ticks alone would leave much to be guessed."""


def _steps(span: float) -> Iterator[float]:
    """Round steps from less than a hundredth of a span to more than all of it."""
    power = 10.0 ** (floor(log10(span)) - 2)
    return (times * power * 10**decade for decade in range(5) for times in _ROUND_STEPS)


def _even(low: float, high: float, rows: int, step: float) -> Iterator[AmountScale]:
    """The scales that hold both ends and whose ticks, a step each, are whole rows apart.

    A tick lies in the middle of its row, where the strokes of the axis and of nothing are drawn.
    """
    dots = _DOWN * rows - 1
    furthest = floor(dots * step / (_DOWN * (high - low)) + 1e-9)
    for apart in range(1, min(furthest, rows - 1) + 1):
        dot = step / (_DOWN * apart)
        # Dots from the lowest one up to the middle of the row in which nothing lies.
        below = _DOWN * ceil((-low / dot - _MIDDLE) / _DOWN - 1e-9) + _MIDDLE
        bottom = -below * dot
        top = bottom + dots * dot
        if top >= high - 1e-9 * dot:
            first, last = ceil(bottom / step - 1e-9), floor(top / step + 1e-9)
            ticks = tuple(k * step for k in range(first, last + 1))
            yield AmountScale(min(bottom, low), max(top, high), ticks)


@dataclass(frozen=True, slots=True)
class Plot:
    """Rows of cells, the first of each the axis, and what stands at their left.

    Attributes:
        labels: of each row, "" where no tick is.
    """

    rows: tuple[tuple[Inked, ...], ...]
    labels: tuple[str, ...]

    @property
    def gutter(self) -> int:
        """Cells of the widest label."""
        return max((len(label) for label in self.labels), default=0)


_HARDLY = 1e-3
"""Share of a dot that is none: what sums of floats are off by."""


class Canvas:
    """What is drawn on, cell by cell; what is drawn later lies above.

    Args:
        across: the least and the greatest place.
        up: the scale of amounts.
        width, height: in cells, without labels.
    """

    def __init__(
        self, across: tuple[float, float], up: AmountScale, width: int, height: int
    ) -> None:
        self._across, self._up = across, up
        self.width, self.height = max(2, width), max(2, height)
        self._cells: dict[tuple[int, int], Inked] = {}

    def column(self, place: float) -> int:
        """The cell of a place."""
        return self._dot_across(place) // _ACROSS

    def row(self, amount: float) -> int:
        """The row of an amount, 0 at the top."""
        return self._dot_down(amount) // _DOWN

    def place(self, dot: int) -> float:
        """The place of a column of dots."""
        low, high = self._across
        return low + (high - low) * dot / (_ACROSS * self.width - 1)

    def _dot_across(self, place: float) -> int:
        low, high = self._across
        share = (place - low) / (high - low) if high > low else 0.5
        return max(0, min(_ACROSS * self.width - 1, round(share * (_ACROSS * self.width - 1))))

    def _dot_down(self, amount: float) -> int:
        share = (self._up.high - amount) / (self._up.high - self._up.low)
        # The middle of a row lies between two dots: what begins at a tick begins above its stroke.
        down = ceil(share * (_DOWN * self.height - 1) - 0.5 - _HARDLY)
        return max(0, min(_DOWN * self.height - 1, down))

    def put(self, column: int, row: int, cell: Inked) -> None:
        """A sign in a cell."""
        if 0 <= column < self.width and 0 <= row < self.height:
            self._cells[column, row] = cell

    def level(self, amount: float, ink: str = ZERO, sign: str = "─") -> None:
        """A stroke across."""
        if self._up.low <= amount <= self._up.high:
            for column in range(self.width):
                self.put(column, self.row(amount), Inked(sign, ink))

    def upright(self, stroke: Upright) -> None:
        """A stroke from bottom to top."""
        for row in range(self.height):
            self.put(self.column(stroke.at), row, Inked("┊" if stroke.lit else "│", stroke.ink))

    def band(self, trace: Trace) -> None:
        """What lies between the ends, of every second dot."""
        self._ink(_in_cells(self._band_dots(trace)), trace.band_ink)

    def _band_dots(self, trace: Trace) -> set[_Dot]:
        """The dots of a band, but those that touch its line.

        These would make the line look thicker, and on the one side only where they fall into
        other cells than its own.
        """
        dots: set[_Dot] = set()
        ends = list(zip(trace.points, trace.band, strict=False))
        for ((left, _), begin), ((right, _), end) in pairwise(ends):
            if begin is None or end is None:
                continue
            for dot in range(self._dot_across(left), self._dot_across(right) + 1):
                low, high = (
                    _between(self.place(dot), left, right, begin[k], end[k]) for k in (0, 1)
                )
                for down in range(self._dot_down(high), self._dot_down(low) + 1):
                    if (dot + down) % 2 == 0:
                        dots.add((dot, down))
        line = self._line_dots(trace) if dots else set()
        return dots - {(dot, down + by) for dot, down in line for by in (-1, 0, 1)}

    def line(self, trace: Trace, level: float | None = None) -> None:
        """A line from point to point, with the edges of its band that lie in its cells.

        A light one lies below the stroke at ``level``. A line drawn through covers it: dots of
        both in a cell would read as a sign of their own.
        """
        cells = _in_cells(self._line_dots(trace))
        if level is not None and trace.is_light:
            cells = {at: bits for at, bits in cells.items() if at[1] != self.row(level)}
        self._ink(cells, trace.ink, _in_cells(self._edge_dots(trace)))

    def _edge_dots(self, trace: Trace) -> set[_Dot]:
        """The dots of a band on that side of its line on which it ends within the line's cell.

        Where it goes on in the next cell it is seen there, and the line stands free of it.
        """
        band = self._band_dots(trace)
        cells = _in_cells(band)
        lowest: dict[int, int] = {}
        for dot, down in self._line_dots(trace):
            lowest[dot] = max(down, lowest.get(dot, down))
        edge: set[_Dot] = set()
        for dot, down in band:
            beyond = 1 if down > lowest.get(dot, down) else -1
            if (dot // _ACROSS, down // _DOWN + beyond) not in cells:
                edge.add((dot, down))
        return edge

    def _line_dots(self, trace: Trace) -> set[_Dot]:
        """The dots of a line."""
        dots: set[_Dot] = set()
        for (left, begin), (right, end) in pairwise(trace.points):
            if begin is None or end is None:
                continue
            before = self._dot_down(begin)
            for dot in range(self._dot_across(left), self._dot_across(right) + 1):
                here = self._dot_down(_between(self.place(dot), left, right, begin, end))
                between = range(min(before, here) + 1, max(before, here))
                for down in (here, *between) if not (trace.is_light and dot % _ACROSS) else ():
                    dots.add((dot, down))
                before = here
        return dots

    def signs(self, trace: Trace, lit: float | None = None) -> None:
        """The signs of a line, that at ``lit`` under the cursor."""
        for place, sign in trace.signs:
            amount = amount_at(trace.points, place)
            if amount is not None:
                cell = Inked(sign, trace.ink, lit=place == lit)
                self.put(self.column(place), self.row(amount), cell)

    def _ink(
        self, cells: dict[_Cell, int], ink: str, band: Mapping[_Cell, int] = MappingProxyType({})
    ) -> None:
        for (column, row), bits in cells.items():
            beside = band.get((column, row), 0)
            sign = chr(_BLANK + (bits | beside))
            self.put(column, row, Inked(sign, ink, beside=chr(_BLANK + beside) * (beside > 0)))

    def done(self) -> Plot:
        """The rows, the axis at their left, and the labels of its ticks."""
        ticked = {self.row(tick): text for tick, text in self._up.text_of.items()}
        rows = tuple(
            (
                Inked("┤" if row in ticked else "│", AXIS),
                *(self._cells.get((column, row), Inked(" ")) for column in range(self.width)),
            )
            for row in range(self.height)
        )
        return Plot(rows, tuple(ticked.get(row, "") for row in range(self.height)))


def amount_at(points: Sequence[tuple[float, float | None]], place: float) -> float | None:
    """The amount of a line at a place; None beyond its ends and in its gaps."""
    after = bisect_left([at for at, _ in points], place)
    if after < len(points) and points[after][0] == place:
        return points[after][1]
    if not 0 < after < len(points):
        return None
    (left, begin), (right, end) = points[after - 1], points[after]
    return None if begin is None or end is None else _between(place, left, right, begin, end)


def _between(place: float, left: float, right: float, begin: float, end: float) -> float:
    share = 0.0 if right <= left else max(0.0, min(1.0, (place - left) / (right - left)))
    return begin + (end - begin) * share


def _in_cells(dots: Iterable[_Dot]) -> dict[_Cell, int]:
    """Which dots of each cell there are, as bits of its sign."""
    cells: dict[_Cell, int] = {}
    for across, down in dots:
        key = across // _ACROSS, down // _DOWN
        cells[key] = cells.get(key, 0) | _DOTS[down % _DOWN][across % _ACROSS]
    return cells


def plot_of(
    traces: Sequence[Trace],
    uprights: Iterable[Upright],
    across: tuple[float, float],
    up: AmountScale,
    width: int,
    height: int,
    lit: float | None = None,
    levels: Iterable[Across] = (),
) -> tuple[Canvas, Plot]:
    """Bands, nothing's line, strokes, lines and signs, each above the one before."""
    canvas = Canvas(across, up, width, height)
    for trace in traces:
        canvas.band(trace)
    canvas.level(0.0)
    for level in levels:
        canvas.level(level.at, level.ink, level.sign)
    for stroke in uprights:
        canvas.upright(stroke)
    for trace in traces:
        canvas.line(trace)
    for trace in traces:
        canvas.signs(trace, lit)
    return canvas, canvas.done()


# -- below the axis ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Word:
    """A text that stands at a column, in an ink; what is ``first`` is placed before the others."""

    column: int
    text: str
    ink: str = LABEL
    first: bool = False
    lit: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """A text from a column on."""

    begin: int
    word: Word

    @property
    def end(self) -> int:
        """The column behind it."""
        return self.begin + len(self.word.text)


def in_a_line(words: Iterable[Word], width: int) -> list[Placed]:
    """Each word with its middle at its column, those left out that would touch one before."""
    placed: list[Placed] = []
    for word in sorted(words, key=lambda each: not each.first):
        long = len(word.text)
        here = Placed(max(0, min(word.column - (long - 1) // 2, width - long)), word)
        if all(here.end < other.begin or other.end < here.begin for other in placed):
            placed.append(here)
    return sorted(placed, key=lambda each: each.begin)


def pointing(words: Iterable[Word], width: int, most: int) -> list[list[Placed]]:
    """Words that point up at their columns, in as many lines as they need.

    A word stands right of its ``▲``, or left of it where the plot ends. At most so many lines:
    the last ones are left out.
    """
    lines: list[list[Placed]] = []
    for word in words:
        right = f"▲ {word.text}"
        long = len(right)
        begin = word.column
        if begin + long > width and word.column + 1 - long >= 0:
            right, begin = f"{word.text} ▲", word.column + 1 - long
        here = Placed(begin, Word(word.column, right, word.ink, word.first, word.lit))
        for line in lines:
            if all(here.end < other.begin or other.end < here.begin for other in line):
                line.append(here)
                break
        else:
            if len(lines) < most:
                lines.append([here])
    return [sorted(line, key=lambda each: each.begin) for line in lines]
