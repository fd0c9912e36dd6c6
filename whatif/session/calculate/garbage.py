"""Memory of the calculating process tidied up while nobody asks for anything.

Python looks through all that there is once enough has been made: with a demo open for a seventh of
a second, in the middle of an edit, and the longer the more scenarios there are.
"""

from __future__ import annotations

import gc

RESTED = 1.0
"""Seconds without a request after which the next one is not to be expected within a moment."""

_YOUNG, _MIDDLE, _OLD = 20_000, 10, 20
"""Things made between two looks at the newest; looks after which older ones are looked at too, and
looks at those after which all is, where nobody ever rests."""


def look_rarely() -> None:
    """Leave alone what is there already, and look at the rest when there is time."""
    gc.freeze()
    gc.set_threshold(_YOUNG, _MIDDLE, _OLD)


class Looking:
    """Looks through all that there is, where something has been made since it did."""

    def __init__(self) -> None:
        self._looked = _looks()

    def look(self) -> None:
        """There is time for it."""
        if _looks() != self._looked:
            gc.collect()
            self._looked = _looks()


def _looks() -> int:
    return sum(generation["collections"] for generation in gc.get_stats())
