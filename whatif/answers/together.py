"""Which two alternatives change different things, and are in no scenario of the study together."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Mapping

    from whatif.answers.verdict import Verdict
    from whatif.study.resolve import Resolved

_NO_CHANGE: Final = frozenset(
    ("title", "notes", "parent", "done_on", "said", "hour_meters", "money", "order", "rush", "stop")
)
"""Groups of keys by which nothing in the shop is made otherwise."""

_PRICES: Final = frozenset(
    (
        *("price", "resale", "pallet_price", "pallet_system_price", "yearly", "wage"),
        *("floor", "pallet_floor", "fixture_price", "contribution", "material", "owned"),
    )
)
"""Keys that only say what something costs or takes."""

_MORE_OR_FEWER: Final = ""
"""In place of the keys of a shift that one of two scenarios alone has."""

_LOOKED_AT: Final = 8
"""Alternatives behind the first one of which that is looked for."""


def not_together(found: Verdict, resolved: Mapping[str, Resolved]) -> tuple[str, str] | None:
    """The first alternative, and the best of those that change nothing of what it changes.

    Both are clearly better than the reference by themselves. None where there is no such pair, or
    where some scenario of the study changes all that the two do, whatever to.

    Args:
        resolved: what holds in each scenario of the study, those that are not compared too.
    """
    better = [
        it.scenario
        for it in found.alternatives
        if it.is_better and it.is_ranked and not it.same_as and it.scenario in resolved
    ]
    base = resolved.get(found.reference)
    if base is None or not better:
        return None
    first, *others = better
    mine = _changes(resolved[first], base)
    every: list[frozenset[tuple[str, str]]] = []
    for other in others[:_LOOKED_AT]:
        theirs = _changes(resolved[other], base)
        if not mine or not theirs or _sorts(mine) & _sorts(theirs):
            continue
        # Of a thousand scenarios that is worked out once, and only where there is a pair.
        every = every or [_changes(each, base) for each in resolved.values()]
        if not any(mine | theirs <= changed for changed in every):
            return first, other
    return None


def _sorts(changes: frozenset[tuple[str, str]]) -> frozenset[tuple[str, str]]:
    """Changes of which two are of one sort: any of the hours worked, or the same key."""
    return frozenset((of, "" if of == "shift" else key) for of, key in changes)


def _changes(here: Resolved, base: Resolved) -> frozenset[tuple[str, str]]:
    """What somebody has entered otherwise than in the reference, by sort of thing and key.

    Of which machine or part is left out: pallets of two machines are of one kind. A shift more is
    another change than a longer one, whatever is entered of it.
    """
    both = {path[:2] for path in here.handed_down} & {path[:2] for path in base.handed_down}
    return frozenset(
        (path[0], path[-1] if path[0] != "shift" or path[:2] in both else _MORE_OR_FEWER)
        for path in here.handed_down.keys() | base.handed_down.keys()
        if here.values.get(path) is not base.values.get(path)
        and path[0] not in _NO_CHANGE
        and path[-1] not in _PRICES
        and here.meant(path) != base.meant(path)
    )
