"""The form of a study file as JSON Schema (2020-12), for editors that complete and check.

It is made of the catalogue of keys, and so of the models that a file is read by. What it lets
through may still be refused: what keys mean together only ``whatif check`` knows.
"""

from __future__ import annotations

from typing import Any, Final

from whatif.study.schema.catalogue import (
    ALSO,
    ANY,
    HEAD_KEYS,
    KEYS,
    LEVER,
    LEVER_KEYS,
    Key,
)
from whatif.study.schema.kinds import Choice, Count, CountOr, Flag, Number
from whatif.study.schema.kinds.calendar import Breaks, Days
from whatif.study.schema.kinds.plain import Ids, Several, Texts
from whatif.study.schema.kinds.quantity import Lengths

_LISTS: Final = (Days, Breaks, Ids, Several, Texts, Lengths)

_BACK: Final = {"const": "", "description": "gives an inherited value back"}
"""A text that any key of a scenario may have (rule `study.give-back`)."""


def study_schema() -> dict[str, Any]:
    """The whole schema."""
    head = {name: _of(key) for name, key in HEAD_KEYS.items()}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "a study",
        "type": "object",
        "required": ["format", "scenario"],
        "additionalProperties": False,
        "properties": {
            **head,
            LEVER: {"type": "object", "additionalProperties": _lever()},
            "scenario": {
                "type": "object",
                "minProperties": 1,
                "additionalProperties": {"$ref": "#/$defs/scenario"},
            },
        },
        "$defs": {"scenario": _scenario()},
    }


def _scenario() -> dict[str, Any]:
    whole = _object()
    for key in KEYS:
        at = whole
        for part in key.pattern[:-1]:
            if part == ANY:
                if at["additionalProperties"] is False:
                    at["additionalProperties"] = _object()
                at = at["additionalProperties"]
            else:
                at = at["properties"].setdefault(part, _object())
        at["properties"][key.name] = {"anyOf": [_of(key), _BACK]}
    return whole


def _lever() -> dict[str, Any]:
    """One lever; what goes with each of its values is a scenario's keys as they are typed."""
    keys = {name: _of(key) for name, key in LEVER_KEYS.items()}
    return _object() | {"properties": {**keys, ALSO: {"type": "object"}}}


def _object() -> dict[str, Any]:
    return {"type": "object", "properties": {}, "additionalProperties": False}


def _of(key: Key) -> dict[str, Any]:
    """A key's values: what they are, what is allowed, what holds where none is entered."""
    told: dict[str, Any] = {
        "title": key.label,
        "description": f"{key.says.meaning}. Allowed: {key.kind.allowed}. "
        f"Default: {key.default_words}.",
    }
    return {**told, **_sort(key)}


def _sort(key: Key) -> dict[str, Any]:
    kind = key.kind
    if isinstance(kind, Flag):
        return {"type": "boolean"}
    if isinstance(kind, Choice):
        return {"enum": [raw for raw, _ in kind.choices]}
    if isinstance(kind, Count):
        return {"type": "integer"}
    if isinstance(kind, Number):
        return {"type": "number"}
    if isinstance(kind, CountOr):
        return {"type": ["integer", "string"]}
    if isinstance(kind, _LISTS):
        return {"type": "array"}
    return {"type": "string"}
