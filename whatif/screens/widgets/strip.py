"""The strip of results that never scrolls away."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from enum import IntEnum
from typing import TYPE_CHECKING

from rich.cells import cell_len
from textual import events
from textual.message import Message

from whatif.answers.per import Per, answer_per
from whatif.records import dataclass
from whatif.screens.widgets.bars import bar
from whatif.screens.widgets.columns import Columns, DraggedColumns, apart, in_column, in_two_lines
from whatif.screens.widgets.drawing import (
    EDGE,
    SENSES,
    Drawn,
    Span,
    SpanRow,
    Tone,
    left_in,
    row,
    whole_words,
)
from whatif.telling.amounts import NOTHING
from whatif.telling.gain_texts import lacks_unit, without_unit
from whatif.telling.strip import (
    HIGH,
    LEAST,
    LOW,
    SAID,
    SHORT,
    Ends,
    Scale,
    StripRow,
    bar_labels,
    drawn_ends,
    held_sentence,
    is_dotted,
    scale_for,
)

if TYPE_CHECKING:
    from whatif.answers.answer import Answer

WAITING = "..."
NO_ANSWER = NOTHING
_NO_FIGURES = "No figures before the problems of the file are put right: F3 lists them."


class Room(IntEnum):
    """How much of the strip there is room for, by the screen's lines from which there is.

    So many rows of the sheet are left; beside a view there are only the gain and what limits.
    """

    LEAST = 0
    SHORT = 13
    LOW = 18
    HIGH = 30


_SHOWN = {Room.LEAST: (LEAST, 0), Room.SHORT: (SHORT, 1), Room.LOW: (LOW, 1), Room.HIGH: (HIGH, 2)}
"""The rows for which there is room, and the lines of the chosen scenario's sentence."""


def room_for(lines: int) -> Room:
    """How much of the strip a screen of so many lines has room for."""
    return max(room for room in Room if room <= lines)


def _shown_rows(is_said: bool, room: Room) -> tuple[StripRow, ...]:
    rows, _ = _SHOWN[room]
    return (*rows, SAID) if is_said and room is not Room.LEAST else rows


@dataclass(frozen=True, slots=True)
class StripState:
    """All that the strip draws.

    Attributes:
        titles: of the scenarios, in the order of the columns.
        answers: per scenario the answer that belongs to what is on the screen, if there is one.
        ids: of the scenarios in the columns.
        room: how many of the rows are shown.
        blank: what stands in place of answers that are not there: being worked out, or none.
        per: the time that hours and pieces are told for.
        hidden: how many scenarios have no column.
        against: the reference's title where it is one of them; "" else.
    """

    columns: Columns
    ids: tuple[str, ...]
    titles: tuple[str, ...]
    reference: str | None
    cursor: int
    answers: Mapping[str, Answer]
    room: Room
    blank: str = WAITING
    per: Per = Per.WEEK
    hidden: int = 0
    against: str = ""


