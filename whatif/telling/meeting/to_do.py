"""What has to be bought, and what changed, to get from the shop of today to an alternative."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from whatif.study.schema.catalogue import THINGS, key_for, label_at
from whatif.telling.amounts import listed, priced
from whatif.telling.money.rests import fixtures_words

if TYPE_CHECKING:
    from fractions import Fraction

    from whatif.answers.takes import Buys
    from whatif.study.raw import Path
    from whatif.study.resolve import Resolved

_NAMED = 4
"""Changes that are named one by one."""

_FEW = 2
"""Parts that are named one by one."""

_NOT_DONE: Final = frozenset(
    (
        *("title", "notes", "parent", "done_on", "said", "hour_meters", "money"),
        *("stop", "rush", "order"),
    )
)
"""Groups of keys of which nobody does anything in the shop."""

_BOUGHT: Final = frozenset(
    (
        *("count", "pallets", "load_stations", "owned", "floor", "pallet_floor"),
        *("price", "resale", "pallet_price", "pallet_system_price", "yearly"),
        *("table", "travel", "work_height", "table_load", "faces", "pockets"),
        *("fixtures", "fixture_price", "contribution", "material"),
    )
)
"""Keys that are told by what is bought, come with it, or are prices."""


def to_do_words(buys: Buys, here: Resolved, today: Resolved) -> str:
    """The same: "Buy: 1 mill, 6 pallets of mill. Change: people of day 1."; "" for nothing."""
    # Of what costs money nothing is left out, or the sums beside it would not add up.
    changes = list(_changes(here, today))
    more = len(changes) - _NAMED
    changes = changes if more <= 1 else [*changes[:_NAMED], f"{more} more"]
    said = [_line("Buy", list(_bought(buys))), _line("Change", changes)]
    sold = [_many(count, "machine", group) for group, count in buys.given_up]
    if sold and buys.comes_back:
        sold[-1] += f", for {priced(float(buys.comes_back), buys.currency)}"
    return " ".join(filter(None, (*said, _line("Give up", sold))))


def _line(word: str, things: list[str]) -> str:
    return f"{word}: {'; '.join(things)}." if things else ""


def _bought(buys: Buys) -> Iterator[str]:
    currency = buys.currency
    for group, of, prices in buys.groups:
        if of.machines:
            yield _cost(_many(of.machines, "machine", group), prices.price, currency)
        if of.systems > of.covered_systems or (of.systems and prices.pallet_system_price):
            is_own = prices.pallet_system_price is not None
            count = of.systems - (0 if is_own else of.covered_systems)
            yield _cost(
                _many(count, "handling system", group), prices.pallet_system_price, currency
            )
        if of.pallets:
            # Behind its machines, which have named it, a group is not named again.
            named = _many(of.pallets, "pallet", "" if of.machines else group)
            if prices.pallet_price is None and of.pallets == of.covered_pallets:
                yield f"{named}, with the machines"
            else:
                if of.systems > of.covered_systems:
                    # Whoever counts pallets on the machines finds each machine's first too.
                    named = f"{of.pallets} of {_many(of.pallets + of.systems, 'pallet', group)}"
                yield _cost(named, prices.pallet_price, currency)
    yield from _fixtures(buys)
    if buys.one_off:
        yield f"one-off cost {priced(float(buys.one_off), currency)}"


def _fixtures(buys: Buys) -> Iterator[str]:
    if len(buys.fixtures) == 1:
        yield fixtures_words(buys.fixtures[0])
        return
    if not buys.fixtures:
        return
    # How many of each stands with what the money rests on, and in the view of money.
    parts = [each.part for each in buys.fixtures]
    whose = f"of {listed(parts)}" if len(parts) <= _FEW else f"for {len(parts)} parts"
    count = sum(each.count for each in buys.fixtures)
    cost = float(sum(each.count * (each.price or 0) for each in buys.fixtures))
    said = f"{count} more fixtures {whose}"
    yield f"{said} for {priced(cost, buys.currency)}" if cost else said


def _many(count: int, thing: str, group: str) -> str:
    return f"{count} {thing}{'' if count == 1 else 's'}{f' of {group}' if group else ''}"


def _cost(named: str, price: Fraction | None, currency: str) -> str:
    """With the price of one; one without is not passed over."""
    return (
        f"{named} (no price yet)"
        if price is None
        else f"{named} at {priced(float(price), currency)}"
    )


def _changes(here: Resolved, today: Resolved) -> Iterator[str]:
    new: dict[tuple[str, str], None] = {}
    for path, given in here.values.items():
        if given is today.values.get(path) or path[0] in _NOT_DONE or path[-1] in _BOUGHT:
            continue
        if path[0] in THINGS and not today.has_thing(path[0], path[1]):
            if path[0] != "machine" and (path[0], path[1]) not in new:
                new[path[0], path[1]] = None
                yield f"{path[0]} {path[1]} is new{_duties(here, path)}"
        elif path in today.values and here.meant(path) != today.meant(path):
            yield f"{label_at(path)}{_of(path)} {_value(here, path)}"


def _duties(here: Resolved, path: Path) -> str:
    """What people of a new shift do, where it is entered: two shifts may differ in that alone."""
    does = (path[0], path[1], "does")
    return f", and does {_value(here, does)}" if does in here.values else ""


def _of(path: Path) -> str:
    return f" of {path[1]}" if path[0] in THINGS else ""


def _value(here: Resolved, path: Path) -> str:
    key, raw = key_for(path), here.raw(*path)
    return "not given" if key is None or raw in (None, "") else key.kind.written(raw)
