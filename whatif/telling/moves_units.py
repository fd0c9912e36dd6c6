"""What moves a scenario, told in other units than those that were typed.

Only texts and numbers for reading are turned: what is tried or taken into the study stays as typed.
"""

from __future__ import annotations

from dataclasses import replace

from whatif.answers.moves.break_even import BreakEven
from whatif.answers.moves.inputs import Input, Value
from whatif.answers.moves.sensitivity import Effect, Ranking, Side
from whatif.answers.moves.vary import Curve, Grid, Varied
from whatif.study.schema.catalogue import Key, key_for
from whatif.units import in_unit, parse


def now_in(input_: Input, units: str) -> str:
    """What holds now of an input, in the units; as it was typed where it has none of them."""
    return _text(input_.key, input_.now_text, units)


def curve_in(found: Curve, units: str) -> Curve:
    """A curve in "metric" or "inch" units; as it is in any other word, or where it has none."""
    key = _key(found.varied.key)
    points = tuple(replace(point, value=_value(key, point.value, units)) for point in found.points)
    return replace(
        found,
        varied=_varied(found.varied, units),
        points=points,
    )


def level_in(found: BreakEven | None, units: str) -> BreakEven | None:
    """A break-even in the units."""
    if found is None:
        return None
    key = _key(found.varied.key)
    return replace(
        found,
        varied=_varied(found.varied, units),
        low=_value(key, found.low, units),
        high=_value(key, found.high, units),
        nearest=None if found.nearest is None else _value(key, found.nearest, units),
        crossings=tuple(
            replace(
                crossing,
                at=_value(key, crossing.at, units),
                beside=_value(key, crossing.beside, units),
            )
            for crossing in found.crossings
        ),
    )


def ranking_in(found: Ranking, units: str) -> Ranking:
    """A ranking in the units."""
    return replace(found, effects=tuple(_effect(effect, units) for effect in found.effects))


def grid_in(found: Grid, units: str) -> Grid:
    """A table of two inputs in the units."""
    values = []
    for varied, typed in ((found.down, found.values_down), (found.across, found.values_across)):
        key = _key(varied.key)
        values.append(tuple(_value(key, value, units) for value in typed))
    return replace(
        found,
        down=_varied(found.down, units),
        across=_varied(found.across, units),
        values_down=values[0],
        values_across=values[1],
    )


def _effect(effect: Effect, units: str) -> Effect:
    key = _key(effect.key)

    def side(typed: Side | None) -> Side | None:
        return None if typed is None else replace(typed, value=_value(key, typed.value, units))

    now = _value(key, effect.now, units)
    return replace(effect, now=now, down=side(effect.down), up=side(effect.up))


def _varied(varied: Varied, units: str) -> Varied:
    key = _key(varied.key)
    now = None if varied.now is None else _value(key, varied.now, units)
    return replace(varied, now=now, now_text=_text(key, varied.now_text, units))


def _key(written: str) -> Key | None:
    return key_for(tuple(written.split(".")))


def _text(key: Key | None, text: str, units: str) -> str:
    turned = None if key is None else _turned(key, text, units)
    return text if turned is None else turned


def _value(key: Key | None, value: Value, units: str) -> Value:
    turned = None if key is None else _turned(key, value.text, units)
    if turned is None or key is None or key.kind.dimension is None:
        return value
    amount = parse(turned, key.kind.dimension)
    return Value(turned, float(in_unit(amount.value, amount.unit)), amount.unit)


def _turned(key: Key, text: str, units: str) -> str | None:
    if units not in ("metric", "inch") or not text:
        return None
    return key.kind.in_units(key.kind.typed(text), units)
