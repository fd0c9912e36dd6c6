"""Frozen records as JSON holds them, and back, where it is known of which classes they are made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from importlib import import_module
from typing import Any

_OF, _IS = "of", "is"
_LIST, _DICT, _FRACTION = "list", "dict", "Fraction"

_HOUSE = "whatif."
"""What the names of all modules begin with whose records may be made of what was kept."""


class NotPlain(Exception):
    """Something is made of more than what was said."""


def plain_of(value: Any, made_of: Sequence[type] | None = None) -> Any:
    """A value of numbers, texts, tuples, lists, dicts and ``made_of``, dataclasses or enums.

    As JSON holds it. Where it is not said of which classes it is made, all of the house may be.

    Raises:
        NotPlain: there is something else in it.
    """
    kind = type(value)
    if value is None or kind in (bool, int, float, str):
        return value
    if kind is tuple:
        return [plain_of(each, made_of) for each in value]
    if kind is list:
        return {_OF: _LIST, _IS: [plain_of(each, made_of) for each in value]}
    if kind is dict:
        pairs = [[plain_of(name, made_of), plain_of(each, made_of)] for name, each in value.items()]
        return {_OF: _DICT, _IS: pairs}
    if kind is Fraction:
        return {_OF: _FRACTION, _IS: [value.numerator, value.denominator]}
    name = f"{kind.__module__}:{kind.__qualname__}" if made_of is None else kind.__name__
    if _named(name, made_of) is not kind:
        raise NotPlain(kind)
    if isinstance(value, Enum):
        return {_OF: name, _IS: value.name}
    found = [plain_of(getattr(value, each), made_of) for each in _fields(kind)]
    return {_OF: name, _IS: found}


def of_plain(plain: Any, made_of: Sequence[type] | None = None) -> Any:
    """The value that :func:`plain_of` made that of; it raises the same."""
    if isinstance(plain, list):
        return tuple([of_plain(each, made_of) for each in plain])
    if not isinstance(plain, dict):
        return plain
    name, inner = plain.get(_OF), plain.get(_IS)
    if name == _FRACTION and isinstance(inner, list) and _is_ratio(inner):
        return Fraction(inner[0], inner[1])
    kind = None if name in (_LIST, _DICT) else _named(name, made_of)
    if kind is not None and issubclass(kind, Enum):
        if not isinstance(inner, str) or inner not in kind.__members__:
            raise NotPlain(inner)
        return kind[inner]
    if not isinstance(inner, list):
        raise NotPlain(name)
    values = [of_plain(each, made_of) for each in inner]
    if name == _LIST:
        return values
    if name == _DICT and all(type(pair) is tuple and len(pair) == 2 for pair in values):
        return dict(values)
    if kind is None or len(values) != len(_fields(kind)):
        raise NotPlain(name)
    return kind(*values)


def _is_ratio(inner: list[Any]) -> bool:
    return list(map(type, inner)) == [int, int] and bool(inner[1])


def _named(name: Any, made_of: Sequence[type] | None) -> type | None:
    """The record or enum of a name; None where there is no such one."""
    if made_of is None:
        return _of_house(name) if isinstance(name, str) else None
    return next((each for each in made_of if each.__name__ == name and _is_record(each)), None)


@cache
def _of_house(name: str) -> type | None:
    module, _, inner = name.partition(":")
    if not module.startswith(_HOUSE):
        return None
    try:
        kind = getattr(import_module(module), inner, None)
    except ImportError:
        return None
    return kind if isinstance(kind, type) and _is_record(kind) else None


def _is_record(kind: type) -> bool:
    return is_dataclass(kind) or issubclass(kind, Enum)


_names: dict[type, tuple[str, ...]] = {}


def _fields(kind: type[Any]) -> tuple[str, ...]:
    """The names of a record's fields, which are looked for once."""
    found = _names.get(kind)
    if found is None:
        found = _names[kind] = tuple(field.name for field in fields(kind))
    return found
