"""Nothing that stands in a study does anything to the terminal but stand there."""

from __future__ import annotations

import unicodedata

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter
from typing_extensions import override


class Harmless(LineFilter):
    """Leaves out signs that are none: they would move the cursor or set a title.

    They take no room on a line, so nothing moves; one that takes room becomes a question mark.
    """

    @override
    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments where there is nothing to leave out."""
        if all(segment.text.isprintable() for segment in segments):
            return segments
        return [
            segment
            if segment.control or segment.text.isprintable()
            else Segment("".join(map(_shown, segment.text)), segment.style)
            for segment in segments
        ]


def _shown(sign: str) -> str:
    is_sign = sign.isprintable() or unicodedata.category(sign) == "Zs"
    return sign if is_sign else "?" * cell_len(sign)
