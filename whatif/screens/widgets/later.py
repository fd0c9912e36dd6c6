"""Something that is done once: after a while, or in a turn of the event loop for itself."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from time import monotonic
from typing import TYPE_CHECKING, ClassVar, Final

if TYPE_CHECKING:
    from textual.message_pump import MessagePump

_MUCH: Final = 0.002
"""Seconds of a round of the loop behind which what has a turn for itself is left to the next."""

_GIVES_WAY: Final = 3
"""Times that a turn leaves a round, in which much is done already, to others."""


def after(seconds: float, pump: MessagePump, do: Callable[[], object]) -> asyncio.TimerHandle:
    """Have a pump do something once, unless it is closed before or the handle is cancelled.

    No timer of Textual: a single one whose moment has passed before it starts, as happens on a
    busy machine, never comes, and what waits for it waits for ever.
    """
    return asyncio.get_running_loop().call_later(seconds, pump.call_later, do)


class OwnTurn:
    """Something that is done once in another turn of the loop, behind all that has come by then.

    What is called soon would go before a key that has come meanwhile. A turn of which nobody knows
    that its round of the loop has just begun leaves the round to the others there, as whatever
    comes next waits for all of them together; but it does not give way for ever.

    Args:
        do: what is done, outside of any message; it takes care of what it raises.
        seconds: after which it is its turn at the soonest.
    """

    _round_began: ClassVar[float] = 0.0
    """When a round of the loop was last seen to begin."""

    def __init__(self, do: Callable[[], None], seconds: float = 0.0) -> None:
        self._do = do
        self._given_way = 0
        asyncio.get_running_loop().call_later(max(0.0, seconds), self._come)

    def _come(self) -> None:
        if self._given_way < _GIVES_WAY and monotonic() - OwnTurn._round_began > _MUCH:
            self._given_way += 1
            loop = asyncio.get_running_loop()
            loop.call_soon(self._begin_round)
            loop.call_later(0.0, self._come)
        else:
            self._do()

    @staticmethod
    def _begin_round() -> None:
        # What is called soon comes first in a round.
        OwnTurn._round_began = monotonic()
