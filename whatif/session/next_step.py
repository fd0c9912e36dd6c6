"""What a study needs before there is anything to answer."""

from __future__ import annotations

from whatif.study.resolve import Resolved

_STEPS = (
    ("machine", "No machines yet: n adds one; a shift and a part come after it."),
    ("shift", "No shift yet, so nobody is there: n adds one."),
    ("part", "No part yet, so there is nothing to make: n adds one."),
)


def next_step(resolved: Resolved) -> str:
    """What to do next with a scenario that lacks what every answer needs; "" where it has all."""
    for group, words in _STEPS:
        if not resolved.ids(group):
            return words
    return ""
