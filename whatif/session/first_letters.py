"""With which letters a value of a row may begin: typed there they are the value, no commands."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from whatif.study.schema.catalogue import key_for
from whatif.study.schema.kinds import (
    DAYS,
    Currency,
    Days,
    Moment,
    WeekMoment,
)
from whatif.study.typed import ALL, takes_all, takes_share
from whatif.telling.sheet_cell import ATTENDED

if TYPE_CHECKING:
    from collections.abc import Iterable

    from whatif.study.raw import Path

_UNDO: Final = frozenset("ur")
"""Undo and do again are told behind every change, and lose nothing: they stay what they are."""

_ALPHABET: Final = "abcdefghijklmnopqrstuvwxyz"
_OF_DAYS: Final = ("weekdays", "daily", "all", "everyday", *DAYS)


def first_signs(path: Path) -> frozenset[str]:
    """The signs that begin what is typed over a row's value: a share on or off, and all alike."""
    key = key_for(path)
    if key is None:
        return frozenset("+-" if path == ATTENDED else "")
    share = "+-" if takes_share(key) else ""
    return frozenset(f"{share}{ALL}" if takes_all(key) else share)


def first_letters(path: Path) -> frozenset[str]:
    """The letters, small and capital, that begin a value of a row typed over.

    A title begins with any letter, and so does a currency, but for the two of undo: whoever takes
    back the change of a title stands on it. Words of a list are chosen in it, which Enter opens:
    their rows leave the letters to the commands.
    """
    key = key_for(path)
    if path == ("title",) or (key is not None and isinstance(key.kind, Currency)):
        return frozenset(_ALPHABET + _ALPHABET.upper()) - _UNDO
    if key is None:
        return frozenset()
    kind = key.kind
    words: Iterable[str] = ()
    if isinstance(kind, Days):
        words = (*_OF_DAYS, "none") if kind.may_be_none else _OF_DAYS
    elif isinstance(kind, Moment):
        words = (*DAYS, "any hour")
    elif isinstance(kind, WeekMoment):
        words = (*DAYS, "week")
    small = {word[0] for word in words if word[:1].isalpha()} - _UNDO
    return frozenset({*small, *(letter.upper() for letter in small)})
