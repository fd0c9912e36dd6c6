"""The hint over the desk when it is seen for the first time."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

TEXT = """\
A column is a scenario: one way your shop could be. One of them, the
reference, is what the others are measured against.

Above the line  what each scenario brings, and what holds it back
Below the line  what you enter; the answers follow while you type

arrows     move; left and right go from scenario to scenario
0 to 9     type over a value; Enter keeps it, Esc goes back, u undoes
a          add a scenario: change in it what would be different
F6         views: where the hours go, the night, money and others
F1         help: on the value, on the view, and every key

Nothing is written into your file before F10."""

_ONLY_CLOSE = ("escape", "enter", "space")


class Hint(ModalScreen[None]):
    """Closed by any key or click; a key that means something on the desk is then done there."""

    def compose(self) -> ComposeResult:
        """What there is to see, the keys that matter, and how to get rid of it."""
        with Vertical(classes="dialog", id="hint"):
            yield Static("Your first time here?", classes="reading-title", markup=False)
            yield Static(TEXT, markup=False)
            yield Static("  any key or a click closes this", classes="answer", markup=False)

    def on_key(self, event: events.Key) -> None:
        """Close, and hand the key on, so that nothing typed is lost."""
        event.stop()
        event.prevent_default()
        self.dismiss(None)
        if event.key not in _ONLY_CLOSE:
            self.app.call_later(self.app.post_message, events.Key(event.key, event.character))

    def on_click(self) -> None:
        """Close."""
        self.dismiss(None)
