"""Who goes first where there are fewer cores than work: keys, then answers, then likely ranges.

A screen that paints thirty times a second is no longer a sleeper to the system: with work of equal
weight on every core it waited 4 to 9 ms for its turn, in the middle of a key.
"""

from __future__ import annotations

import contextlib
import os
import sys
from typing import Final

ANSWERING: Final = 5
"""How much less urgent than its screen the process is that calculates."""

HELPING: Final = 10
"""How much less urgent than whoever asks it a worker is, whose results are looked at later."""


def give_way(by: int) -> None:
    """Make this process so much less urgent than it was; where that cannot be said it stays."""
    if sys.platform != "win32":
        with contextlib.suppress(OSError):
            os.nice(by)
