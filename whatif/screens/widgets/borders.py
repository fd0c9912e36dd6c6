"""The borders of columns, dragged with the mouse on the strip and on the sheet."""

from __future__ import annotations

from textual import events
from textual.message import Message
from textual.widget import Widget

from whatif.screens.widgets.columns import Columns


class Borders(Widget):
    """A widget in columns; its borders can be dragged."""

    class Dragged(Message):
        """A border is wanted at another cell: widths of the labels and of a column."""

        def __init__(self, label: int, width: int) -> None:
            super().__init__()
            self.label = label
            self.width = width

    _border: int | None = None
    was_dragged = False
    """Whether the click that has just ended was the end of dragging."""

    @property
    def columns(self) -> Columns | None:
        """Where the columns are now; None before anything is drawn."""
        raise NotImplementedError

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Take hold of a border."""
        columns = self.columns
        self.was_dragged = False
        self._border = None if columns is None else columns.border(event.x)
        if self._border is not None:
            self.capture_mouse()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Move the border that is held."""
        columns = self.columns
        if self._border is None or columns is None:
            return
        wanted = columns.dragged(self._border, event.x)
        if wanted != (columns.label, columns.width):
            self.was_dragged = True
            self.post_message(self.Dragged(*wanted))

    def on_mouse_up(self, event: events.MouseUp) -> None:
        """Let the border go."""
        if self._border is not None:
            self._border = None
            self.release_mouse()