class ResultStrip(Drawn, DraggedColumns):
    """Titles, gains with bars, hours, demand, people, limits and fit of each scenario."""

    class Chosen(Message):
        """A scenario's column was clicked."""

        def __init__(self, column: int) -> None:
            super().__init__()
            self.column = column

    def __init__(self) -> None:
        super().__init__(id="strip")
        self._state: StripState | None = None
        self._is_said = False
        """Whether what is said is shown beside what is found."""
        self._is_bare = False
        """Whether gains go without their unit, which the row's label has."""
        self._told: dict[str, _Told] = {}
        """What the columns say, of each scenario in one."""
        self._sentence: tuple[Answer | None, _OfSentence, list[SpanRow]] | None = None
        """The chosen scenario's, with what it hangs on."""
        self._broken: tuple[Sequence[str], int, Sequence[tuple[str, str]]] | None = None
        """The titles of all columns in two lines, with what that hangs on."""
        self._heads: tuple[Sequence[str], tuple[object, ...], list[SpanRow]] | None = None
        self._figures: (
            tuple[tuple[object, ...], Sequence[tuple[SpanRow, ...]], list[SpanRow]] | None
        ) = None
        """The rows of titles, and those of figures, with what they were made from."""
        self._scale: tuple[Mapping[str, Answer], Scale | None, tuple[str, ...]] | None = None
        """Of the bars of all answers, and what is said of them, the longest first."""
        self._ends: dict[str, tuple[Answer, Ends | None]] = {}
        """What is drawn of each answer."""

    def show(self, state: StripState) -> None:
        """Draw a state: titles, the rows, and the chosen scenario's sentence."""
        self._state, self.columns = state, state.columns
        self._note_said(state)
        titles = self._title_rows(state)
        rows = [*titles, *self._rows(state), *self._sentence_rows(state, self.size.width)]
        lines = len(_shown_rows(self._is_said, state.room))
        height = len(titles) + lines + _SHOWN[state.room][1]
        if self.styles.height is None or self.styles.height.value != height:
            self.styles.height = height
        self.draw(rows)

    def _note_said(self, state: StripState) -> None:
        """Note whether somebody says something beside a model.

        While answers are waited for it stays as it was: the sheet below stays where it is.
        """
        answers = state.answers.values()
        both = any(each.said is not None and each.figures is not None for each in answers)
        if both or state.answers.keys() >= set(state.ids):
            self._is_said = both

    def _title_rows(self, state: StripState) -> list[SpanRow]:
        """The titles, broken into lines once for as long as they are the same."""
        titles, of = state.titles, (state.columns, state.cursor, state.room, state.hidden)
        if self._heads is None or self._heads[0] is not titles or self._heads[1] != of:
            figures, known = state.columns.figures, self._broken
            if known is None or known[0] is not titles or known[1] != figures:
                lines = in_two_lines(titles, ((figures, figures),) * len(titles))
                known = self._broken = titles, figures, lines
            self._heads = titles, of, _titles(state, known[2])
        return self._heads[2]

    def _rows(self, state: StripState) -> list[SpanRow]:
        """The rows of figures; a column says the same for as long as its answer is the same."""
        lines = _shown_rows(self._is_said, state.room)
        scale, labels = self._scale_of(state.answers)
        columns = self._told_columns(state, lines, scale)
        # All gains of the row have their unit, or none, as there is room for the longest of them.
        is_bare = any(told.is_bare for told in self._told.values())
        if is_bare is not self._is_bare:
            self._is_bare = is_bare
            columns = self._told_columns(state, lines, scale)
        of_rows = lines, state.columns, labels
        if self._figures is None or self._figures[0] != of_rows or self._figures[1] != columns:
            self._figures = of_rows, columns, list(_in_rows(lines, state.columns, labels, columns))
        return self._figures[2]

    def _told_columns(
        self, state: StripState, lines: tuple[StripRow, ...], scale: Scale | None
    ) -> list[tuple[SpanRow, ...]]:
        before, self._told = self._told, {}
        columns: list[tuple[SpanRow, ...]] = []
        for place in state.columns.visible:
            id_ = state.ids[place]
            answer = state.answers.get(id_)
            if answer is None:
                columns.append(_blank(state.blank, lines, state.columns))
                continue
            is_reference = id_ == state.reference
            of = lines, state.per, is_reference, state.columns.width, scale, self._is_bare
            told = before.get(id_)
            if told is None or told.answer is not answer or told.of != of:
                drawn = self._ends[id_][1]
                told = _column(answer, of, state.columns, drawn)
            self._told[id_] = told
            columns.append(told.cells)
        return columns

    def _scale_of(self, answers: Mapping[str, Answer]) -> tuple[Scale | None, tuple[str, ...]]:
        """The scale of all bars and their labels, the same for as long as the answers are."""
        if self._scale is None or self._scale[0] is not answers:
            before = self._ends
            self._ends = {
                id_: known
                if (known := before.get(id_)) is not None and known[0] is answer
                else (answer, drawn_ends(answer))
                for id_, answer in answers.items()
            }
            # One alone has nothing beside it to be drawn against.
            drawn = [ends for _, ends in self._ends.values()]
            scale = scale_for(drawn) if len(drawn) > 1 else None
            self._scale = answers, scale, bar_labels(scale, is_dotted=is_dotted(drawn))
        return self._scale[1:]

    def _sentence_rows(self, state: StripState, width: int) -> list[SpanRow]:
        answer = state.answers.get(state.ids[state.cursor]) if state.ids else None
        of = state.blank, width, state.room, state.against, state.per
        known = self._sentence
        if known is None or known[0] is not answer or known[1] != of:
            known = self._sentence = answer, of, _sentence(answer, state, width)
        return known[2]

    def on_resize(self) -> None:
        """Draw it in its new width."""
        if self._state is not None:
            self.show(self._state)

    def on_click(self, event: events.Click) -> None:
        """A click chooses the column, or the next one beyond those shown."""
        columns = self.columns
        if columns is None or self.was_dragged:
            return
        column = columns.at(event.x)
        match self.spot_at(event):
            case "before":
                column = columns.first - 1
            case "after":
                column = columns.visible[-1] + 1
        if column is not None:
            self.post_message(self.Chosen(column))


