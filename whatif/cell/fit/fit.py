"""Whether a part fits on a machine, and how many of it make a load (rule `fit.load`).

Plain arithmetic on what was entered, exact, in mm and kg. It gives no permission to load a
machine (rule `fit.permission`). What is not given is not checked, and a limit says so.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import Literal

from whatif.cell.fit.nesting import STEP_CAP, Nest, Place, holds, nest, plain_rows

Kind = Literal["face", "height", "load", "machine"]
Axis = Literal["length", "width"]
AXES: tuple[Axis, Axis] = ("length", "width")

GROWTH_STEP_CAP = 30_000
"""Steps of each of the searches, at most about 70, of one call of `needed_for`."""

Pair = tuple[Fraction, Fraction]
Layout = tuple[Place, ...]


@dataclass(frozen=True)
class Face:
    """What a machine offers: lengths in mm, `table_load` in kg, `faces` on a pallet (1 or more).

    `table` and `travel` are (length, width), along the same axes. None is "not given".
    """

    table: Pair | None
    travel: Pair | None
    work_height: Fraction | None
    table_load: Fraction | None
    faces: int


@dataclass(frozen=True)
class Piece:
    """What a part needs: lengths in mm, masses in kg.

    `size` is its bounding box, the third length its height as it is entered. `turn` "any" lets it
    lie on any side, all pieces alike. `wanted` is the stated number per load, None where as many
    as fit are wanted. A `mass` of 0 counts as not given.
    """

    size: tuple[Fraction, Fraction, Fraction] | None
    mass: Fraction
    fixture_mass: Fraction
    turn: Literal["flat", "any"]
    gap: Fraction
    edge: Fraction
    fixture_height: Fraction
    wanted: int | None


@dataclass(frozen=True)
class Limit:
    """One thing checked: what there is, what is needed, what is left over.

    `has`, `needs` and `margin` = has - needs are in mm, for "load" in kg; all None where nothing
    could be checked. A face has one limit along each `axis`; the others have none. Where the load
    fits, `needs` is that of the load; where it does not, that of a single piece, laid so that it
    misses by least. `text` says it in a sentence, in mm and kg.
    """

    kind: Kind
    state: Literal["met", "missed", "unchecked"]
    has: Fraction | None
    needs: Fraction | None
    margin: Fraction | None
    text: str
    axis: Axis | None = None


@dataclass(frozen=True)
class Fit:
    """The load of a part on a machine.

    `per_pallet` pieces make the load, 0 where the part does not fit. `most` is as many as fit on
    all faces under all limits, None where that is unknown; `cut_down` tells that more were wanted.
    `layout` shows the fullest face, (x, y, length, width) in mm from the table's corner (from the
    corner of the travel where no table is given). `standing` is the index of the size that is up.
    `free_face` is (length, width) in mm, None where neither table nor travel is given; 0 where
    the edges leave nothing.
    """

    fits: bool
    per_pallet: int
    most: int | None
    cut_down: bool
    limits: tuple[Limit, ...]
    layout: Layout
    standing: int
    free_face: Pair | None


@dataclass(frozen=True)
class Growth:
    """The least growth of a face, one axis alone, at which it holds `count` pieces.

    Whole mm; 0 where they fit as it is; None where nothing up to as much again as the table (the
    travel, where there is no table) helps, or where it cannot be told, which `text` then says.
    """

    count: int
    length: Fraction | None
    width: Fraction | None
    text: str


@dataclass(frozen=True)
class _Standing:
    """One way to put a piece down: which size is up, and the two that lie on the face."""

    up: int
    base: Pair
    height: Fraction
    over: Fraction  # by how much it is too high, 0 where it is not or where no height is given


def fit(piece: Piece, face: Face) -> Fit:
    """Lay as many pieces as are wanted and allowed (see `Fit`).

    Raises ValueError (from `nesting`) where a size is not above 0 or the gap is below 0.
    """
    free = _free(piece, face)
    by_load = _pieces_by_load(piece, face)
    standing, on_face = _best_standing(piece, face, free, by_load)
    too_high = standing is not None and standing.over > 0
    known = None if on_face is None else on_face.count * face.faces
    caps = [count for count in (0 if too_high else known, by_load) if count is not None]
    allowed = min(caps, default=None)
    goal = piece.wanted or (1 if known is None or allowed is None else allowed)
    per_pallet = goal if allowed is None else min(goal, allowed)
    layout = _layout(standing, on_face, free, piece.gap, per_pallet)
    return Fit(
        fits=per_pallet > 0,
        per_pallet=per_pallet,
        most=0 if per_pallet == 0 else None if known is None else allowed,
        cut_down=piece.wanted is not None and 0 < per_pallet < piece.wanted,
        limits=(
            *_face_limits(piece, face, free, standing, layout),
            _height_limit(piece, face, standing),
            _load_limit(piece, face, per_pallet, known),
        ),
        layout=_from_table(layout, face, free),
        standing=2 if standing is None else standing.up,
        free_face=free and (max(free[0], Fraction(0)), max(free[1], Fraction(0))),
    )


def needed_for(piece: Piece, face: Face, count: int) -> Growth:
    """How much longer, or wider, the free face must be to hold `count` pieces on one face.

    Found by halving, so it is the least in whole mm as far as the search finds its arrangements
    (each is ended by `GROWTH_STEP_CAP`). Height and load are not asked, except that a standing
    which is too high is not tried.
    """
    free, standings = _free(piece, face), [s for s in _standings(piece, face) if s.over == 0]
    stated = face.table or face.travel
    if piece.size is None or free is None or stated is None:
        what = "the part's size" if piece.size is None else "the machine's table or travel"
        return Growth(count, None, None, f"Not known: enter {what}.")
    if not standings:
        return Growth(count, None, None, "The part is too high; a larger face does not help.")

    def holds_with(growth: Pair, cap: int) -> bool:
        length, width = free[0] + growth[0], free[1] + growth[1]
        return any(
            holds(length, width, *standing.base, piece.gap, wanted=count, cap=cap)
            for standing in standings
        )

    nothing = Fraction(0)
    if holds_with((nothing, nothing), STEP_CAP):
        return Growth(count, nothing, nothing, f"The face as it is has room for {_pieces(count)}.")
    length = _least_growth(ceil(stated[0]), lambda mm: holds_with((mm, nothing), GROWTH_STEP_CAP))
    width = _least_growth(ceil(stated[1]), lambda mm: holds_with((nothing, mm), GROWTH_STEP_CAP))
    grown = zip(AXES, (length, width), strict=True)
    ways = [f"{_mm(growth)} more {axis}" for axis, growth in grown if growth is not None]
    if ways:
        text = f"Room for {_pieces(count)} on a face takes {' or '.join(ways)}."
    else:
        text = f"No face up to twice as long or as wide holds {_pieces(count)}."
    return Growth(count, length, width, text)


def _least_growth(most: int, enough: Callable[[Fraction], bool]) -> Fraction | None:
    """The least whole number of mm up to `most` that is enough; 0 is known not to be."""
    if not enough(Fraction(most)):
        return None
    less = range(1, most)
    return Fraction(1 + bisect_left(less, True, key=lambda mm: enough(Fraction(mm))))


def _free(piece: Piece, face: Face) -> Pair | None:
    """Per axis the smaller of table - 2 x edge and travel; below 0 where the edges overlap."""
    if face.table is None:
        return face.travel
    inner = face.table[0] - 2 * piece.edge, face.table[1] - 2 * piece.edge
    if face.travel is None:
        return inner
    return min(inner[0], face.travel[0]), min(inner[1], face.travel[1])


def _standings(piece: Piece, face: Face) -> list[_Standing]:
    """The sides it may stand on (rule `fit.turn`): as entered, then the lower, which is firmer."""
    if piece.size is None:
        return []
    size = piece.size
    ups = [2] if piece.turn == "flat" else [2, *sorted((0, 1), key=lambda up: size[up])]
    result = []
    for up in ups:
        length, width = (size[i] for i in range(3) if i != up)
        needs = size[up] + piece.fixture_height
        over = Fraction(0) if face.work_height is None else needs - face.work_height
        result.append(_Standing(up, (length, width), size[up], max(over, Fraction(0))))
    return result


def _best_standing(
    piece: Piece, face: Face, free: Pair | None, by_load: int | None
) -> tuple[_Standing | None, Nest | None]:
    """The standing that holds most; of equals the first; where none holds any, the nearest."""
    standings = _standings(piece, face)
    if not standings:
        return None, None
    if free is None:
        return min(standings, key=lambda standing: standing.over), None
    nests = {standing: nest(*free, *standing.base, piece.gap) for standing in standings}

    def load_of(standing: _Standing) -> int:
        count = 0 if standing.over else nests[standing].count * face.faces
        return count if by_load is None else min(count, by_load)

    best = max(standings, key=load_of)
    if load_of(best) == 0:
        best = min(standings, key=lambda standing: standing.over + _nearest(standing.base, free)[0])
    return best, nests[best]


def _nearest(base: Pair, free: Pair) -> tuple[Fraction, Pair]:
    """How much one piece lacks, both axes added up, and how it lies then: the better of two ways.

    One axis alone would mislead: a long bar may lack nothing along either, each time turned.
    """

    def lacks(way: Pair) -> Fraction:
        return max(way[0] - free[0], Fraction(0)) + max(way[1] - free[1], Fraction(0))

    way = min(base, base[::-1], key=lacks)
    return lacks(way), way


def _pieces_by_load(piece: Piece, face: Face) -> int | None:
    """As many as the table may carry beside the fixture; None where that sets no limit."""
    if face.table_load is None:
        return None
    left = face.table_load - piece.fixture_mass
    if left < 0:
        return 0
    return left // piece.mass if piece.mass else None


def _layout(
    standing: _Standing | None, on_face: Nest | None, free: Pair | None, gap: Fraction, load: int
) -> Layout:
    """The fullest face, from the corner of the free face; in plain rows where these are enough."""
    if standing is None or on_face is None or free is None:
        return ()
    shown = min(on_face.count, load)
    rows = plain_rows(*free, *standing.base, gap)
    return (rows if rows.count >= shown else on_face).places[:shown]


def _from_table(layout: Layout, face: Face, free: Pair | None) -> Layout:
    """The same places from the table's corner: the free face lies in its middle."""
    if face.table is None or free is None:
        return layout
    right, up = (face.table[0] - free[0]) / 2, (face.table[1] - free[1]) / 2
    return tuple((x + right, y + up, length, width) for x, y, length, width in layout)


