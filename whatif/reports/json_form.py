"""Forms of plain values as JSON Schema (2020-12).

What is told of a record follows from the types of its fields: one that comes or changes its type
does so in the schema too.
"""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import fields
from typing import Any, Final, Literal, Union, get_args, get_origin, get_type_hints

Schema = dict[str, Any]

NULL: Final[Schema] = {"type": "null"}
NUMBER: Final[Schema] = {"type": "number"}
TEXT: Final[Schema] = {"type": "string"}
TEXTS: Final[Schema] = {"type": "array", "items": TEXT}
_PLAIN: Final[Mapping[object, str]] = {
    float: "number",
    int: "integer",
    str: "string",
    bool: "boolean",
    type(None): "null",
}
COUNT: Final[Schema] = {"type": "integer"}
YES_OR_NO: Final[Schema] = {"type": "boolean"}


def document_form(title: str, *forms: dict[str, Schema]) -> Schema:
    """The schema of a document: an object of one of these forms behind the number of its format."""
    told = [object_of({"format": {"const": 1}, **form}) for form in forms]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        **(told[0] if len(told) == 1 else {"anyOf": told}),
    }


def fields_of(record: type[Any], *keys: str) -> dict[str, Schema]:
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
        return list_of(_of(within[0]), None if within[-1] is Ellipsis else len(within))
    if origin is Literal:
        return {"enum": list(within)}
    if origin is Mapping:
        return by_id(_of(within[1]))
    return object_of(fields_of(hint))


def object_of(properties: dict[str, Schema]) -> Schema:
    """Each of these is there, and nothing else."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def by_id(of: Schema) -> Schema:
    """Things of one form by their ids."""
    return {"type": "object", "additionalProperties": of}


def list_of(of: Schema, length: int | None = None) -> Schema:
    """Things of one form, as many as there are or just so many."""
    exactly = {} if length is None else {"minItems": length, "maxItems": length}
    return {"type": "array", "items": of, **exactly}


def or_null(of: Schema) -> Schema:
    """What may not be known."""
    return {"anyOf": [of, NULL]}
