"""Runs as a command needs them: remembered from earlier commands, and over all cores."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic

from whatif.session.calculate.fanned import Fanned
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.pool import Pool
from whatif.session.kept.runs import KeptRuns

_SECONDS_UNKEPT = 2.0
"""Seconds of work that may be lost where the program ends all of a sudden."""


@contextmanager
def simulating(between_weeks: Callable[[], None] = lambda: None) -> Iterator[Memory]:
    """What simulates for a command; what it has counted is kept for the next one.

    No process is started before something has to be run that is not known already.
    """
    kept_at = monotonic()

    def week() -> None:
        nonlocal kept_at
        between_weeks()
        if monotonic() > kept_at + _SECONDS_UNKEPT:
            memory.keep()
            kept_at = monotonic()

    with Pool(kept=KeptRuns) as pool:
        memory = Fanned(pool, between_weeks=week, kept=KeptRuns())
        try:
            yield memory
        finally:
            memory.keep()
