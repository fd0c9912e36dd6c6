"""A disk that fails at a step of a writing: the calls of the system by which files are written.

``Disk`` counts them; it raises at one of them, or at all from one on, or ends the process there
as a kill would.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Any

import pytest

STEPS = ("open", "fdopen", "fchmod", "fsync", "replace", "link", "unlink", "mkdir")

KILLED = 9


class Disk:
    """Calls through to the system, but at some of its steps.

    Attributes:
        steps: the names of the calls so far.
        fails_at: the number of the call that fails, counted from 0; None none.
        goes_on: whether all later ones fail too.
        fault: the error's number; None ends the process instead.
    """

    def __init__(self) -> None:
        self.steps: list[str] = []
        self.fails_at: int | None = None
        self.goes_on = False
        self.fault: int | None = None

    def put_in(self, patch: pytest.MonkeyPatch) -> None:
        """Stand in the place of the system's calls."""
        for name in STEPS:
            patch.setattr(os, name, self._stands_for(name, getattr(os, name)))

    def begin(self, fails_at: int | None, fault: int | None, *, goes_on: bool = False) -> None:
        """Count from 0 on again, and fail there."""
        self.steps, self.fails_at, self.fault, self.goes_on = [], fails_at, fault, goes_on

    def _stands_for(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def step(*args: Any, **named: Any) -> Any:
            here = len(self.steps)
            self.steps.append(name)
            at = self.fails_at
            if at is not None and (here == at or (self.goes_on and here > at)):
                if self.fault is None:
                    os._exit(KILLED)
                raise OSError(self.fault, os.strerror(self.fault))
            return real(*args, **named)

        return step
