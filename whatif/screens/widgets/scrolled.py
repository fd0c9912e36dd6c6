"""What scrolls on the desk: how long it is and who has the keys lays nothing on the screen anew."""

from __future__ import annotations

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
    def watch_has_focus(self, _has_focus: bool) -> None:
        """It looks the same with the keys and without them."""
