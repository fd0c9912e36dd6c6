"""Levers at their values: what each changes, and what it costs (rule `search.levers`).

A lever is tried by the edits that a user would make: a scenario below the one that it starts from,
with what is new added to it and the values entered.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from fractions import Fraction

from whatif.answers.money.shorter import SHORTENED_BY
from whatif.answers.moves.inputs import Input, input_of
from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.edits import AddScenario, AddThing, Edit, SetValue, Together
from whatif.study.guesses import sentence, written
from whatif.study.levers import RELATIVE, SearchLever, key_of_lever
from whatif.study.raw import Path, Raw
from whatif.study.resolve import GIVEN_BACK, Resolved, resolve
from whatif.study.schema.catalogue import ANY, THINGS, Key
from whatif.study.schema.kinds import Clock, Percent
from whatif.study.schema.kinds.plain import number_typed
from whatif.units import Dimension, parse
from whatif.units.dimension import UnitsError

ONE_OFF, YEARLY = ("money", "one_off"), ("money", "yearly")
"""Where what a lever costs is entered, so that the scenario that is made of it costs the same."""


@dataclass(frozen=True, slots=True)
class Option:
    """A lever at one of its values.

    Attributes:
        place: of the lever among all.
        value: as the lever has it.
        changes: what is entered, by path.
        once, yearly: what it costs beside what the scenario's own prices say.
        is_priced: whether somebody has said what it costs, be it nothing (rule `search.priced`).
    """

    place: int
    lever: SearchLever
    value: str
    changes: Mapping[Path, Raw]
    once: Fraction
    yearly: Fraction
    steps: Mapping[Path, tuple[Raw | None, Raw]] = field(default_factory=dict)
    """What the lever's own key was, and what it is to be."""
    is_priced: bool = True


Combination = tuple[Option, ...]
"""Levers at values, each lever once."""


def options_of(draft: Draft, scenario: str, levers: Sequence[SearchLever]) -> tuple[Option, ...]:
    """All levers at all values that change something in a scenario."""
    resolved = resolve(draft, scenario)
    return tuple(
        option
        for place, lever in enumerate(levers)
        for value in lever.values
        for option in _option(draft, resolved, place, lever, value)
    )


def _option(
    draft: Draft, resolved: Resolved, place: int, lever: SearchLever, value: str
) -> Iterator[Option]:
    key = key_of_lever(lever.key)
    if key is None:
        return
    changes: dict[Path, Raw] = {}
    steps: dict[Path, tuple[Raw | None, Raw]] = {}
    more = Fraction(0)
    for path in _paths(resolved, lever, lever.key):
        now = resolved.raw(*path) if path in resolved.values else None
        raw = _raw(draft, resolved, path, key, value)
        if raw is not None and raw != now:
            changes[path], steps[path] = raw, (now, raw)
            more += max(Fraction(0), _count(raw) - _count(now)) * _times(resolved, path)
    if not changes:
        return
    for pattern, raw in lever.also:
        for path in _paths(resolved, lever, pattern):
            is_given = path in resolved.values and resolved.raw(*path) not in (None, GIVEN_BACK)
            if raw != GIVEN_BACK or is_given:
                changes.setdefault(path, raw)
    once = lever.price + more * lever.price_each
    is_priced = lever.has_price or all(
        is_priced_by_study(resolved, path, key, changes) for path in steps
    )
    yield Option(place, lever, value, changes, once, lever.yearly, steps, is_priced)


_RULES = frozenset({("sequence", "rule"), ("unattended", "nights")})
"""Rules that a shop gives itself which are no amounts."""

_PRICES = {"count": "price", "pallets": "pallet_price"}
"""Keys of a machine group by which what is bought of it is priced."""


def is_priced_by_study(
    resolved: Resolved, path: Path, key: Key, changes: Mapping[Path, Raw] | None = None
) -> bool:
    """Whether a change of a key costs what the study's own prices say, or nothing.

    Hours of people cost wages, and a rule that the shop gives itself is no purchase.
    """
    if path[0] == "shift" or key.says.chosen or path in _RULES:
        return True
    name = _PRICES.get(path[-1]) if path[0] == "machine" else None
    if name is None:
        return False
    price = (*path[:2], name)
    return price in (changes or {}) or (
        resolved.has_thing(*path[:2]) and resolved.raw(*price) not in (None, GIVEN_BACK)
    )


def unpriced_levers(options: Sequence[Option]) -> frozenset[str]:
    """The ids of the levers of which nobody has said what they cost."""
    return frozenset(option.lever.id for option in options if not option.is_priced)


def _paths(resolved: Resolved, lever: SearchLever, pattern: Path) -> Iterator[Path]:
    """The paths that a pattern means in a scenario; of a thing that the lever adds too."""
    if pattern[0] not in THINGS:
        yield pattern
    elif pattern[1] == ANY:
        for id_ in resolved.in_use(pattern[0]):
            yield from _below(resolved, (pattern[0], id_, *pattern[2:]))
    elif resolved.has_thing(pattern[0], pattern[1]) or any(
        path[:2] == pattern[:2] for path, _ in lever.also
    ):
        yield from _below(resolved, pattern)


