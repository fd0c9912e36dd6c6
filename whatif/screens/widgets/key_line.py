"""The line of keys at the bottom; each of its words can be clicked."""

from __future__ import annotations

from collections.abc import Iterable

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Footer
from textual.widgets._footer import FooterKey

ROOMY = 110
"""Columns from which there is room for more than the six keys that are wanted most."""


class KeyLine(Footer):
    """The keys that can be pressed now; on a narrow screen without those that only ``roomy`` has.

    Textual would cut them off without a word.
    """

    def __init__(self, roomy: Iterable[str]) -> None:
        super().__init__(show_command_palette=False)
        self._roomy = frozenset(roomy)
        self._told: object = None

    def compose(self) -> ComposeResult:
        """A word for each key for which there is room."""
        if self._bindings_ready:
            self._told = self._to_tell
        for widget in super().compose():
            if (
                self._has_room
                or not isinstance(widget, FooterKey)
                or widget.action not in self._roomy
            ):
                yield widget

    @property
    def _has_room(self) -> bool:
        return self.app.size.width >= ROOMY

    @property
    def _to_tell(self) -> object:
        """All that the words depend on."""
        keys = [(key.binding, key.enabled) for key in self.screen.active_bindings.values()]
        return self._has_room, keys

    def bindings_changed(self, screen: Screen[object]) -> None:
        """Draw the words anew where they are others, not whenever the focus moves."""
        if self._told != self._to_tell:
            super().bindings_changed(screen)

    async def on_resize(self, event: events.Resize) -> None:
        """Tell more keys, or fewer."""
        if self._told not in (None, self._to_tell):
            await self.recompose()
