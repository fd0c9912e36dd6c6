"""Many part numbers in few lines, each of which stands for those alike in their times.

A line makes the pieces a week that its numbers make, in as many orders, with the same cutting
hours: times of a piece are means weighted by pieces, times of an order means weighted by orders.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import partial
from itertools import pairwise
from typing import Any, Final, TypeAlias

from whatif.records import dataclass
from whatif.study.edits.starting import LONGEST, free_id
from whatif.study.raw import Raw
from whatif.study.schema.kinds import Lengths, Mass, Number, Time
from whatif.study.table.cells import ReadRow, rounded_number
from whatif.study.table.columns import known_key
from whatif.units import Dimension, Quantity, show

MANY: Final = 20
"""Numbers up to which each has a line of its own unless somebody wants fewer."""

ALIKE: Final = Fraction(1, 5)
"""By how much the longest time of a line may be over its shortest, where nobody says otherwise:
none is then further than about a tenth from the mean. Our own reasoning."""

_FAITHFUL: Final = Fraction(1, 200)
"""By how much whole seconds and whole pieces per order may move a line's hours and orders."""

_TIMES: Final = ("cycle", "setup", "prove_out", "first_piece", "load", "unload", "bench",
                 "tool_change")  # fmt: skip
_OF_AN_ORDER: Final = ("setup", "prove_out", "first_piece")
_MEANS: Final = ("contribution", "material")
"""Amounts of money for a piece: their mean keeps what all pieces bring together."""

_ADDED: Final = ("weekly", "numbers")
_USUAL_BATCH: Final = 20


