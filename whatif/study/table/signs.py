"""Decimal and thousands signs: what a number in a cell is, where that is certain."""

import re
from collections.abc import Iterable
from enum import Enum
from typing import Final


class DecimalSign(Enum):
    """What stands before the decimals in a table."""

    POINT = "."
    COMMA = ","


_WITH_SIGNS: Final = re.compile(r"\d+(?:[.,]\d+)+")
_BY_BLANKS: Final = re.compile(r"(?<![\d.,/])\d{1,3}(?:[ '’]\d{3})+(?![\d/])")
_BY_SIGNS: Final = re.compile(r"[1-9]\d{0,2}(?:,\d{3})+|[1-9]\d{0,2}(?:\.\d{3})+")
_EITHER: Final = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")


class ReadsTwoWays(ValueError):
    """A number that may be so many thousands or have decimals; `readings` are both."""

    def __init__(self, readings: tuple[str, str]) -> None:
        super().__init__(readings)
        self.readings = readings


def sign_in(cells: Iterable[str]) -> DecimalSign | None:
    """The decimal sign that the numbers of a table show; None where none do, or some each."""
    shown = {sign for cell in cells for each in _WITH_SIGNS.findall(cell) if (sign := _shown(each))}
    return shown.pop() if len(shown) == 1 else None


def _shown(number: str) -> DecimalSign | None:
    """The decimal sign of a number that can be read in one way; None where it has none."""
    if _EITHER.fullmatch(number) or _BY_SIGNS.fullmatch(number):
        return None
    last = max(".,", key=number.rfind)
    return DecimalSign(last) if number.count(last) == 1 else None


def plain_numbers(cell: str, sign: DecimalSign | None) -> str:
    """A cell with its numbers in the digits and the point that our own grammar has.

    Raises `ReadsTwoWays` where `sign` has to be known to read one, and is not.
    """
    joined = _BY_BLANKS.sub(lambda found: re.sub(r"\D", "", found[0]), cell)
    return _WITH_SIGNS.sub(lambda found: _plain(found[0], sign), joined)


def _plain(number: str, sign: DecimalSign | None) -> str:
    if _EITHER.fullmatch(number):
        thousands, decimals = re.sub("[.,]", "", number), number.replace(",", ".")
        if sign is None:
            raise ReadsTwoWays((decimals, thousands))
        return decimals if sign.value in number else thousands
    if _BY_SIGNS.fullmatch(number):
        return re.sub("[.,]", "", number)
    whole, last, decimals = number.rpartition(max(".,", key=number.rfind))
    others = set(re.findall("[.,]", whole))
    # "1,234.5" has thousands; what has two decimal signs, or odd groups, is left for its parser.
    if not others:
        return f"{whole}.{decimals}"
    if others == {last} or not _BY_SIGNS.fullmatch(whole):
        return number
    return f"{re.sub('[.,]', '', whole)}.{decimals}"


def has_decimals(cells: Iterable[str]) -> bool:
    """Whether some number of a column shows by itself that it has decimals."""
    return any(_shown(each) for cell in cells for each in _WITH_SIGNS.findall(cell))


def may_be_thousands(cell: str, sign: DecimalSign | None, *, among_decimals: bool) -> bool:
    """Whether a cell has a number that is read with decimals, and looks like so many thousands.

    Three decimals of which the last is 0 nobody writes, and where no other number of the column
    has decimals it would be the only one.
    """
    return sign is not None and any(
        _EITHER.fullmatch(each) and sign.value in each and not (among_decimals and each[-1] != "0")
        for each in _WITH_SIGNS.findall(cell)
    )
