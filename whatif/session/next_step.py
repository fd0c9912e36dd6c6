"""What a study needs before there is anything to answer."""

from __future__ import annotations

from whatif.study.check_tree import sound
from whatif.study.draft import Draft
from whatif.study.resolve import Resolved

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
