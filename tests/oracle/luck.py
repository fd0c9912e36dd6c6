"""Luck: when stops come and how visits scatter, dealt so that all cells meet the same."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from math import floor, log, sqrt
from typing import Any

Draw = Callable[[int, int, str], Iterator[int]]


def luck(spec: dict[str, Any]) -> Draw:
    """In-cycle seconds between stops by run, machine number and stop (rule `stops.luck`).

    Exponential; whole seconds, halves up, at least 1.
    """

    def draw(run: int, machine_number: int, stop: str) -> Iterator[int]:
        deck = random.Random(f"{run} {machine_number} {stop}")
        every = spec["stop"][stop]["every"]
        while True:
            yield max(1, floor(deck.expovariate(1 / every) + 0.5))

    return draw


def scatter(percent: int, draw: int, machine_number: int, pallet_number: int) -> Iterator[float]:
    """The factors of the visits to one pallet: lognormal, of mean 1, `percent` their variation."""
    deck = random.Random(f"{draw} {machine_number} {pallet_number}")
    variance = log(1 + (percent / 100) ** 2)
    while True:
        yield deck.lognormvariate(-variance / 2, sqrt(variance))
