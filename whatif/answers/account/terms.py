"""Arithmetic that can be read three ways: in words, with its numbers, and as a result.

An account is made of such expressions, so that the formula in words, the line with this study's
numbers and the result cannot drift apart. Write them as ordinary arithmetic on terms::

    100 * (Term("here", 12.0) / Term("there", 10.0) - 1)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from typing_extensions import override

from whatif.answers.account.origins import CountedIn, Entered, FoundBy, OfStudy, See, Wanted

_FIGURES, _DECIMALS = 5, 3
"""Figures and decimals that a printed number has at least, so that its line gives the result."""


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
        return Two("+", self, _expr(other))

    def __sub__(self, other: Expr | float) -> Expr:
        return Two("-", self, _expr(other))

    def __mul__(self, other: Expr | float) -> Expr:
        return Two("×", self, _expr(other))

    def __truediv__(self, other: Expr | float) -> Expr:
        return Two("/", self, _expr(other))

    def __pow__(self, other: Expr | float) -> Expr:
        return Two("^", self, _expr(other))

    def __rsub__(self, other: float) -> Expr:
        return Two("-", Plain(other), self)

    def __rmul__(self, other: float) -> Expr:
        return Two("×", Plain(other), self)

    def __radd__(self, other: float) -> Expr:
        return Two("+", Plain(other), self)


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
        """The number with its unit, behind what the user typed where that reads otherwise."""
        text = f"{plain(self.number)} {self.unit}".rstrip()
        return text if self.typed in ("", text) else f"{self.typed} = {text}"


@dataclass(frozen=True, slots=True)
class Above:
    """The origin of a number that another line of the same account gives."""

    line: Expr


Origin = Entered | OfStudy | CountedIn | Wanted | See | FoundBy | Above

_BINDING = {"+": 1, "-": 1, "×": 2, "/": 2, "^": 3}


@dataclass(frozen=True, slots=True)
class Two(Expr):
    """Two expressions with a sign between them."""

    sign: str
    left: Expr
    right: Expr

    @property
    @override
    def value(self) -> float:
        left, right = self.left.value, self.right.value
        match self.sign:
            case "+":
                return left + right
            case "-":
                return left - right
            case "×":
                return left * right
            case "/":
                return left / right
        powered: float = left**right
        return powered

    @property
    @override
    def binding(self) -> int:
        return _BINDING[self.sign]

    @override
    def told(self, *, numbers: bool) -> str:
        left, right = self.left.told(numbers=numbers), self.right.told(numbers=numbers)
        # What is taken off, divided by or raised to must hold together by itself.
        strict = self.sign in "-/^"
        if self.left.binding < self.binding or (self.sign == "^" and self.left.binding < 4):
            left = f"({left})"
        if self.right.binding < self.binding + strict:
            right = f"({right})"
        return f"{left} {self.sign} {right}"

    @override
    def terms(self) -> Iterator[Term]:
        yield from self.left.terms()
        yield from self.right.terms()


@dataclass(frozen=True, slots=True)
class Total(Expr):
    """Several expressions of one kind added up; ``said`` is what one of them is, in words."""

    said: str
    items: tuple[Expr, ...]

    @property
    @override
    def value(self) -> float:
        return sum(item.value for item in self.items)

    @property
    @override
    def binding(self) -> int:
        return 1 if len(self.items) > 1 else self.items[0].binding if self.items else 4

    @override
    def told(self, *, numbers: bool) -> str:
        if not numbers:
            return self.said
        return " + ".join(item.numbers() for item in self.items) or "0"

    @override
    def terms(self) -> Iterator[Term]:
        for item in self.items:
            yield from item.terms()


def added(each: str, items: Sequence[Expr], over: str) -> Total:
    """Items of one kind added up over the parts, the shifts, ..."""
    return Total(f"{each}, added up over the {over}" if len(items) > 1 else each, tuple(items))


@dataclass(frozen=True, slots=True)
class Pick(Expr):
    """The smaller or the larger of some."""

    largest: bool
    items: tuple[Expr, ...]

    @property
    @override
    def value(self) -> float:
        return (max if self.largest else min)(item.value for item in self.items)

    @override
    def told(self, *, numbers: bool) -> str:
        texts = ", ".join(item.told(numbers=numbers) for item in self.items)
        return f"the {'larger' if self.largest else 'smaller'} of ({texts})"

    @override
    def terms(self) -> Iterator[Term]:
        for item in self.items:
            yield from item.terms()


def smaller(*items: Expr | float) -> Pick:
    """The smallest of some."""
    return Pick(False, tuple(map(_expr, items)))


def larger(*items: Expr | float) -> Pick:
    """The largest of some."""
    return Pick(True, tuple(map(_expr, items)))
