"""Gains against the reference (rule `results.gains`), and their likely ranges."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import fields
from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from whatif.answers.figures import Figures
from whatif.answers.ranks import Range, range_of
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class Gains:
    """Gains in percent; None where a side is missing."""

    saleable: float | None = None
    output: float | None = None
    spindle_hours: float | None = None
    per_paid_hour: float | None = None
    per_floor_area: float | None = None


@dataclass(frozen=True, slots=True)
class Likely:
    """Likely ranges of the gains in percent (rule `likely.range`); None where a side lacks."""

    saleable: Range | None = None
    output: Range | None = None
    spindle_hours: Range | None = None
    per_paid_hour: Range | None = None
    per_floor_area: Range | None = None


KINDS = tuple(field.name for field in fields(Gains))

NO_GAIN = Gains()


def _over(figure: float, base: float | None) -> float | None:
    return figure / base if base else None


_MEASURES: dict[str, Callable[[Figures], float | None]] = {
    "saleable": lambda figures: figures.saleable,
    "output": lambda figures: figures.output,
    "spindle_hours": lambda figures: figures.spindle.total,
    "per_paid_hour": lambda figures: _over(figures.output, figures.people.paid),
    "per_floor_area": lambda figures: _over(figures.spindle.total, figures.floor),
}


def percent(figure: float | None, reference: float | None) -> float | None:
    """Gain in percent; None where a side is missing or the reference has nothing."""
    if figure is None or not reference:
        return None
    return 100 * (figure / reference - 1)


def gains(figures: Figures, reference: Figures) -> Gains:
    """All gains of a scenario against the reference."""
    return Gains(
        **{
            kind: percent(measure(figures), measure(reference))
            for kind, measure in _MEASURES.items()
        }
    )


def likely_of(drawn: Sequence[Gains], halves: Sequence[Gains] = ()) -> Likely:
    """The likely range of each gain over draws, widened to hold those of ``halves``."""
    return Likely(**{kind: _range(kind, drawn, halves) for kind in KINDS})


def _range(kind: str, drawn: Sequence[Gains], halves: Sequence[Gains]) -> Range | None:
    found = [getattr(each, kind) for each in drawn]
    if not found or None in found:
        return None
    low, middle, high = range_of(found)
    ends = [end for each in halves if (end := getattr(each, kind)) is not None]
    return min([low, *ends]), middle, max([high, *ends])


_FLOATS = 0.0005
"""Percent below which a gain is but the rounding of floating-point numbers."""


def is_clear(likely: Range | None) -> bool:
    """Whether a gain's range is there and 0 does not lie within (rule `likely.difference`)."""
    return likely is not None and (likely[0] > _FLOATS or likely[2] < -_FLOATS)


def is_naught(gain: float) -> bool:
    """Whether a gain is 0, but for the rounding of floating-point numbers."""
    return abs(gain) < _FLOATS


def is_nothing(likely: Range) -> bool:
    """Whether a gain is 0 in all but a few draws."""
    return all(map(is_naught, likely))


def is_difference(gain: float | None, likely: Range | None) -> bool:
    """Whether a gain is one that its range makes clear; without a range, any but 0."""
    if gain is None or likely is None:
        return gain is not None and not is_naught(gain)
    return is_clear(likely)


def lies_outside(gain: float | None, likely: Range | None) -> bool:
    """Whether a gain as typed lies outside of its likely range by what can be shown.

    What rounds to the same tenth of a percent as an end is within: "+5.5 .. +9.1, as typed +5.5"
    would say that a number is not itself.
    """
    if gain is None or likely is None:
        return False
    low, typed, high = map(_tenths, (likely[0], gain, likely[2]))
    return not low <= typed <= high


def is_coarse(likely: Range, gain: float | None = None) -> bool:
    """Whether a range is told in whole percents, by itself or beside its gain."""
    shown = [likely[0], likely[2], *([] if gain is None else [gain])]
    return likely[2] - likely[0] >= _WIDE or max(map(abs, shown)) >= LARGE


_WIDE: Final = 3.0
"""Percentage points from which on tenths of a range tell nothing."""

LARGE: Final = 9.95
"""Percent from which on a gain has no tenths: it would read as 10.0."""


def _tenths(percent: float) -> Decimal:
    """As it is shown, halves away from 0."""
    return Decimal(repr(round(percent, 6))).quantize(_TENTH, ROUND_HALF_UP)


_TENTH = Decimal("0.1")
