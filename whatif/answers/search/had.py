"""What a scenario has of a proposed lever already, against what stands today.

Whoever has bought quick-change work holding is not offered it on top of itself (rule
`search.proposals`).
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from whatif.study.levers import SearchLever, key_of_lever
from whatif.study.raw import Path
from whatif.study.resolve import Resolved
from whatif.study.schema.catalogue import ANY
from whatif.study.schema.kinds import Percent
from whatif.study.shifts import hours_of
from whatif.units import Dimension, parse
from whatif.units.dimension import UnitsError

LONGER = (1, 2)
"""Hours that the last shift is made longer by."""


def values_left(lever: SearchLever, resolved: Resolved, today: Resolved) -> tuple[str, ...]:
    """A proposed lever's values, but shares and hours of what is at the lever's most as it is.

    At its most an amount is, on the side of such a share, where it is the largest (of a cut the
    smallest) of the lever's shares of what stands today, or beyond, in every thing that has it.
    """
    if lever.id == "longer":
        return () if _is_longer(lever, resolved, today) else lever.values
    key = key_of_lever(lever.key)
    if key is None or isinstance(key.kind, Percent):
        return lever.values
    shares = {value: share for value in lever.values if (share := _share(value)) is not None}
    changed = list(_against(lever.key, resolved, today)) if shares else []
    if not changed:
        return lever.values
    least, most = min(shares.values()), max(shares.values())
    is_least = all(now <= least * before * (1 + _ROUNDED) for now, before in changed)
    is_most = all(now >= most * before * (1 - _ROUNDED) for now, before in changed)
    return tuple(
        value
        for value in lever.values
        if not (
            value in shares
            and ((shares[value] < 1 and is_least) or (shares[value] > 1 and is_most))
        )
    )


def _is_longer(lever: SearchLever, resolved: Resolved, today: Resolved) -> bool:
    """Whether its shift ends as much later than today's as a longer one may at most."""
    shift = lever.key[1]
    if shift not in today.in_use("shift"):
        return False
    now, before = hours_of(resolved, shift), hours_of(today, shift)
    if now is None or before is None:
        return False
    return now.start + now.length >= before.start + before.length + LONGER[-1] * 3600


_ROUNDED = Fraction(1, 50)
"""By how much an amount may be off its share, since what is entered is rounded."""


def _share(value: str) -> Fraction | None:
    try:
        return parse(value.strip(), Dimension.PERCENT).value
    except UnitsError:
        return None


def _against(
    pattern: Path, resolved: Resolved, today: Resolved
) -> Iterator[tuple[Fraction, Fraction]]:
    """Amounts at a lever's key here and today, of every thing that has one in both."""
    ids: tuple[str, ...] = (pattern[1],)
    if pattern[1] == ANY:
        ids = tuple(resolved.in_use(pattern[0]))
    for id_ in ids:
        path = (pattern[0], id_, *pattern[2:])
        if path in resolved.values and path in today.values:
            pair = _amount(resolved, path), _amount(today, path)
            if pair[0] and pair[1]:
                yield pair[0], pair[1]


def _amount(resolved: Resolved, path: Path) -> Fraction:
    """0 where there is no number."""
    found = resolved.value(*path)
    found = getattr(found, "value", found)
    is_number = isinstance(found, int | Fraction) and not isinstance(found, bool)
    return Fraction(found) if is_number else Fraction(0)
