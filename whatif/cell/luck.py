"""Seeded chance: when stops come, and how much one visit differs from the next.

The same seed deals the same numbers, whatever else happens, so that scenarios meet the same luck.
Numbers are dealt in blocks and remembered by their seed, since the next run asks for them again.
"""

from __future__ import annotations

import math
import random
from array import array
from functools import lru_cache
from typing import Final

BLOCK: Final = 64
"""So many numbers are dealt at once."""

REMEMBERED: Final = 1024
"""Generators that are remembered, with what they have dealt: 8 bytes a number."""


class _Stops:
    """In-cycle seconds between stops of a kind on a machine (rule `stops.luck`)."""

    def __init__(self, seed: str, mean: int) -> None:
        self._random = random.Random(seed)
        self._rate = 1 / mean
        self.dealt: array[int] = array("q")

    def more(self) -> None:
        """Deal a block of whole seconds, exponential with the mean given, at least 1 each."""
        draw, rate = self._random.expovariate, self._rate
        self.dealt.extend([max(1, int(draw(rate) + 0.5)) for _ in range(BLOCK)])


class _Visits:
    """Factors by which the visits to a pallet take longer or shorter (rule `people.scatter`)."""

    def __init__(self, seed: str, variation: float) -> None:
        self._random = random.Random(seed)
        # Of exp(normal): mean exp(mu + sigma^2 / 2), (sd / mean)^2 = exp(sigma^2) - 1.
        spread = math.log(1 + variation * variation)
        self._mu, self._sigma = -spread / 2, math.sqrt(spread)
        self.dealt: array[float] = array("d")

    def more(self) -> None:
        """Deal a block, lognormal with mean 1 and the coefficient of variation given."""
        draw, mu, sigma = self._random.lognormvariate, self._mu, self._sigma
        self.dealt.extend([draw(mu, sigma) for _ in range(BLOCK)])


@lru_cache(REMEMBERED)
def _stops(seed: str, mean: int) -> _Stops:
    return _Stops(seed, mean)


@lru_cache(REMEMBERED)
def _visits(seed: str, variation: float) -> _Visits:
    return _Visits(seed, variation)


class Luck:
    """The seconds between stops of a kind on a machine, one after the other."""

    def __init__(self, seed: str, mean: int, place: int = 0) -> None:
        self._seed, self._mean, self._place = seed, mean, place
        self._stops = _stops(seed, mean)

    def deal(self) -> int:
        """Whole in-cycle seconds until the next stop, at least 1."""
        stops, place = self._stops, self._place
        while place >= len(stops.dealt):
            stops.more()
        self._place = place + 1
        return stops.dealt[place]

    def copy(self) -> Luck:
        """The same luck from here on, dealt separately."""
        return Luck(self._seed, self._mean, self._place)


class Scatter:
    """The factors of the visits to a pallet, one after the other."""

    def __init__(self, seed: str, variation: float, place: int = 0) -> None:
        self._seed, self._variation, self._place = seed, variation, place
        self._visits = _visits(seed, variation)

    def deal(self) -> float:
        """The factor of the next visit."""
        visits, place = self._visits, self._place
        while place >= len(visits.dealt):
            visits.more()
        self._place = place + 1
        return visits.dealt[place]

    def copy(self) -> Scatter:
        """The same factors from here on, dealt separately."""
        return Scatter(self._seed, self._variation, self._place)
