"""Curves, break-evens, rankings and tables of two inputs in "metric" or "inch" units.

They stand as typed in any other word.
"""

from __future__ import annotations

from dataclasses import replace

from whatif.answers.moves.break_even import BreakEven
from whatif.answers.moves.inputs import Value
from whatif.answers.moves.sensitivity import Effect, Ranking, Side
from whatif.answers.moves.vary import Curve, Grid


def curve_in(found: Curve, units: str) -> Curve:
    """A curve in the units; what is taken from it into the study stays as typed."""
    varied = found.varied
    points = tuple(
        replace(point, value=varied.value_told_in(point.value, units)) for point in found.points
    )
    return replace(found, varied=varied.told_in(units), points=points)


def level_in(found: BreakEven | None, units: str) -> BreakEven | None:
    """A break-even in the units."""
    if found is None:
        return None
    varied = found.varied

    def told(value: Value) -> Value:
        return varied.value_told_in(value, units)

    return replace(
        found,
        varied=varied.told_in(units),
        low=told(found.low),
        high=told(found.high),
        nearest=None if found.nearest is None else told(found.nearest),
        in_doubt=None if found.in_doubt is None else told(found.in_doubt),
        crossings=tuple(
            replace(
                crossing,
                at=told(crossing.at),
                beside=told(crossing.beside),
                below=crossing.below and told(crossing.below),
                above=crossing.above and told(crossing.above),
            )
            for crossing in found.crossings
        ),
    )


def ranking_in(found: Ranking, units: str) -> Ranking:
    """A ranking in the units."""

    def told(side: Side | None, effect: Effect) -> Side | None:
        return side and replace(side, value=effect.input.value_told_in(side.value, units))

    return replace(
        found,
        effects=tuple(
            replace(
                effect,
                input=effect.input.told_in(units),
                down=told(effect.down, effect),
                up=told(effect.up, effect),
            )
            for effect in found.effects
        ),
    )


def grid_in(found: Grid, units: str) -> Grid:
    """A table of two inputs in the units."""
    return replace(
        found,
        down=found.down.told_in(units),
        across=found.across.told_in(units),
        values_down=tuple(found.down.value_told_in(each, units) for each in found.values_down),
        values_across=tuple(
            found.across.value_told_in(each, units) for each in found.values_across
        ),
    )
