"""Frozen records as JSON holds them, and back, where it is known of which classes they are made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

_OF, _IS = "of", "is"
_LIST = "list"


class NotPlain(Exception):
    """Something is made of more than what was said."""


def plain_of(value: Any, made_of: Sequence[type]) -> Any:
    """A value of numbers, texts, tuples, lists and ``made_of``, dataclasses or enums, in JSON.

    Raises:
        NotPlain: there is something else in it.
    """
    if value is None or type(value) in (bool, int, float, str):
        return value
    if type(value) is tuple:
        return [plain_of(each, made_of) for each in value]
    if type(value) is list:
        return {_OF: _LIST, _IS: [plain_of(each, made_of) for each in value]}
    kind = type(value)
    if kind not in made_of:
        raise NotPlain(kind)
    if isinstance(value, Enum):
        return {_OF: kind.__name__, _IS: value.name}
    found = [plain_of(getattr(value, field.name), made_of) for field in fields(value)]
    return {_OF: kind.__name__, _IS: found}


def of_plain(plain: Any, made_of: Sequence[type]) -> Any:
    """The value that :func:`plain_of` made that of; it raises the same."""
    if isinstance(plain, list):
        return tuple(of_plain(each, made_of) for each in plain)
    if not isinstance(plain, dict):
        return plain
    name, inner = plain.get(_OF), plain.get(_IS)
    if name == _LIST and isinstance(inner, list):
        return [of_plain(each, made_of) for each in inner]
    kind = next((each for each in made_of if each.__name__ == name), None)
    if kind is None:
        raise NotPlain(name)
    if issubclass(kind, Enum):
        if not isinstance(inner, str) or inner not in kind.__members__:
            raise NotPlain(inner)
        return kind[inner]
    if not is_dataclass(kind) or not isinstance(inner, list) or len(inner) != len(fields(kind)):
        raise NotPlain(name)
    return kind(*(of_plain(each, made_of) for each in inner))
