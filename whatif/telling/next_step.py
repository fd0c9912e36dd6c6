"""What a scenario still needs, and what a value's reader has to know first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.study.check.rules import sound

if TYPE_CHECKING:
    from whatif.study.draft import Draft
    from whatif.study.raw import Path
    from whatif.study.resolve import Resolved

_STANDS_FOR_ALL = "It stands for all your part numbers together, alike in their times."
_ONLY_ASSUMED = "Pieces wanted a week are only assumed; no more sells until entered (/ demand)."

_NEXT = (
    ("machine", "No machines yet: n adds one; a shift and a part come after it."),
    ("shift", "No shift yet, so nobody is there: n adds one."),
    ("part", "No part yet, so there is nothing to make: n adds one."),
)


def next_step(draft: Draft, resolved: Resolved) -> str:
    """What to do next with a scenario that lacks what every answer needs; "" where it has all."""
    if not sound(draft, resolved.scenario):
        return "What it is based on is not known, nor what it inherits: F3 lists what is wrong."
    for group, words in _NEXT:
        if not resolved.ids(group):
            return words
    return ""


def standing(draft: Draft, resolved: Resolved, path: Path) -> str:
    """What a value's reader has to know before its meaning, as long as it stands; "" else."""
    parts = resolved.ids("part")
    if path[0] == "part" and path[-1] == "weekly":
        numbers = resolved.values.get((*path[:2], "numbers"))
        if numbers is not None and isinstance(numbers.raw, int) and numbers.raw > 1:
            return _STANDS_FOR_ALL
    if resolved.scenario == draft.reference_id or not parts:
        return ""
    assumed = all(resolved.origin("part", part, "weekly").guessed for part in parts)
    return _ONLY_ASSUMED if assumed else ""
