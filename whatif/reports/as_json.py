"""The comparison as one JSON object (rule `json.compare`): plain numbers, no markup."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from whatif.answers.compare import Answer, Comparison
from whatif.answers.figures import Figures
from whatif.answers.indicators import indicators
from whatif.answers.money.money import MoneyFigures
from whatif.answers.orders.rush import AnyHour, RushArrival
from whatif.cell.fit.fit import Fit
from whatif.telling.cautions import caution_text
from whatif.telling.limits import limit_text
from whatif.telling.on_table import limits_told
from whatif.telling.warnings import warnings_of


def to_json(found: Comparison) -> str:
    """The whole comparison, indented for reading, numbers to six decimals."""
    whole = {
        "format": 1,
        "title": found.title,
        "reference": found.reference,
        "scenarios": {id_: _scenario(answer, found.units) for id_, answer in found.answers.items()},
    }
    return dumped(whole)


def dumped(whole: Any) -> str:
    """Any plain object as JSON, indented for reading, numbers to six decimals."""
    return json.dumps(_to_six_decimals(whole), indent=2, ensure_ascii=False, allow_nan=False)


def _scenario(answer: Answer, units: str) -> dict[str, Any]:
    """See rule `json.scenario`."""
    plan, figures = answer.plan, answer.figures
    return {
        "title": plan.title,
        "parent": plan.parent,
        "warnings": list(warnings_of(answer)),
        "cautions": [caution_text(one) for one in answer.cautions],
        "claimed": None
        if answer.claimed is None
        else {
            "hours_per_day": answer.claimed.hours_per_day,
            "gain_percent": answer.claimed.gain,
        },
        "hour_meters": None
        if plan.meters is None
        else {
            "utilization_percent": 100 * float(plan.meters.measured) if plan.meters.own else None,
            "gain_range_percent": None if answer.gain_range is None else list(answer.gain_range),
        },
        "simulated": None if figures is None else _simulated(figures),
        "indicators_percent": None
        if figures is None
        else {key: one.percent for key, one in indicators(plan, figures).items()},
        "band": None if answer.band is None else list(answer.band),
        "gain_percent": asdict(answer.gains),
        "grain_percent": None if answer.grain is None else asdict(answer.grain),
        "limit": limit_text(answer.held_back),
        "fit": {
            part: {group: _fit(fit, part, group, units) for group, fit in by_group.items()}
            for part, by_group in plan.fits.items()
        },
        "money": None if answer.money is None else money_json(answer.money),
        "rush": {id_: _rush(one) for id_, one in answer.rush.items()},
        "orders": {
            id_: {
                "first_off": one.first_off,
                "last_off": one.last_off,
                "late_hours": one.late_hours,
            }
            for id_, one in answer.orders.items()
        },
    }


def _simulated(figures: Figures) -> dict[str, Any]:
    """See rule `json.simulated`."""
    return {
        "weeks": figures.weeks,
        "spindle_hours": asdict(figures.spindle),
        "hours_by_state": dict(figures.by_state),
        "pieces": dict(figures.pieces),
        "demand_met_percent": dict(figures.demand_met),
        "people_hours": asdict(figures.people),
        "utilization_percent": asdict(figures.utilization),
    }


def money_json(money: MoneyFigures) -> dict[str, Any]:
    """Money as one object (rule `json.money`)."""
    found = asdict(money)
    found["rate_of_return_percent"] = found.pop("rate_of_return")
    return found


_RUSH = ("hours", "lost_spindle_hours", "lost_contribution")


def _rush(found: RushArrival | AnyHour | None) -> dict[str, Any] | None:
    """Plain numbers for one arrival; for any hour an object of median and worst each."""
    if found is None:
        return None
    if isinstance(found, RushArrival):
        return {key: getattr(found, key) for key in _RUSH}
    return {
        key: {"median": getattr(found.median, key), "worst": getattr(found.worst, key)}
        for key in _RUSH
    }


def _fit(fit: Fit, part: str, group: str, units: str) -> dict[str, Any]:
    """See rule `json.fit`."""
    return {
        "fits": fit.fits,
        "per_pallet": fit.per_pallet,
        "limits": [text for _, text in limits_told(fit, part, group, units)],
        "layout": [[float(number) for number in place] for place in fit.layout],
    }


def _to_six_decimals(value: Any) -> Any:
    """The same with every number to six decimals, at any depth."""
    if isinstance(value, float):
        return round(value, 6)
    if isinstance(value, dict):
        return {key: _to_six_decimals(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_to_six_decimals(one) for one in value]
    return value
