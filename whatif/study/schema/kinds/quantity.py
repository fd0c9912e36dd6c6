"""Kinds with a unit: times, lengths, masses, areas and percentages."""

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import chain
from typing import Any, ClassVar, Final

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.raw import Raw, kind_of
from whatif.study.schema.kinds.kind import Kind, KindError
from whatif.study.schema.kinds.plain import HIGHEST, number_written
from whatif.units import Dimension, Quantity, UnitsError, parse, show, with_unit_of

# "900 x 500 mm" and "900 mm x 500 mm": an x counts where a number follows.
_BETWEEN: Final = r"\s*[xX×]\s*(?=[\d.½¼¾⅓⅔⅛⅜⅝⅞])|\s*;\s*|,\s+"
_BARE: Final = r"[\d\s./½¼¾⅓⅔⅛⅜⅝⅞-]+"
_TURNED: Final = (Dimension.LENGTH, Dimension.MASS, Dimension.AREA)
"""What has other units in inch than in metric."""
_LAST_UNIT: Final = r"[\d\s./½¼¾⅓⅔⅛⅜⅝⅞-]+(?P<unit>[^\d]+)"


_USUAL: Final[dict[tuple[Dimension, str], str]] = {
    (Dimension.LENGTH, "metric"): "1 mm",
    (Dimension.LENGTH, "inch"): "1 in",
    (Dimension.MASS, "metric"): "1 kg",
    (Dimension.MASS, "inch"): "1 lb",
    (Dimension.AREA, "metric"): "1 m²",
    (Dimension.AREA, "inch"): "1 ft²",
}
"""What a bare number is where nothing stands that could tell its unit."""


def usual_text(dimension: Dimension, units: str) -> str:
    """A text of a dimension in the unit that is usual in a "metric" or an "inch" study."""
    return _USUAL.get((dimension, units), dimension.example)


class _WithUnit:
    """A kind whose values have a unit, told with texts that stand for it."""

    examples: ClassVar[tuple[str, ...]]

    def such_as(self, examples: Sequence[str]) -> str:
        """What may stand in the file, in words, with so many examples."""
        raise NotImplementedError

    @property
    def allowed(self) -> str:
        """The same with the examples of the kind."""
        return self.such_as(self.examples)


def _quoted(texts: Sequence[str]) -> str:
    return " or ".join(f'"{text}"' for text in texts)


class _Measured(_WithUnit, Kind[Quantity]):
    """A quantity of one dimension, 0 or more."""

    dimension: ClassVar[Dimension]
    numeric: ClassVar[bool] = True

    @override
    def _read(self, raw: Raw) -> Quantity:
        quantity = _not_negative(self, raw, self.dimension)
        self._check(quantity)
        return quantity

    def _check(self, quantity: Quantity) -> None:
        """Raises `KindError` where the kind's own range is left."""

    @override
    def typed_over(self, text: str, standing: Iterable[str], units: str) -> Raw:
        usual = usual_text(self.dimension, units)
        return self.typed(with_unit_of(text, self.dimension, chain(standing, (usual,))))

    @override
    def in_units(self, raw: Raw, units: str) -> str | None:
        if self.dimension not in _TURNED:
            return None
        try:
            return show(self.read(raw).value, self.dimension, units)
        except KindError:
            return None


def measured(kind: Kind[Any], raw: Raw, dimension: Dimension) -> Quantity:
    """`raw` as a quantity, the fault in the words of `kind`."""
    if not isinstance(raw, str):
        raise _refused(kind, f"it is {kind_of(raw)}", _with_units(raw, dimension))
    try:
        return parse(raw, dimension)
    except UnitsError as fault:
        # The place that tells the problem shows the value already.
        raise _refused(kind, fault.reason, fault.instead) from None


def _refused(kind: Kind[Any], why: str, instead: Sequence[str]) -> KindError:
    """The error with what may have been meant in place of the examples of the kind."""
    meant = [text for text in instead if text[0] not in "-\u2212"]
    if meant and isinstance(kind, _WithUnit):
        return KindError(why, kind.such_as(meant))
    return kind.refuse(why)


