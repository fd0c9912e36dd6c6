"""What is told before a study is open: what all this is for, and what each demo teaches."""

from __future__ import annotations

from typing import Final

PURPOSE: Final = (
    "Where do the paid hours of your machines go, and what would more machines, pallets, people or "
    "unattended hours bring?"
)
"""What the program is for, in one sentence."""

_TEACHES: Final = {
    "one-person": "do pallets help while one person loads four mills?",
    "pallets-until-demand": "pallets and night hours, until all wanted is made",
    "small-orders": "set-ups and first pieces: longer days, or a cell?",
}
"""By the demo's file, without its ending."""

BY_HAND: Final = "machines, shifts, parts by hand"
"""What makes a study of an empty one."""

GONE: Final = (
    "It is not there any more: moved, renamed, deleted, or on a drive that is not connected."
)


def teaches(stem: str, about: str) -> str:
    """What a demo teaches, in one line; of one that is not ours its own first sentence."""
    return _TEACHES.get(stem) or about.split(". ")[0]


def not_there(files: int) -> str:
    """That files opened lately are not there now; "" where all are."""
    if not files:
        return ""
    are = "is" if files == 1 else "are"
    return f"{files} more {are} not there now: moved, deleted, or on a drive not connected"
