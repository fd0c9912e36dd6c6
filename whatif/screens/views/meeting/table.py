"""The verdict's table: a line an alternative, and what its columns have room for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from rich.cells import cell_len

from whatif.records import dataclass
from whatif.screens.widgets.bars import bar
from whatif.screens.widgets.columns import apart as apart_in
from whatif.screens.widgets.drawing import (
    EDGE,
    SENSES,
    Chooses,
    Presses,
    Span,
    SpanRow,
    Tone,
    left_in,
    right_in,
    row,
)
from whatif.telling.blocks import LIKELY
from whatif.telling.meeting.lines import folded_words
from whatif.telling.money.ranges import NOT_PRICED
from whatif.telling.strip import is_dotted, scale_for

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from whatif.screens.views.view import Look
    from whatif.telling.meeting.lines import AlternativeLine
    from whatif.telling.meeting.verdict import VerdictTold
    from whatif.telling.said import Said
    from whatif.telling.strip import Scale

HEAD_ROWS: Final = 2
"""Rows of the heads above the lines."""


def is_parted(lines: Iterable[AlternativeLine]) -> bool:
    """Whether some lines stand apart below the others, or alone, below a head of their own."""
    return not all(line.is_ranked for line in lines)


@dataclass(frozen=True, slots=True)
class TableColumns:
    """Cells of the table's columns; 0 where one is left out."""

    title: int
    gain: int
    one_off: int
    more: int
    worth: int
    payback: int
    floor: int
    bar: int
    against: int

    @property
    def figures(self) -> tuple[int, ...]:
        """Of the figures, in their order."""
        return self.gain, self.one_off, self.more, self.worth, self.payback, self.floor

    def of(self, line: AlternativeLine) -> tuple[tuple[Said, int], ...]:
        """The figures of a line, each with its cells."""
        return tuple(
            (said, cells) for said, cells in zip(_figures(line), self.figures, strict=True) if cells
        )


def _figures(line: AlternativeLine) -> tuple[Said, ...]:
    return line.gain, line.one_off, line.more, line.worth, line.payback, line.floor


