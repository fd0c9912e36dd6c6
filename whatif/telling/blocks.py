"""Signs that drawings share, each with one meaning wherever it stands.

What machines do is drawn in blocks: the more a spindle cuts, the denser.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from whatif.answers.shares import Band

CUTS, UNSOLD = "█", "▚"
"""A spindle cuts; cuts what nobody buys."""

SERVED, WAITS, RESTS = "▒", "░", "·"
"""Served or at work; waits; nobody is there, or nothing is allowed."""

FREE = "○"
"""A person who is there and has nothing to do: nothing waits for that."""

MAY_BEGIN, READY, PEOPLE = "╌", ":", "="
"""Nobody is there and pieces may begin; loaded and not cut now; people there."""

LIKELY, LEFT_FREE = "⢕", "╱"
"""Where a figure is likely to lie; what of a table is left free at its edge."""

BLOCKS: Final[dict[Band, str]] = {
    "cutting": CUTS,
    "unsold": UNSOLD,
    "serving": SERVED,
    "waiting": WAITS,
    "resting": RESTS,
}
"""A sign for each, so that it can be read without colour."""

QUARTERS: Final = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
"""A cell by which of its quarters are filled: upper left 1, upper right 2, lower 4 and 8."""

LEGENDS: Final[dict[str, tuple[str, ...]]] = {
    UNSOLD: ("cuts unsold pieces",),
    SERVED: ("loading", "being loaded", "changing", "in hand"),
    WAITS: ("waiting", "waits"),
    FREE: ("is free",),
    RESTS: ("nobody", "not allowed", "barred", "tried and beaten"),
    MAY_BEGIN: ("stands, may begin",),
    LIKELY: ("likely",),
    LEFT_FREE: ("edge of",),
    "↻": ("turned",),
    "↑": ("from above",),
    "~": ("assumed",),
    "●": ("as typed",),
}
"""Words of which one stands behind a sign wherever that is drawn, in a legend that is in sight."""

HEIGHTS: Final = "▁▂▃▄▅▆▇"
HEIGHT_LEGENDS: Final = ("cuts in all nights", "▁ least █ most")
"""Parts of a cell that draw an amount, and what is said of it where they do."""

SELF_EXPLAINING: Final = frozenset(
    # Frames, rules, axes and strokes of a tree; what is open and closed; where a list goes on.
    "─│╭╮╰╯├┤┬┴┌┐└┘┊▾▸‹›…"
    # Keys as they stand on a keyboard; marks that point at the word beside them; ticks and dots
    # before items.
    "⏎←→↓▲▼✓•"
    # No figure; what every pencil writes.
    "–×÷±≤≥≈²³°"
    # Lengths and shapes: bars, large digits, pieces on a table, ends of scroll bars.
    "█▏▎▍▌▋▊▉▐▕▀▄▖▗▘▝▙▟▛▜▞"
)
"""What nobody has to be told: it stands in no legend."""

_AROUND = 6
"""Cells around a word in a bar: a space and two signs on either side."""


def segment(sign: str, cells: int, *words: str) -> tuple[str, str, str]:
    """A stretch of a bar, the first of the ``words`` that has room in its middle, and the rest."""
    text = next((f" {each} " for each in words if len(each) + _AROUND <= cells), "")
    before = (cells - len(text)) // 2 if text else cells
    return sign * before, text, sign * (cells - before - len(text))
