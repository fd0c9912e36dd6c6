"""What scrolls on the desk: how long it is and who has the keys lays nothing on the screen anew."""

from __future__ import annotations

from textual import events
from textual.geometry import Size
from textual.reactive import Reactive
from textual.scroll_view import ScrollView
from typing_extensions import override


class Scrolled(ScrollView):
    """Lines that scroll, in a place of a size that does not hang on them."""

    virtual_size = Reactive(Size(0, 0))

    def _is_long(self, lines: int) -> None:
        """There are so many lines; only a scroll bar that comes or goes is laid out."""
        size = Size(1, lines)
        if self.virtual_size != size:
            self.virtual_size = size
            self._scroll_update(size)

    @override
    def _size_updated(
        self, size: Size, virtual_size: Size, container_size: Size, layout: bool = True
    ) -> bool:
        # At every laying out it would be measured against a size that it does not take over, and
        # its scroll bar painted anew.
        if size == self._size:
            return False
        return super()._size_updated(size, virtual_size, container_size, layout)

    def on_focus(self, event: events.Focus) -> None:
        """Only the others are told."""
        self._has_keys(event, is_so=True)

    def on_blur(self, event: events.Blur) -> None:
        """Only the others are told."""
        self._has_keys(event, is_so=False)

    def _has_keys(self, event: events.Event, *, is_so: bool) -> None:
        # A widget as such would be painted anew.
        event.prevent_default()
        self.has_focus = is_so
        if self.parent is not None:
            told = events.DescendantFocus if is_so else events.DescendantBlur
            self.parent.post_message(told(self))

    @override
    def watch_has_focus(self, _has_focus: bool) -> None:
        """It looks the same with the keys and without them."""
