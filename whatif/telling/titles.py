"""A title that names a number which the scenario's own entered values no longer have."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from whatif.study.schema.catalogue import label_at

if TYPE_CHECKING:
    from whatif.study.raw import Path, Raw
    from whatif.study.resolve import Resolved

_WORDS: Final = (
    *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve"),
)
_PLACES: Final = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
_NUMBERS: Final = {word: at for words in (_WORDS, _PLACES) for at, word in enumerate(words, 1)}
"""What a title may write in the place of digits: "six pallets", "second pallet"."""


def title_told(title: str, here: Resolved, path: Path, before: Raw | None) -> str:
    """That a title still says the count that was just changed, and how to rename it; "" if not.

    It does where the word behind its one number is of the count's own label ("Six pallets each"),
    and no other thing of the sort has that count, of which the title might speak.

    Args:
        here: what holds in the scenario now.
        path: of the count that was changed.
        before: what was entered there.
    """
    after = here.raw(*path)
    if not _is_count(before) or not _is_count(after) or before == after:
        return ""
    if any(here.raw(path[0], id_, *path[2:]) == before for id_ in here.ids(path[0])):
        return ""
    words = re.findall(r"\w+", title.lower())
    numbers = [(at, found) for at, word in enumerate(words) if (found := _number(word)) is not None]
    if len(numbers) != 1 or numbers[0][1] != before:
        return ""
    at = numbers[0][0]
    named = {_singular(word) for word in re.findall(r"\w+", label_at(path).lower())}
    if at + 1 >= len(words) or _singular(words[at + 1]) not in named:
        return ""
    return f"the title still says {words[at]}: e renames it"


def _is_count(raw: Raw | None) -> bool:
    return isinstance(raw, int) and not isinstance(raw, bool)


def _number(word: str) -> int | None:
    return int(word) if word.isdecimal() else _NUMBERS.get(word)


def _singular(word: str) -> str:
    return word.removesuffix("s")
