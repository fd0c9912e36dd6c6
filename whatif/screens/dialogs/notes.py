"""A screen to write notes of several lines."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static, TextArea

from whatif.screens.dialogs.dialogs import Ask, answer_at


class Notes(ModalScreen[str | None]):
    """Lines to write; dismissed with them, or with None where they stay as they were."""

    # Ctrl+S beside F10, since some terminals keep F10 for a menu of their own.
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f10,ctrl+s", "keep", "keep", priority=True),
        Binding("escape", "back", "back", priority=True),
    ]

    def __init__(self, title: str, text: str) -> None:
        super().__init__()
        self._title = title
        self._text = text

    def compose(self) -> ComposeResult:
        """The title, the lines, and how to end."""
        with Vertical(classes="dialog notes"):
            yield Static(self._title, markup=False)
            yield TextArea(self._text, soft_wrap=True, tab_behavior="focus")
            yield Static("  F10 or Ctrl+S  keep the notes", classes="answer", name="keep")
            yield Static("  Esc  go back", classes="answer", name="back")

    def on_mount(self) -> None:
        """Begin behind what is there."""
        area = self.query_one(TextArea)
        area.move_cursor(area.document.end)
        area.focus()

    def on_click(self, event: events.Click) -> None:
        """Take what was clicked."""
        answer = answer_at(self, event)
        if answer == "keep":
            self.action_keep()
        elif answer == "back":
            self.action_back()

    @property
    def _written(self) -> str:
        return self.query_one(TextArea).text.strip()

    def action_keep(self) -> None:
        """Keep what is written."""
        self.dismiss(self._written)

    def action_back(self) -> None:
        """Go back; what was written is not lost without asking."""
        if self._written == self._text.strip():
            self.dismiss(None)
            return

        def decided(answer: str | None) -> None:
            if answer == "k":
                self.action_keep()
            elif answer == "t":
                self.dismiss(None)

        self.app.push_screen(
            Ask(
                "The notes have been changed.",
                {"k": "keep what is written now", "t": "throw it away"},
                safe="",
            ),
            decided,
        )
