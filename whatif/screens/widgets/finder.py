"""The line at the bottom in which a row's name is typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Input, Static

Finds = Callable[[str, int, bool], str]
"""Goes to a row for a text, so many hits further; returns what to say of it.

The last argument tells that the search is an old one, taken up again from the cursor.
"""

Ends = Callable[[bool], None]
"""Called when the line is left: whether to stay on the row."""


class Finder(Horizontal):
    """Finds a row while its name is typed. Enter stays, Down goes on, Escape goes back."""

    # Of the line itself each of these keys does something else.
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "stay", "stay here", priority=True),
        Binding("down", "go_on(1)", "next one", key_display="Down", priority=True),
        Binding("up", "go_on(-1)", show=False, priority=True),
        Binding("escape", "go_back", "back", priority=True),
    ]

    def __init__(self, finds: Finds, ends: Ends) -> None:
        super().__init__(id="find")
        self._finds = finds
        self._ends = ends
        self._line = Input(id="find-name", compact=True, select_on_focus=False)
        self._said = Static(id="find-said", markup=False)
        self._tried = ""
        self._step = 0
        self._again = False
        self.last = ""
        self.is_open = False

    def compose(self) -> ComposeResult:
        """What is asked, the line, and how many rows there are of that name."""
        yield Static(" find a row: ", id="find-asks", markup=False)
        yield self._line
        yield self._said

    def open(self) -> None:
        """Begin a new search."""
        self._tried, self._step, self._again = "", 0, False
        self.is_open = True
        self._line.value = ""
        self._say(f'Enter: next "{self.last}"' if self.last else "part of its name")
        self.add_class("open")
        # At once: `focus` would only ask for it.
        self.screen.set_focus(self._line)

    def close(self) -> None:
        """Put the line away."""
        self.is_open = False
        self.remove_class("open")

    def action_go_back(self) -> None:
        """Go back to where the search began."""
        self._ends(False)

    def action_stay(self) -> None:
        """Stay on the row; with nothing typed, find the next of the last search."""
        if self._takes_up_last():
            self._finds(self.last, 1, True)
        else:
            self._try()
        self.last = self._line.value.strip() or self.last
        self._ends(True)

    def action_go_on(self, step: int) -> None:
        """Go on to another row of that name."""
        if not self._takes_up_last():
            self._try()
        self._step += step
        self._say(self._finds(self._line.value, self._step, self._again))

    def _takes_up_last(self) -> bool:
        """Put the last search into an empty line; whether it did."""
        if self._line.value.strip() or not self.last:
            return False
        self._line.value = self._tried = self.last
        self._line.cursor_position = len(self.last)
        self._step, self._again = 0, True
        return True

    def on_input_changed(self, event: Input.Changed) -> None:
        """Follow what is typed."""
        event.stop()
        if self.is_open:
            self._try()

    def _try(self) -> None:
        if self._line.value != self._tried:
            self._tried, self._step, self._again = self._line.value, 0, False
            self._say(self._finds(self._tried, 0, False))

    def _say(self, said: str) -> None:
        self._said.update(f" {said} ")
