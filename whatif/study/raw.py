"""Values as a study file holds them, before anybody has asked whether they are right.

Lists are kept as tuples and tables as `Table`, so that a draft can be compared,
hashed, pickled and shared without anybody changing it behind another's back.
"""

from collections.abc import Iterator, Mapping
from datetime import date, datetime, time
from decimal import Decimal
from typing import Final, Generic, TypeAlias, TypeVar, Union

from whatif.records import dataclass
from whatif.units import printable

Path: TypeAlias = tuple[str, ...]
"""Where a value stands in its scenario: ("machine", "mill", "count")."""

# Quoted names: an alias that holds itself cannot be written with `|`.
Raw: TypeAlias = Union[str, int, bool, Decimal, datetime, date, time, tuple["Raw", ...], "Table"]
"""A value of a study file: what the TOML reader gives, made immutable."""

LONGEST_SHOWN: Final = 60

K = TypeVar("K")
V_co = TypeVar("V_co", covariant=True)


@dataclass(frozen=True, slots=True)
class Table:
    """A table where a value is expected, or the empty table of a thing with no values yet."""

    items: tuple[tuple[str, Raw], ...] = ()


EMPTY: Final = Table()


def frozen(value: object) -> Raw:
    """`value` (as read from TOML, or handed over by code) in its immutable form."""
    if isinstance(value, str):
        return value
    if isinstance(value, list | tuple):
        return tuple(frozen(item) for item in value)
    if isinstance(value, Mapping):
        return Table(tuple((str(name), frozen(item)) for name, item in value.items()))
    if isinstance(value, float):
        return Decimal(repr(value))
    if isinstance(value, int | Decimal | date | time | Table):
        return value
    raise TypeError(f"a study file holds no {type(value).__name__}")


def thawed(raw: Raw) -> object:
    """`raw` in the plain lists and dicts that a TOML writer takes."""
    if isinstance(raw, tuple):
        return [thawed(item) for item in raw]
    if isinstance(raw, Table):
        return {name: thawed(item) for name, item in raw.items}
    return raw


def shown(raw: Raw) -> str:
    """`raw` about as the file has it, on one line of at most `LONGEST_SHOWN` characters."""
    text = _shown(raw)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 3] + "..."


_DEEPEST_SHOWN: Final = 8


def _shown(raw: Raw, depth: int = 0) -> str:
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, str):
        return f'"{printable(raw)}"'
    # What comes behind so many, or so deep, is cut off in any case.
    if depth > _DEEPEST_SHOWN:
        return "..."
    if isinstance(raw, tuple):
        return f"[{', '.join(_shown(item, depth + 1) for item in raw[:LONGEST_SHOWN])}]"
    if isinstance(raw, Table):
        items = raw.items[:LONGEST_SHOWN]
        inside = ", ".join(f"{printable(name)} = {_shown(item, depth + 1)}" for name, item in items)
        return f"{{ {inside} }}" if inside else "{}"
    return str(raw)


def kind_of(raw: Raw) -> str:
    """What `raw` is, as a user of a study file would call it."""
    if isinstance(raw, bool):
        return "true or false"
    if isinstance(raw, str):
        return "a text"
    if isinstance(raw, int | Decimal):
        return "a bare number"
    if isinstance(raw, tuple):
        return "a list"
    return "a table" if isinstance(raw, Table) else "a date or time of day"


def _mark(raw: object) -> object:
    """Tells apart what Python takes for equal: 1 and true, 1.5 and 1.50."""
    if isinstance(raw, tuple):
        return tuple(_mark(item) for item in raw)
    if isinstance(raw, Table):
        return ("table", tuple((name, _mark(item)) for name, item in raw.items))
    return (type(raw).__name__, str(raw))


class Entries(Mapping[K, V_co], Generic[K, V_co]):
    """An immutable mapping that keeps its order, and counts it when compared."""

    __slots__ = ("_hash", "_values")

    def __init__(self, values: Mapping[K, V_co] | None = None) -> None:
        self._values: dict[K, V_co] = dict(values or {})
        self._hash: int | None = None

    def __getitem__(self, key: K) -> V_co:
        return self._values[key]

    def __iter__(self) -> Iterator[K]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)

    def __contains__(self, key: object) -> bool:
        return key in self._values

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Entries):
            return NotImplemented
        # Most of what two have in common is the same object. Kinds and texts count, and the order.
        return len(self) == len(other) and all(
            key == theirs and (value is their_value or _mark(value) == _mark(their_value))
            for (key, value), (theirs, their_value) in zip(
                self._values.items(), other._values.items(), strict=True
            )
        )

    def __hash__(self) -> int:
        if self._hash is None:
            marks = tuple((key, _mark(value)) for key, value in self._values.items())
            self._hash = hash(marks)
        return self._hash

    def __repr__(self) -> str:
        return f"Entries({self._values!r})"

    def __reduce__(self) -> tuple[type["Entries[K, V_co]"], tuple[dict[K, V_co]]]:
        # Without the cached hash: texts hash differently in every process.
        return (Entries, (self._values,))
