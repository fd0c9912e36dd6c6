"""The strip of results that never scrolls away."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum, IntEnum
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.message import Message
from textual.strip import Strip
from typing_extensions import override

from whatif.answers.compare import Answer
from whatif.answers.gains import is_difference
from whatif.answers.per import Per, answer_per
from whatif.screens.widgets.columns import Columns, DraggedColumns, apart, cut, right, wrapped
from whatif.telling.fit import not_made_sentence
from whatif.telling.limits import limit_in_short, limit_text
from whatif.telling.table import NOTHING, fit_text, gain_text, number, whole_percent_text
from whatif.telling.warnings import claim_warning

WAITING = "..."
NO_ANSWER = NOTHING
NO_FIGURES = "No figures before the problems of the file are put right: F3 lists them."
BAR_FULL = 50.0
"""Gain in percent at which a bar is full."""


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


class Tone(Enum):
    """How a text is coloured; sign and words tell the same without colour."""

    PLAIN = "plain"
    GAIN = "gain"
    LOSS = "loss"
    DIM = "dim"


@dataclass(frozen=True, slots=True)
class Shown:
    """One text of the strip."""

    text: str
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class StripRow:
    """A label and what each scenario shows for it; a bar row has gains instead of texts."""

    label: str
    text: Callable[[Answer, bool], Shown]
    bar: bool = False


def _plain(text: Callable[[Answer], str]) -> Callable[[Answer, bool], Shown]:
    return lambda answer, _: Shown(text(answer))


def leading_gain(answer: Answer) -> tuple[float | None, float | None, bool]:
    """The gain that leads, its grain, and whether it is only claimed."""
    if answer.plan.cell is None and answer.claimed is not None:
        return answer.claimed.gain, 0.0, True
    grain = None if answer.grain is None else answer.grain.saleable
    return answer.gains.saleable, grain, False


def _saleable(answer: Answer, is_reference: bool) -> Shown:
    gain, grain, claimed = leading_gain(answer)
    if is_reference:
        return Shown("reference", Tone.DIM)
    word = "claimed " if claimed else ""
    if gain is None:
        return Shown(NOTHING, Tone.DIM)
    if not is_difference(gain, grain):
        return Shown(word + "no difference", Tone.DIM)
    # Until its grain is known a gain is only about right, and says so.
    about = "" if grain is not None else "~"
    return Shown(word + about + gain_text(gain, grain), Tone.GAIN if gain > 0 else Tone.LOSS)


def _claimed(answer: Answer, is_reference: bool) -> Shown:
    if answer.claimed is None:
        return Shown(NOTHING, Tone.DIM)
    hours = f"{answer.claimed.hours_per_day:.1f}"
    if is_reference or answer.claimed.gain is None:
        return Shown(hours)
    return Shown(f"{hours}, {whole_percent_text(answer.claimed.gain)}")


def _hours(which: str) -> Callable[[Answer], str]:
    def text(answer: Answer) -> str:
        figures = answer.figures
        return NOTHING if figures is None else number(getattr(figures.spindle, which))

    return text


def _spindle(answer: Answer) -> str:
    if answer.figures is None:
        return NOTHING
    spindle = answer.figures.spindle
    return f"{number(spindle.attended)} / {number(spindle.unattended)}"


def _unsold(answer: Answer) -> str:
    return NOTHING if answer.figures is None else number(answer.figures.unsold_hours)


def _met(answer: Answer) -> str:
    if answer.figures is None or answer.figures.least_met is None:
        return NOTHING
    return f"{answer.figures.least_met:.0f} %"


def _people(answer: Answer) -> str:
    if answer.figures is None:
        return NOTHING
    paid, busy = answer.figures.people.paid, answer.figures.people.busy
    return f"{number(paid)} / {number(busy)}"


def _fit(answer: Answer, _: bool) -> Shown:
    is_left_out = any(part.unmade for part in answer.plan.parts)
    return Shown(fit_text(answer), Tone.LOSS if is_left_out else Tone.PLAIN)


def _held(answer: Answer) -> str:
    return NOTHING if answer.held_back is None else limit_in_short(answer.held_back)


_SALEABLE = StripRow("saleable output", _saleable)
_BAR = StripRow(f"  bar to ±{BAR_FULL:.0f} %", _saleable, bar=True)
_FIT = StripRow("parts", _fit)
_HELD = StripRow("held back by", _plain(_held))
_CLAIMED = StripRow("claimed h a day, gain", _claimed)

LEAST = (_SALEABLE,)
"""Where there are hardly any lines."""

SHORT = (_SALEABLE, _BAR, _HELD)
"""Above a view."""

LOW = (
    _SALEABLE,
    _BAR,
    StripRow("spindle h att. / unatt.", _plain(_spindle)),
    StripRow("demand met, least part", _plain(_met)),
    StripRow("people h paid / busy", _plain(_people)),
    _HELD,
    _FIT,
)
"""For screens of few lines."""

HIGH = (
    _SALEABLE,
    _BAR,
    StripRow("spindle h, attended", _plain(_hours("attended"))),
    StripRow("spindle h, unattended", _plain(_hours("unattended"))),
    StripRow("    of it after hours", _plain(_hours("after_hours"))),
    StripRow("  of both nobody buys", _plain(_unsold)),
    StripRow("demand met, least part", _plain(_met)),
    StripRow("people h, paid / busy", _plain(_people)),
    _HELD,
    _FIT,
)
"""For screens with room."""


def strip_rows(answers: list[Answer], room: Room) -> tuple[StripRow, ...]:
    """The rows to show; what is claimed only where somebody claims something beside a model."""
    rows = {Room.LEAST: LEAST, Room.SHORT: SHORT, Room.LOW: LOW, Room.HIGH: HIGH}[room]
    if room is Room.LEAST:
        return rows
    both = any(answer.claimed is not None and answer.figures is not None for answer in answers)
    return (*rows, _CLAIMED) if both else rows


def strip_height(answers: list[Answer], room: Room) -> int:
    """Lines of the whole strip: titles, rows, and the chosen scenario's sentence."""
    return 1 + len(strip_rows(answers, room)) + _SENTENCE_LINES[room]


def held_sentence(answer: Answer) -> str:
    """What holds the chosen scenario back, in a sentence; warnings and claims first."""
    parts = [not_made_sentence(part.unmade) for part in answer.plan.parts if part.unmade]
    if answer.figures is None and answer.claimed is not None:
        parts.append(
            f"Only claimed: {answer.claimed.hours_per_day:.1f} spindle hours a day; enter parts "
            "to have it simulated."
        )
    elif answer.figures is None:
        parts.append("Nothing to simulate yet: add a machine, a shift and a part.")
    parts += [claim_warning(answer), limit_text(answer.held_back)]
    return " ".join(part for part in parts if part)


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
            shown = row.text(answer_per(answer, state.per), id_ == state.reference)
            style = self.rich_style
            if shown.tone.value != "plain":
                style = self._style(shown.tone.value)
            text = bar(leading_gain(answer)[0], width) if row.bar else right(shown.text, width)
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
