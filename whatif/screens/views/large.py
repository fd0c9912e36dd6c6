"""Figures that are read from afar, side by side, each above what it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import zip_longest
from typing import TYPE_CHECKING, Final

from whatif.screens.widgets.drawing import EDGE, SENSES, Span, SpanRow, Tone, left_in, row, wrap

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
    "-": ("   ", "   ", "###", "   ", "   "),
    "±": (" # ", "###", " # ", "   ", "###"),
    "%": ("# #", "  #", " # ", "#  ", "# #"),
    ".": (" ", " ", " ", " ", "#"),
    "t": ("   ", " # ", "###", " # ", " ##"),
    "o": ("   ", "   ", "###", "# #", "###"),
    " ": (" ", " ", " ", " ", " "),
    "A": ("###", "# #", "###", "# #", "# #"),
    "B": ("## ", "# #", "## ", "# #", "## "),
    "C": ("###", "#  ", "#  ", "#  ", "###"),
    "D": ("## ", "# #", "# #", "# #", "## "),
    "E": ("###", "#  ", "## ", "#  ", "###"),
    "F": ("###", "#  ", "## ", "#  ", "#  "),
    "G": ("###", "#  ", "# #", "# #", "###"),
    "H": ("# #", "# #", "###", "# #", "# #"),
    "I": ("#", "#", "#", "#", "#"),
    "J": ("  #", "  #", "  #", "# #", "###"),
    "K": ("# #", "# #", "## ", "# #", "# #"),
    "L": ("#  ", "#  ", "#  ", "#  ", "###"),
    "M": ("#   #", "## ##", "# # #", "#   #", "#   #"),
    "N": ("#  #", "## #", "# ##", "#  #", "#  #"),
    "O": ("###", "# #", "# #", "# #", "###"),
    "P": ("###", "# #", "###", "#  ", "#  "),
    "Q": ("###", "# #", "# #", "###", "  #"),
    "R": ("## ", "# #", "## ", "# #", "# #"),
    "S": ("###", "#  ", "###", "  #", "###"),
    "T": ("###", " # ", " # ", " # ", " # "),
    "U": ("# #", "# #", "# #", "# #", "###"),
    "V": ("# #", "# #", "# #", "# #", " # "),
    "W": ("#   #", "#   #", "# # #", "## ##", "#   #"),
    "X": ("# #", "# #", " # ", "# #", "# #"),
    "Y": ("# #", "# #", " # ", " # ", " # "),
    "Z": ("###", "  #", " # ", "#  ", "###"),
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


def figure_rows(
    figures: Sequence[Large], width: int, height: int, *, in_dots: bool = False
) -> list[SpanRow]:
    """Figures side by side, as large as there is room for, with their captions below.

    ``in_dots`` draws what they are in dots as well, where the figures themselves are large.
    """
    if not figures:
        return []
    dotted = _with_dots(figures, width - EDGE, height) if in_dots else None
    if dotted is None:
        drawn, wide, left, down = _fitted_to(figures, width - EDGE, height)
        columns = _with_room_for_words(figures, wide, left)
        names = [_name(figure, cells) for figure, cells in zip(figures, columns, strict=True)]
    else:
        drawn, columns, names, down = dotted
    is_roomy = down % 2 == 0
    texts = [
        [line for text in figure.caption[1:] for line in wrap(text, max(8, cells - 2))]
        for figure, cells in zip(figures, columns, strict=True)
    ]
    tones: list[Tone] = [
        "bold" if figure.sense == "plain" else SENSES[figure.sense] for figure in figures
    ]
    return [
        *(_across(lines, columns, tones) for lines in zip(*drawn, strict=True)),
        *([row("")] if is_roomy else []),
        *(
            _across(lines, columns, ["bold"] * len(columns), apart=dotted is not None)
            for lines in zip_longest(*names, fillvalue="")
        ),
        *(
            _across(lines, columns, ["plain"] * len(columns))
            for lines in zip_longest(*texts, fillvalue="")
        ),
    ]


def has_names_in_dots(figures: Sequence[Large], width: int, height: int) -> bool:
    """Whether what they are is drawn in dots too, where that is asked for."""
    return not figures or _with_dots(figures, width - EDGE, height) is not None


def _with_dots(
    figures: Sequence[Large], room: int, height: int
) -> tuple[list[list[str]], list[int], list[list[str]], int] | None:
    """Figures, columns, names in dots and half cells; rather smaller figures than none in dots."""
    for lines in (height, min(height, _SIZES[0][0] - 1)):
        drawn, wide, left, down = _fitted_to(figures, room, lines)
        if down % 2 == 0 and (dotted := _in_dots(figures, wide, left)) is not None:
            return drawn, *dotted, down
    return None


def _fitted_to(
    figures: Sequence[Large], room: int, height: int
) -> tuple[list[list[str]], list[int], int, int]:
    """As :func:`_fitted`; rather the middle of a range, which stands below, than no large one."""
    found = _fitted(figures, room, height)
    if found[2] < _GAP and any(figure.shorter for figure in figures):
        shorter = [replace(each, text=each.shorter or each.text) for each in figures]
        return _fitted(shorter, room, height)
    return found


def _with_room_for_words(
    figures: Sequence[Large], wide: Sequence[int], left: int, *, in_dots: bool = False
) -> list[int]:
    """The columns, those too narrow for a word of their caption widened by what others can spare.

    No column gets narrower than its figure and its own words need; ``in_dots`` also than the words
    of its name as they are drawn in dots.
    """
    found = [cells + left for cells in wide]
    words = [[word for text in figure.caption for word in text.split()] for figure in figures]
    needs = [max(map(len, said), default=0) + _GAP for said in words]
    if in_dots:
        drawn = [map(large, figure.caption[0].upper().split()) for figure in figures]
        dots = [max(len(line) for lines in each for line in lines) + _GAP for each in drawn]
        needs = list(map(max, needs, dots))
    spare = [cells + left - max(cells + 1, need) for cells, need in zip(wide, needs, strict=True)]
    for place, lacks in enumerate(spare):
        for _ in range(-lacks):
            other = max(range(len(found)), key=spare.__getitem__)
            if spare[other] <= 0:
                break
            found[other], spare[other] = found[other] - 1, spare[other] - 1
            found[place] += 1
    return found


def _name(figure: Large, cells: int) -> list[str]:
    """What a figure is, and in what, to be read from afar: in capitals."""
    return wrap(figure.caption[0].upper(), max(8, cells - 3))


def _in_dots(
    figures: Sequence[Large], wide: Sequence[int], left: int
) -> tuple[list[int], list[list[str]]] | None:
    """Columns, and all names in capitals of dots; None where there is no room, or a sign has none.

    All of them, or none: a name that is larger than its neighbour would seem to matter more.
    """
    texts = [figure.caption[0].upper() for figure in figures]
    if not set("".join(texts)) <= set(_SIGNS):
        return None
    columns = _with_room_for_words(figures, wide, left, in_dots=True)
    names = [_words_in_dots(text, cells - 3) for text, cells in zip(texts, columns, strict=True)]
    if any(
        len(line) > cells - 3 for lines, cells in zip(names, columns, strict=True) for line in lines
    ):
        return None
    return columns, [[*lines, ""] for lines in names]


def _words_in_dots(text: str, cells: int) -> list[str]:
    """Words of dots in as many lines as they need, each three rows high with one free above."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and max(map(len, large(longer))) > cells:
            lines.append(word)
        else:
            lines[-1] = longer
    return [line for each in lines for line in ("", *large(each))][1:]


