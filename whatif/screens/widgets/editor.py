"""The one editor, laid over the value that is being changed."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region
from textual.widgets import Input

Ended = Callable[[bool, int, int], None]
"""Called with whether to keep what was typed, and by how many rows and columns to move on."""

_ENDS = {
    "enter": (True, 0, 0),
    "escape": (False, 0, 0),
    "up": (True, -1, 0),
    "down": (True, 1, 0),
    "tab": (True, 0, 1),
    "shift+tab": (True, 0, -1),
}


class Editor(Input):
    """A line to type over a value. Enter, Up, Down and Tab keep, Escape goes back."""

    # The keys that end are taken in `on_key`; these tell the line of keys about them.
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "keep", "keep"),
        Binding("escape", "go_back", "back"),
        Binding("f1", "screen.run('help')", "help", key_display="F1"),
    ]

    def __init__(self, ended: Ended) -> None:
        super().__init__(id="editor", compact=True, select_on_focus=False)
        self._ended = ended
        self.is_open = False

    def open(self, text: str, at: Region) -> None:
        """Open at a place of the screen with a text."""
        self.styles.offset = (at.x, at.y)
        self.styles.width = at.width
        self.add_class("open")
        self.is_open = True
        self.value = text
        self.cursor_position = len(text)
        # At once: `focus` would only ask for it, and the next key may be here already.
        self.screen.set_focus(self)

    def close(self) -> None:
        """Put the editor away."""
        self.is_open = False
        self.remove_class("open", "wrong")

    def ends(self, event: events.Key) -> bool:
        """End the editing if the key does that; whether it does."""
        if event.key not in _ENDS:
            return False
        self._ended(*_ENDS[event.key])
        return True

    def on_key(self, event: events.Key) -> None:
        """End at once, before the keys that may be waiting behind this one."""
        if self.ends(event):
            event.stop()
            event.prevent_default()
