"""The strip of results that never scrolls away."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from enum import IntEnum
from typing import TYPE_CHECKING

from textual import events
from textual.message import Message

from whatif.answers.per import Per, answer_per
from whatif.records import dataclass
from whatif.screens.widgets.columns import Columns, DraggedColumns, apart
from whatif.screens.widgets.drawing import (
    SENSES,
    Drawn,
    Span,
    SpanRow,
    left_in,
    right_in,
    row,
    wrapped,
)
from whatif.telling.amounts import NOTHING
from whatif.telling.strip import (
    BAR_FULL,
    HIGH,
    LEAST,
    LOW,
    SAID,
    SHORT,
    StripRow,
    drawn_gain,
    held_sentence,
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


def _shown_rows(answers: Collection[Answer], room: Room) -> tuple[StripRow, ...]:
    """The rows to show; what is said only where somebody says something beside a model."""
    rows, _ = _SHOWN[room]
    both = any(answer.said is not None and answer.figures is not None for answer in answers)
    return (*rows, SAID) if both and room is not Room.LEAST else rows


def strip_height(answers: Collection[Answer], room: Room) -> int:
    """Lines of the whole strip: titles, rows, and the chosen scenario's sentence."""
    return 1 + len(_shown_rows(answers, room)) + _SHOWN[room][1]


def bar(gain: float | None, width: int) -> str:
    """A bar from the middle of ``width`` cells, to the left for a loss; cut, it has an arrow."""
    half = (width - 1) // 2
    if gain is None:
        return " " * half + "|" + " " * (width - 1 - half)
    long = min(half, round(abs(gain) / BAR_FULL * half))
    is_cut = half > 1 and abs(gain) > BAR_FULL
    if gain >= 0:
        drawn = "█" * (long - 1) + ">" if is_cut else "█" * long
        return " " * half + "|" + drawn.ljust(width - 1 - half)
    drawn = "<" + "▒" * (long - 1) if is_cut else "▒" * long
    return drawn.rjust(half) + "|" + " " * (width - 1 - half)


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
        self._told: dict[str, _Told] = {}
        """What the columns say, of each scenario in one."""
        self._sentence: tuple[Answer | None, tuple[str, int, Room], list[SpanRow]] | None = None
        """The chosen scenario's, with what it hangs on."""

    def show(self, state: StripState) -> None:
        """Draw a state: titles, the rows, and the chosen scenario's sentence."""
        self._state, self.columns = state, state.columns
        answers = state.answers.values()
        rows = [_titles(state), *self._rows(state), *self._sentence_rows(state, self.size.width)]
        height = strip_height(answers, state.room)
        if self.styles.height is None or self.styles.height.value != height:
            self.styles.height = height
        self.draw(rows)

    def _rows(self, state: StripState) -> Iterator[SpanRow]:
        """The rows of figures; a column says the same for as long as its answer is the same."""
        lines, width = _shown_rows(state.answers.values(), state.room), state.columns.width - 1
        before, self._told = self._told, {}
        columns: list[tuple[Span, ...]] = []
        for place in state.columns.visible:
            id_ = state.ids[place]
            answer = state.answers.get(id_)
            if answer is None:
                columns.append(_blank(state.blank, lines, width))
                continue
            of = lines, state.per, id_ == state.reference, width
            told = before.get(id_)
            if told is None or told.answer is not answer or told.of != of:
                told = _Told(answer, of, _column(answer, *of))
            self._told[id_] = told
            columns.append(told.spans)
        for place, line in enumerate(lines):
            spans = [left_in(line.label, state.columns.label, "dim")]
            for column in columns:
                spans += [_GAP, column[place]]
            yield tuple(spans)

    def _sentence_rows(self, state: StripState, width: int) -> list[SpanRow]:
        answer = state.answers.get(state.ids[state.cursor]) if state.ids else None
        of = state.blank, width, state.room
        known = self._sentence
        if known is None or known[0] is not answer or known[1] != of:
            known = self._sentence = answer, of, _sentence(answer, state, width)
        return known[2]

    def on_resize(self) -> None:
        """Draw it in its new width."""
        if self._state is not None:
            self.show(self._state)

    def on_click(self, event: events.Click) -> None:
        """A click chooses the column."""
        column = None if self.columns is None else self.columns.at(event.x)
        if column is not None and not self.was_dragged:
            self.post_message(self.Chosen(column))


def _titles(state: StripState) -> SpanRow:
    columns = state.columns
    more = columns.count - len(columns.visible)
    said = [f"{more} more < >"] if more else []
    said += [f"{state.hidden} hidden: H"] if state.hidden else []
    spans = [left_in(" " + ", ".join(said), columns.label, "dim")]
    titles = apart([state.titles[i] for i in columns.visible], columns.width - 3)
    for place, title in zip(columns.visible, titles, strict=True):
        chosen = place == state.cursor
        text = f">{title}<" if chosen else f" {title} "
        spans += [Span(" "), right_in(text, columns.width - 1, "chosen" if chosen else "bold")]
    return tuple(spans)


_GAP = Span(" ")

_Of = tuple[tuple[StripRow, ...], Per, bool, int]
"""What a column's texts hang on beside its answer: rows, time, being the reference, room."""


@dataclass(frozen=True, slots=True)
class _Told:
    """What a column says of an answer, a span a row."""

    answer: Answer
    of: _Of
    spans: tuple[Span, ...]


def _column(
    answer: Answer, lines: tuple[StripRow, ...], per: Per, is_reference: bool, width: int
) -> tuple[Span, ...]:
    told = answer_per(answer, per)
    spans = []
    for line in lines:
        said = line.said(told, is_reference)
        text = bar(drawn_gain(answer), width) if line.bar else said.within(width)
        spans.append(right_in(text, width, SENSES[said.sense]))
    return tuple(spans)


def _blank(blank: str, lines: tuple[StripRow, ...], width: int) -> tuple[Span, ...]:
    return tuple(right_in("" if line.bar else blank, width, "dim") for line in lines)


def _sentence(answer: Answer | None, state: StripState, width: int) -> list[SpanRow]:
    text = "" if answer is None else held_sentence(answer)
    if answer is None and state.blank == NO_ANSWER:
        text = _NO_FIGURES
    _, lines = _SHOWN[state.room]
    return [row(left_in(line, width, "accent")) for line in wrapped(text, width, lines)[:lines]]
