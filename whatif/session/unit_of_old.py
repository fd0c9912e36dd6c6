"""A number typed without its unit, over a value that has one."""

from __future__ import annotations

import re

_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_WITH_UNIT = re.compile(r"[\d.,/\s]*\d\s*(?P<unit>[^\d\s./,][^\d\s]*)")
"""One number and one unit: of "1 h 30 min" it cannot be said which one is left out."""


def with_unit(typed: str, now: str) -> str:
    """A bare number in the unit of the value that it replaces: "12" over "14 min" is "12 min".

    What is typed otherwise, and what replaces no such value, stays as it is.
    """
    found = _WITH_UNIT.fullmatch(now.strip())
    bare = typed.strip()
    if found is None or _NUMBER.fullmatch(bare) is None:
        return typed
    return f"{bare} {found['unit']}"