def _with_units(raw: Raw, dimension: Dimension) -> Sequence[str]:
    """A bare number with the usual units behind it."""
    is_small = isinstance(raw, int) and raw < HIGHEST
    digits = number_written(raw) if is_small or isinstance(raw, Decimal) else None
    try:
        parse(digits or "", dimension)
    except UnitsError as fault:
        return fault.instead
    return ()


def _not_negative(kind: Kind[Any], raw: Raw, dimension: Dimension) -> Quantity:
    quantity = measured(kind, raw, dimension)
    if quantity.value < 0:
        raise kind.refuse("it is below 0")
    return quantity


@dataclass(frozen=True)
class Time(_Measured):
    """A time; `above_zero` asks for a whole second at least.

    `zero_takes_out`: exactly 0 is a time all the same, and takes the thing out.
    """

    above_zero: bool = False
    high_seconds: int | None = None
    zero_takes_out: bool = False
    dimension: ClassVar[Dimension] = Dimension.TIME
    examples: ClassVar[tuple[str, ...]] = ("12 min",)

    @override
    def such_as(self, examples: Sequence[str]) -> str:
        words = f"a time with its unit, such as {_quoted(examples)}"
        if self.high_seconds is not None:
            words += f", from 0 h to {self.high_seconds // 3600} h"
        elif self.above_zero:
            words += ", that is not 0 s when rounded to whole seconds"
        return f'{words} ("0 h" removes it)' if self.zero_takes_out else words

    @override
    def _read(self, raw: Raw) -> Quantity:
        if self.zero_takes_out and raw == 0 and isinstance(raw, int) and raw is not False:
            return Quantity("0 h", Dimension.TIME, Fraction(0))
        return super()._read(raw)

    @override
    def _check(self, quantity: Quantity) -> None:
        taken_out = self.zero_takes_out and quantity.value == 0
        if self.above_zero and quantity.seconds == 0 and not taken_out:
            raise self.refuse("it is 0 s when rounded to whole seconds")
        if self.high_seconds is not None and quantity.value > self.high_seconds:
            raise self.refuse("it is too long")


class TimeInHours(Time):
    """A time that is told in hours: a bare number is one of them."""

    examples: ClassVar[tuple[str, ...]] = ("12 h",)

    @override
    def typed_over(self, text: str, standing: Iterable[str], units: str) -> Raw:
        return self.typed(with_unit_of(text, Dimension.TIME, chain(standing, self.examples)))


@dataclass(frozen=True)
class TimeOr(_WithUnit, Kind[Quantity | str]):
    """A time, or a word in its place."""

    word: str
    numeric: ClassVar[bool] = True
    dimension: ClassVar[Dimension] = Dimension.TIME
    examples: ClassVar[tuple[str, ...]] = ("5 h",)

    @override
    def such_as(self, examples: Sequence[str]) -> str:
        return f'a time with its unit, such as {_quoted(examples)}, or "{self.word}"'

    @override
    def _read(self, raw: Raw) -> Quantity | str:
        if raw == self.word:
            return self.word
        return _not_negative(self, raw, Dimension.TIME)

    @override
    def typed(self, text: str) -> Raw:
        same = " ".join(text.lower().split()) == self.word
        return self.word if same else text.strip()

    @override
    def typed_over(self, text: str, standing: Iterable[str], units: str) -> Raw:
        return self.typed(with_unit_of(text, Dimension.TIME, chain(standing, self.examples)))


@dataclass(frozen=True)
class _Sized(_Measured):
    """A measure, kept exact; `above_zero` where 0 is none."""

    above_zero: bool = False

    @override
    def such_as(self, examples: Sequence[str]) -> str:
        words = f"{self.dimension.a_noun} with its unit, such as {_quoted(examples)}"
        return f"{words}, above 0" if self.above_zero else words

    @override
    def _check(self, quantity: Quantity) -> None:
        if self.above_zero and quantity.value == 0:
            raise self.refuse("it is 0")


