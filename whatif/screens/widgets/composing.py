"""Painting a screen by the lines that need it, and no later than they can be seen.

Textual asks every widget between the first and the last line that has changed for all its lines,
and cuts each of them, also what lies below others and is not seen. Here a widget is asked for the
lines alone in which something of it is seen and painted.

It paints at the strokes of a clock, and after one that came late leaves the next one out: up to two
pictures of the screen pass before an answer that comes behind a key is seen. Here one begins as
long as a picture stands behind the beginning of the one before it, or half as long behind its end,
where that is later: then the loop has had time for others.

What takes long is done in turns, between which the event loop takes up whatever has come: drawing,
laying out, and having the lines ready of which much of the screen is painted, as where a view comes
or goes. What few lines show, as an edit does, is laid out and painted in one.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from functools import partial
from time import monotonic
from typing import Final, cast

from textual import events
from textual._compositor import Compositor
from textual.geometry import Region, Size
from textual.screen import Screen
from textual.strip import Strip
from typing_extensions import override

from whatif.screens.widgets.later import OwnTurn

FRAME: Final = 1 / 60
"""Seconds between two pictures of a screen: what comes faster than that cannot be seen."""


_TURN: Final = 0.004
"""Seconds after which the next lines are left to another turn."""

_MUCH: Final = 2 / 3
"""Of the lines of a screen that is laid out anew, from which on they are painted in turns."""

_AT_ONCE: Final = 5
"""Lines of a widget that are asked for in one."""

_Chops = list[dict[int, Strip | None]]
"""Of each line of the screen its pieces, by the column where each begins."""


class Prompt(Screen[None]):
    """A screen that is painted as soon as what is on it has stood long enough."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._compositor: NeededLines = NeededLines()
        self._painted = 0.0
        """From when on the next picture may come a picture's time later."""
        self._next_turn: OwnTurn | None = None
        """What is done next to show what has changed."""
        self._in_turns = False
        """Whether much may be painted later."""

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        """Heed before a screen does that its widgets have got their styles when they came."""
        event.refresh_styles = event.refresh_styles and self._is_seen

    @override
    def _screen_resized(self, size: Size) -> None:
        # At its start a program tells a screen its size several times over.
        if size != self._size:
            super()._screen_resized(size)

    @property
    def _is_seen(self) -> bool:
        return self._painted > 0

    async def _on_idle(self, event: events.Idle) -> None:
        # In the place of what a screen does then, which sets a clock going.
        event.prevent_default()
        is_shown = self.is_current and self._has_changed and not self._waits_for_more
        if self.app._batch_count or not is_shown:
            await self._invoke_and_clear_callbacks()
        elif self._next_turn is None:
            self._then(self._show, self._painted + FRAME - monotonic())

    @property
    def _waits_for_more(self) -> bool:
        """Whether something is about to be drawn without which no picture is made."""
        return False

    @property
    def _has_changed(self) -> bool:
        return (
            self._layout_required
            or self._scroll_required
            or self._repaint_required
            or self._recompose_required
            or bool(self._dirty_widgets)
        )

    def _then(self, do: Callable[[], None], seconds: float = 0.0) -> None:
        """Do next to show what has changed."""

        def take_turn() -> None:
            self._next_turn = None
            do()

        self._next_turn = self.in_turn(take_turn, seconds)

    def in_turn(self, do: Callable[[], None], seconds: float = 0.0) -> OwnTurn:
        """Do that in a turn of the loop for itself, unless the screen is closed before."""

        def take_turn() -> None:
            if not self.is_attached:
                return
            try:
                do()
            except Exception as fault:
                self.app._handle_exception(fault)

        return OwnTurn(take_turn, seconds)

    def _show(self) -> None:
        if self._waits_for_more:
            return  # Behind it comes another idle moment.
        began = monotonic()
        self._gather()
        is_news = self._has_changed
        self._in_turns = self._layout_required and self._is_seen
        if self._layout_required and self._repaint_required:
            # Once, and not before it is laid out and then whole.
            self._repaint_required = False
            self._compositor._dirty_regions.add(self.size.region)
        try:
            self._on_timer_update()
        finally:
            self._in_turns = False
        if is_news:
            self._painted = max(began, monotonic() - FRAME / 2)

    def _gather(self) -> None:
        """Take up all that is to be painted, also what has not been told yet: once for all.

        Widgets tell it in turns of their own, which come later than that one is laid out anew.
        """
        told = self._dirty_widgets | self._compositor.visible_widgets.keys()
        self._dirty_widgets = {widget for widget in told if widget._repaint_regions}

    @override
    def _compositor_refresh(self) -> None:
        if self.app._batch_count and not self._is_seen:
            return  # It would not be shown. When the program has begun all is painted.
        lines = self._compositor.lines_to_paint if self._in_turns and self.is_current else 0
        if lines > _MUCH * self.size.height:
            self._then(partial(self._go_on, self._compositor.made_ready()))
        else:
            super()._compositor_refresh()

    def _go_on(self, making: Iterator[None]) -> None:
        """Have more lines ready, or have them painted when all are."""
        until = monotonic() + _TURN
        for _ in making:
            if monotonic() >= until:
                self._then(partial(self._go_on, making))
                return
        if monotonic() >= until - _TURN / 2:
            self._then(self._paint_made)  # It takes a turn as well.
        else:
            self._paint_made()

    def _paint_made(self) -> None:
        """Paint the lines that are ready, with whatever has changed meanwhile."""
        self._on_timer_update()
        if self._compositor.lines_to_paint:
            self._compositor_refresh()
        self._painted = monotonic()