def _below(resolved: Resolved, pattern: Path) -> Iterator[Path]:
    if len(pattern) > 3 and pattern[3] == ANY:
        for machine in resolved.differs_on(pattern[1]):
            yield (*pattern[:3], machine, *pattern[4:])
    else:
        yield pattern


def _raw(draft: Draft, resolved: Resolved, path: Path, key: Key, text: str) -> Raw | None:
    """What is entered for a lever's value; None where there is nothing to reckon it from."""
    kind = key.kind
    is_share = kind.numeric and not isinstance(kind, Percent) and _amount(text, Dimension.PERCENT)
    is_step = text.startswith(RELATIVE) and (kind.numeric or isinstance(kind, Clock))
    if not is_share and not is_step:
        return kind.typed(text)
    if path not in resolved.values:
        return None
    now = input_of(draft, resolved, path, key)
    if now.amount is None:
        return None
    if is_share:
        assert isinstance(is_share, Fraction)
        wanted = now.amount * is_share
        return _kept_within(now, wanted) if wanted else None
    by = _amount(text[1:], Dimension.TIME if isinstance(kind, Clock) else kind.dimension)
    return None if by is None else _kept_within(now, now.amount + (by if text[0] == "+" else -by))


def _kept_within(now: Input, wanted: Fraction) -> Raw | None:
    if now.whole:
        wanted = Fraction(max(1, round(wanted)))
    wanted = max(wanted, now.least)
    wanted = wanted if now.most is None else min(wanted, now.most)
    return None if wanted == now.amount else now.raw(now.write(wanted))


def _amount(text: str, dimension: Dimension | None) -> Fraction | None:
    """A typed amount in base units; a plain number where there is no unit."""
    if dimension is None:
        word = text.strip()
        return Fraction(word) if word.replace(".", "", 1).isdecimal() else None
    try:
        return parse(text.strip(), dimension).value
    except UnitsError:
        return None


def _count(raw: Raw | None) -> Fraction:
    return Fraction(raw) if isinstance(raw, int) and not isinstance(raw, bool) else Fraction(0)


def _times(resolved: Resolved, path: Path) -> int:
    """How often what is counted is there: pallets of each machine."""
    if path[0] == "machine" and path[-1] != "count" and path[:2] in _ids(resolved):
        return int(resolved.value(*path[:2], "count"))
    return 1


def _ids(resolved: Resolved) -> set[Path]:
    return {("machine", id_) for id_ in resolved.in_use("machine")}


# -- together ------------------------------------------------------------------------------


def taken_together(options: Combination, resolved: Resolved) -> dict[Path, Raw] | None:
    """What levers change together, prices included; None where two want one value otherwise."""
    found: dict[Path, Raw] = {}
    for option in options:
        for path, raw in option.changes.items():
            if found.setdefault(path, raw) != raw:
                return None
    for path, cost in ((ONE_OFF, once_of(options)), (YEARLY, yearly_of(options))):
        # Of what takes less time a price of 0 is the one-off cost that says so.
        is_free = path == ONE_OFF and any(map(_is_shorter_for_nothing, options))
        if cost or is_free:
            whole = cost + Fraction(resolved.value(*path))
            # A price has a few decimals, so that this text is exact.
            found[path] = number_typed(format(float(whole), ".12g"))
    return found


def _is_shorter_for_nothing(option: Option) -> bool:
    is_time = any(path[-1] in SHORTENED_BY for path in option.steps)
    return is_time and option.lever.has_price and not (option.once or option.yearly)


def once_of(options: Combination) -> Fraction:
    """What levers cost once, beside what the scenario's own prices say."""
    return sum((option.once for option in options), Fraction(0))


def yearly_of(options: Combination) -> Fraction:
    """The same a year."""
    return sum((option.yearly for option in options), Fraction(0))


def making(
    draft: Draft,
    parent: str,
    id_: str,
    title: str,
    changes: Mapping[Path, Raw],
    *,
    notes: str = "",
    guessed: Mapping[Path, Raw] | None = None,
) -> Edit:
    """The edit that makes a scenario of what was tried, one step of the history.

    Args:
        guessed: values among the changes that nobody has said; the notes name them.
    """
    resolved = resolve(draft, parent)
    new: dict[Path, list[tuple[str, Raw]]] = {}
    edits: list[Edit] = [AddScenario(id_, parent, title)]
    sets: list[Edit] = []
    for path, raw in changes.items():
        if path[0] in THINGS and not resolved.has_thing(path[0], path[1]):
            new.setdefault(path[:2], []).append((".".join(path[2:]), raw))
        else:
            sets.append(SetValue(id_, path, raw))
    edits += [AddThing(id_, group, thing, tuple(values)) for (group, thing), values in new.items()]
    edits += sets
    said = sentence({path: written(path, raw) for path, raw in (guessed or {}).items()})
    whole = " ".join(filter(None, (notes, said)))
    if whole:
        # Last, since entering a value takes it out of the sentence.
        edits.append(SetValue(id_, ("notes",), whole))
    return Together(tuple(edits), f"new scenario {title or id_}")