class Length(_Sized):
    """A length."""

    dimension: ClassVar[Dimension] = Dimension.LENGTH
    examples: ClassVar[tuple[str, ...]] = ("500 mm", "27 in")


class Mass(_Sized):
    """A mass."""

    dimension: ClassVar[Dimension] = Dimension.MASS
    examples: ClassVar[tuple[str, ...]] = ("18 kg", "40 lb")


class Area(_Sized):
    """A piece of floor."""

    dimension: ClassVar[Dimension] = Dimension.AREA
    examples: ClassVar[tuple[str, ...]] = ("12 m²", "130 ft²")


@dataclass(frozen=True)
class Lengths(Kind[tuple[Quantity, ...]]):
    """Lengths above 0, each side by its name: the sides of a table, the sizes of a part."""

    sides: tuple[str, ...]

    def __init__(self, *sides: str) -> None:
        object.__setattr__(self, "sides", sides)

    @property
    def _examples(self) -> list[str]:
        return [f"{side} mm" for side in (900, 500, 60)[: len(self.sides)]]

    @property
    @override
    def allowed(self) -> str:
        examples = ", ".join(f'"{side}"' for side in self._examples)
        return f"a list of {len(self.sides)} lengths above 0, such as [{examples}]"

    @property
    @override
    def typed_as(self) -> str:
        return f"{len(self.sides)} lengths above 0, such as {' x '.join(self._examples)}"

    @override
    def _read(self, raw: Raw) -> tuple[Quantity, ...]:
        sides = self.must_be(tuple, raw, "a list")
        if len(sides) != len(self.sides):
            are = "is only 1" if len(sides) == 1 else f"are {len(sides)}"
            raise self.refuse(f"there {are} in it")
        lengths = tuple(measured(self, side, Dimension.LENGTH) for side in sides)
        for length in lengths:
            if length.value <= 0:
                raise self.refuse(f"{length.text} is not above 0")
        return lengths

    @override
    def typed(self, text: str) -> Raw:
        """ "900 x 500 mm" is ("900 mm", "500 mm")."""
        sides = re.split(_BETWEEN, text.strip())
        unit = re.fullmatch(_LAST_UNIT, sides[-1])
        if unit is not None and unit["unit"].strip():
            sides = [f"{side.strip()} {unit['unit'].strip()}" if re.fullmatch(_BARE, side) else side
                     for side in sides]  # fmt: skip
        return tuple(side.strip() for side in sides) if text.strip() else ""

    @override
    def typed_over(self, text: str, standing: Iterable[str], units: str) -> Raw:
        sides = self.typed(text)
        if not isinstance(sides, tuple):
            return sides
        others = [side for other in standing for side in re.split(_BETWEEN, other.strip())]
        others.append(usual_text(Dimension.LENGTH, units))
        return tuple(with_unit_of(str(side), Dimension.LENGTH, others) for side in sides)

    @override
    def written(self, raw: Raw) -> str:
        return self.listed(raw, " x ")

    @override
    def in_units(self, raw: Raw, units: str) -> str | None:
        try:
            sides = self.read(raw)
        except KindError:
            return None
        return " x ".join(show(side.value, Dimension.LENGTH, units) for side in sides)


@dataclass(frozen=True)
class Percent(_Measured):
    """A percentage; its typed value is the share of one."""

    high: int | None = 100
    dimension: ClassVar[Dimension] = Dimension.PERCENT
    examples: ClassVar[tuple[str, ...]] = ("8 %",)

    @override
    def such_as(self, examples: Sequence[str]) -> str:
        upto = "or more" if self.high is None else f"to {self.high} %"
        return f"a percentage with its sign, such as {_quoted(examples)}, from 0 % {upto}"

    @override
    def _check(self, quantity: Quantity) -> None:
        if self.high is not None and quantity.value * 100 > self.high:
            raise self.refuse("it is too large")
