"""Curves, grids, rankings and break-evens as JSON: plain numbers, no markup."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from whatif.answers.moves.break_even import BreakEven
from whatif.answers.moves.changing import AskedAbout, Outcome
from whatif.answers.moves.inputs import Value
from whatif.answers.moves.sensitivity import Effect, Ranking, Side
from whatif.answers.moves.vary import Curve, Grid, Varied
from whatif.reports.as_json import dumped, money_json
from whatif.telling.moves_sentences import (
    TARGET_UNITS,
    break_even_sentences,
    curve_sentences,
    grid_sentences,
    ranking_sentences,
)
from whatif.telling.problems import what_is_wrong


def curve_json(found: Curve) -> str:
    """One object; ``points`` in the order of the values."""
    return dumped(
        _asked(found.asked)
        | {
            "input": _varied(found.varied),
            "points": [_value(one.value) | _outcome(one.outcome) for one in found.points],
            "stops_paying_at": _at(found, found.knee),
            "demand_met_at": _at(found, found.met),
            "sentences": list(curve_sentences(found)),
        }
    )


def grid_json(found: Grid) -> str:
    """One object; ``rows`` by the values of ``down``, in each one for those of ``across``."""
    return dumped(
        _asked(found.asked)
        | {
            "down": _varied(found.down),
            "across": _varied(found.across),
            "values_down": [_value(one) for one in found.values_down],
            "values_across": [_value(one) for one in found.values_across],
            "rows": [[_outcome(one) for one in row] for row in found.outcomes],
            "sentences": list(grid_sentences(found)),
        }
    )


def ranking_json(found: Ranking) -> str:
    """One object; ``inputs`` with the one that moves most first."""
    return dumped(
        _asked(found.asked)
        | {
            "inputs": [_effect(one) for one in found.effects],
            "assumed_to_be_0": [
                {"label": label, "of": list(ids)} for label, ids in found.assumed_nothing
            ],
            "sentences": list(ranking_sentences(found)),
        }
    )


def break_even_json(found: BreakEven) -> str:
    """One object; ``crossings`` in rising order of the value."""
    return dumped(
        _asked(found.asked)
        | {
            "input": _varied(found.varied),
            "target": asdict(found.target) | {"unit": TARGET_UNITS[found.target.kind]},
            "from": _value(found.low),
            "to": _value(found.high),
            "reached": {None: "in part", True: "always", False: "never"}[found.always],
            "nearest": None if found.nearest is None else _value(found.nearest),
            "crossings": [
                {
                    "reached_at": _value(one.at),
                    "not_at": _value(one.beside),
                    "reached_by": "more" if one.upward else "less",
                    "margin": one.margin,
                    "grain": one.grain,
                }
                for one in found.crossings
            ],
            "values_tried": found.tried,
            "sentences": list(break_even_sentences(found)),
        }
    )


def _asked(asked: AskedAbout) -> dict[str, Any]:
    return {"format": 1, **asdict(asked)}


def _varied(varied: Varied) -> dict[str, Any]:
    return {
        "key": varied.key,
        "label": varied.label,
        "now": None if varied.now is None else _value(varied.now),
        "now_text": varied.now_text,
        "origin": varied.origin,
    }


def _value(value: Value) -> dict[str, Any]:
    return {"value": value.text, "number": value.number, "unit": value.unit}


def _at(found: Curve, place: int | None) -> dict[str, Any] | None:
    return None if place is None else _value(found.points[place].value)


def _outcome(one: Outcome) -> dict[str, Any]:
    return {
        "problem": what_is_wrong(one.problem),
        "gain_percent": asdict(one.gains),
        "grain_percent": asdict(one.grain),
        "saleable_output": one.saleable,
        "spindle_hours": one.spindle_hours,
        "pieces": dict(one.pieces),
        "demand_met_percent": dict(one.demand_met),
        "least_demand_met_percent": one.least_met,
        "money": None if one.money is None else money_json(one.money),
    }


def _effect(one: Effect) -> dict[str, Any]:
    return {
        "key": one.key,
        "label": one.label,
        "now": _value(one.now),
        "origin": one.origin,
        "assumed": one.assumed,
        "largest_change_percent": one.most,
        "less": None if one.down is None else _side(one.down),
        "more": None if one.up is None else _side(one.up),
    }


def _side(side: Side) -> dict[str, Any]:
    return _value(side.value) | {
        "problem": what_is_wrong(side.problem),
        "change_percent": side.change,
        "grain_percent": side.grain,
        "is_difference": side.is_difference,
    }
