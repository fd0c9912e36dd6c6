"""What commands print as JSON, held against their schemas."""

from __future__ import annotations

from functools import cache
from typing import Any

from jsonschema import Draft202012Validator

from whatif.reports.command_schemas import SCHEMAS


@cache
def validator(command: str) -> Draft202012Validator:
    schema = SCHEMAS[command]()
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def formed(command: str, told: dict[str, Any]) -> dict[str, Any]:
    """The same, where it is of the form that ``whatif schema COMMAND`` prints."""
    found = [
        f"{fault.json_path}: {fault.message[:500]}"
        for fault in validator(command).iter_errors(told)
    ]
    assert found == []
    return told