def _fitted(
    figures: Sequence[Large], room: int, height: int
) -> tuple[list[list[str]], list[int], int, int]:
    """Figures as large as there is room for, their cells, those left for each, and half cells."""
    for least, across, down in _SIZES:
        drawn = [_drawn(figure, across, down) for figure in figures]
        wide = [max(map(len, lines)) for lines in drawn]
        left = (room - sum(wide)) // len(figures)
        if height >= least and left >= _GAP:
            break
    return drawn, wide, left, down


def _drawn(figure: Large, across: int, down: int) -> list[str]:
    """A figure, or at the foot of as many rows the words that stand in its place.

    No stroke stands there: beside figures with signs it would be a minus.
    """
    if figure.text:
        return large(figure.text, across, down)
    words = wrap(figure.word, max(_WORD, *map(len, figure.word.split())))
    return [""] * (len(large("0", across, down)) - len(words)) + words


_WORD: Final = 10
"""Cells of a line of words in the place of a figure, where none of them is longer."""


def _across(
    texts: Sequence[str], columns: Sequence[int], tones: Sequence[Tone], *, apart: bool = False
) -> SpanRow:
    """Texts side by side; ``apart`` with a stroke between, where they fill their columns."""
    spans: list[Span] = []
    for text, cells, tone in zip(texts, columns, tones, strict=True):
        if apart and len(spans) < 2 * (len(columns) - 1):
            spans += [left_in(text, cells - 2, tone), Span("│ ", "faint")]
        else:
            spans.append(left_in(text, cells, tone))
    return row(" " * EDGE, *spans)
