"""What it would take for the first alternative to be first no longer (rule `verdict.turn`)."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum, auto

from whatif.answers.money.returns import Terms, returns_of
from whatif.records import dataclass


class Then(Enum):
    """What holds from there on."""

    NOT_BACK = auto()
    """It does not clearly come back in the years counted."""
    NOT_ALONE = auto()
    """Another one cannot be told from it."""
    SECOND = auto()
    """Another one is ahead of it."""


@dataclass(frozen=True, slots=True)
class Turn:
    """How far money may be other than entered before the first one is first no longer.

    Attributes:
        once: what it may cost more at once.
        a_year: what it may bring less a year.
        other: which other one is as good or better then, "" where it is none.
    """

    once: float
    a_year: float
    then: Then
    other: str = ""


def turn_of(low: float, ahead: Mapping[str, float], terms: Terms, *, is_alone: bool) -> Turn:
    """The nearest of what would turn it.

    Args:
        low: the low end of what it is worth today, above 0.
        ahead: by scenario that is better than the reference too, by how much it is ahead of that.
        is_alone: whether none can be told from it; else what leads of it is ahead.
    """
    ways = [(low, Then.NOT_BACK, "")]
    then = Then.NOT_ALONE if is_alone else Then.SECOND
    ways += [(much, then, other) for other, much in ahead.items()]
    once, then, other = min(ways, key=lambda way: way[0])
    return Turn(once, once / _of_one_a_year(terms), then, other)


def _of_one_a_year(terms: Terms) -> float:
    """What 1 more a year is worth today over the years counted."""
    return returns_of(0.0, 1.0, terms).net_present_value
