"""How many identical rectangles fit into a larger one: pieces on a table, seen from above.

Each piece lies along the table or across it; `gap` is kept between pieces (rule `fit.count`).
Lengths are exact. They are scaled to whole numbers and divided by the greatest common divisor of
the piece's two sides; `nesting_cuts` searches among these. A search ends after a number of steps,
never after a time, so that the answer is the same everywhere.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import islice
from math import gcd, lcm

from whatif.cell.fit.nesting_cuts import Block, Found, Search, barnes_bound, in_bands, in_rows
from whatif.cell.frozen import Frozen

STEP_CAP = 400_000
"""Steps (cuts looked at) after which a search is ended: about a tenth of a second."""

SEARCHED_UP_TO = 400
"""Where more pieces than this might fit, only rows and two bands of rows are compared."""

PLACES_UP_TO = 50_000
"""`Nest.places` lists no more than this, however many fit."""

Place = tuple[Fraction, Fraction, Fraction, Fraction]
"""x, y of a piece's near corner, then its extent along x and along y, in mm."""

NO_GAP = Fraction(0)


@dataclass(frozen=True)
class Nest(Frozen):
    """The pieces found for one rectangle.

    `count` pieces fit; `places` are their positions in mm from the rectangle's corner, row by row
    (at most `PLACES_UP_TO` of them). No arrangement whatever holds more than `bound`: where
    `count` is that, nothing can be better. Where it is less, `cut_off` tells why: false, the
    search was complete, and no arrangement by cuts in two and in five holds more; true, the
    search was ended by its cap (of `steps`, or of size), and more may be possible.
    """

    count: int
    places: tuple[Place, ...]
    cut_off: bool
    bound: int
    steps: int


def nest(
    length: Fraction,
    width: Fraction,
    piece_length: Fraction,
    piece_width: Fraction,
    gap: Fraction = NO_GAP,
    *,
    cap: int = STEP_CAP,
) -> Nest:
    """As many pieces as can be found on a face of length x width, `gap` between them, all in mm.

    Raises ValueError where a side of the piece is not above 0 or the gap is below 0. A face that
    is too small, of no size or negative holds 0 pieces.
    """
    scaled = _scale(length, width, piece_length, piece_width, gap)
    found = _solve(scaled.length, scaled.width, scaled.along, scaled.across, cap)
    return Nest(
        count=found.count,
        places=_places(found.blocks, scaled.unit, gap),
        cut_off=found.cut_off,
        bound=found.bound,
        steps=found.steps,
    )


def plain_rows(
    length: Fraction,
    width: Fraction,
    piece_length: Fraction,
    piece_width: Fraction,
    gap: Fraction = NO_GAP,
) -> Nest:
    """The same with all pieces lying the same way."""
    scaled = _scale(length, width, piece_length, piece_width, gap)
    rows = in_rows(scaled.length, scaled.width, scaled.along, scaled.across)
    bound = _bound(scaled.length, scaled.width, scaled.along, scaled.across)
    return Nest(
        count=rows.count,
        places=_places((rows,), scaled.unit, gap),
        cut_off=False,
        bound=bound,
        steps=0,
    )


def holds(
    length: Fraction,
    width: Fraction,
    piece_length: Fraction,
    piece_width: Fraction,
    gap: Fraction = NO_GAP,
    *,
    wanted: int,
    cap: int = STEP_CAP,
) -> bool:
    """Whether `nest` finds at least `wanted` pieces; searches only where bounds do not tell."""
    scaled = _scale(length, width, piece_length, piece_width, gap)
    sizes = (scaled.length, scaled.width, scaled.along, scaled.across)
    if wanted > _bound(*sizes):
        return False
    return wanted <= in_rows(*sizes).count or wanted <= _solve(*sizes, cap).count


@dataclass(frozen=True)
class _Scaled:
    """Whole-number sizes without a common divisor of the piece's; one is `unit` mm long."""

    length: int
    width: int
    along: int
    across: int
    unit: Fraction


def _scale(
    length: Fraction, width: Fraction, piece_length: Fraction, piece_width: Fraction, gap: Fraction
) -> _Scaled:
    """Give each piece its gap on two sides, the face one gap more, and make all whole numbers."""
    if piece_length <= 0 or piece_width <= 0:
        raise ValueError(
            f"a piece of {piece_length} x {piece_width} mm: both sides must be above 0"
        )
    if gap < 0:
        raise ValueError(f"a gap of {gap} mm between pieces: it must not be below 0")
    sides = Fraction(piece_length + gap), Fraction(piece_width + gap)
    common = lcm(sides[0].denominator, sides[1].denominator)
    along, across = int(sides[0] * common), int(sides[1] * common)
    divisor = gcd(along, across)
    unit = Fraction(divisor, common)
    return _Scaled(
        # Pieces pushed to the corner lie at sums of their sides: whole numbers of units. What the
        # face has beyond its last whole unit is of no use.
        length=max(0, (length + gap) // unit),
        width=max(0, (width + gap) // unit),
        along=along // divisor,
        across=across // divisor,
        unit=unit,
    )


def _one_way_only(length: int, width: int, along: int, across: int) -> bool:
    return min(length, width) < max(along, across)


def _bound(length: int, width: int, along: int, across: int) -> int:
    if _one_way_only(length, width, along, across):
        return in_rows(length, width, along, across).count
    return barnes_bound(length, width, along, across)


@lru_cache(maxsize=2048)
def _solve(length: int, width: int, along: int, across: int, cap: int) -> Found:
    """The best blocks for whole-number sizes; the piece's sides have no common divisor."""
    bound = _bound(length, width, along, across)
    bands = in_bands(length, width, along, across)
    if sum(band.count for band in bands) == bound:
        return Found(bands, bound, steps=0, cut_off=False)
    if bound > SEARCHED_UP_TO:
        return Found(bands, bound, steps=0, cut_off=True)
    return Search(length, width, along, across).run(cap)


def _places(blocks: tuple[Block, ...], unit: Fraction, gap: Fraction) -> tuple[Place, ...]:
    def each() -> Iterator[tuple[int, int, int, int]]:
        for block in blocks:
            for row in range(block.rows):
                y = block.y + row * block.across
                for column in range(block.columns):
                    yield y, block.x + column * block.along, block.along, block.across

    listed = sorted(islice(each(), PLACES_UP_TO))
    # Rows share their lengths: thousands of places need few fractions.
    at = {whole: whole * unit for y, x, _, _ in listed for whole in (x, y)}
    side = {whole: whole * unit - gap for _, _, *sides in listed for whole in sides}
    return tuple((at[x], at[y], side[along], side[across]) for y, x, along, across in listed)