class NeededLines(Compositor):
    """Puts a screen together from the lines that are seen; what it paints is the same."""

    @property
    def lines_to_paint(self) -> int:
        """How many lines of the screen are to be painted, of each at least a part."""
        return len(self._changed_lines())

    def _changed_lines(self) -> set[int]:
        return {y for region in self._dirty_regions for y in region.line_range}

    def made_ready(self) -> Iterator[None]:
        """Have the lines made that are painted next, some at each step.

        Widgets keep lines that they have made, and lines the pieces into which they were cut, for
        as long as these do not change, so that painting finds them.
        """
        yield from self._filled(self._empty(), self._changed_lines(), _AT_ONCE)

    @override
    def _render_chops(
        self, crop: Region, is_rendered_line: Callable[[int], bool]
    ) -> Sequence[Mapping[int, Strip]]:
        chops = self._empty()
        for _ in self._filled(chops, set(filter(is_rendered_line, crop.line_range))):
            pass
        return cast("Sequence[Mapping[int, Strip]]", chops)

    def _empty(self) -> _Chops:
        return [dict.fromkeys(each[:-1]) for each in self.cuts]

    def _filled(
        self, chops: _Chops, wanted_lines: Collection[int], at_once: int | None = None
    ) -> Iterator[None]:
        """Fill the pieces of these lines, of a widget all or so many at each step."""
        cuts = self.cuts
        # Of each line that is painted: how many of its pieces are still to be filled.
        # A screen that has just become larger may be asked for lines that are not laid out yet.
        left = {y: len(chops[y]) for y in wanted_lines if 0 <= y < len(chops)}
        for widget, (region, clip) in self.visible_widgets.items():
            seen = region.intersection(clip)
            if not left:
                break
            first, behind = seen.column_span
            wanted: list[tuple[int, list[int]]] = []
            for y in seen.line_range:
                if y in left:
                    line = chops[y]
                    ends = [cut for cut in cuts[y] if first <= cut <= behind]
                    # From the front to the back: who comes first is seen.
                    if any(line[cut] is None for cut in ends[:-1]):
                        wanted.append((y, ends))
            for begin in range(0, len(wanted), at_once or len(wanted) or 1):
                some = wanted[begin : begin + (at_once or len(wanted))]
                top, bottom = some[0][0], some[-1][0] + 1
                strips = widget.render_lines(
                    Region(seen.x - region.x, top - region.y, seen.width, bottom - top)
                )
                for y, ends in some:
                    line = chops[y]
                    pieces = strips[y - top].divide([cut - first for cut in ends[1:]])
                    for cut, piece in zip(ends, pieces, strict=False):
                        if line[cut] is None:
                            line[cut] = piece
                            left[y] -= 1
                    if not left[y]:
                        del left[y]
                yield
