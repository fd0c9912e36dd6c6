"""Gains against the reference (rule `results.gains`), each with its grain."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields

from whatif.answers.figures import Figures


@dataclass(frozen=True, slots=True)
class Gains:
    """Gains in percent, or their grains in percentage points; None where a side is missing."""

    saleable: float | None = None
    output: float | None = None
    spindle_hours: float | None = None
    per_paid_hour: float | None = None
    per_floor_area: float | None = None


Range = tuple[float, float, float]
"""The 10th, 50th and 90th percentile of draws (rule `likely.draw`)."""


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


def grain_of(gain: Gains, nudged: Sequence[Gains]) -> Gains:
    """The widest change of each gain among the nudged pairs, in points (rule `likely.range`)."""
    return Gains(**{kind: _widest(kind, gain, nudged) for kind in KINDS})


def _widest(kind: str, gain: Gains, nudged: Sequence[Gains]) -> float | None:
    base = getattr(gain, kind)
    others = [getattr(other, kind) for other in nudged]
    if base is None:
        return None
    return max((abs(other - base) for other in others if other is not None), default=0.0)


_FLOATS = 0.0005
"""Percent below which a gain is but the rounding of floating-point numbers."""


def is_difference(gain: float | None, grain: float | None) -> bool:
    """Whether a gain is not smaller than its grain (rule `likely.difference`)."""
    return gain is not None and abs(gain) >= _FLOATS and (grain is None or abs(gain) >= grain)


def is_clear(likely: Range | None) -> bool:
    """Whether a gain's range is there and 0 does not lie within (rule `likely.difference`)."""
    return likely is not None and (likely[0] > _FLOATS or likely[2] < -_FLOATS)
