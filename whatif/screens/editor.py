"""The one editor, laid over the value that is being changed."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.geometry import Region
from textual.message import Message
from textual.widgets import Input

from whatif.study.raw import Path


class Editor(Input):
    """A line to type over a value. Enter, Up, Down and Tab keep, Escape goes back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "finish(True, 0, 0)", "keep"),
        Binding("escape", "finish(False, 0, 0)", "back"),
        Binding("up", "finish(True, -1, 0)", "keep, up", show=False),
        Binding("down", "finish(True, 1, 0)", "keep, down", show=False),
        Binding("tab", "finish(True, 0, 1)", "keep, right", show=False),
        Binding("shift+tab", "finish(True, 0, -1)", "keep, left", show=False),
        Binding("f1", "screen.help", "help", key_display="F1"),
    ]

    class Closed(Message):
        """The editing is to end, what was typed being kept or not, and the cursor moved."""

        def __init__(self, keep: bool, rows: int, columns: int) -> None:
            super().__init__()
            self.keep = keep
            self.rows = rows
            self.columns = columns

    def __init__(self) -> None:
        super().__init__(id="editor", compact=True, select_on_focus=False)
        self.scenario = ""
        self.path: Path = ()
        self.wrong = ""
        self.untouched: str | None = None
        self.is_open = False

    def open(self, scenario: str, path: Path, text: str, *, old: bool, at: Region) -> None:
        """Open at a place of the screen with a text, ``old`` telling whether it is the value.

        A text typed over the value is an edit at once; the old value is none until it is
        changed.
        """
        self.scenario, self.path, self.wrong = scenario, path, ""
        self.styles.offset = (at.x, at.y)
        self.styles.width = at.width
        self.add_class("open")
        self.untouched = text if old else None
        self.is_open = True
        with self.prevent(Input.Changed):
            self.value = text
        self.cursor_position = len(text)
        self.focus()

    def close(self) -> None:
        """Put the editor away."""
        self.is_open = False
        self.remove_class("open", "wrong")

    def say(self, wrong: str) -> None:
        """What is wrong with the text; "" where nothing is."""
        self.wrong = wrong
        self.set_class(bool(wrong), "wrong")

    def action_finish(self, keep: bool, rows: int, columns: int) -> None:
        """Ask for the editing to end."""
        self.post_message(self.Closed(keep, rows, columns))
