"""The strip of results that never scrolls away."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.message import Message
from textual.strip import Strip
from typing_extensions import override

from whatif.answers.compare import Answer
from whatif.answers.per import Per, answer_per
from whatif.screens.widgets.columns import Columns, DraggedColumns, apart, cut, right, wrapped
from whatif.telling.orders import Sense
from whatif.telling.strip import (
    BAR_FULL,
    CLAIMED,
    HIGH,
    LEAST,
    LOW,
    SHORT,
    StripRow,
    held_sentence,
    leading_gain,
)
from whatif.telling.table import NOTHING

WAITING = "..."
NO_ANSWER = NOTHING
NO_FIGURES = "No figures before the problems of the file are put right: F3 lists them."
_STYLES: dict[Sense, str] = {"good": "gain", "bad": "loss", "none": "dim"}
"""How a text is coloured; sign and words tell the same without colour."""


class Room(IntEnum):
    """How much of the strip there is room for; beside a view only the gain and what limits."""

    LEAST = 0
    SHORT = 1
    LOW = 2
    HIGH = 3


_FROM_LINES = {Room.HIGH: 30, Room.LOW: 18, Room.SHORT: 13}
"""The screen's lines from which there is so much room, so that rows of the sheet are left."""


_SENTENCE_LINES = {Room.LEAST: 0, Room.SHORT: 1, Room.LOW: 1, Room.HIGH: 2}


def room_for(lines: int) -> Room:
    """How much of the strip a screen of so many lines has room for."""
    return next((room for room, least in _FROM_LINES.items() if lines >= least), Room.LEAST)


def strip_rows(answers: list[Answer], room: Room) -> tuple[StripRow, ...]:
    """The rows to show; what is claimed only where somebody claims something beside a model."""
    rows = {Room.LEAST: LEAST, Room.SHORT: SHORT, Room.LOW: LOW, Room.HIGH: HIGH}[room]
    if room is Room.LEAST:
        return rows
    both = any(answer.claimed is not None and answer.figures is not None for answer in answers)
    return (*rows, CLAIMED) if both else rows


def strip_height(answers: list[Answer], room: Room) -> int:
    """Lines of the whole strip: titles, rows, and the chosen scenario's sentence."""
    return 1 + len(strip_rows(answers, room)) + _SENTENCE_LINES[room]


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


class ResultStrip(DraggedColumns):
    """Titles, gains with bars, hours, demand, people, limits and fit of each scenario."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "strip--title",
        "strip--chosen",
        "strip--label",
        "strip--gain",
        "strip--loss",
        "strip--dim",
        "strip--sentence",
    }

    class Chosen(Message):
        """A scenario's column was clicked."""

        def __init__(self, column: int) -> None:
            super().__init__()
            self.column = column

    def __init__(self) -> None:
        super().__init__(id="strip")
        self._state: StripState | None = None
        self._rows: tuple[StripRow, ...] = ()

    @property
    @override
    def columns(self) -> Columns | None:
        return None if self._state is None else self._state.columns

    def show(self, state: StripState) -> None:
        """Draw a state."""
        self._state = state
        answers = list(state.answers.values())
        self._rows = strip_rows(answers, state.room)
        height = strip_height(answers, state.room)
        if self.styles.height is None or self.styles.height.value != height:
            self.styles.height = height
        self.refresh()

    def on_click(self, event: events.Click) -> None:
        """A click chooses the column."""
        if self._state is not None and not self.was_dragged:
            column = self._state.columns.at(event.x)
            if column is not None:
                self.post_message(self.Chosen(column))

    def render_line(self, y: int) -> Strip:
        """One line: titles first, then the rows, then the chosen scenario's sentence."""
        state = self._state
        width = self.size.width
        if state is None:
            return Strip.blank(width)
        if y == 0:
            segments = self._title_segments(state)
        elif y <= len(self._rows):
            segments = self._row_segments(state, self._rows[y - 1])
        else:
            segments = self._sentence_segments(state, y - 1 - len(self._rows), width)
        return Strip(segments).adjust_cell_length(width, self.rich_style)

    def _style(self, name: str) -> Style:
        return self.get_component_rich_style(f"strip--{name}")

    def _title_segments(self, state: StripState) -> list[Segment]:
        columns = state.columns
        more = columns.count - len(columns.visible)
        said = [f"{more} more < >"] if more else []
        said += [f"{state.hidden} hidden: H"] if state.hidden else []
        segments = [Segment(cut(" " + ", ".join(said), columns.label), self._style("dim"))]
        room = columns.width - 3
        titles = apart([state.titles[i] for i in columns.visible], room)
        for place, title in zip(columns.visible, titles, strict=True):
            chosen = place == state.cursor
            text = f">{title}<" if chosen else f" {title} "
            style = self._style("chosen" if chosen else "title")
            segments += [
                Segment(" ", self.rich_style),
                Segment(right(text, columns.width - 1), style),
            ]
        return segments

    def _row_segments(self, state: StripState, row: StripRow) -> list[Segment]:
        columns = state.columns
        segments = [Segment(cut(row.label, columns.label), self._style("label"))]
        for place in columns.visible:
            id_ = state.ids[place]
            answer = state.answers.get(id_)
            segments.append(Segment(" ", self.rich_style))
            width = columns.width - 1
            if answer is None:
                blank = right("" if row.bar else state.blank, width)
                segments.append(Segment(blank, self._style("dim")))
                continue
            said = row.said(answer_per(answer, state.per), id_ == state.reference)
            style = self.rich_style
            if said.sense in _STYLES:
                style = self._style(_STYLES[said.sense])
            text = bar(leading_gain(answer)[0], width) if row.bar else right(said.text, width)
            segments.append(Segment(text, style))
        return segments

    def _sentence_segments(self, state: StripState, line: int, width: int) -> list[Segment]:
        answer = state.answers.get(state.ids[state.cursor]) if state.ids else None
        text = "" if answer is None else held_sentence(answer)
        if answer is None and state.blank == NO_ANSWER:
            text = NO_FIGURES
        lines = wrapped(text, width, _SENTENCE_LINES[state.room])
        # Just after the strip has been made lower it is still drawn at its old height once.
        said = lines[line] if line < len(lines) else ""
        return [Segment(cut(said, width), self._style("sentence"))]
