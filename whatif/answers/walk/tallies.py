"""What was seen on walks: shares, how sure they are, and how many more observations are needed.

The textbook method (work sampling; Niebel, "Motion and Time Study"; Barnes, "Motion and Time
Study"; both from memory): n = z² p (1 - p) / l² observations tell a share p to within l, either
way. The interval is Wilson's (1927), not the textbooks' p ± l: of few observations, and of
shares near 0, that one reaches below 0 and is too narrow.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, sqrt
from statistics import NormalDist
from typing import Final

from whatif.answers.states import (
    LONGER_WITH_MACHINES_TIED_UP,
    LONGER_WITH_PEOPLE_AWAY,
    STATE_ROWS,
)
from whatif.records import dataclass

OTHER: Final = "other"
"""Whatever was seen that is no state of the model."""


def sigmas(confidence: float) -> float:
    """How many standard deviations hold so many percent in their middle: 1.96 for 95."""
    return NormalDist().inv_cdf(0.5 + confidence / 200)


def needed(share: float, within: float, z: float) -> float:
    """Observations that tell a share to within so much, either way: z² p (1 - p) / l²."""
    return z * z * share * (1 - share) / (within * within)


def wilson(count: int, of: int, z: float) -> tuple[float, float]:
    """The interval of a share by Wilson's score (1927), no correction for continuity."""
    share, square = count / of, z * z
    middle = (share + square / (2 * of)) / (1 + square / of)
    half = z / (1 + square / of) * sqrt(share * (1 - share) / of + square / (4 * of * of))
    return max(0.0, middle - half), min(1.0, middle + half)


@dataclass(frozen=True, slots=True)
class SeenShare:
    """How often a state was seen, in percent of all observations.

    Attributes:
        state: its name, or :data:`OTHER`.
        low, high: its interval.
        needed: observations in all that tell it as closely as is wanted.
        simulated: of attended hours, in percent; None where the model has none.
    """

    state: str
    count: int
    share: float
    low: float
    high: float
    needed: int
    simulated: float | None

    @property
    def is_apart(self) -> bool:
        """Whether what the model finds lies outside the interval."""
        return self.simulated is not None and not self.low <= self.simulated <= self.high

    @property
    def more(self) -> float:
        """Points that were seen more than the model finds."""
        return self.share - (self.simulated or 0.0)


@dataclass(frozen=True, slots=True)
class Walked:
    """What walks come to.

    Attributes:
        count: observations.
        confidence, within: in percent, and points.
        states: those seen or simulated, in the order beside a bar.
        people, machines: the states of either together: which of them a gap of hour meters is.
    """

    scenario: str
    title: str
    count: int
    confidence: float
    within: float
    states: tuple[SeenShare, ...]
    people: SeenShare
    machines: SeenShare

    @property
    def needed(self) -> int:
        """Observations in all for the share that needs most."""
        return max(each.needed for each in self.states)

    @property
    def furthest(self) -> SeenShare | None:
        """The state that is furthest from what the model finds, of those that are clearly apart."""
        apart = [each for each in self.states if each.is_apart]
        return max(apart, key=lambda each: abs(each.more), default=None)

    @property
    def gap_is(self) -> str:
        """To whom the walk lays hours that the model lacks: "people", "machine", "both" or ""."""
        longer = [
            name
            for name, each in (("people", self.people), ("machine", self.machines))
            if each.is_apart and each.more > 0
        ]
        return "both" if len(longer) > 1 else longer[0] if longer else ""


def walked(
    scenario: str,
    title: str,
    seen: Mapping[str, int],
    attended: Mapping[str, float] | None,
    confidence: float,
    within: float,
) -> Walked:
    """Tallies by state held against hours by state; there must be at least one observation."""
    of, z = sum(seen.values()), sigmas(confidence)
    hours = sum(attended.values()) if attended else 0.0

    def share(name: str, *states: str) -> SeenShare:
        count = sum(seen.get(state, 0) for state in states)
        low, high = wilson(count, of, z)
        # What was never seen, or always, is taken to be as far from that as may be.
        likely = count / of if 0 < count < of else high if count == 0 else low
        simulated = None
        if attended is not None and hours > 0:
            simulated = 100 * sum(attended.get(state, 0.0) for state in states) / hours
        return SeenShare(
            name,
            count,
            100 * count / of,
            100 * low,
            100 * high,
            ceil(needed(likely, within / 100, z)),
            simulated,
        )

    shares = [share(state, state) for state in (*_ORDER, OTHER)]
    return Walked(
        scenario,
        title,
        of,
        confidence,
        within,
        tuple(each for each in shares if each.count or (each.simulated or 0.0) >= _LEAST),
        share("people", *LONGER_WITH_PEOPLE_AWAY),
        share("machine", *LONGER_WITH_MACHINES_TIED_UP),
    )


_LEAST: Final = 0.05
"""Percent below which a share that was not seen is told by nobody."""

_ORDER: Final = tuple(STATE_ROWS)
