"""Which of several alternatives that cannot be told apart is chosen, and by what."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from enum import Enum, auto
from typing import Protocol, TypeVar

from whatif.answers.takes import A_UNIT, NO_HOURS, Takes


class AheadBy(Enum):
    """What one of several equals is chosen by (rule `verdict.first`)."""

    WORTH = auto()
    """The largest worth today."""
    COST = auto()
    """The least cost, at once and over the years counted."""
    HOURS = auto()
    """The fewest paid hours, then the fewest people."""
    NOTHING_BOUGHT = auto()
    """Nothing to be bought that has no price."""


class Equal(Protocol):
    """One of several that cannot be told apart."""

    @property
    def worth(self) -> float | None:
        """Today, None where it is not judged by that."""

    @property
    def takes(self) -> Takes:
        """What it takes."""


_Held = TypeVar("_Held", bound=Equal)


def chosen(equals: Sequence[_Held]) -> tuple[AheadBy | None, tuple[_Held, ...]]:
    """Those ahead of the other equals, and by what; all of them, and None, where none is ahead."""
    left, last = tuple(equals), None
    for choice, cost, apart in _costs_of(equals):
        least = min(map(cost, left))
        ahead = tuple(each for each in left if cost(each) < least + apart)
        if len(ahead) < len(left):
            left, last = ahead, choice
        if not left[1:]:
            break
    return last, left


_Costs = tuple[AheadBy, Callable[[_Held], float], float]


def _costs_of(equals: Sequence[_Held]) -> Iterator[_Costs[_Held]]:
    """What they are compared by, one after the other: the less the better, and what is alike."""
    is_priced = all(each.takes.is_priced for each in equals)
    if is_priced and all(each.worth is not None for each in equals):
        yield AheadBy.WORTH, lambda each: -(each.worth or 0.0), A_UNIT
    if is_priced:
        yield AheadBy.COST, lambda each: each.takes.over_years, A_UNIT
    yield AheadBy.HOURS, lambda each: each.takes.paid_hours, NO_HOURS
    yield AheadBy.HOURS, lambda each: each.takes.people, 1
    yield AheadBy.NOTHING_BOUGHT, lambda each: each.takes.buys_unpriced, 1