def _face_limits(
    piece: Piece, face: Face, free: Pair | None, standing: _Standing | None, layout: Layout
) -> tuple[Limit, ...]:
    if free is None:
        missing = "the machine's table and travel are"
        return (_unchecked("face", "Face", missing, "one of them"),)
    if standing is None:
        return (_unchecked("face", "Face", "the part's size is"),)
    needs = _nearest(standing.base, free)[1]
    if layout:
        needs = (max(x + dx for x, _, dx, _ in layout), max(y + dy for _, y, _, dy in layout))
    limits = [
        _axis_limit(axis, piece, face, free[i], needs[i], max(1, len(layout)))
        for i, axis in enumerate(AXES)
    ]
    if face.table is None:
        limits.append(_unchecked("face", "Table", "the machine's table is"))
    if face.travel is None:
        limits.append(_unchecked("face", "Reach", "the machine's travel is"))
    return tuple(limits)


def _axis_limit(
    axis: Axis, piece: Piece, face: Face, has: Fraction, needs: Fraction, count: int
) -> Limit:
    travel = face.travel and face.travel[AXES.index(axis)]
    if travel == has:
        there = f"the travel is {_mm(has)}"
    elif has <= 0:
        there = f"edges of {_mm(piece.edge)} leave nothing of the face"
    else:
        there = f"the face has {_mm(has)} between its edges"
    where = " on one face" if face.faces > 1 else ""
    need = "needs" if count == 1 else "need"
    begins = f"{axis.capitalize()}: {_pieces(count)}{where} {need} {_mm(needs)}, {there}"
    return _checked("face", has, needs, begins, _mm, axis)


