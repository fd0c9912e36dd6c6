"""Seeded chance: when stops come, and how much one visit differs from the next.

The same seed deals the same numbers, whatever else happens, so that scenarios meet the same luck.
"""

from __future__ import annotations

import math
import random


class Luck:
    """In-cycle seconds between stops of a kind on a machine (rule `stops.luck`).

    Exponential with the mean given.
    """

    def __init__(self, seed: str, mean: int) -> None:
        self._random = random.Random(seed)
        self._mean = mean

    def deal(self) -> int:
        """Whole in-cycle seconds until the next stop, at least 1."""
        return max(1, int(self._random.expovariate(1 / self._mean) + 0.5))

    def copy(self) -> Luck:
        """The same luck from here on, dealt separately."""
        luck = Luck("", self._mean)
        luck._random.setstate(self._random.getstate())
        return luck


class Scatter:
    """Factors by which the visits to a pallet take longer or shorter (rule `people.scatter`).

    Lognormal with mean 1 and the coefficient of variation given.
    """

    def __init__(self, seed: str, variation: float) -> None:
        self._random = random.Random(seed)
        self._variation = variation
        # Of exp(normal): mean exp(mu + sigma^2 / 2), (sd / mean)^2 = exp(sigma^2) - 1.
        spread = math.log(1 + variation * variation)
        self._mu, self._sigma = -spread / 2, math.sqrt(spread)

    def deal(self) -> float:
        """The factor of the next visit."""
        return self._random.lognormvariate(self._mu, self._sigma)

    def copy(self) -> Scatter:
        """The same factors from here on, dealt separately."""
        scatter = Scatter("", self._variation)
        scatter._random.setstate(self._random.getstate())
        return scatter
