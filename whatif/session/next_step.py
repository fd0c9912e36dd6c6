"""What a study needs before there is anything to answer, or before an answer can be read."""

from __future__ import annotations

from whatif.session.first.shop import LIKE_PARTS
from whatif.study.check.rules import sound
from whatif.study.draft import Draft
from whatif.study.raw import Path
from whatif.study.resolve import Resolved

_STAND_FOR_ALL = f"{' and '.join(LIKE_PARTS)} stand for all your parts: half of what is wanted each"
_OWN_ORDERS = "One of your own orders lies on each table; this is all of them together."
_ONLY_ASSUMED = "Pieces wanted a week are only assumed; no more sells until entered (/ wanted)."

_STEPS = (
    ("machine", "No machines yet: n adds one; a shift and a part come after it."),
    ("shift", "No shift yet, so nobody is there: n adds one."),
    ("part", "No part yet, so there is nothing to make: n adds one."),
)


def next_step(draft: Draft, resolved: Resolved) -> str:
    """What to do next with a scenario that lacks what every answer needs; "" where it has all."""
    if not sound(draft, resolved.scenario):
        return "What it is based on is not known, nor what it inherits: F3 lists what is wrong."
    for group, words in _STEPS:
        if not resolved.ids(group):
            return words
    return ""


def standing(draft: Draft, resolved: Resolved, path: Path) -> str:
    """What a value's reader has to know before its meaning, as long as it stands; "" else."""
    parts = resolved.ids("part")
    if parts == LIKE_PARTS and path[0] == "part":
        if path[-1] == "weekly":
            return _STAND_FOR_ALL
        if path[-1] == "batch":
            return _OWN_ORDERS
    if resolved.scenario == draft.reference_id or not parts:
        return ""
    assumed = all(resolved.origin("part", part, "weekly").guessed for part in parts)
    return _ONLY_ASSUMED if assumed else ""
