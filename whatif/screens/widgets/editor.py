"""The one editor, laid over the value that is being changed."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from rich.cells import cell_len
from rich.segment import Segment
from textual.binding import Binding, BindingType
from textual.geometry import Offset, Region, Size
from textual.reactive import Reactive
from textual.strip import Strip
from textual.widgets import Input
from typing_extensions import override

Ended = Callable[[bool, int, int, bool], None]
"""Called with whether to keep what was typed, by how many rows and columns to move on, and whether
Enter ended it: what is only assumed is confirmed by that."""


class Editor(Input):
    """A line to type over a value. Enter, Up, Down and Tab keep, Escape goes back.

    What stands there at first is marked, so that typing replaces it; an arrow edits it. It ends
    where the value ends: at the left it would stand right behind the sign of the value beside it,
    and "0.5 min × 3" read as one.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,ctrl+j", "leave(True, 1, 0, True)", "keep"),
        Binding("escape", "leave(False)", "back"),
        Binding("up", "leave(True, -1, 0)", show=False),
        Binding("down", "leave(True, 1, 0)", show=False),
        Binding("tab", "leave(True, 0, 1)", show=False),
        Binding("shift+tab", "leave(True, 0, -1)", show=False),
    ]

    virtual_size = Reactive(Size(0, 0))
    """Of the text; the line stays as it is, so that a letter lays nothing on the screen anew."""

    def __init__(self, ended: Ended) -> None:
        # Nothing is found out about what is typed: that it is would change its styles.
        super().__init__(id="editor", compact=True, select_on_focus=False, validate_on=())
        self._ended = ended
        self.is_open = False
        self._behind: int | None = None

    def open(self, text: str, at: Region, *, marked: bool, behind: int | None = None) -> None:
        """Open at a place of the screen with a text, all of it ``marked`` or ready to go on.

        ``behind`` are the cells that stay free at its right; None where it stands at the left.
        """
        self._behind = behind
        self.styles.offset = (at.x, at.y)
        self.styles.width = at.width
        # No class: the styles of all its parts would be looked up anew.
        self.display = self.visible = True
        self.is_open = True
        self.value = text
        self.cursor_position = len(text)
        if marked:
            self.select_all()
        # At once: `focus` would only ask for it.
        self.screen.set_focus(self)

    def close(self) -> None:
        """Put the editor away."""
        self.is_open = False
        self.display = False
        self.remove_class("wrong")

    @override
    def render_line(self, y: int) -> Strip:
        strip = super().render_line(y)
        before = self._before
        if not before:
            return strip
        blank = Strip([Segment(" " * before, self.rich_style)], before)
        return Strip.join((blank, strip)).crop(0, strip.cell_length)

    @property
    def _before(self) -> int:
        """Cells left free before the text, so that it ends where the value did."""
        if self._behind is None:
            return 0
        return max(0, self.size.width - self._behind - cell_len(self.value))

    @property
    @override
    def cursor_screen_offset(self) -> Offset:
        return super().cursor_screen_offset + Offset(self._before, 0)

    @override
    def _cell_offset_to_index(self, offset: int) -> int:
        # What Textual keeps to itself: a click lies so many cells behind where the text begins.
        return super()._cell_offset_to_index(max(0, offset - self._before))

    @override
    def watch_has_focus(self, _has_focus: bool) -> None:
        """Whenever it is seen it has the keys: its styles are those of that."""

    def action_leave(
        self, keep: bool, rows: int = 0, columns: int = 0, entered: bool = False
    ) -> None:
        """End the editing, and move on."""
        self._ended(keep, rows, columns, entered)
