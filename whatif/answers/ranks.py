"""Where percentiles of draws and of seeded runs lie (rule `likely.range`)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

TENTHS = (1, 5, 9)
"""The 10th, 50th and 90th percentile, in tenths."""

Range = tuple[float, float, float]
"""The 10th, 50th and 90th percentile."""


class Rank(NamedTuple):
    """A place among values in order: ``part`` of the way from one (from 1) to the next."""

    whole: int
    part: float


def rank_of(tenths: int, count: int) -> Rank:
    """The rank p (n + 1) of a percentile among n values; never before the first or past the last.

    Below nine values the 10th would lie before the first, and is the first.
    """
    whole, rest = divmod(tenths * (count + 1), 10)
    if whole < 1:
        return Rank(1, 0.0)
    return Rank(count, 0.0) if whole >= count else Rank(whole, rest / 10)


def range_of(values: Sequence[float]) -> Range:
    """The three percentiles of one value or more."""
    in_order = sorted(values)
    low, middle, high = (_at(in_order, rank_of(tenths, len(in_order))) for tenths in TENTHS)
    return low, middle, high


def range_of_known(found: Sequence[float | None]) -> Range | None:
    """The same; None where there are no values, or one is missing."""
    known = [figure for figure in found if figure is not None]
    return range_of(known) if known and len(known) == len(found) else None


def difference_range(drawn: Iterable[tuple[float | None, float | None]]) -> Range | None:
    """The likely range of how much more one figure is than another, from both in each draw.

    None where there are no draws, or a figure is missing in one of them.
    """
    return range_of_known(
        [None if mine is None or theirs is None else mine - theirs for mine, theirs in drawn]
    )


def _at(in_order: Sequence[float], rank: Rank) -> float:
    below = in_order[rank.whole - 1]
    return below + rank.part * (in_order[rank.whole] - below) if rank.part else below
