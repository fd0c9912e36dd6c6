"""Ranges of values as they are typed: "1..8", "5 min..15 min..1 min" (FROM..TO[..STEP])."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from whatif.answers.moves.inputs import Input
from whatif.answers.moves.refused import Unanswerable
from whatif.units import is_exact

MOST_VALUES = 200
"""Values beyond which a range is refused: nobody reads so long a table."""

_BY_ONE = 20
"""Counts go by one as long as that makes at most so many steps."""

_STEPS = 10
"""About how many steps a range has whose step is not typed."""


def read_range(input_: Input, text: str) -> tuple[Input, tuple[str, ...]]:
    """The input in the unit that was typed, and the texts of the values in the range.

    TO is among them unless a step was typed that passes it over. A number without a unit has that
    of TO, or of FROM. Whether the values are allowed is not looked at. Raises
    :class:`Unanswerable`.
    """
    ends = _parts(text)
    input_, low, high = _ends(input_, ends, text)
    if len(ends) == 2:
        return input_, tuple(input_.write(each) for each in _about_ten(input_, low, high))
    step = _amount(input_, _with_unit(input_, ends[2], ends[1], ends[0]))
    if step <= 0:
        raise Unanswerable("step not above 0", text)
    if input_.whole and step.denominator != 1:
        raise Unanswerable("step not whole", text, input_.label)
    many = floor((high - low) / step) + 1
    if many > MOST_VALUES:
        raise Unanswerable("too many values", text, str(many), str(MOST_VALUES))
    values = [low + place * step for place in range(many)]
    if input_.unit and not all(is_exact(each, input_.unit) for each in values):
        # "1 h..2 h..10 min" is in minutes, since its steps are.
        input_ = input_.in_unit_of(_with_unit(input_, ends[2], ends[1], ends[0]))
    return input_, tuple(input_.write(each) for each in values)


def read_ends(input_: Input, text: str) -> tuple[Input, Fraction, Fraction]:
    """The input in the unit that was typed, and FROM and TO in base units."""
    ends = _parts(text)
    if len(ends) == 3:
        raise Unanswerable("no step wanted", text)
    return _ends(input_, ends, text)


def _parts(text: str) -> list[str]:
    ends = [each.strip() for each in text.split("..")]
    if len(ends) not in (2, 3) or not all(ends):
        raise Unanswerable("no range", text)
    return ends


def _ends(input_: Input, ends: list[str], text: str) -> tuple[Input, Fraction, Fraction]:
    begin = _with_unit(input_, ends[0], ends[1])
    end = _with_unit(input_, ends[1], ends[0])
    low, high = _amount(input_, begin), _amount(input_, end)
    input_ = input_.in_unit_of(begin)
    if low > high:
        raise Unanswerable("goes down", text, end, begin)
    if low == high:
        raise Unanswerable("one value", text)
    if input_.whole and (low.denominator, high.denominator) != (1, 1):
        raise Unanswerable("not whole", text, input_.label)
    return input_, low, high


def _with_unit(input_: Input, text: str, *others: str) -> str:
    """The text, with the unit of another end where it has none: the 5 of "5..15 min"."""
    if not input_.unit or not text.replace(".", "", 1).isdigit():
        return text
    for other in others:
        if input_.read(other) is not None:
            return f"{text} {input_.in_unit_of(other).unit}"
    return text


def _amount(input_: Input, text: str) -> Fraction:
    input_.value(text)
    amount = input_.read(text)
    assert amount is not None  # or the value would have been refused
    return amount


def _about_ten(input_: Input, low: Fraction, high: Fraction) -> list[Fraction]:
    """From low to high by a round step of the unit, high included."""
    span = high - low
    if input_.whole and span <= _BY_ONE:
        step = Fraction(1)
    else:
        step = input_.worth * _round_step(span / input_.worth / _STEPS)
        step = Fraction(ceil(step)) if input_.whole else step
    values = [low + place * step for place in range(ceil(span / step))]
    return [*values, high]


def _round_step(about: Fraction) -> Fraction:
    """The smallest of 1, 2 and 5 times a power of ten that is not below ``about``."""
    power = Fraction(1)
    while power > about:
        power /= 10
    while power * 10 <= about:
        power *= 10
    return next(power * times for times in (1, 2, 5, 10) if power * times >= about)
