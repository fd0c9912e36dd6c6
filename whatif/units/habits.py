"""Ways of writing that other places know and this one refuses, each with the cure.

They are looked up only for a text that the grammar has refused already, so they
can be broad without refusing anything that is right.
"""

import re
from dataclasses import dataclass
from typing import Final

from whatif.units.faults import Unread


@dataclass(frozen=True, slots=True)
class _Habit:
    """A pattern, what is wrong with it, and what may stand in its place instead."""

    pattern: re.Pattern[str]
    reason: str
    instead: tuple[str, ...] = ()


def _habit(pattern: str, reason: str, *instead: str) -> _Habit:
    return _Habit(re.compile(pattern, re.IGNORECASE), reason, instead)


_HABITS: Final = (
    _habit(
        r"([0-9]),([0-9]{3})(?![0-9,])",
        "a comma is neither a decimal mark nor a separator",
        r"\1\2",
        r"\1.\2",
    ),
    _habit(r"([0-9]),([0-9])", "the decimal mark is a point, not a comma", r"\1.\2"),
    _habit(r" *[,;] *", "a quantity has no comma or semicolon in it", " "),
    _habit(
        r"(?<![0-9])([0-9]{1,3})[ '’_]([0-9]{3})(?:[ '’_]([0-9]{3}))?(?![0-9/⁄])",
        "the digits of a number stand together, with nothing between them",
        r"\1\2\3",
    ),
    _habit(r"[0-9]:[0-9]", "a colon stands in a time of day only"),
    _habit(
        r"[0-9] *(?:\.\.+|–|—) *[0-9]|[0-9] +- +[0-9]|[0-9]-[0-9]+(?![0-9/⁄])| to ",
        "one value is wanted, no range",
    ),
    _habit(r"[0-9]e[+-]?[0-9]", "a number is written out, without a power of ten"),
    _habit(r"\b0x", "a number is written with the digits 0 to 9, by tens"),
    _habit(r"\*|\^(?!2)", "nothing is calculated in a quantity"),
    _habit(r"[0-9][/⁄][0-9]+[/⁄]", "a fraction has one stroke"),
    _habit(r"[0-9] +[/⁄]|[0-9][/⁄] ", "a fraction has no spaces beside its stroke"),
    _habit(r"[0-9a-z] *[x×] *[0-9]", "each size is a text of its own"),
    _habit(r"[~≈<>≤≥±]|\b(?:about|approx|ca)\b", "one plain value is wanted"),
    _habit(r"^[+-]?(?:nan|inf)", "it has no number in it"),
    _habit(
        r"(?:(?<=[a-z%.²])|(?<=[a-z]2))(?: */ *| +per +| +an? +| +each +)[a-z]+$",
        "nothing is written after the unit",
        "",
    ),
    _habit(
        r"(?<=[a-z'\"%]) *(?:\+|&|\band\b) *(?=[0-9.])",
        "nothing stands between the parts of a quantity",
        " ",
    ),
    _habit(r"[0-9] +[0-9]+(?![0-9/⁄])", "more than one number stands before a unit"),
    _habit(r"[0-9]\.[0-9]*\.", "a number has one decimal point"),
)


def habit_in(line: str) -> Unread | None:
    """The first known habit in a refused text, as a fault with its cures, or None."""
    for habit in _HABITS:
        if habit.pattern.search(line):
            cures = tuple(habit.pattern.sub(text, line).strip() for text in habit.instead)
            return Unread(habit.reason, cures)
    return None
