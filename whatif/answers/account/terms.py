"""Arithmetic that can be read three ways: in words, with its numbers, and as a result.

An account is made of such expressions, so that the formula in words, the line with this study's
numbers and the result cannot drift apart. Write them as ordinary arithmetic on terms::

    100 * (Term("here", 12.0) / Term("there", 10.0) - 1)
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import reduce
from typing import Final

from typing_extensions import override

from whatif.answers.account.origins import CountedIn, Entered, FoundBy, OfStudy, See, Wanted
from whatif.records import dataclass
from whatif.study.resolve import Source
from whatif.units import Dimension, parse

_FIGURES, _DECIMALS = 5, 3
"""Figures and decimals that a printed number has at least, so that its line gives the result."""

_MEASURES: Final = {
    "mm": Dimension.LENGTH,
    "in": Dimension.LENGTH,
    "kg": Dimension.MASS,
    "lb": Dimension.MASS,
    "m²": Dimension.AREA,
    "ft²": Dimension.AREA,
}
"""What an input is that is told in a unit."""


def plain(value: float) -> str:
    """A number as a pencil takes it: five figures and three decimals at least, no last zeros."""
    if abs(value - round(value)) < 1e-9:
        return str(round(value))
    before_point = len(str(int(abs(value)))) if abs(value) >= 1 else 0
    text = (
        f"{value:.{max(_DECIMALS, _FIGURES - before_point)}f}" if before_point else f"{value:.6g}"
    )
    if "e" in text:
        text = f"{value:.12f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


@dataclass(frozen=True, slots=True)
class Expr:
    """Something that has a value; the classes below say how it reads."""

    @property
    def value(self) -> float:
        """What it comes to."""
        raise NotImplementedError

    @property
    def binding(self) -> int:
        """How closely it holds together: 1 for a sum, 2 for a product, 3 for a power, 4 alone."""
        return 4

    def words(self) -> str:
        """The formula in words."""
        return self.told(numbers=False)

    def numbers(self) -> str:
        """The formula with its numbers, as it may be typed into a calculator."""
        return self.told(numbers=True)

    def told(self, *, numbers: bool) -> str:
        """The formula with its numbers, or with what they are."""
        raise NotImplementedError

    def terms(self) -> Iterator[Term]:
        """The terms in it, from left to right."""
        return iter(())

    def __add__(self, other: Expr | float) -> Expr:
        return Joined("+", (self, _expr(other)))

    def __radd__(self, other: float) -> Expr:
        return Joined("+", (Plain(other), self))

    def __sub__(self, other: Expr | float) -> Expr:
        return Joined("-", (self, _expr(other)))

    def __rsub__(self, other: float) -> Expr:
        return Joined("-", (Plain(other), self))

    def __mul__(self, other: Expr | float) -> Expr:
        return Joined("×", (self, _expr(other)))

    def __rmul__(self, other: float) -> Expr:
        return Joined("×", (Plain(other), self))

    def __truediv__(self, other: Expr | float) -> Expr:
        return Joined("/", (self, _expr(other)))

    def __pow__(self, other: Expr | float) -> Expr:
        return Joined("^", (self, _expr(other)))


def _expr(given: Expr | float) -> Expr:
    return given if isinstance(given, Expr) else Plain(given)


@dataclass(frozen=True, slots=True)
class Plain(Expr):
    """A number that is the same in every study, such as the 168 hours of a week."""

    number: float

    @property
    @override
    def value(self) -> float:
        return self.number

    @override
    def told(self, *, numbers: bool) -> str:
        return plain(self.number)


@dataclass(frozen=True, slots=True)
class Term(Expr):
    """A number of this study.

    Attributes:
        typed: as the user typed it, "" where nobody did.
    """

    label: str
    number: float
    unit: str
    origin: Origin
    typed: str = ""

    @property
    @override
    def value(self) -> float:
        return self.number

    @override
    def told(self, *, numbers: bool) -> str:
        if not numbers:
            return self.label
        # A number below 0 stands in brackets, so that no two signs meet.
        text = plain(self.number)
        return f"({text})" if text.startswith("-") else text

    @override
    def terms(self) -> Iterator[Term]:
        yield self

    @property
    def shown(self) -> str:
        """The number with its unit, behind what the user typed where that reads otherwise.

        A length, area or mass that nobody entered is told in the units asked for alone.
        """
        text = f"{plain(self.number)} {self.unit}".rstrip()
        return text if self._is_typed_so(text) else f"{self.typed} = {text}"

    def _is_typed_so(self, text: str) -> bool:
        if self.typed in ("", text):
            return True
        dimension = _MEASURES.get(self.unit)
        if dimension is None:
            return False
        if isinstance(self.origin, Entered) and self.origin.origin.kind is Source.ASSUMED:
            return True
        # The same number of the same unit, however that is spelt.
        is_of_unit = parse(self.typed, dimension).unit == self.unit
        return is_of_unit and self.typed.strip().startswith(plain(self.number))


@dataclass(frozen=True, slots=True)
class Above:
    """The origin of a number that another line of the same account gives."""

    line: Expr


Origin = Entered | OfStudy | CountedIn | Wanted | See | FoundBy | Above

_SIGNS: Final[Mapping[str, tuple[int, Callable[[float, float], float]]]] = {
    "+": (1, operator.add),
    "-": (1, operator.sub),
    "×": (2, operator.mul),
    "/": (2, operator.truediv),
    "^": (3, operator.pow),
    "smaller": (4, min),
    "larger": (4, max),
}
"""How closely each holds together, and what it gives of two numbers."""


@dataclass(frozen=True, slots=True)
class Joined(Expr):
    """Expressions with a sign between them, or the smaller or larger of them.

    Attributes:
        sign: one of ``_SIGNS``.
        said: what they are together in words, "" where each is told.
    """

    sign: str
    items: tuple[Expr, ...]
    said: str = ""

    @property
    @override
    def value(self) -> float:
        values = [item.value for item in self.items]
        return reduce(_SIGNS[self.sign][1], values) if values else 0

    @property
    @override
    def binding(self) -> int:
        if len(self.items) > 1:
            return _SIGNS[self.sign][0]
        return self.items[0].binding if self.items else 4

    @override
    def told(self, *, numbers: bool) -> str:
        if self.said and not numbers:
            return self.said
        if self.sign in ("smaller", "larger"):
            told = ", ".join(item.told(numbers=numbers) for item in self.items)
            return f"the {self.sign} of ({told})"
        texts = [self._bracketed(place, numbers) for place in range(len(self.items))]
        return f" {self.sign} ".join(texts) or "0"

    def _bracketed(self, place: int, numbers: bool) -> str:
        item = self.items[place]
        # What is taken off, divided by or raised to must hold together by itself.
        needed = self.binding + (place > 0 and self.sign in "-/^")
        if self.sign == "^" and place == 0:
            needed = 4
        text = item.told(numbers=numbers)
        return f"({text})" if item.binding < needed else text

    @override
    def terms(self) -> Iterator[Term]:
        for item in self.items:
            yield from item.terms()


def summed(said: str, items: Iterable[Expr]) -> Joined:
    """Expressions of one kind added up; ``said`` is what they are, in words."""
    return Joined("+", tuple(items), said)


def added(each: str, items: Sequence[Expr], over: str) -> Joined:
    """Items of one kind added up over the parts, the shifts, ..."""
    return summed(f"{each}, added up over the {over}" if len(items) > 1 else each, items)


def smaller(*items: Expr | float) -> Joined:
    """The smallest of some."""
    return Joined("smaller", tuple(map(_expr, items)))


def larger(*items: Expr | float) -> Joined:
    """The largest of some."""
    return Joined("larger", tuple(map(_expr, items)))