@dataclass(frozen=True, slots=True)
class TimesApart:
    """Between what a time of the numbers of a line lies, in seconds."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class PartLine:
    """A line of a study, for one number or several.

    Attributes:
        values: by their keys.
        rows: those that it stands for, in the order of the table.
        spreads: of the times of several, by their keys, where they differ.
        pieces, cutting, orders: a week, of the numbers by themselves: good pieces, seconds, orders.
        line_cutting, line_orders: the same of the line.
        setting_up: seconds a week of people who set up anew for each order of the line.
    """

    id: str
    values: Mapping[str, Raw]
    rows: tuple[ReadRow, ...]
    spreads: Mapping[str, TimesApart]
    pieces: Fraction
    cutting: Fraction
    orders: Fraction
    line_cutting: Fraction
    line_orders: Fraction
    setting_up: Fraction


def grouped_rows(
    rows: Sequence[ReadRow], alike: Fraction | None, apart: frozenset[str]
) -> tuple[PartLine, ...]:
    """The lines for rows without problems; ``alike`` None gives each its own.

    Those that something names (``apart``), and operations of a chain, stand by themselves.
    """
    named = apart | {str(row.values["after"]) for row in rows if "after" in row.values}
    single: list[ReadRow] = []
    bins: dict[object, list[ReadRow]] = {}
    for row in rows:
        if alike is None or row.id in named or not _may_join(row):
            single.append(row)
        else:
            bins.setdefault(_same(row), []).append(row)
    groups = [[row] for row in single]
    for those in bins.values():
        for together in _parted(those, _bounds(), alike or Fraction(0)):
            groups += _faithful(together)
    at = {row.row: place for place, row in enumerate(rows)}
    for group in groups:
        group.sort(key=lambda row: at[row.row])
    groups.sort(key=lambda group: at[group[0].row])
    taken = {row.id for row in rows}
    return tuple(_line(group, taken) for group in groups)


# -- who is alike ----------------------------------------------------------------------------


def _may_join(row: ReadRow) -> bool:
    """Whether a row may stand in a line with others: it is no operation, and is wanted."""
    is_told = {"cycle", "weekly"} <= row.values.keys()
    return is_told and "after" not in row.values and bool(_typed(row, "weekly"))


def _typed(row: ReadRow, name: str) -> Any:
    """The value under a key as its kind reads it; None where the row has none."""
    key = known_key("part", name)
    assert key is not None  # rows have values of known keys alone
    return key.kind.read(row.values[name]) if name in row.values else None


def _seconds(row: ReadRow, name: str) -> int:
    """A time; of one that is not told what is assumed."""
    return _time_in(row.values, name)


def _time_in(values: Mapping[str, Raw], name: str) -> int:
    """The same of any values of a part."""
    key = known_key("part", name)
    assert key is not None
    raw = values.get(name, key.default)
    return 0 if raw is None else int(key.kind.read(raw).seconds)


def _batch(row: ReadRow) -> int:
    return int(_typed(row, "batch") or _USUAL_BATCH)


def _same(row: ReadRow) -> object:
    """All that has to be the same in a line: everything but times, sizes, masses and amounts."""
    apart = {*_TIMES, *_MEANS, *_ADDED, "batch"}
    parts: list[object] = []
    for name in sorted(row.values):
        key = known_key("part", name)
        if name in apart:
            # Who has a time at all is not alike to who has what is assumed.
            parts.append((name, ""))
        elif key is not None and isinstance(key.kind, (Lengths, Mass)):
            parts.append((name, ""))
        else:
            parts.append((name, str(row.values[name])))
    return tuple(parts)


_Measure: TypeAlias = Callable[[ReadRow], Fraction | int]


def _bounds() -> Iterator[_Measure]:
    """What is held against the bound, one after the other."""
    for name in _TIMES:
        yield partial(_seconds, name=name)
    for place in range(3):
        yield partial(_side, place=place)
    for name in ("mass", "fixture_mass"):
        yield partial(_mass, name=name)


def _side(row: ReadRow, place: int) -> Fraction:
    sizes = _typed(row, "size")
    return Fraction(0) if sizes is None else sizes[place].value


def _mass(row: ReadRow, name: str) -> Fraction:
    mass = _typed(row, name)
    return Fraction(0) if mass is None else mass.value


def _parted(
    rows: list[ReadRow], bounds: Iterable[_Measure], alike: Fraction
) -> Iterator[list[ReadRow]]:
    """The rows in groups, in each of which all measures are alike."""
    measures = tuple(bounds)
    if not measures:
        yield rows
        return
    measure, *rest = measures
    run: list[ReadRow] = []
    for row in sorted(rows, key=lambda row: (measure(row), row.row)):
        if run and measure(row) > measure(run[0]) * (1 + alike):
            yield from _parted(run, rest, alike)
            run = []
        run.append(row)
    yield from _parted(run, rest, alike)


def _faithful(rows: list[ReadRow]) -> Iterator[list[ReadRow]]:
    """The rows in groups whose hours and orders whole seconds and whole pieces hardly move."""
    sums = _Sums(rows)
    rounded: tuple[tuple[bool, Callable[[ReadRow], int]], ...] = (
        (_is_moved(sums.orders, sums.pieces / sums.batch), _batch),
        (_is_moved(sums.cutting, sums.pieces * sums.cycle), partial(_seconds, name="cycle")),
    )
    for is_moved, measure in rounded:
        least = min(map(measure, rows))
        if is_moved and least < max(map(measure, rows)):
            ranked = sorted(rows, key=measure)
            gaps = [
                (Fraction(measure(after), measure(before)), place)
                for place, (before, after) in enumerate(pairwise(ranked), 1)
            ]
            cut = max(gaps)[1]
            yield from _faithful(ranked[:cut])
            yield from _faithful(ranked[cut:])
            return
    yield rows


def _is_moved(exact: Fraction, whole: Fraction) -> bool:
    return abs(whole - exact) > exact * _FAITHFUL


class _Sums:
    """What rows come to in a week, and the whole numbers that a line would have for them."""

    def __init__(self, rows: Sequence[ReadRow]) -> None:
        self.pieces = sum((Fraction(_typed(row, "weekly")) for row in rows), Fraction(0))
        self.orders = sum((Fraction(_typed(row, "weekly")) / _batch(row) for row in rows),
                          Fraction(0))  # fmt: skip
        self.cutting = sum(
            (Fraction(_typed(row, "weekly")) * _seconds(row, "cycle") for row in rows), Fraction(0)
        )
        self.batch = max(1, _whole(self.pieces / self.orders))
        self.cycle = max(1, _whole(self.cutting / self.pieces))


def _whole(value: Fraction) -> int:
    """To a whole number, halves up."""
    return int(value + Fraction(1, 2))


# -- what stands for them --------------------------------------------------------------------


def _line(rows: list[ReadRow], taken: set[str]) -> PartLine:
    weekly = [_typed(row, "weekly") for row in rows]
    if None in weekly or not sum(weekly) or "cycle" not in rows[0].values:
        nothing = Fraction(0)
        return PartLine(rows[0].id, rows[0].values, tuple(rows), {}, *[nothing] * 6)
    sums = _Sums(rows)
    if len(rows) == 1:
        alone = sums.cutting, sums.orders
        setting_up = sums.orders * _seconds(rows[0], "setup")
        all_of_it = sums.pieces, *alone, *alone, setting_up
        return PartLine(rows[0].id, rows[0].values, tuple(rows), {}, *all_of_it)
    values = {
        name: _value(name, rows, sums) for name in dict.fromkeys(n for r in rows for n in r.values)
    }
    values["numbers"] = sum(_typed(row, "numbers") or 1 for row in rows)
    if "batch" in values or sums.batch != _USUAL_BATCH:
        values["batch"] = sums.batch
    spreads: dict[str, TimesApart] = {
        name: TimesApart(min(seconds), max(seconds))
        for name in _TIMES
        if name in values
        for seconds in [[_seconds(row, name) for row in rows]]
        if min(seconds) < max(seconds)
    }
    ending = f"_and_{len(rows) - 1}_more"
    most = max(rows, key=lambda row: (Fraction(_typed(row, "weekly")), -row.row))
    id_ = free_id(most.id[: LONGEST - len(ending)].rstrip("_") + ending, taken)
    taken.add(id_)
    exact = sums.pieces, sums.cutting, sums.orders
    orders = sums.pieces / sums.batch
    made = sums.pieces * sums.cycle, orders, orders * _time_in(values, "setup")
    return PartLine(id_, values, tuple(rows), spreads, *exact, *made)


def _value(name: str, rows: Sequence[ReadRow], sums: _Sums) -> Raw:
    """What a line has under a key that all its numbers have."""
    key = known_key("part", name)
    assert key is not None
    pieces = [Fraction(_typed(row, "weekly")) for row in rows]
    if name == "weekly":
        return _added(row.values[name] for row in rows)
    if isinstance(key.kind, Time) and name in _TIMES:
        orders = [amount / _batch(row) for amount, row in zip(pieces, rows, strict=True)]
        weights = orders if name in _OF_AN_ORDER else pieces
        mean = _mean([Fraction(_seconds(row, name)) for row in rows], weights)
        return show(_whole(mean), Dimension.TIME, "metric")
    if isinstance(key.kind, Number) and name in _MEANS:
        return rounded_number(_mean([_typed(row, name) for row in rows], pieces))
    if isinstance(key.kind, Lengths):
        sides = [_typed(row, name) for row in rows]
        return tuple(max((side[place] for side in sides), key=_worth).text for place in range(3))
    if isinstance(key.kind, Mass):
        masses: list[Quantity] = [_typed(row, name) for row in rows]
        return max(masses, key=_worth).text
    raw: Raw = rows[0].values[name]
    return raw


def _worth(quantity: Quantity) -> Fraction:
    return quantity.value


def _mean(values: Sequence[Fraction], weights: Sequence[Fraction]) -> Fraction:
    together = sum((value * of for value, of in zip(values, weights, strict=True)), Fraction(0))
    return together / sum(weights)


def _added(amounts: Iterable[Raw]) -> Raw:
    """Pieces a week of all, to the last digit of each."""
    total = Decimal(0)
    for amount in amounts:
        assert isinstance(amount, (int, Decimal))  # read as a number before
        total += amount
    return int(total) if total == total.to_integral_value() else total