def _in_rows(
    lines: Sequence[StripRow],
    columns: Columns,
    of_bars: tuple[str, ...],
    told: Sequence[tuple[SpanRow, ...]],
) -> Iterator[SpanRow]:
    room = columns.label - EDGE
    for place, line in enumerate(lines):
        texts = of_bars if line.bar else line.labels
        label = next((text for text in texts if len(text) <= room), texts[-1])
        spans = [left_in(f" {label}", columns.label, "dim")]
        for column in told:
            spans += [_GAP, *column[place]]
        yield tuple(spans)


def _titles(state: StripState, broken: Sequence[tuple[str, str]]) -> list[SpanRow]:
    """The titles over the right edge of the figures, the chosen one as wide as its column.

    On two lines where one of all needs them and there is room.
    """
    columns = state.columns
    if state.room < Room.LOW or not any(second for _, second in broken):
        shown = apart([state.titles[place] for place in columns.visible], columns.figures)
        lines = [dict(zip(columns.visible, shown, strict=True))]
    else:
        # A title of one line stands right above its figures.
        pairs = {place: broken[place] for place in columns.visible}
        lines = [
            {place: first if second else "" for place, (first, second) in pairs.items()},
            {place: second or first for place, (first, second) in pairs.items()},
        ]
    rows = []
    for line, texts in enumerate(lines, 1):
        spans = [*_elsewhere(state, line, len(lines))]
        for place, text in texts.items():
            tone: Tone = "scenario" if place == state.cursor else "bold"
            spans += [_GAP, in_column(text, columns, tone)]
        rows.append(tuple(spans))
    return rows


def _elsewhere(state: StripState, line: int, lines: int) -> SpanRow:
    """How many columns are hidden, and how many there are to the left and right of those shown."""
    columns, room = state.columns, state.columns.label
    hidden = f"{state.hidden} hidden: H" if state.hidden else ""
    if line < lines:
        return (left_in(f" {hidden}", room, "dim"),)
    more = " more" if room >= _SAYS_MORE else ""
    before = f" ‹ {columns.before}{more}" if columns.before else ""
    after = f"  {columns.after}{more} ›" if columns.after else ""
    beside = "" if lines > 1 or not hidden else f"  {hidden}"
    found = [Span(before, "dim", "before"), Span(after, "dim", "after")]
    left = max(0, room - cell_len(before + after))
    return (*found, left_in(beside, left, "dim")) if cell_len(before + after) <= room else ()


_SAYS_MORE = 22
"""Cells of the labels from which it is said that there are so many more on a side."""

_OfSentence = tuple[str, int, Room, str, Per]

_GAP = Span(" ")

_Of = tuple[tuple[StripRow, ...], Per, bool, int, "Scale | None", bool]
"""What a column's texts hang on beside its answer: rows, time, being the reference, room, scale,
and whether gains go without their unit.
"""


@dataclass(frozen=True, slots=True)
class _Told:
    """What a column says of an answer, some spans a row.

    ``is_bare``: whether its gain has no room for its unit.
    """

    answer: Answer
    of: _Of
    cells: tuple[SpanRow, ...]
    is_bare: bool


def _column(answer: Answer, of: _Of, columns: Columns, drawn: Ends | None) -> _Told:
    lines, per, is_reference, width, scale, all_bare = of
    is_bare = False
    told = answer_per(answer, per)
    cells: list[SpanRow] = []
    for line in lines:
        said = line.said(told, is_reference)
        tone = SENSES[said.sense]
        if line.bar:
            ends = Span(" " * (width - 1 - columns.figures))
            cells.append((*bar(drawn, scale, columns.figures, tone), ends))
            continue
        room = width - 1 if line.in_words or said.is_marked else columns.figures
        text = said.within(room)
        if line in LEAST:
            is_bare = lacks_unit(text)
            text = without_unit(text) if all_bare else text
        cells.append((in_column(text, columns, tone),))
    return _Told(answer, of, tuple(cells), is_bare)


def _blank(blank: str, lines: tuple[StripRow, ...], columns: Columns) -> tuple[SpanRow, ...]:
    return tuple((in_column("" if line.bar else blank, columns, "dim"),) for line in lines)


def _sentence(answer: Answer | None, state: StripState, width: int) -> list[SpanRow]:
    before = f"Against {state.against} (hidden). " if answer is not None and state.against else ""
    if answer is not None:
        texts = [
            before + held_sentence(answer, per=state.per, in_brief=brief) for brief in (False, True)
        ]
    else:
        texts = [_NO_FIGURES if state.blank == NO_ANSWER else ""]
    _, lines = _SHOWN[state.room]
    room = max(8, width - EDGE)
    told = whole_words(texts, room, lines, _MORE)
    return [row(" " * EDGE, left_in(line, room, "lead")) for line in told]


_MORE = " More: F2"
"""Behind as much of what is said as there is room for: the summary has all of it."""
