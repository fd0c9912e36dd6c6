"""The widget that a view is drawn in."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual import events, on
from textual.geometry import Region, Size
from textual.message import Message
from textual.widget import Widget
from typing_extensions import override

from whatif.screens.widgets.drawing import Chooses, Drawn, Presses
from whatif.screens.widgets.scrolled import Scrolled

if TYPE_CHECKING:
    from whatif.screens.views.view import View, ViewHost
    from whatif.screens.widgets.sheet import SheetHost


_FAR = 100_000
"""More rows than any view has."""


# The scrolling comes first: a widget has the style of its first base.
class ViewPane(Scrolled, Drawn, can_focus=True):
    """Draws a view's rows and passes keys and clicks on.

    Args:
        host: gives what views may ask.
        line: chooses the scenario beside.
    """

    class MoreBelow(Message):
        """More rows, or fewer, stand below those that are seen."""

    class OtherRoom(Message):
        """A view is drawn for other room than before: some of its keys may hang on that."""

    def __init__(self, host: Callable[[], ViewHost], line: SheetHost) -> None:
        super().__init__(id="view")
        self._host = host
        self._line = line
        self._view: View | None = None
        self._page: object = None
        """What its page is told by that was drawn last."""
        self._kept: tuple[int, int] | None = None
        """The cursor's row and the room there was when it was last put in sight."""
        self._drawn_in: tuple[int, int] | None = None
        """The room that the rows were drawn for; None where they are still to be drawn."""
        self._had: tuple[Size, tuple[int, int]] | None = None
        """The screen's size when it had a place on it last, and the room that it had there."""
        self._waits = False
        """Whether it has no place on the screen yet, and a view to show there."""
        self._below = 0
        """How many rows were told to stand below."""

    @property
    def below(self) -> int:
        """Rows of the view that stand below those that are seen; 0 until it has its place."""
        if self._view is None or not self.region:
            return 0
        seen = round(self.scroll_offset.y) + self.scrollable_content_region.height
        return max(0, len(self.rows) - seen)

    def _tell_below(self) -> None:
        """Whoever cannot see the end is told that there is more."""
        if self._below != self.below:
            self._below = self.below
            self.post_message(self.MoreBelow())

    @override
    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        super().watch_scroll_y(old_value, new_value)
        self._tell_below()

    @property
    def room(self) -> tuple[int, int]:
        """Cells and rows that a view is drawn in, be there ever so few."""
        width, height = self.scrollable_content_region.size
        return max(60, width), max(3, height)

    def show(self, view: View | None) -> None:
        """Draw a view as things are now; one that has no place on the screen yet, when it has."""
        look = None if view is None else self._host().look()
        page = None if view is None or look is None else view.page(look)
        if view is not self._view or page != self._page:
            self._to_top()
            self._kept = None
        self._view, self._page = view, page
        if view is None or look is None:
            self.rows = []
            self._below = self.heads = 0
            return
        heads, self.heads = self.heads, view.heads(look)
        if not self.region:
            # Drawn for the room that it most likely gets: laying out takes a turn by itself.
            self._drawn_in, self._waits = None, True
            if self._had is not None and self._had[0] == self.app.size:
                self._drawn_in = self._had[1]
                self.rows = view.draw(look, *self._drawn_in)
            return
        self._drawn_in = self.room
        self.draw(view.draw(look, *self.room))
        if heads != self.heads and self.scroll_offset.y:
            self.paint_lines(range(max(heads, self.heads)))
        self._is_long(len(self.rows))
        self._keep_in_sight(view.cursor(look), self.scrollable_content_region.height)
        self._tell_below()

    @override
    def _size_updated(
        self, size: Size, virtual_size: Size, container_size: Size, layout: bool = True
    ) -> bool:
        # It has been laid out and is about to be painted: what is painted then is what it says.
        if self._view is not None and (self._waits or self._drawn_in != self.room):
            self._waits, self._had = False, (self.app.size, self.room)
            if self._drawn_in != self.room:
                self._drawn_in = self.room
                self.rows = self._view.draw(self._host().look(), *self.room)
            self.set_reactive(Widget.virtual_size, Size(1, len(self.rows)))
            self._set_dirty()
            self._repaint_regions.clear()
        return super()._size_updated(size, virtual_size, container_size, layout)

    def on_resize(self) -> None:
        """The cursor stays in sight."""
        if self._view is not None and self._drawn_in == self.room:
            self._is_long(len(self.rows))
            height = self.scrollable_content_region.height
            self._keep_in_sight(self._view.cursor(self._host().look()), height)
            self._tell_below()
            self.post_message(self.OtherRoom())

    def _keep_in_sight(self, row: int | None, height: int) -> None:
        """Scroll to the cursor when it has moved, or the room for it has changed."""
        if row is None or self._kept == (row, height):
            return
        self._kept = (row, height)
        if row < height:
            self._to_top()
        else:
            self.scroll_to_region(Region(0, row, 1, 1), animate=False, force=True)

    def _to_top(self) -> None:
        if self.scroll_offset.y:
            self.scroll_to(y=0, animate=False, force=True)

    # -- asking ------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Where it goes on out of sight the keys that scroll, then the view's own, then those of
        every view; letters are left to the desk."""
        self._host().hush()
        if self._takes(event):
            event.stop()
            event.prevent_default()

    def _takes(self, event: events.Key) -> bool:
        key, character = event.key, event.character or ""
        view = self._view
        page = max(1, self.size.height - 1)
        pages = {"pageup": -page, "pagedown": page, "home": -_FAR, "end": _FAR}
        scrolls = pages | {"up": -1, "down": 1}
        # Where a view turns pages of its own what it has out of sight comes first: no other key
        # would bring it into sight.
        by = pages.get(key, 0)
        if by and view is not None and view.pages_first and self._presses(view, key):
            return True
        if self.below if by > 0 else by and self.scroll_offset.y:
            self.scroll_relative(y=by, animate=False)
            if key == "home" and view is not None:
                # The beginning is the first line too: Enter would else be for one out of sight.
                self._presses(view, key)
            return True
        if view is not None and self._presses(view, key):
            return True
        columns = {"left": -1, "right": 1, "less_than_sign": -1, "greater_than_sign": 1}
        if key in scrolls:
            self.scroll_relative(y=scrolls[key], animate=False)
        elif key in columns:
            self._line.move(0, columns[key])
        elif key in ("tab", "enter") or character.isdigit():
            self._host().tell("Values are changed in the sheet: Esc goes back to it.")
            self._host().repaint()
        else:
            return False
        return True

    def _presses(self, view: View, key: str) -> bool:
        """Whether a view takes a key."""
        if not view.press(key, self._host().look(), self._host()):
            return False
        self._host().repaint()
        return True

    def on_click(self, event: events.Click) -> None:
        """A click presses a key, chooses a scenario, or is the view's own."""
        spot, view = self.spot_at(event), self._view
        if not spot or view is None:
            return
        match spot:
            case Presses(key):
                view.press(key, self._host().look(), self._host())
            case Chooses(scenario):
                self._host().choose(scenario)
            case str():
                view.touch(spot, self._host().look(), self._host())
        self._host().repaint()

    @on(events.MouseScrollDown)
    @on(events.MouseScrollUp)
    @on(events.MouseScrollRight)
    @on(events.MouseScrollLeft)
    def turned(self, event: events.MouseEvent) -> None:
        """The view first; what it does not take scrolls."""
        ahead = isinstance(event, events.MouseScrollDown | events.MouseScrollRight)
        level = isinstance(event, events.MouseScrollRight | events.MouseScrollLeft)
        by, sideways = 1 if ahead else -1, level or event.shift or event.ctrl
        rows, columns = (0, by) if sideways else (by, 0)
        view = self._view
        if view is not None and view.wheel(rows, columns, self._host().look(), self._host()):
            event.stop()
            event.prevent_default()
            self._host().repaint()
