"""How the lanes of a week are drawn: blocks for what goes on, nothing where nobody is there.

A sign of :mod:`whatif.telling.week.signs` tells one thing; a mark is what it looks like. There are
five: one cuts, somebody is at work, one waits, stands loaded, or is free. A stretch that is long
enough has the name of what goes on in it written into it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import groupby
from typing import Final, TypeAlias

from whatif.answers.families import StateFamily
from whatif.answers.states import IN_CYCLE, STATE_ROWS, StateRow
from whatif.records import dataclass
from whatif.telling.blocks import BLOCKS, FREE, READY, SERVED, WAITS
from whatif.telling.blocks import CUTS as CUTS_SIGN
from whatif.telling.week.lanes import Of
from whatif.telling.week.signs import (
    CUTS,
    CUTS_MOST,
    EMPTY,
    MAY_BEGIN,
    NOBODY,
    NONE,
    PAUSE,
    SETS_UP,
)

EMPTY_CELL: Final = " "


@dataclass(frozen=True, slots=True)
class LaneMark:
    """What a sign of a lane looks like, and the name that a long stretch of it has.

    ``family`` is None where nothing goes on: there is nothing to look like.
    """

    block: str
    family: StateFamily | None
    name: str = ""


_NOBODY = LaneMark(EMPTY_CELL, None)
_PAUSE = LaneMark(EMPTY_CELL, None, "break")
"""Nobody is at work in it, as at night; who moves there is told that it is a break."""


def _of_state(row: StateRow) -> LaneMark:
    """What cuts speaks for itself; what rests is a load that is ready while nothing may begin."""
    if row.family == "resting":
        return LaneMark(READY, row.family, row.in_lane)
    return LaneMark(BLOCKS[row.family], row.family, row.in_lane if row.family != "cutting" else "")


_COUNTS: Final = "123456789*"

MARKS: Final[Mapping[Of, Mapping[str, LaneMark]]] = {
    Of.PEOPLE: {
        **{count: LaneMark(count, "serving") for count in _COUNTS},
        "0": LaneMark("0", "resting"),
        PAUSE: _PAUSE,
        MAY_BEGIN: _NOBODY,
        NOBODY: _NOBODY,
    },
    Of.PERSON: {
        SETS_UP: LaneMark(SERVED, "serving", "setup"),
        "l": LaneMark(SERVED, "serving", "loading"),
        "a": LaneMark(SERVED, "serving", "bench"),
        "p": LaneMark(SERVED, "serving", "prove-out"),
        "t": LaneMark(SERVED, "serving", "tool change"),
        "!": LaneMark(SERVED, "serving", "repair"),
        "_": LaneMark(FREE, "resting", "free"),
        PAUSE: _PAUSE,
        NOBODY: _NOBODY,
    },
    Of.MACHINE: {
        **{row.letter: _of_state(row) for row in STATE_ROWS.values()},
        CUTS_MOST: LaneMark(CUTS_SIGN, STATE_ROWS[IN_CYCLE].family),
        NOBODY: _NOBODY,
    },
    Of.LOADED: {
        **{count: LaneMark(count, "resting") for count in _COUNTS},
        NONE: _NOBODY,
    },
    Of.PALLET: {
        CUTS: LaneMark(CUTS_SIGN, "cutting"),
        "r": LaneMark(READY, "resting", "loaded"),
        SETS_UP: LaneMark(SERVED, "serving", "setup"),
        "l": LaneMark(SERVED, "serving", "loading"),
        "c": LaneMark(SERVED, "serving", "pallet change"),
        "i": LaneMark(READY, "resting", "in the spindle"),
        "f": LaneMark(WAITS, "waiting", "awaits release"),
        "h": LaneMark(WAITS, "waiting", "half loaded"),
        "w": LaneMark(WAITS, "waiting", "cut, waits"),
        EMPTY: LaneMark(WAITS, "waiting", "empty"),
        PAUSE: LaneMark(WAITS, "waiting", "half loaded"),
        "_": _NOBODY,
    },
}
"""What each sign of each sort of lane looks like."""

MOMENT: Final = "▼"
"""Points at the cursor's moment, on the ruler."""

MIDNIGHT: Final = "┊"
"""What stands in an empty lane where a day begins."""

_BLANK: Final = "blank"
_WORD: Final = "word"

_LEGEND: Final = {
    CUTS_SIGN: ("cuts", "cuts"),
    SERVED: ("loading, set-up or other work", "loading, other work"),
    WAITS: ("waits for somebody or something", "waits"),
    READY: ("loaded, not cut now", "loaded, not cut now"),
    FREE: ("is free", "is free"),
    MOMENT: ("moment told above", "moment told above"),
    MIDNIGHT: ("a day begins", "day begins"),
    _BLANK: ("nobody there, or nothing goes on", "nobody, or nothing"),
    _WORD: ("what goes on in that stretch", "what goes on"),
}
"""What each sign says, in full and in short: in the end all of them stand in two rows of 78
cells. A number says itself what it counts."""

LEGEND_ROWS: Final = 2
"""Rows that the legend has at most."""


def blocks(of: Of, signs: str) -> str:
    """A lane as it is drawn, as long as its signs."""
    marks = MARKS[of]
    drawn = ""
    for sign, like in groupby(signs):
        mark, cells = marks[sign], len(list(like))
        named = mark.name and len(mark.name) + 2 <= cells
        # Blank between words would read as a gap in what goes on.
        joined = mark.name.replace(EMPTY_CELL, mark.block)
        drawn += joined.center(cells, mark.block) if named else mark.block * cells
    return drawn


LegendEntry: TypeAlias = tuple[str, StateFamily | None, str]
"""A sign, the family that it looks like, None for what is of none, and what it says."""


def lane_legend(
    drawn: Iterable[tuple[Of, str]], cells: int, *, has_midnight: bool
) -> list[list[LegendEntry]]:
    """The signs that lanes and ruler show, each with its family and what it says, in rows.

    In full where two rows of ``cells`` hold all of them, each with two cells beside it; else in
    short, and without the last ones where even that is too long, on no screen of 80 cells.

    Args:
        drawn: the lanes as they are shown, by their signs.
        has_midnight: whether a day begins among them.
    """
    drawn = tuple(drawn)
    marks = {MARKS[of][sign] for of, signs in drawn for sign in set(signs)}
    families: dict[str, StateFamily | None] = {mark.block: mark.family for mark in marks}
    families[MOMENT] = None
    if EMPTY_CELL in families:
        families[_BLANK] = None
    if EMPTY_CELL in families and has_midnight:
        families[MIDNIGHT] = None
    if any(sign.isalpha() for of, signs in drawn for sign in blocks(of, signs)):
        families[_WORD] = None
    seen = [block for block in _LEGEND if block in families]
    rows: list[list[LegendEntry]] = []
    for in_short in (0, 1):
        told = [(block, families[block], _LEGEND[block][in_short]) for block in seen]
        rows = _in_rows(told, cells)
        if len(rows) <= LEGEND_ROWS:
            return rows
    return rows[:LEGEND_ROWS]


def _in_rows(told: Iterable[LegendEntry], cells: int) -> list[list[LegendEntry]]:
    rows: list[list[LegendEntry]] = []
    left = 0
    for entry in told:
        block, _, text = entry
        takes = len(block) + 1 + len(text)
        if takes > left:
            rows.append([])
            left = cells
        rows[-1].append(entry)
        left -= takes + 2
    return rows
