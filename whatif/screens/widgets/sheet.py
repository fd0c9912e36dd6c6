"""The sheet of inputs: one widget that draws every value of every scenario."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Protocol

from rich.cells import cell_len
from textual import events
from textual.geometry import Region
from textual.strip import Strip
from typing_extensions import override

from whatif.records import dataclass
from whatif.screens.widgets.columns import Columns, DraggedColumns, shorter
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    Tone,
    Toned,
    left_in,
    right,
    row,
    strip_of,
)
from whatif.screens.widgets.scrolled import Scrolled
from whatif.session.sheet import Heading, Line, Row
from whatif.telling.sheet_cell import UNUSED, Mark, SheetCell

if TYPE_CHECKING:
    from whatif.study.raw import Path

_BEGINS_A_NUMBER = ".½¼¾"
_FAR = 1_000_000
_FAR_BELOW = 200
"""Rows that are looked through for a heading: more than a screen has."""
_MOVES = {
    "up": (-1, 0),
    "down": (1, 0),
    "left": (0, -1),
    "right": (0, 1),
    "less_than_sign": (0, -1),
    "greater_than_sign": (0, 1),
    "home": (-_FAR, 0),
    "end": (_FAR, 0),
}


class SheetHost(Protocol):
    """Who does what keys on the sheet ask for."""

    def type_over(self, text: str | None) -> None:
        """Begin to edit the value, ``text`` being typed over it; None edits it as it is."""

    def move(self, rows: int, columns: int) -> None:
        """Move the cursor."""

    def go_to(self, row: int, column: int) -> None:
        """Move the cursor to a row and column."""

    def press_enter(self) -> None:
        """Edit the value, or open and close a heading."""

    def place_editor(self) -> None:
        """The rows have been scrolled."""

    def begins_value(self, character: str) -> bool:
        """Whether a letter is typed over the value under the cursor, and is no command there."""

    def belongs_to_refused(self, event: events.Key) -> bool:
        """Whether a key goes on with what has just been refused here, and is no command."""

    def paste(self, text: str) -> None:
        """Take what the terminal has pasted."""


@dataclass(frozen=True, slots=True)
class SheetState:
    """All that the sheet draws.

    Attributes:
        cell: tells what stands at a scenario and a path.
        empty: what to say where there is no row.
    """

    columns: Columns
    ids: tuple[str, ...]
    rows: tuple[Row, ...]
    folded: frozenset[Path]
    row: int
    column: int
    cell: Callable[[str, Path], SheetCell]
    heading_note: Callable[[Heading], str]
    empty: str = ""


# The scrolling comes first: a widget has the style of its first base.
class Sheet(Scrolled, Toned, DraggedColumns, can_focus=True):
    """Rows of inputs, columns of scenarios, a cursor. Says what was asked; changes nothing."""

    def __init__(self, host: SheetHost) -> None:
        super().__init__(id="sheet")
        self._state: SheetState | None = None
        self._host = host
        self._at: tuple[int, int, int] | None = None
        self._drawn: dict[int, SpanRow] = {}
        """The lines as they were drawn last, counted from the first row of the sheet."""
        self._lines: dict[int, tuple[tuple[object, ...], SpanRow]] = {}
        """The lines of values, with what they were drawn from, by the place of their row."""

    def show(self, state: SheetState) -> None:
        """Draw a state, the cursor's row in sight; the wheel may have left it."""
        was, self._state, self.columns = self._state, state, state.columns
        self._is_long(len(state.rows))
        at = (state.row, state.column, len(state.rows))
        if at != self._at:
            self._seek(state, _moved_by(was, state))
        self._at = at
        before, self._drawn = self._drawn, {}
        top = round(self.scroll_offset.y)
        self.paint_lines(
            line
            for line in range(self.size.height)
            if self._row(top + line) != before.get(top + line)
        )

    def on_resize(self) -> None:
        """The cursor's row stays in sight, and headings are as wide as the sheet is now."""
        self._drawn.clear()
        self.refresh()
        if self._state is not None:
            self._seek(self._state)

    def _seek(self, state: SheetState, moved_by: int = 0) -> None:
        if not self.size:
            return  # Below a view nothing is in sight; what it needs is seen when it has room.
        if moved_by:
            # Other rows have come or gone above it: it stays where it is seen.
            below = self.scroll_offset.y + moved_by
            self.scroll_to(y=below, animate=False, force=True, immediate=True)
        # The heading that a row stands below is kept in sight with it, as long as both have room.
        above = _below_heading(state)
        above = above if above < self.size.height else 0
        self.scroll_to_region(Region(0, state.row - above, 1, 1 + above), animate=False, force=True)

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """The editor goes along with its value."""
        super().watch_scroll_y(old_value, new_value)
        self._host.place_editor()

    # -- asking ------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Move, edit, or leave the key to the commands.

        Digits edit, and letters that begin a value of the row; all others are commands.
        """
        self._at = None
        if self._takes(event):
            event.stop()
            event.prevent_default()

    def _takes(self, event: events.Key) -> bool:
        page = max(1, self.size.height - 1)
        moves = _MOVES | {"pageup": (-page, 0), "pagedown": (page, 0)}
        character = event.character or ""
        if self._host.belongs_to_refused(event):
            return True
        if event.key in moves:
            self._host.move(*moves[event.key])
        elif event.key == "enter":
            self._host.press_enter()
        elif (
            character.isdigit()
            or (character in _BEGINS_A_NUMBER and character)
            or self._host.begins_value(character)
        ):
            self._host.type_over(character)
        else:
            return False
        return True

    def on_paste(self, event: events.Paste) -> None:
        """Hand on what the terminal has pasted."""
        event.stop()
        self._at = None
        self._host.paste(event.text)

    def on_click(self, event: events.Click) -> None:
        """A click moves the cursor, a second one edits."""
        state = self._state
        if state is None or self.was_dragged:
            return
        row = event.y + round(self.scroll_offset.y)
        if not 0 <= row < len(state.rows):
            return
        column = state.columns.at(event.x)
        self._host.go_to(row, state.column if column is None else column)
        if event.chain == 2:
            self._host.press_enter()

    # -- drawing -----------------------------------------------------------------------

    @override
    def render_line(self, y: int) -> Strip:
        return strip_of(self, self._row(y + round(self.scroll_offset.y)))

    @property
    @override
    def rows_seen(self) -> Iterable[SpanRow]:
        top = round(self.scroll_offset.y)
        return [self._row(top + y) for y in range(self.size.height)]

    def _row(self, at: int) -> SpanRow:
        """What is drawn at a line of the sheet, made once for each state."""
        found = self._drawn.get(at)
        if found is None:
            found = self._drawn[at] = self._made(at)
        return found

    def _made(self, at: int) -> SpanRow:
        state = self._state
        if state is None or not state.rows:
            return row(state.empty if state is not None and not at else "")
        if at >= len(state.rows):
            return ()
        found, here = state.rows[at], at == state.row
        if isinstance(found, Line):
            return self._line(state, at, found, here=here)
        return _heading(state, found, self.size.width, here=here)

    def _line(self, state: SheetState, place: int, line: Line, *, here: bool) -> SpanRow:
        """A line of values; the same one for as long as its values are the same."""
        columns = state.columns
        cells = [state.cell(state.ids[column], line.path) for column in columns.visible]
        of = (line, columns, state.column if here else None, *cells)
        known = self._lines.get(place)
        if known is None or known[0] != of:
            known = self._lines[place] = of, _line(state, line, cells, here=here)
        return known[1]


def _below_heading(state: SheetState) -> int:
    """How many rows above the one under the cursor its heading stands; 0 of a heading itself."""
    for above in range(min(state.row, _FAR_BELOW) + 1 if state.rows else 0):
        if isinstance(state.rows[state.row - above], Heading):
            return above
    return 0


def _moved_by(was: SheetState | None, now: SheetState) -> int:
    """By how many rows the row under the cursor has moved among all, where it is the same one."""
    if was is None or was.rows is now.rows or not (was.rows and now.rows):
        return 0
    return now.row - was.row if was.rows[was.row] == now.rows[now.row] else 0


def _heading(state: SheetState, heading: Heading, width: int, *, here: bool) -> SpanRow:
    sign = "▸" if heading.place in state.folded else "▾"
    note = state.heading_note(heading)
    text = f" {sign} {heading.title}" + (f"  ({note})" if note else "")
    return row(left_in(text, width, "chosen" if here else "title"))


def _line(state: SheetState, line: Line, cells: Sequence[SheetCell], *, here: bool) -> SpanRow:
    columns = state.columns
    spans = [left_in(f"   {line.label}", columns.label, "bold" if here else "plain")]
    for place, cell in zip(columns.visible, cells, strict=True):
        spans += [Span(" "), _value(cell, columns, chosen=here and place == state.column)]
    return tuple(spans)


def _value(cell: SheetCell, columns: Columns, *, chosen: bool) -> Span:
    """A value with the one sign that matters most of it; where it is from is told when chosen."""
    sign, tone = cell.mark.value, _TONES.get(cell.mark, "plain")
    if not cell.exists:
        sign = " "
    elif cell.is_unused and cell.mark is not Mark.WRONG:
        sign, tone = UNUSED, "unused"
    text = shorter(cell.text, columns.figures)
    if cell_len(text) > columns.figures and cell.in_short:
        text = cell.in_short
    return Span(f"{right(text, columns.figures)} {sign}", "chosen" if chosen else tone)


_TONES: dict[Mark, Tone] = {Mark.WRONG: "loss", Mark.INHERITED: "dim", Mark.ASSUMED: "assumed"}
