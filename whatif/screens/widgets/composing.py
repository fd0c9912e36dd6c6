"""Painting a screen by the lines that need it, and no later than they can be seen.

Textual asks every widget between the first and the last line that has changed for all its lines,
and cuts each of them, also what lies below others and is not seen. Here a widget is asked for the
lines alone in which something of it is seen and painted.

It paints at the strokes of a clock, and after one that came late leaves the next one out: up to two
pictures of the screen pass before an answer that comes behind a key is seen. Here each waits until
the one before it has stood for the time of a picture, and no longer.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping, Sequence
from time import monotonic
from typing import Final, cast

from textual import events
from textual._compositor import Compositor
from textual.geometry import Region
from textual.screen import Screen
from textual.strip import Strip
from typing_extensions import override

FRAME: Final = 1 / 60
"""Seconds between two pictures of a screen: what comes faster than that cannot be seen."""


class Prompt(Screen[None]):
    """A screen that is painted as soon as what is on it has stood for the time of a picture."""

    def __init__(self) -> None:
        super().__init__()
        self._compositor = NeededLines()
        self._painted = 0.0
        """When that was done last."""
        self._to_show: asyncio.TimerHandle | None = None

    async def _on_idle(self, event: events.Idle) -> None:
        # In the place of what a screen does then, which sets a clock going.
        event.prevent_default()
        if self.app._batch_count or not self.is_current or not self._has_changed:
            await self._invoke_and_clear_callbacks()
            return
        left = self._painted + FRAME - monotonic()
        if left <= 0:
            self._show()
        elif self._to_show is None:
            self._to_show = asyncio.get_running_loop().call_later(left, self._show)

    @property
    def _has_changed(self) -> bool:
        return (
            self._layout_required
            or self._scroll_required
            or self._repaint_required
            or self._recompose_required
            or bool(self._dirty_widgets)
        )

    def _show(self) -> None:
        if self._to_show is not None:
            self._to_show.cancel()
            self._to_show = None
        if not self.is_attached:
            return  # It has been closed meanwhile.
        try:
            self._on_timer_update()
        except Exception as fault:
            self.app._handle_exception(fault)
        self._painted = monotonic()


class NeededLines(Compositor):
    """Puts a screen together from the lines that are seen; what it paints is the same."""

    @override
    def _render_chops(
        self, crop: Region, is_rendered_line: Callable[[int], bool]
    ) -> Sequence[Mapping[int, Strip]]:
        cuts = self.cuts
        chops: list[dict[int, Strip | None]] = [dict.fromkeys(each[:-1]) for each in cuts]
        # Of each line that is painted: how many of its pieces are still to be filled.
        # A screen that has just become larger may be asked for lines that are not laid out yet.
        lines = range(crop.y, min(crop.bottom, len(chops)))
        left = {y: len(chops[y]) for y in lines if is_rendered_line(y)}
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
            if not wanted:
                continue
            top, bottom = wanted[0][0], wanted[-1][0] + 1
            strips = widget.render_lines(
                Region(seen.x - region.x, top - region.y, seen.width, bottom - top)
            )
            for y, ends in wanted:
                line = chops[y]
                pieces = strips[y - top].divide([cut - first for cut in ends[1:]])
                for cut, piece in zip(ends, pieces, strict=False):
                    if line[cut] is None:
                        line[cut] = piece
                        left[y] -= 1
                if not left[y]:
                    del left[y]
        return cast("Sequence[Mapping[int, Strip]]", chops)
