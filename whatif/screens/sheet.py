"""The sheet of inputs: one widget that draws every value of every scenario."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from whatif.screens.columns import Columns, cut, right
from whatif.session.sheet import Cell, Heading, Line, Mark, Row
from whatif.study.raw import Path


@dataclass(frozen=True, slots=True)
class SheetState:
    """All that the sheet draws; ``cell`` tells what stands at a scenario and a path."""

    columns: Columns
    ids: tuple[str, ...]
    rows: tuple[Row, ...]
    folded: frozenset[Path]
    row: int
    column: int
    cell: Callable[[str, Path], Cell]
    heading_note: Callable[[Heading], str]


class Sheet(ScrollView, can_focus=True):
    """Rows of inputs, columns of scenarios, a cursor. Says what was asked; changes nothing."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "sheet--heading",
        "sheet--cursor",
        "sheet--cursor-row",
        "sheet--inherited",
        "sheet--assumed",
        "sheet--unused",
        "sheet--wrong",
    }

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1, 0)", "up", show=False),
        Binding("down", "move(1, 0)", "down", show=False),
        Binding("left", "move(0, -1)", "left", show=False),
        Binding("right", "move(0, 1)", "right", show=False),
        Binding("less_than_sign", "move(0, -1)", "column left", show=False),
        Binding("greater_than_sign", "move(0, 1)", "column right", show=False),
        Binding("pageup", "page(-1)", "page up", show=False),
        Binding("pagedown", "page(1)", "page down", show=False),
        Binding("home", "move(-100000, 0)", "first row", show=False),
        Binding("end", "move(100000, 0)", "last row", show=False),
    ]

    class Moved(Message):
        """The cursor is to move to a row and column."""

        def __init__(self, row: int, column: int) -> None:
            super().__init__()
            self.row = row
            self.column = column

    class Typed(Message):
        """Somebody begins to type over the value under the cursor; ``text`` is the first."""

        def __init__(self, text: str | None) -> None:
            super().__init__()
            self.text = text

    def __init__(self) -> None:
        super().__init__(id="sheet")
        self._state: SheetState | None = None

    def show(self, state: SheetState) -> None:
        """Draw a state, the cursor's row in sight."""
        self._state = state
        self.virtual_size = Size(1, len(state.rows))
        # The heading above a thing's first row is kept in sight with it.
        above = 1 if state.row and isinstance(state.rows[state.row - 1], Heading) else 0
        self.scroll_to_region(Region(0, state.row - above, 1, 1 + above), animate=False, force=True)
        self.refresh()

    # -- asking ------------------------------------------------------------------------

    def action_move(self, rows: int, columns: int) -> None:
        """Ask for the cursor to be moved."""
        state = self._state
        if state is not None and state.rows:
            row = max(0, min(len(state.rows) - 1, state.row + rows))
            column = max(0, min(len(state.ids) - 1, state.column + columns))
            self.post_message(self.Moved(row, column))

    def action_page(self, way: int) -> None:
        """Ask for the cursor to be moved by a screenful."""
        self.action_move(way * max(1, self.size.height - 1), 0)

    def on_key(self, event: events.Key) -> None:
        """Digits and what begins a number begin an edit; letters stay commands."""
        character = event.character
        if character is not None and (character.isdigit() or character in '.½¼¾"'):
            event.stop()
            self.post_message(self.Typed(character))

    def on_click(self, event: events.Click) -> None:
        """A click moves the cursor, a second one edits."""
        state = self._state
        if state is None:
            return
        row = event.y + round(self.scroll_offset.y)
        if not 0 <= row < len(state.rows):
            return
        column = state.columns.at(event.x)
        self.post_message(self.Moved(row, state.column if column is None else column))
        if event.chain == 2:
            self.post_message(self.Typed(None))

    # -- drawing -----------------------------------------------------------------------

    def render_line(self, y: int) -> Strip:
        """One row."""
        state = self._state
        width = self.size.width
        row = y + round(self.scroll_offset.y)
        if state is None or row >= len(state.rows):
            return Strip.blank(width, self.rich_style)
        one = state.rows[row]
        here = row == state.row
        segments = (
            self._heading(state, one, here=here)
            if isinstance(one, Heading)
            else self._line(state, one, here=here)
        )
        return Strip(segments).adjust_cell_length(width, self.rich_style)

    def _style(self, name: str) -> Style:
        return self.get_component_rich_style(f"sheet--{name}")

    def _heading(self, state: SheetState, one: Heading, *, here: bool) -> list[Segment]:
        style = self._style("cursor-row" if here else "heading")
        sign = "+" if one.place in state.folded else "-"
        note = state.heading_note(one)
        text = f"{'>' if here else ' '}{sign} {one.title}" + (f"  ({note})" if note else "")
        return [Segment(cut(text, self.size.width), style)]

    def _line(self, state: SheetState, one: Line, *, here: bool) -> list[Segment]:
        columns = state.columns
        label = cut(f"{'>' if here else ' '}   {one.label}", columns.label)
        segments = [Segment(label, self._style("cursor-row") if here else self.rich_style)]
        for place in columns.visible:
            cell = state.cell(state.ids[place], one.path)
            chosen = here and place == state.column
            value = self._value(cell, columns.width - 1, chosen=chosen)
            segments += [Segment(" ", self.rich_style), value]
        return segments

    def _value(self, cell: Cell, width: int, *, chosen: bool) -> Segment:
        mark = cell.mark.value if cell.exists else " "
        unused = "-" if cell.unused and cell.exists else " "
        text = right(cell.text, width - 5)
        # Brackets tell the chosen value without colour.
        text = f"[{text}]" if chosen else f" {text} "
        return Segment(f"{text} {mark}{unused}", self._value_style(cell, chosen=chosen))

    def _value_style(self, cell: Cell, *, chosen: bool) -> Style:
        if chosen:
            return self._style("cursor")
        if cell.mark is Mark.WRONG:
            return self._style("wrong")
        if cell.unused:
            return self._style("unused")
        if cell.mark is Mark.INHERITED:
            return self._style("inherited")
        if cell.mark is Mark.ASSUMED:
            return self._style("assumed")
        return self.rich_style
