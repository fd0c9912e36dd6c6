"""Whether a part fits on a machine, and how many of it make a load (rule `fit.load`).

Plain arithmetic on what was entered, exact, in mm and kg. It gives no permission to load a
machine (rule `fit.permission`). What is not given is not checked, and a limit says so.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Literal

from whatif.cell.fit.nesting import STEP_CAP, Nest, Place, holds, nest, plain_rows
from whatif.cell.frozen import Frozen

Kind = Literal["face", "height", "load", "machine"]
Lack = Literal["table or travel", "table", "travel", "size", "work height", "table load", "mass"]
Axis = Literal["length", "width"]
AXES: tuple[Axis, Axis] = ("length", "width")

GROWTH_STEP_CAP = 30_000
"""Steps of each of the searches, at most about 70, of one call of `needed_for`."""

_UP = 2
"""Place of the height among the sizes of a part as it is entered."""

Pair = tuple[Fraction, Fraction]
Layout = tuple[Place, ...]


@dataclass(frozen=True)
class Face(Frozen):
    """What a machine offers: lengths in mm, `table_load` in kg, `faces` on a pallet (1 or more).

    `table` and `travel` are (length, width), along the same axes. None is "not given".
    """

    table: Pair | None
    travel: Pair | None
    work_height: Fraction | None
    table_load: Fraction | None
    faces: int


@dataclass(frozen=True)
class Piece(Frozen):
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
class Limit(Frozen):
    """One thing checked: what there is, what is needed, what is left over.

    `has`, `needs` and `margin` = has - needs are in mm, for "load" in kg; all None where nothing
    could be checked. Where the load fits, `needs` is that of the load; where it does not, that of a
    single piece, laid so that it misses by least.

    Attributes:
        axis: a face has one limit along each; the others have none.
        lacks: for want of what it is unchecked; of a face, either table or travel may be wanting
            while the other is checked.
        pieces: that need it together, on one face or in the load.
        faces: how many a pallet has, where it is one of a face.
        bound: what ends a face along the axis: the travel, or the table's border of `edge` mm.
        each, fixture: what a piece and the fixture take of the height in mm, of the load in kg.
        room: pieces that the faces have room for, where one more would be too heavy.
        turned: of these pieces, those that lie turned on the face, their length along its width.
        on_side: whether the height is another size than the one entered as height.
    """

    kind: Kind
    state: Literal["met", "missed", "unchecked"]
    has: Fraction | None = None
    needs: Fraction | None = None
    axis: Axis | None = None
    lacks: Lack | None = None
    pieces: int = 1
    faces: int = 1
    bound: Literal["travel", "table"] | None = None
    edge: Fraction = Fraction(0)
    each: Fraction = Fraction(0)
    fixture: Fraction = Fraction(0)
    room: int | None = None
    turned: int = 0
    on_side: bool = False

    @property
    def margin(self) -> Fraction | None:
        """What is left over; below 0 by how much it misses."""
        return None if self.has is None or self.needs is None else self.has - self.needs


@dataclass(frozen=True)
class Fit(Frozen):
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
class Growth(Frozen):
    """The least growth of a face, one axis alone, at which it holds `count` pieces.

    Whole mm; 0 where they fit as it is; None where nothing up to as much again as the table (the
    travel, where there is no table) helps. Where neither axis alone helps `both` is the growth of
    the two together: the least length that does with the widest face, and the least width with
    that. Where it cannot be told `lacks` says for want of what, and `too_high` that no face would
    help.
    """

    count: int
    length: Fraction | None = None
    width: Fraction | None = None
    lacks: Lack | None = None
    too_high: bool = False
    both: Pair | None = None


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
        standing=_UP if standing is None else standing.up,
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
        return Growth(count, lacks="size" if piece.size is None else "table or travel")
    if not standings:
        return Growth(count, too_high=True)

    def holds_with(growth: Pair, cap: int) -> bool:
        length, width = free[0] + growth[0], free[1] + growth[1]
        return any(
            holds(length, width, *standing.base, piece.gap, wanted=count, cap=cap)
            for standing in standings
        )

    nothing = Fraction(0)
    if holds_with((nothing, nothing), STEP_CAP):
        return Growth(count, nothing, nothing)
    length = _least_growth(ceil(stated[0]), lambda mm: holds_with((mm, nothing), GROWTH_STEP_CAP))
    width = _least_growth(ceil(stated[1]), lambda mm: holds_with((nothing, mm), GROWTH_STEP_CAP))
    both = None
    if length is None and width is None:
        widest = Fraction(ceil(stated[1]))
        longer = _least_growth(
            ceil(stated[0]), lambda mm: holds_with((mm, widest), GROWTH_STEP_CAP)
        )
        if longer is not None:
            wider = _least_growth(
                ceil(stated[1]), lambda mm: holds_with((longer, mm), GROWTH_STEP_CAP)
            )
            both = None if wider is None else (longer, wider)
    return Growth(count, length, width, both=both)


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
        return (_unchecked("face", "table or travel"),)
    if standing is None:
        return (_unchecked("face", "size"),)
    needs = _nearest(standing.base, free)[1]
    if layout:
        needs = (max(x + dx for x, _, dx, _ in layout), max(y + dy for _, y, _, dy in layout))
    lying = [(dx, dy) for _, _, dx, dy in layout] or [needs]
    turned = sum(way != standing.base for way in lying)
    limits = [
        Limit(
            "face",
            _state(free[i], needs[i]),
            free[i],
            needs[i],
            axis=axis,
            pieces=max(1, len(layout)),
            faces=face.faces,
            bound="travel" if face.travel and face.travel[i] == free[i] else "table",
            edge=piece.edge,
            turned=turned,
        )
        for i, axis in enumerate(AXES)
    ]
    if face.table is None:
        limits.append(_unchecked("face", "table"))
    if face.travel is None:
        limits.append(_unchecked("face", "travel"))
    return tuple(limits)


def _height_limit(piece: Piece, face: Face, standing: _Standing | None) -> Limit:
    """Whether part and fixture are low enough (rule `fit.height`)."""
    if face.work_height is None:
        return _unchecked("height", "work height")
    if standing is None:
        return _unchecked("height", "size")
    has, needs = face.work_height, standing.height + piece.fixture_height
    return Limit(
        "height",
        _state(has, needs),
        has,
        needs,
        each=standing.height,
        fixture=piece.fixture_height,
        on_side=standing.up != _UP,
    )


def _load_limit(piece: Piece, face: Face, per_pallet: int, on_faces: int | None) -> Limit:
    if face.table_load is None:
        return _unchecked("load", "table load")
    if not piece.mass and piece.fixture_mass <= face.table_load:
        return _unchecked("load", "mass")
    count = max(1, per_pallet)
    has, needs = face.table_load, count * piece.mass + piece.fixture_mass
    heavier = (
        per_pallet and on_faces is not None and per_pallet < min(on_faces, piece.wanted or on_faces)
    )
    return Limit(
        "load",
        _state(has, needs),
        has,
        needs,
        pieces=count,
        each=piece.mass,
        fixture=piece.fixture_mass,
        room=on_faces if heavier else None,
    )


def _state(has: Fraction, needs: Fraction) -> Literal["met", "missed"]:
    return "met" if needs <= has else "missed"


def _unchecked(kind: Kind, lacks: Lack) -> Limit:
    return Limit(kind, "unchecked", lacks=lacks)
