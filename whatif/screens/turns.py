"""What threads hand over, done in the event loop: one thing in each of its turns.

A thread that does anything itself takes the interpreter from the loop in the midst of a turn, and
the two then wait for each other; several things in one turn are one long turn.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Callable
from contextlib import suppress

from whatif.screens.widgets.later import OwnTurn


class Turns:
    """The turns of the event loop in which this is begun."""

    def __init__(self) -> None:
        self._loop: asyncio.AbstractEventLoop | None = None
        self._left: deque[Callable[[], None]] = deque()

    def begin(self) -> None:
        """From the event loop, before anything is handed over."""
        self._loop = asyncio.get_running_loop()

    def __call__(self, do: Callable[[], None]) -> None:
        """Have something done, behind all that was handed over before; from any thread."""
        assert self._loop is not None
        with suppress(RuntimeError):  # the loop has ended, and with it all that was to be done
            self._loop.call_soon_threadsafe(self._append, do)

    def _append(self, do: Callable[[], None]) -> None:
        self._left.append(do)
        if len(self._left) == 1:
            OwnTurn(self._next)

    def _next(self) -> None:
        try:
            self._left[0]()
        finally:
            self._left.popleft()
            if self._left:
                OwnTurn(self._next)
