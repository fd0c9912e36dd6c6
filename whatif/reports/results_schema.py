"""The form of what ``compare --format json`` prints as JSON Schema (2020-12).

What is printed of a record is told by the types of the record's fields, and all else here: a field
that comes or changes its type does so in the schema too.
"""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import fields
from typing import Any, Final, Union, get_args, get_origin, get_type_hints

from whatif.answers.answer import Answer, HoursSaid
from whatif.answers.figures import Figures
from whatif.answers.gains import Gains, Likely
from whatif.answers.money.money import MoneyFigures
from whatif.answers.orders.orders import Ordered
from whatif.answers.orders.rush import RushArrival
from whatif.cell.fit.fit import Fit
from whatif.reports.comparison import ORDER_KEYS, RUSH_KEYS
from whatif.reports.money import MONEY_AFTER, MONEY_BEFORE

Schema = dict[str, Any]

_NULL: Final[Schema] = {"type": "null"}
_NUMBER: Final[Schema] = {"type": "number"}
_TEXT: Final[Schema] = {"type": "string"}
_TEXTS: Final[Schema] = {"type": "array", "items": _TEXT}
_PLAIN: Final[Mapping[object, str]] = {
    float: "number",
    int: "integer",
    str: "string",
    bool: "boolean",
    type(None): "null",
}


def comparison_schema() -> Schema:
    """The whole schema (rule `json.compare`)."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "what every scenario brings",
        **_object(
            {
                "format": {"const": 1},
                "title": _TEXT,
                "reference": _TEXT,
                "scenarios": _by(_scenario()),
            }
        ),
    }


def _scenario() -> Schema:
    """One scenario (rule `json.scenario`)."""
    answer = _fields(Answer, "band", "settled")
    return _object(
        {
            "title": _TEXT,
            "parent": _or_null(_TEXT),
            "warnings": _TEXTS,
            "cautions": _TEXTS,
            "said": _or_null(_said()),
            "hour_meters": _or_null(
                _object(
                    {
                        "utilization_percent": _or_null(_NUMBER),
                        "gain_range_percent": _or_null(_list(_NUMBER, 2)),
                    }
                )
            ),
            "simulated": _or_null(_simulated()),
            "indicators_percent": _or_null(_by(_or_null(_NUMBER))),
            "band": answer["band"],
            "gain_percent": _object(_fields(Gains)),
            "likely_percent": _or_null(_object(_fields(Likely))),
            "settled": answer["settled"],
            "limit": _TEXT,
            "fit": _by(_by(_fit())),
            "money": _or_null(_money()),
            "rush": _by(_or_null(_rush())),
            "orders": _by(_object(_fields(Ordered, *ORDER_KEYS))),
        }
    )


def _said() -> Schema:
    said = _fields(HoursSaid, "hours_per_day", "gain")
    return _object({"hours_per_day": said["hours_per_day"], "gain_percent": said["gain"]})


def _simulated() -> Schema:
    """What the simulation found (rule `json.simulated`)."""
    counted = _fields(
        Figures, "weeks", "spindle", "by_state", "pieces", "demand_met", "people", "utilization"
    )
    return _object(
        {
            "weeks": counted["weeks"],
            "spindle_hours": counted["spindle"],
            "hours_by_state": counted["by_state"],
            "pieces": counted["pieces"],
            "demand_met_percent": counted["demand_met"],
            "could_make_percent": _or_null(_NUMBER),
            "people_hours": counted["people"],
            "utilization_percent": counted["utilization"],
        }
    )


def _fit() -> Schema:
    """Whether a part fits on a machine (rule `json.fit`)."""
    layout = {"type": "array", "items": _list(_NUMBER, 4)}
    return _object({**_fields(Fit, "fits", "per_pallet"), "limits": _TEXTS, "layout": layout})


def _money() -> Schema:
    """Money (rule `json.money`)."""
    texts = {"not_priced": _TEXTS, "rests_on": _TEXTS}
    return _object({**_fields(MoneyFigures, *MONEY_BEFORE, *MONEY_AFTER), **texts})


def _rush() -> Schema:
    arrival = _fields(RushArrival, *RUSH_KEYS)
    any_hour = {key: _object({"median": of, "worst": of}) for key, of in arrival.items()}
    return {"anyOf": [_object(arrival), _object(any_hour)]}


# -- what a type is in JSON ----------------------------------------------------------------


def _fields(record: type[Any], *keys: str) -> dict[str, Schema]:
    """What stands in a record's fields and properties; in all its fields where none is named."""
    hints = get_type_hints(record)
    for key in keys:
        if isinstance(found := getattr(record, key, None), property):
            hints[key] = get_type_hints(found.fget)["return"]
    return {key: _of(hints[key]) for key in keys or [each.name for each in fields(record)]}


def _of(hint: Any) -> Schema:
    if hint in _PLAIN:
        return {"type": _PLAIN[hint]}
    origin, within = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return {"anyOf": [_of(each) for each in within]}
    if origin is tuple:
        return _list(_of(within[0]), None if within[-1] is Ellipsis else len(within))
    if origin is Mapping:
        return _by(_of(within[1]))
    return _object(_fields(hint))


def _object(properties: dict[str, Schema]) -> Schema:
    """Each of these is there, and nothing else."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _by(of: Schema) -> Schema:
    """Things of one form by their ids."""
    return {"type": "object", "additionalProperties": of}


def _list(of: Schema, length: int | None) -> Schema:
    exactly = {} if length is None else {"minItems": length, "maxItems": length}
    return {"type": "array", "items": of, **exactly}


def _or_null(of: Schema) -> Schema:
    return {"anyOf": [of, _NULL]}
