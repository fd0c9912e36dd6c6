"""How much Python a call takes, counted and not timed: the same on every machine."""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType
from typing import Any


def lines_run(work: Callable[[], object]) -> int:
    """Lines of Python that run in some work, each turn of a loop among them."""
    counted = 0

    def count(frame: FrameType, event: str, argument: Any) -> Any:
        nonlocal counted
        counted += event == "line"
        return count

    before = sys.gettrace()
    sys.settrace(count)
    try:
        work()
    finally:
        sys.settrace(before)
    return counted


def growth(work: Callable[[int], Callable[[], object]], small: int, large: int) -> float:
    """How many times as much a thing takes in large as in small, per thing: 1 where it is linear.

    Args:
        work: what is to be done with so many; what it takes to make them is not counted.
    """
    return lines_run(work(large)) / large / (lines_run(work(small)) / small)
