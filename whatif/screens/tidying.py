"""Memory tidied up while nobody presses a key.

Python looks for what nobody needs any more whenever so many things have been made, and holds
everything meanwhile: with a study open for a tenth of a second. What is there once the study is
seen stays for good and need not be looked at again; the rest is looked at while the keys rest.
"""

from __future__ import annotations

import gc
import sys

from whatif.screens.in_turn import InTurn

_YOUNG, _MIDDLE, _OLD = 1_000, 5_000, 1_000
"""Things made between two looks at the newest, which takes half a millisecond; looks after which
older ones are looked at too, and looks at those after which all is: both take the time of a frame
and more, so they are left to a time of rest."""

_RESTED = 2.0
"""Seconds without a key after which nobody waits for the next one within a moment."""

_LOOK = 1.0
_WORTH_IT = 50
"""Looks at the newest things since all were looked at, below which it is not worth while."""

_TURN = 0.001
"""Seconds after which a thread that works gives way: one that reads a long answer, to a key."""


class Tidying:
    """Tidies up the memory of the program on its terminal."""

    def __init__(self, app: InTurn) -> None:
        self._app = app
        self._looked = 0

    def begin(self) -> None:
        """From now on; what is there already is left alone."""
        sys.setswitchinterval(_TURN)
        gc.freeze()
        gc.enable()
        gc.set_threshold(_YOUNG, _MIDDLE, _OLD)
        self._app.set_interval(_LOOK, self._look)

    def _look(self) -> None:
        looks = sum(generation["collections"] for generation in gc.get_stats())
        if looks - self._looked >= _WORTH_IT and self._app.rested >= _RESTED:
            gc.collect()
            self._looked = looks + 1
