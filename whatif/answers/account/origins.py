"""Where a number of an account is from, as data; `whatif.telling.account` puts it into words."""

from __future__ import annotations

from typing import Literal

from whatif.records import dataclass
from whatif.study.resolve import Origin


@dataclass(frozen=True, slots=True)
class Entered:
    """An input of a scenario.

    Attributes:
        title: of the scenario that enters it, "" for one that nobody entered.
        is_own: whether it is the scenario accounted for whose input it is, and not the reference.
    """

    origin: Origin
    title: str
    is_own: bool


@dataclass(frozen=True, slots=True)
class OfStudy:
    """An input of the study as a whole, such as the weeks measured."""

    is_entered: bool


@dataclass(frozen=True, slots=True)
class CountedIn:
    """What the simulation counts, the mean of its runs where there are several.

    Attributes:
        at: the moment that is counted in hours from the first Monday 00:00, None where it is none.
    """

    weeks: int
    runs: int
    at: float | None = None


@dataclass(frozen=True, slots=True)
class Wanted:
    """Pieces that are wanted, of which more were made; ``weekly`` is where that number is from."""

    weekly: Entered
    made: float


@dataclass(frozen=True, slots=True)
class See:
    """Another figure by its id; ``there`` is the title of the reference where it is one of its."""

    figure: str
    there: str = ""


Way = Literal[
    "run by run", "in that run", "in that draw", "over the half", "flat out",
    "two weeks", "tried out", "each tried out",
    "since arrival", "shifts", "shift days", "shift hours", "against today", "sizes", "inputs",
    "next operation", "layout", "table load", "plain rows", "pieces unknown", "busiest day",
    "all machines", "nothing bought", "nothing laid out", "limit missed", "halving",
]  # fmt: skip
"""How a number is found that is none of the others."""


@dataclass(frozen=True, slots=True)
class FoundBy:
    """A number found in one of the ways above; ``detail`` is what of it this study says."""

    way: Way
    detail: str = ""
