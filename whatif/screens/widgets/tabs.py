"""The scenarios above a view, each with what it brings; the chosen one stands out.

Where the view tells a column a scenario, they stand above their columns; elsewhere they follow
each other, on two lines at most.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from rich.cells import cell_len

from whatif.records import dataclass
from whatif.screens.widgets.choosing import ListsScenarios
from whatif.screens.widgets.columns import Columns, apart, in_column, in_two_lines
from whatif.screens.widgets.drawing import (
    EDGE,
    SENSES,
    Chooses,
    Span,
    SpanRow,
    Tone,
    left_in,
    row,
)
from whatif.screens.widgets.strip import WAITING
from whatif.telling.gain_texts import lacks_unit, without_unit
from whatif.telling.strip import LEAST, gain_in_a_word

if TYPE_CHECKING:
    from whatif.answers.answer import Answer

LINES: Final = 2
"""Lines that scenarios above a view take at most."""

_MORE: Final = len("1000 more ›") + 1
"""Cells that are kept free for how many more there are."""

_GAP: Final = 2
"""Cells between two of them on a line."""


@dataclass(frozen=True, slots=True)
class TabsState:
    """All that is drawn of the scenarios above a view.

    Attributes:
        columns: where the view's columns stand.
        on_grid: whether each stands above its column.
        ids, titles: of all scenarios, in the order of the columns.
        answers: per scenario the answer that belongs to what is on the screen, if there is one.
        blank: what stands in place of answers that are not there.
    """

    columns: Columns
    on_grid: bool
    ids: tuple[str, ...]
    titles: tuple[str, ...]
    chosen: str | None
    reference: str | None
    answers: Mapping[str, Answer]
    blank: str = WAITING


class ScenarioTabs(ListsScenarios):
    """The scenarios above a view; a click chooses one."""

    def __init__(self) -> None:
        super().__init__(id="tabs")
        self._state: TabsState | None = None
        self._gains: _Gains = {}

    def show(self, state: TabsState, width: int) -> None:
        """Draw a state on so many cells."""
        self._state = state
        rows = tab_rows(state, width, self._gains)
        if self.styles.height is None or self.styles.height.value != len(rows):
            self.styles.height = len(rows)
        self.draw(rows)

    def on_resize(self) -> None:
        """Draw it in its new room."""
        if self._state is not None:
            self.show(self._state, self.size.width)


_Gains = dict[tuple[str, int | None], tuple["Answer", tuple[str, Tone]]]
"""Of each scenario, by the cells there were for it, what was told of an answer."""


def tab_rows(state: TabsState, width: int, gains: _Gains | None = None) -> list[SpanRow]:
    """The lines that the scenarios take above a view of so many cells.

    ``gains`` keeps what they bring, told once for as long as an answer is the same.
    """
    if not state.ids:
        return [row("")]
    known: _Gains = {} if gains is None else gains
    return _on_grid(state, known) if state.on_grid else _in_line(state, width, known)


def _gain(state: TabsState, id_: str, room: int | None, gains: _Gains) -> tuple[str, Tone]:
    """What a scenario brings, in so many cells or in a word; and how that is coloured."""
    answer = state.answers.get(id_)
    if id_ == state.reference:
        return "reference", "dim"
    if answer is None:
        return state.blank, "dim"
    known = gains.get((id_, room))
    if known is None or known[0] is not answer:
        (row_of_gain,) = LEAST
        said = row_of_gain.said(answer, False)
        if room is None:
            text = gain_in_a_word(answer)
        else:
            # A gain with a sign before it has the room of signs behind figures, too.
            text = said.within(state.columns.width - 1 if said.is_marked else room)
        known = gains[id_, room] = answer, (text, SENSES[said.sense])
    return known[1]


def _on_grid(state: TabsState, gains: _Gains) -> list[SpanRow]:
    columns = state.columns
    heads: list[list[Span]] = [
        [left_in("", columns.label)],
        [left_in(f" {columns.beyond}", columns.label, "dim")],
        [left_in(_LABEL, columns.label, "dim")],
    ]
    titles = in_two_lines(state.titles, ((columns.figures, columns.figures),) * len(state.titles))
    for place in columns.visible:
        id_ = state.ids[place]
        tone: Tone = "scenario" if id_ == state.chosen else "bold"
        first, second = titles[place]
        # A title of one line stands right above its figures, and nothing is painted above it.
        for spans, line in zip(heads, (first if second else "", second or first), strict=False):
            drawn = tone if line else "plain"
            spans += [Span(" "), in_column(line, columns, drawn, Chooses(id_))]
    told = [_gain(state, state.ids[place], columns.figures, gains) for place in columns.visible]
    is_bare = any(lacks_unit(text) for text, _ in told)
    for place, (text, sense) in zip(columns.visible, told, strict=True):
        shown = without_unit(text) if is_bare else text
        heads[2] += [Span(" "), in_column(shown, columns, sense, Chooses(state.ids[place]))]
    # Where no title takes two lines there is no line for a second one.
    return [tuple(spans) for spans in heads[0 if any(second for _, second in titles) else 1 :]]


_LABEL: Final = " saleable output, %"
"""What the gains are, as above the sheet: a gain in little room has no unit of its own."""


def _in_line(state: TabsState, width: int, gains: _Gains) -> list[SpanRow]:
    room = max(20, width - 2 * EDGE)
    texts: list[tuple[str, str, str, Tone]] = []
    titles = apart(state.titles, max(12, room // 3))
    for id_, title in zip(state.ids, titles, strict=True):
        text, tone = _gain(state, id_, None, gains)
        texts.append((id_, title.strip(), text.strip(), tone))
    chosen = state.ids.index(state.chosen) if state.chosen in state.ids else 0
    return _filled(state, texts, chosen, room)


def _filled(
    state: TabsState, texts: list[tuple[str, str, str, Tone]], chosen: int, room: int
) -> list[SpanRow]:
    """As many as there is room for, from the first one that leaves the chosen one in sight."""
    for first in range(chosen + 1):
        lines: list[list[Span]] = [[Span(" " * EDGE)]]
        used = 0
        if first:
            mark = f"‹ {first} more"
            lines[0].append(Span(mark + " " * _GAP, "dim"))
            used = cell_len(mark) + _GAP
        place = first
        while place < len(texts):
            id_, title, gain, tone = texts[place]
            takes = cell_len(title) + 1 + cell_len(gain) + 2 + _GAP
            left = len(texts) - place - 1
            # The last line keeps room to say how many are left.
            needs = takes + (_MORE if left and len(lines) == LINES else 0)
            if used and used + needs > room:
                if len(lines) == LINES:
                    break
                lines.append([Span(" " * EDGE)])
                used = 0
                continue
            is_chosen = id_ == state.chosen
            spot = Chooses(id_)
            lines[-1] += [
                Span(f" {title} ", "scenario" if is_chosen else "plain", spot),
                Span(f"{gain} ", "scenario" if is_chosen else tone, spot),
                Span(" " * _GAP),
            ]
            used += takes
            place += 1
        if place > chosen:
            if place < len(texts):
                lines[-1].append(Span(f"{len(texts) - place} more ›", "dim"))
            return [tuple(line) for line in lines]
    return [row("")]
