"""The search behind `nesting`: whole-number rectangles, cut in two and in five.

The piece's two sides have no common divisor here. A rectangle is cut in two, or in five around a
centre (a pinwheel), again and again, and what is found for any rectangle is remembered. Four
things, all cited from memory, keep the search small:

- normal patterns (Herz 1972; Christofides and Whitlock 1977): only sums of piece sides matter as
  lengths, because every piece can be pushed towards the corner;
- reduced raster points (Scheithauer and Terno, "The G4-heuristic for the pallet loading problem",
  J. Oper. Res. Soc. 47, 1996): the few of these sums at which a cut is worth trying;
- the recursive five-block cut (Morabito and Morales, "A simple and effective recursive procedure
  for the manufacturer's pallet loading problem", J. Oper. Res. Soc. 49, 1998);
- the bound of Barnes ("Packing the maximum number of m x n tiles in a large p x q rectangle",
  Discrete Mathematics 26, 1979): most of what cannot succeed is never begun.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from whatif.cell.frozen import Frozen

BANDS_UP_TO = 10_000
"""Where more pieces than this lie side by side, only plain rows are tried."""

_DEPTH_CAP = 60
"""Cuts within cuts; three of Python's frames each, far below its limit of 1000."""


@dataclass(frozen=True)
class Block(Frozen):
    """A grid of columns x rows pieces, all lying the same way, each `along` x by `across` y."""

    x: int
    y: int
    columns: int
    rows: int
    along: int
    across: int

    @property
    def count(self) -> int:
        """Pieces in the grid."""
        return self.columns * self.rows

    def moved(self, x: int, y: int) -> Block:
        """The same grid, farther by x and y."""
        return Block(self.x + x, self.y + y, self.columns, self.rows, self.along, self.across)

    def mirrored(self) -> Block:
        """The same grid with the two axes exchanged."""
        return Block(self.y, self.x, self.rows, self.columns, self.across, self.along)


@dataclass(frozen=True)
class Found(Frozen):
    """Blocks that lie side by side, and how the search for them ended (see `nesting.Nest`)."""

    blocks: tuple[Block, ...]
    bound: int
    steps: int
    cut_off: bool

    @property
    def count(self) -> int:
        """Pieces in all blocks."""
        return sum(block.count for block in self.blocks)


