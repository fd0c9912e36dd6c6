"""A text area that is never given more than it can lay out in a moment."""

from __future__ import annotations

from typing import Any

from textual import events
from textual.widgets import TextArea


class BoundedArea(TextArea):
    """Lines to write, of so many characters at most; what would be too much is not pasted.

    Laying out a megabyte holds the keys for many seconds.
    """

    def __init__(self, text: str, *, most: int, **options: Any) -> None:
        super().__init__(text, **options)
        self._most = most

    def on_paste(self, event: events.Paste) -> None:
        """Say where there is no room for what is pasted as a whole, and paste nothing then."""
        if len(event.text) + len(self.text) > self._most:
            event.prevent_default()
            self.app.bell()
            self.border_subtitle = f"! {self._most:,} characters at most: nothing was pasted"
