"""Painting a screen by the lines that need it.

Textual asks every widget between the first and the last line that has changed for all its lines,
and cuts each of them, also what lies below others and is not seen. Here a widget is asked for the
lines alone in which something of it is seen and painted.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import cast

from textual._compositor import Compositor
from textual.geometry import Region
from textual.strip import Strip
from typing_extensions import override


class NeededLines(Compositor):
    """Puts a screen together from the lines that are seen; what it paints is the same."""

    @override
    def _render_chops(
        self, crop: Region, is_rendered_line: Callable[[int], bool]
    ) -> Sequence[Mapping[int, Strip]]:
        cuts = self.cuts
        chops: list[dict[int, Strip | None]] = [dict.fromkeys(each[:-1]) for each in cuts]
        # Of each line that is painted: how many of its pieces are still to be filled.
        left = {y: len(chops[y]) for y in crop.line_range if is_rendered_line(y)}
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
