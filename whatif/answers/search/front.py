"""What is not beaten at once in saleable output, money and people (rule `search.front`)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from whatif.answers.search.measure import Brought

T = TypeVar("T")
Axes = tuple[float, ...]
"""Figures of which less is better."""


def axes_of(found: Brought, *, with_orders: bool = False) -> Axes:
    """Saleable output, money of the first year, people's hours; orders on time where asked.

    Before the money stands how many levers nobody has priced: what is not all priced never beats
    what is, nor what has fewer of them, since nobody knows what they cost. Rounded to what is worth
    telling apart: a tenth of a percent, of an hour, one of money.
    """
    output = found.saleable if found.gain is None else found.gain
    orders = (-round(found.on_time or 0.0, 1),) if with_orders else ()
    money = float(round(found.first_year))
    return (-round(output, 1), float(found.open_levers), money, round(found.hours, 1), *orders)


def beats(mine: Axes, others: Axes) -> bool:
    """Whether one is at least as good in all and better in some."""
    return mine != others and all(a <= b for a, b in zip(mine, others, strict=True))


def unbeaten(items: Sequence[T], axes: Callable[[T], Axes]) -> list[T]:
    """Those that no other beats; of several that are alike the first."""
    known: dict[Axes, T] = {}
    for item in items:
        known.setdefault(axes(item), item)
    best = _minima(sorted(known))
    return [item for item in items if known.get(axes(item)) is item and axes(item) in best]


def _minima(ordered: Sequence[Axes]) -> set[Axes]:
    """Of axes in their order those that none before them beats; none behind one can beat it."""
    found: list[Axes] = []
    for axes in ordered:
        if not any(beats(other, axes) for other in found):
            found.append(axes)
    return set(found)


def layers(items: Sequence[T], axes: Callable[[T], Axes]) -> list[list[T]]:
    """Those that no other beats, then those that only these beat, and so on; each item once."""
    left, found = list(items), []
    while left:
        layer = unbeaten(left, axes)
        found.append(layer)
        taken = set(map(id, layer))
        left = [item for item in left if id(item) not in taken]
    return found


def clearly_unbeaten(
    items: Sequence[T], axes: Callable[[T], Axes], is_beside: Callable[[T, T], bool]
) -> list[T]:
    """The front, without what takes more than another and has nothing clear to show for it.

    Args:
        items: the one that is to be kept stands before others.
        is_beside: whether the first has its place beside the second, which is cheaper.
    """
    front = unbeaten(items, axes)
    kept: list[T] = []
    for item in sorted(front, key=lambda each: axes(each)[1:]):
        mine = axes(item)[1:]
        cheaper = [
            other
            for other in kept
            if all(theirs <= own for theirs, own in zip(axes(other)[1:], mine, strict=True))
        ]
        if all(is_beside(item, other) for other in cheaper):
            kept.append(item)
    return [item for item in items if any(item is each for each in kept)]