def columns_for(told: VerdictTold, width: int) -> TableColumns:
    """As wide as what they say; without money none for it, and in little room no worth.

    Where long titles leave too little for the drawbacks, ranges give way first, then the bars, and
    a title is cut last.
    """
    longest = max(
        len(_TITLE), len(told.order), *(cell_len(_name(line, width)) for line in told.lines)
    )
    # In the least room a few letters of a title give way to figures.
    title = min(longest, max(22, width // 2 if width >= _ROOMY else width // 4))
    drawbacks = (min(map(len, (it.against.text, *it.against.shorter))) for it in told.lines)
    wanted = min(_DRAWBACKS, max((len(_DRAWBACKS_HEAD), *drawbacks)))
    rooms = [each for least, each in _ROOMS if width >= least]
    if width >= _ROOMY:
        rooms.pop()
    of_bar = _BAR if width >= _WIDE else 0
    tried = [(most, of_bar) for most in rooms] + [(rooms[-1], 0)] * (of_bar > 0)
    for most, of_bar in tried:
        cells = _cells(told, width, most)
        rest = width - EDGE - _MARK - title - sum(cells) - of_bar - 2
        if rest >= wanted:
            break
    # What is lacking is taken off the title, what is left over it has.
    fitted = min(longest, max(22, title + rest - wanted))
    gain, one_off, more, worth, payback, floor = cells
    against = max(8, rest + title - fitted)
    return TableColumns(fitted, gain, one_off, more, worth, payback, floor, of_bar, against)


def _cells(told: VerdictTold, width: int, most: Sequence[int]) -> list[int]:
    """Cells of the figures, each as wide as what it says in at most so many."""
    if not told.is_money:
        most = (max(most[0], _ALONE), max(most[1], len(NOT_PRICED)), most[2], 0, 0, most[5])
    if not told.floor_beside:
        most = (*most[:5], 0)
    apart = 2 if width >= _ROOMY else 1
    heads = _head_texts(told, width)
    # Of a thousand alternatives many say the same.
    texts = [set(each) for each in zip(*map(_figures, told.lines), strict=True)]
    return [
        max(*(len(head[at + 1]) for head in heads), *(len(said.within(room)) for said in texts[at]))
        + apart
        if room
        else 0
        for at, room in enumerate(most)
    ]


_DRAWBACKS_HEAD, _DRAWBACKS = "drawbacks", 24
"""The head of the last column, and the cells from which on it takes no more from others."""

_ALONE = 16
"""Cells that a gain may take at least where there is no money beside it."""

_ROOMY, _WIDE, _WIDEST = 110, 150, 190
"""Cells from which on columns stand two apart, gains are drawn as bars, worth has a range,
and floor a column."""

_BAR = 26
"""Cells of a bar, what parts it from its neighbours included."""

_MARK = 6
"""Cells for the word by which the first ones are marked."""

_ROOMS = (
    (_WIDEST, (36, 14, 28, 42, 18, 12)),
    (_WIDE, (36, 14, 28, 12, 18, 0)),
    (_ROOMY, (26, 12, 14, 12, 12, 0)),
    (0, (15, 5, 6, 0, 5, 0)),
)
"""By the width from which on they hold: the most cells of each figure."""

_TITLE = "alternative"


def _head_texts(told: VerdictTold, width: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What stands above the columns, and what they are in."""
    once, back = ("one-off", "payback") if width >= _ROOMY else ("once", "back")
    # What a year costs beside it is no gain, and is not to be read as one.
    takes, per = ("takes", "a week") if told.is_by_hours else ("costs", "a year")
    return (
        (_TITLE, "gain", once, takes, "worth today", back, "floor", _DRAWBACKS_HEAD),
        (told.order, "likely range", told.currency, per, told.currency, "years", "", ""),
    )


def _heads(
    told: VerdictTold, columns: TableColumns, scale: Scale | None, width: int
) -> list[SpanRow]:
    dotted = is_dotted(line.drawn for line in told.lines)
    of_bar = f"  {LIKELY} likely range" if dotted else ""
    drawn = ("", "") if scale is None else (of_bar, f"  scale {scale.text}")
    below = ""
    if _leaves_drawbacks_out(told, columns):
        below = next(text for text in _ALL_OF_THEM if cell_len(text) <= columns.against)
    return [
        row(
            " " * (EDGE + _MARK),
            left_in(heads[0], columns.title, "dim"),
            *(
                right_in(text, room, "dim")
                for text, room in zip(heads[1:-1], columns.figures, strict=True)
                if room
            ),
            *([left_in(of_bar, columns.bar, "dim")] if columns.bar else []),
            "  ",
            left_in(heads[-1] or below, columns.against, "dim"),
        )
        for heads, of_bar in zip(_head_texts(told, width), drawn, strict=True)
    ]


_ALL_OF_THEM: Final = ("⏎ all of them", "⏎ all")
"""Below the head of the drawbacks where there is no room for each: the page has them."""


def _leaves_drawbacks_out(told: VerdictTold, columns: TableColumns) -> bool:
    return any(
        cell_len(line.against.text) > columns.against and ";" in line.against.text
        for line in told.lines
    )


def _line(
    line: AlternativeLine,
    name: str,
    columns: TableColumns,
    scale: Scale | None,
    *,
    word: str,
    chosen: bool,
) -> SpanRow:
    """An alternative's line: grey where it cannot be done, but for what is to beware of."""

    def tone(own: Tone) -> Tone:
        return "chosen" if chosen else own if line.is_feasible or own == "caution" else "dim"

    spot = Chooses(line.scenario)
    named: Tone = "lead" if line.is_first else "dim" if line.is_again else "plain"
    against = line.against.within(columns.against)
    drawn = bar(line.drawn, scale, columns.bar - 2, tone(SENSES[line.gain.sense]))
    return row(
        " " * EDGE,
        left_in(line.mark(word), _MARK, tone("lead" if line.is_first else "dim"), spot),
        left_in(name, columns.title, tone(named), spot),
        *(
            right_in(said.within(cells - 1), cells, tone(SENSES[said.sense]), spot)
            for said, cells in columns.of(line)
        ),
        *([Span("  ", tone("plain"), spot), *drawn] if columns.bar else []),
        left_in("", 2, tone("plain"), spot),
        left_in(against, columns.against, tone(SENSES[line.against.sense]), spot),
    )


def _name(line: AlternativeLine, cells: int) -> str:
    """Its title, set in where it is the one above again, so that it is not read as the next."""
    room = max(0, cells - cell_len(line.title)) if line.is_again else 0
    return f"{' ' * min(_SET_IN, room)}{line.title}"


_SET_IN = 3
"""Cells by which it is, where there is room for them."""


def alternatives_table(
    look: Look, told: VerdictTold, width: int, apart: int, shown: Sequence[AlternativeLine]
) -> list[SpanRow]:
    """A line an alternative below its heads, and one for those that are not shown."""
    if not told.lines:
        return []
    columns = columns_for(told, width)
    names = dict(
        zip(
            (line.scenario for line in told.lines),
            apart_in([_name(line, columns.title) for line in told.lines], columns.title),
            strict=True,
        )
    )
    scale = scale_for(line.drawn for line in told.lines) if columns.bar else None
    between = [row("")] * apart
    rows = _heads(told, columns, scale, width)
    ranked = True
    for line in shown:
        if ranked and not line.is_ranked:
            rows.append(row(" " * EDGE, left_in(told.apart, width - EDGE, "dim")))
        ranked = line.is_ranked
        chosen = line.scenario == look.chosen
        name = names[line.scenario]
        rows += [_line(line, name, columns, scale, word=told.word, chosen=chosen), *between]
    drawn = {line.scenario for line in shown}
    others = [line for line in told.lines if line.scenario not in drawn]
    return [*rows, *([_folded(others, width)] if others else [])]


def _folded(lines: Sequence[AlternativeLine], width: int) -> SpanRow:
    """The line that stands for others: how many, why these, and the key that shows them."""
    key = Span("   a shows all", "key", Presses("a"))
    room = width - EDGE - _MARK - cell_len(key.text)
    words = folded_words(lines)
    if cell_len(words) > room:
        words = f"{len(lines)} more"
    return row(" " * (EDGE + _MARK), Span(words, "plain", Presses("a")), key)