def in_rows(length: int, width: int, along: int, across: int) -> Block:
    """All pieces alike, the better of the two ways; as given where both hold as many."""
    given = Block(0, 0, length // along, width // across, along, across)
    turned = Block(0, 0, length // across, width // along, across, along)
    return turned if turned.count > given.count else given


def in_bands(length: int, width: int, along: int, across: int) -> tuple[Block, ...]:
    """Plain rows, or, where that holds more, two bands of them, turned against each other."""
    best: tuple[Block, ...] = (in_rows(length, width, along, across),)
    most = best[0].count
    if max(length, width) > BANDS_UP_TO * min(along, across):
        return best
    for mirror, (run, depth) in ((False, (length, width)), (True, (width, length))):
        for side, other in ((along, across), (across, along)):
            rows, other_rows = depth // other, depth // side
            for columns in range(1, run // side + 1):
                rest = (run - columns * side) // other
                if columns * rows + rest * other_rows > most:
                    most = columns * rows + rest * other_rows
                    band = Block(0, 0, columns, rows, side, other)
                    beside = Block(columns * side, 0, rest, other_rows, other, side)
                    best = (band.mirrored(), beside.mirrored()) if mirror else (band, beside)
    return best


def barnes_bound(length: int, width: int, along: int, across: int) -> int:
    """No arrangement holds more than this, for a piece whose sides have no common divisor."""

    def lost(side: int) -> int:
        r, s = length % side, width % side
        return min(r * s, (side - r) * (side - s))

    return (length * width - max(lost(along), lost(across))) // (along * across)


class _Spent(Exception):
    """The steps allowed are used up, or the cuts are nested too deep."""


_Sides = tuple[int, int]  # the longer first, both cut down to a sum of piece sides
_Part = tuple[int, int, int, int]  # x, y, length, width in a rectangle whose longer side is x


class Search:
    """A search on one face; what it learns about any rectangle serves for all of that size.

    `_low` is what has been found for a rectangle, `_high` what no cuts can exceed, `_cuts` the
    parts that reach `_low` (none: two bands reach it).
    """

    def __init__(self, length: int, width: int, along: int, across: int) -> None:
        self._face = length, width
        self._long, self._short = max(along, across), min(along, across)
        self._area = along * across
        reach = max(length, width)
        sums = {
            i * self._long + j * self._short
            for i in range(reach // self._long + 1)
            for j in range((reach - i * self._long) // self._short + 1)
        }
        self._sums = sorted(sums)
        self._reduced: dict[int, int] = {}
        self._points: dict[int, list[int]] = {}
        self._low: dict[_Sides, int] = {}
        self._high: dict[_Sides, int] = {}
        self._cuts: dict[_Sides, tuple[_Part, ...]] = {}
        self._banded: set[_Sides] = set()
        self._steps = self._allowed = self._depth = 0

    def run(self, cap: int) -> Found:
        """Try for the bound, then for one less, and so on, each with its share of the steps left.

        `cap` is the number of steps; the tables of one cut are finished, so it may be exceeded.
        """
        face = self._sides(*self._face)
        bound = want = self._most(face)
        self._try_bands(face)
        cut_off = False
        while want > self._low[face]:
            self._allowed = self._steps + (cap - self._steps) // (want - self._low[face])
            self._depth = 0
            try:
                if self._reaches(face, want):
                    break
            except _Spent:
                cut_off = True
            want -= 1
        return Found(tuple(self._lay()), bound, self._steps, cut_off)

    def _fit(self, length: int) -> int:
        """The greatest sum of piece sides that is not above a length."""
        found = self._reduced.get(length)
        if found is None:
            found = self._reduced[length] = self._sums[bisect_right(self._sums, length) - 1]
        return found

    def _sides(self, length: int, width: int) -> _Sides:
        a, b = self._fit(length), self._fit(width)
        return (a, b) if a >= b else (b, a)

    def _raster(self, length: int) -> list[int]:
        """The reduced raster points inside a length that is itself a sum of sides, ascending.

        The k-th from the end is what the k-th from the start leaves for the other side of the cut.
        """
        points = self._points.get(length)
        if points is None:
            sums = self._sums[: bisect_right(self._sums, length)]
            points = sorted({self._fit(length - x) for x in sums} - {0, length})
            self._points[length] = points
        return points

    def _most(self, sides: _Sides) -> int:
        high = self._high.get(sides)
        if high is None:
            rows = in_rows(*sides, self._long, self._short).count
            one_way_only = sides[1] < self._long
            high = rows if one_way_only else barnes_bound(*sides, self._long, self._short)
            self._low[sides], self._high[sides] = rows, high
        return high

    def _try_bands(self, sides: _Sides) -> None:
        if sides not in self._banded:
            self._banded.add(sides)
            self._steps += sum(sides) // self._short
            bands = in_bands(*sides, self._long, self._short)
            self._low[sides] = max(self._low[sides], sum(band.count for band in bands))

    def _spend(self, steps: int) -> None:
        self._steps += steps
        if self._steps > self._allowed:
            raise _Spent

    def _reaches(self, sides: _Sides, want: int) -> bool:
        """Whether cuts can make a rectangle hold `want` pieces."""
        if self._most(sides) < want:
            return False
        self._try_bands(sides)
        if self._low[sides] >= want:
            return True
        if self._depth >= _DEPTH_CAP:
            raise _Spent
        self._depth += 1
        parts = self._cut_in_two(sides, want) or self._cut_in_five(sides, want)
        self._depth -= 1
        if parts is None:
            self._high[sides] = want - 1
            return False
        self._low[sides], self._cuts[sides] = want, parts
        return True

    def _together(self, parts: tuple[_Part, ...], want: int) -> bool:
        """Whether the parts hold `want` in sum; ends as soon as too much is lost."""
        keys = [self._sides(length, width) for _, _, length, width in parts]
        spare = sum(self._most(key) for key in keys) - want
        for key in keys:
            goal = self._most(key)
            while spare >= 0 and not self._reaches(key, goal):
                goal, spare = goal - 1, spare - 1
        return spare >= 0

    def _cut_in_two(self, sides: _Sides, want: int) -> tuple[_Part, ...] | None:
        a, b = sides
        for run, depth in ((a, b), (b, a)):
            points = self._raster(run)
            self._spend(len(points))
            for i in range((len(points) + 1) // 2):
                x, rest = points[i], points[-1 - i]
                first, second = self._sides(x, depth), self._sides(rest, depth)
                if self._most(first) + self._most(second) < want:
                    continue
                lengthwise = ((0, 0, x, b), (x, 0, rest, b))
                crosswise = ((0, 0, a, x), (0, x, a, rest))
                parts = lengthwise if depth == b else crosswise
                if self._together(parts, want):
                    return parts
        return None

    def _cut_in_five(self, sides: _Sides, want: int) -> tuple[_Part, ...] | None:
        """Four blocks around a centre, which lies between x1 < x2 and y1 < y2.

        The area that may be lost is known, and so is the least that each block loses: where two
        blocks lose too much, the others are not looked at. Half a turn gives the same count, so
        only half of the pairs x1, x2 is tried.
        """
        may_lose = sides[0] * sides[1] - want * self._area
        xs, ys = self._raster(sides[0]), self._raster(sides[1])
        south_west, north_west, south_east, north_east = self._losses(sides)
        for i1, x1 in enumerate(xs):
            sw, se = south_west[i1], south_east[i1]
            tops = [j for j in range(len(ys)) if sw[j] <= may_lose]
            feet = [j for j in range(len(ys)) if se[j] <= may_lose]
            self._spend(len(ys))
            if not tops or not feet:
                continue
            for i2 in range(i1 + 1, len(xs) - i1):
                self._spend(2 + len(tops) + len(feet))
                nw, ne = north_west[i2], north_east[i2]
                west = [(j, lost) for j in tops if (lost := sw[j] + nw[j]) <= may_lose]
                east = [(j, lost) for j in feet if (lost := se[j] + ne[j]) <= may_lose]
                if not west or not east:
                    continue
                along = xs[i2] - x1
                for j1, j2, left in self._meeting(west, east, may_lose):
                    up = ys[j2] - ys[j1]
                    centre = self._most(self._sides(along, up))
                    if along * up - centre * self._area > left:
                        continue
                    parts = (
                        (0, 0, x1, ys[j2]),
                        (0, ys[j2], xs[i2], ys[-1 - j2]),
                        (x1, 0, xs[-1 - i1], ys[j1]),
                        (xs[i2], ys[j1], xs[-1 - i2], ys[-1 - j1]),
                        (x1, ys[j1], along, up),
                    )
                    if self._together(parts, want):
                        return parts
        return None

    def _meeting(
        self, west: list[tuple[int, int]], east: list[tuple[int, int]], may_lose: int
    ) -> Iterator[tuple[int, int, int]]:
        """Pairs y1 < y2, by raster point, and what the centre may still lose."""
        for j2, lost_west in west:
            for j1, lost_east in east:
                if j1 >= j2:
                    break
                self._spend(1)
                if lost_west + lost_east <= may_lose:
                    yield j1, j2, may_lose - lost_west - lost_east

    def _losses(self, sides: _Sides) -> list[list[list[int]]]:
        """The least area lost in each outer block of a pinwheel, by raster points [x][y].

        South-west (0, 0)-(x1, y2), north-west (0, y2)-(x2, b), south-east (x1, 0)-(a, y1),
        north-east (x2, y1)-(a, b), where a, b are the sides.
        """
        a, b = sides
        xs, ys = self._raster(a), self._raster(b)
        self._spend(4 * len(xs) * len(ys))
        used = [[self._most(self._sides(x, y)) * self._area for y in ys] for x in xs]
        mirrored = [column[::-1] for column in used]
        east_ends, north_ends = [a - x for x in xs], [b - y for y in ys]
        return [
            _less(xs, ys, used),
            _less(xs, north_ends, mirrored),
            _less(east_ends, ys, used[::-1]),
            _less(east_ends, north_ends, mirrored[::-1]),
        ]

    def _lay(self) -> Iterator[Block]:
        """The blocks of the best that is known for the face; no recursion, cuts may be many."""
        open_parts: list[_Part] = [(0, 0, *self._face)]
        while open_parts:
            x, y, length, width = open_parts.pop()
            upright = self._fit(length) < self._fit(width)
            sides = self._sides(length, width)
            for dx, dy, along, across in self._cuts.get(sides, ()):
                inner = (
                    (x + dy, y + dx, across, along) if upright else (x + dx, y + dy, along, across)
                )
                open_parts.append(inner)
            if sides not in self._cuts:
                bands = in_bands(*sides, self._long, self._short)
                for band in bands:
                    if band.count:
                        yield (band.mirrored() if upright else band).moved(x, y)


def _less(xs: list[int], ys: list[int], used: list[list[int]]) -> list[list[int]]:
    """The area x * y less what is used of it, by [x][y]."""
    return [
        [x * y - taken for y, taken in zip(ys, column, strict=True)]
        for x, column in zip(xs, used, strict=True)
    ]
