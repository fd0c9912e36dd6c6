"""How far long work is: one record for all who work, and one way to tell it.

Whoever works through items calls ``told(done, of)`` between them. :class:`Steps` is such a call
that adds the time that is left and tells no more often than anybody could read.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from enum import Enum, auto
from typing import Generic, TypeVar

from whatif.records import dataclass

Told = Callable[[int, int], None]
"""Called as ``told(done, of)`` between the items of long work; it may raise to give the work up."""

T = TypeVar("T")

_SOONEST = 0.1
"""Seconds between two words on how far it is; more often nobody could read them."""


def one_by_one(items: Sequence[T], told: Told) -> Iterator[T]:
    """The items, how many are done being told before each and when all are."""
    for done, item in enumerate(items):
        told(done, len(items))
        yield item
    told(len(items), len(items))


@dataclass(frozen=True, slots=True)
class Progress:
    """How many items are done, of about how many.

    Attributes:
        left: seconds that the rest may take; None where that cannot be told yet.
    """

    done: int
    of: int
    left: float | None = None

    @property
    def percent(self) -> int:
        """Of a hundred; never all of them, since how many there are may be an estimate."""
        return min(99, 100 * self.done // self.of)


def progress_of(done: int, of: int, spent: float) -> Progress:
    """How far it is after so many seconds, and what the rest may take if it goes on so."""
    return Progress(done, of, spent / done * max(0, of - done) if done else None)


class Stage(Enum):
    """What is found out one after the other for a whole answer."""

    AS_TYPED = auto()
    COULD_MAKE = auto()
    LIKELY = auto()
    METERS = auto()
    RUSH = auto()


Begins = Callable[[Stage, int], None]
"""Called as ``begins(stage, weeks)`` where a stage begins for which about so many weeks are to be
simulated; 0 where nobody knows how many."""


class Steps:
    """Tells a percent once and ten of them a second, and that all is done.

    With each comes the time that the rest may take as the work went so far.

    Args:
        tell: takes what is told.
        clock: seconds, from any beginning.
    """

    def __init__(
        self, tell: Callable[[Progress], None], clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._tell = tell
        self._clock = clock
        self._began = clock()
        self._told: int | None = None
        self._said = self._began

    def __call__(self, done: int, of: int) -> None:
        """So many items are done; see :data:`Told`."""
        percent = 100 * done // of if of else 0
        if not of or percent == self._told:
            return
        now = self._clock()
        # Of how many may be an estimate, which is passed by.
        if self._told is not None and done != of and now - self._said < _SOONEST:
            return
        self._told, self._said = percent, now
        self._tell(progress_of(done, of, now - self._began))


class Parts(Generic[T]):
    """Tells what is known so far ten times a second: what comes sooner, the next one tells too.

    Where all has been worked out before, each part would be read on the other side for nothing.

    Args:
        tell: takes what is told.
        clock: seconds, from any beginning.
    """

    def __init__(
        self, tell: Callable[[T], None], clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._tell = tell
        self._clock = clock
        self._said: float | None = None

    def __call__(self, known: T) -> None:
        """So much is known."""
        now = self._clock()
        if self._said is None or now - self._said >= _SOONEST:
            self._said = now
            self._tell(known)
