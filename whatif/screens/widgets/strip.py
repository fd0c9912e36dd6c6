"""The strip of results that never scrolls away."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.message import Message
from textual.strip import Strip

from whatif.answers.compare import Answer
from whatif.answers.per import Per, answer_per
from whatif.screens.widgets.borders import Borders
from whatif.screens.widgets.columns import Columns, apart, cut, right, wrapped
from whatif.screens.widgets.strip_rows import (
    NO_ANSWER,
    NO_FIGURES,
    WAITING,
    Room,
    StripRow,
    bar,
    leading_gain,
    sentence,
    strip_rows,
)


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


class ResultStrip(Borders):
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
    def columns(self) -> Columns | None:
        """See `Borders`."""
        return None if self._state is None else self._state.columns

    def show(self, state: StripState) -> None:
        """Draw a state."""
        self._state = state
        self._rows = strip_rows(list(state.answers.values()), state.room)
        height = 1 + len(self._rows) + self._sentence_lines(state)
        if self.styles.height is None or self.styles.height.value != height:
            self.styles.height = height
        self.refresh()

    @staticmethod
    def _sentence_lines(state: StripState) -> int:
        return {Room.LEAST: 0, Room.HIGH: 2}.get(state.room, 1)

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
            shown = row.text(answer_per(answer, state.per), id_ == state.reference)
            style = self.rich_style
            if shown.tone.value != "plain":
                style = self._style(shown.tone.value)
            text = bar(leading_gain(answer)[0], width) if row.bar else right(shown.text, width)
            segments.append(Segment(text, style))
        return segments

    def _sentence_segments(self, state: StripState, line: int, width: int) -> list[Segment]:
        answer = state.answers.get(state.ids[state.cursor]) if state.ids else None
        text = "" if answer is None else sentence(answer)
        if answer is None and state.blank == NO_ANSWER:
            text = NO_FIGURES
        lines = wrapped(text, width, self._sentence_lines(state))
        # Just after the strip has been made lower it is still drawn at its old height once.
        said = lines[line] if line < len(lines) else ""
        return [Segment(cut(said, width), self._style("sentence"))]
