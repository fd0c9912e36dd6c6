"""A quantity as a user wrote it, with its exact value beside it."""

import re
import unicodedata
from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from whatif.records import dataclass
from whatif.units.dimension import Dimension, UnitsError, Unread
from whatif.units.reader import is_bare, leading_unit, units_of, value_of
from whatif.units.refused import habit_in

LONGEST_TEXT: Final = 60
# Programs write their numbers with up to 17 digits that count, and zeros before them.
LONGEST_DIGITS: Final = 24


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity: the user's text, byte for byte, and what it is worth.

    `value` is exact, in the base unit of `dimension`: seconds (not yet rounded),
    millimetres, kilograms, square metres, or the share of one for a percentage.
    """

    text: str
    dimension: Dimension
    value: Fraction

    @property
    def seconds(self) -> int:
        """A time in whole seconds, halves up (rule `study.values`)."""
        if self.dimension is not Dimension.TIME:
            raise TypeError(f"{self.text!r} is {self.dimension.a_noun} and has no seconds")
        exact = self.value
        return (2 * exact.numerator + exact.denominator) // (2 * exact.denominator)

    @property
    def unit(self) -> str:
        """The symbol of the smallest unit in the text: "min" for "1 h 30 min"."""
        return units_of(_line(self.text), self.dimension)[-1].symbol

    def __str__(self) -> str:
        return self.text


def parse(text: str, dimension: Dimension) -> Quantity:
    """Read `text` as a quantity of the wanted kind; raises `UnitsError`."""
    try:
        line = _line(text)
        return Quantity(text, dimension, _value(line, dimension))
    except Unread as fault:
        fixes = tuple(fix for fix in dict.fromkeys(fault.fixes) if _reads(fix, dimension))
        instead = fixes or ((fault.example,) if fault.example else ())
        cure = _cure(dimension, fault, fixes)
        raise UnitsError(_short(text), fault.reason, cure, instead) from None


def with_unit_of(text: str, dimension: Dimension, others: Iterable[str]) -> str:
    """A bare number with the largest unit of the first of `others` that has one.

    Over "1 h 20 min" who types 1.5 means 1.5 h. What is typed with a unit stays as it is.
    """
    number = text.strip()
    if not is_bare(number):
        return text
    for other in others:
        try:
            return f"{number} {leading_unit(_line(other), dimension)}"
        except Unread:
            continue
    return text


def _value(line: str, dimension: Dimension) -> Fraction:
    try:
        return value_of(line, dimension)
    except Unread as fault:
        raise habit_in(line) or fault from None


def _line(text: str) -> str:
    """`text` with plain spaces, none at its ends; refuses what need not be looked into."""
    if len(text) > LONGEST_TEXT:
        raise Unread(f"it is longer than {LONGEST_TEXT} characters")
    for character in text:
        if character.isdecimal() and not character.isascii():
            raise Unread("numbers are written with the digits 0 to 9")
        if character in "\n\r":
            raise Unread("it goes over more than one line")
        if not character.isprintable() and not _is_space(character):
            raise Unread(f"it has a hidden character in it (U+{ord(character):04X})")
    line = "".join(" " if _is_space(character) else character for character in text).strip()
    if not line:
        raise Unread("there is nothing in it")
    if re.search(rf"[0-9]{{{LONGEST_DIGITS + 1}}}", line):
        raise Unread(f"a number has more than {LONGEST_DIGITS} digits")
    return line


def _is_space(character: str) -> bool:
    return character == "\t" or unicodedata.category(character) == "Zs"


def _cure(dimension: Dimension, fault: Unread, fixes: tuple[str, ...]) -> str:
    if fixes:
        return "write " + " or ".join(f'"{fix}"' for fix in fixes)
    example = fault.example or dimension.example
    return f'write {dimension.a_noun} with its unit, such as "{example}"'


def _reads(text: str, dimension: Dimension) -> bool:
    try:
        value_of(_line(text), dimension)
    except Unread:
        return False
    return True


def _short(text: str) -> str:
    return printable(text if len(text) <= LONGEST_TEXT else text[: LONGEST_TEXT - 3] + "...")


def printable(text: str) -> str:
    """A text with its hidden characters spelt out, so that a terminal may show it."""
    return "".join(
        character if character.isprintable() else f"\\u{ord(character):04x}" for character in text
    )