def _height_limit(piece: Piece, face: Face, standing: _Standing | None) -> Limit:
    """Whether part and fixture are low enough (rule `fit.height`)."""
    if face.work_height is None:
        return _unchecked("height", "Height", "the machine's work height is")
    if standing is None:
        return _unchecked("height", "Height", "the part's size is")
    needs = standing.height + piece.fixture_height
    fixture = f" and {_mm(piece.fixture_height)} of fixture" if piece.fixture_height else ""
    begins = (
        f"Height: {_mm(standing.height)} of part{fixture}, "
        f"the work height is {_mm(face.work_height)}"
    )
    return _checked("height", face.work_height, needs, begins, _mm)


def _load_limit(piece: Piece, face: Face, per_pallet: int, on_faces: int | None) -> Limit:
    if face.table_load is None:
        return _unchecked("load", "Load", "the machine's table load is")
    if not piece.mass and piece.fixture_mass <= face.table_load:
        return _unchecked("load", "Load", "the part's mass is")
    count = max(1, per_pallet)
    needs = count * piece.mass + piece.fixture_mass
    fixture = f" and {_kg(piece.fixture_mass)} of fixture" if piece.fixture_mass else ""
    begins = (
        f"Load: {_pieces(count)} of {_kg(piece.mass)}{fixture} make {_kg(needs)}, "
        f"table or pallet may carry {_kg(face.table_load)}"
    )
    limit = _checked("load", face.table_load, needs, begins, _kg)
    if per_pallet and on_faces is not None and per_pallet < min(on_faces, piece.wanted or on_faces):
        more = f" One more would be too heavy; there is room for {on_faces}."
        return replace(limit, text=limit.text + more)
    return limit


def _checked(
    kind: Kind,
    has: Fraction,
    needs: Fraction,
    begins: str,
    shown: Callable[[Fraction], str],
    axis: Axis | None = None,
) -> Limit:
    margin = has - needs
    if margin < 0:
        text = f"{begins}: it misses by {shown(-margin)}."
        return Limit(kind, "missed", has, needs, margin, text, axis)
    return Limit(kind, "met", has, needs, margin, f"{begins}: {shown(margin)} to spare.", axis)


def _unchecked(kind: Kind, what: str, missing: str, enter: str = "it") -> Limit:
    text = f"{what}: {missing} not given, so not checked: enter {enter}."
    return Limit(kind, "unchecked", None, None, None, text)


def _mm(length: Fraction) -> str:
    return f"{_decimals(length)} mm"


def _kg(mass: Fraction) -> str:
    return f"{_decimals(mass)} kg"


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"


def _decimals(number: Fraction) -> str:
    """Up to three decimals, halves up; something is never shown as nothing."""
    thousandths = (number * 2000 + 1) // 2
    if thousandths == 0 and number:
        return "less than 0.001"
    whole, rest = divmod(thousandths, 1000)
    return f"{whole}.{rest:03}".rstrip("0").rstrip(".")
