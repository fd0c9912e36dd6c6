"""Figures that are read from afar, side by side, each above what it is."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING, Final

from whatif.screens.widgets.drawing import EDGE, SENSES, Span, SpanRow, Tone, left_in, row, wrap
from whatif.telling.amounts import NOTHING

if TYPE_CHECKING:
    from whatif.telling.meeting.large import Large

_SIGNS: Final = {
    "0": ("###", "# #", "# #", "# #", "###"),
    "1": (" # ", "## ", " # ", " # ", "###"),
    "2": ("###", "  #", "###", "#  ", "###"),
    "3": ("###", "  #", " ##", "  #", "###"),
    "4": ("# #", "# #", "###", "  #", "  #"),
    "5": ("###", "#  ", "###", "  #", "###"),
    "6": ("###", "#  ", "###", "# #", "###"),
    "7": ("###", "  #", "  #", " # ", " # "),
    "8": ("###", "# #", "###", "# #", "###"),
    "9": ("###", "# #", "###", "  #", "###"),
    "+": ("   ", " # ", "###", " # ", "   "),
    "–": ("   ", "   ", "###", "   ", "   "),
    "-": ("   ", "   ", "###", "   ", "   "),
    "±": (" # ", "###", " # ", "   ", "###"),
    "%": ("# #", "  #", " # ", "#  ", "# #"),
    ".": (" ", " ", " ", " ", "#"),
    "t": ("   ", " # ", "###", " # ", " ##"),
    "o": ("   ", "   ", "###", "# #", "###"),
    " ": (" ", " ", " ", " ", " "),
}
"""Each sign in dots, 5 rows of them."""

_SIZES: Final = ((40, 3, 4), (26, 2, 2), (0, 1, 1))
"""By the lines there are: cells across a dot, and half cells down it."""

_GAP = 3
"""Cells between figures, at least."""


def large(text: str, across: int = 1, down: int = 1) -> list[str]:
    """A figure in rows of blocks, a dot ``across`` cells wide and ``down`` half cells high.

    Raises KeyError for a sign that is no part of a figure.
    """
    signs = [_SIGNS[sign] for sign in text.replace("\u00a0", " ").replace(" %", "%")]
    dots = [" ".join(rows) for rows in zip(*signs, strict=True)]
    halves = ["".join(dot * across for dot in line).rstrip() for line in dots for _ in range(down)]
    if down % 2 == 0:
        return [line.replace("#", "█") for line in halves[::2]]
    pairs = zip_longest(halves[::2], halves[1::2], fillvalue="")
    return ["".join(map(_block, *_as_wide(upper, lower))).rstrip() for upper, lower in pairs]


def _as_wide(upper: str, lower: str) -> tuple[str, str]:
    width = max(len(upper), len(lower))
    return upper.ljust(width), lower.ljust(width)


def _block(upper: str, lower: str) -> str:
    if upper == lower:
        return "█" if upper == "#" else " "
    return "▀" if upper == "#" else "▄"


def figure_rows(figures: Sequence[Large], width: int, height: int) -> list[SpanRow]:
    """Figures side by side, as large as there is room for, with their captions below."""
    if not figures:
        return []
    room = width - EDGE
    drawn, wide, left, down = _fitted([figure.text for figure in figures], room, height)
    middles = [figure.shorter or figure.text for figure in figures]
    if left < _GAP and any(figure.shorter for figure in figures):
        # Rather the middle of a range, which stands below it, than no large figure.
        drawn, wide, left, down = _fitted(middles, room, height)
    columns = [cells + left for cells in wide]
    texts = [
        [line for text in figure.caption for line in wrap(text, max(8, cells - 2))]
        for figure, cells in zip(figures, columns, strict=True)
    ]
    tones: list[Tone] = [
        "bold" if figure.sense == "plain" else SENSES[figure.sense] for figure in figures
    ]
    return [
        *(_across(lines, columns, tones) for lines in zip(*drawn, strict=True)),
        *([row("")] if down % 2 == 0 else []),
        *(
            _across(lines, columns, ["plain" if not at else "dim"] * len(columns))
            for at, lines in enumerate(zip_longest(*texts, fillvalue=""))
        ),
    ]


def _fitted(
    texts: Sequence[str], room: int, height: int
) -> tuple[list[list[str]], list[int], int, int]:
    """Figures as large as there is room for, their cells, those left for each, and half cells."""
    for least, across, down in _SIZES:
        drawn = [large(text or NOTHING, across, down) for text in texts]
        wide = [max(map(len, lines)) for lines in drawn]
        left = (room - sum(wide)) // len(texts)
        if height >= least and left >= _GAP:
            break
    return drawn, wide, left, down


def _across(texts: Sequence[str], columns: Sequence[int], tones: Sequence[Tone]) -> SpanRow:
    spans: list[Span] = [
        left_in(text, cells, tone) for text, cells, tone in zip(texts, columns, tones, strict=True)
    ]
    return row(" " * EDGE, *spans)
