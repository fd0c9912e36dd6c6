"""The form of what ``compare`` prints as JSON, held against what it prints."""

from __future__ import annotations

import json
from typing import Any

import pytest
from answer_studies import sound, wholly
from demos import ONE_PERSON, PALLETS, SMALL_ORDERS, compared
from every_key_study import EVERY_KEY
from json_told import json_of
from jsonschema import Draft202012Validator
from lengths import first_of
from remembered import remembered
from whole_comparison import whole

from whatif.command.commands import COMMANDS, IN_JSON
from whatif.command.main import main
from whatif.reports import json_form
from whatif.reports.command_schemas import SCHEMAS
from whatif.reports.results_schema import comparison_schema

VALIDATOR = Draft202012Validator(comparison_schema())


def faults(told: Any) -> list[str]:
    return [f"{fault.json_path}: {fault.message}" for fault in VALIDATOR.iter_errors(told)]


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(comparison_schema())


@pytest.mark.parametrize("demo", first_of([PALLETS, ONE_PERSON, SMALL_ORDERS]))
def test_every_demo_is_told_as_it_says(demo: str) -> None:
    assert faults(json_of(compared(demo))) == []


@pytest.mark.long
def test_other_studies_are_too() -> None:
    every = remembered(f"compared wholly\n{EVERY_KEY}", lambda: wholly(sound(EVERY_KEY)))
    assert faults(json_of(every)) == []
    assert faults(json_of(whole())) == []


@pytest.mark.parametrize("value", ["80", None, {}])
def test_what_is_told_otherwise_is_found(value: object) -> None:
    told = json_of(whole())
    told["scenarios"]["today"]["simulated"]["spindle_hours"]["total"] = value
    assert faults(told) != []


def test_what_it_does_not_know_is_found() -> None:
    told = json_of(whole())
    told["scenarios"]["today"]["surprise"] = 1
    assert faults(told) != []


def test_the_command_prints_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "compare"]) == 0
    assert json.loads(capsys.readouterr().out) == comparison_schema()


@pytest.mark.long
def test_every_command_that_prints_json_has_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert set(IN_JSON) == set(SCHEMAS)
    assert set(SCHEMAS) == {name for name, each in COMMANDS.items() if "json" in each.forms}
    for command, schema in SCHEMAS.items():
        assert main(["schema", command]) == 0
        assert json.loads(capsys.readouterr().out) == schema()
        Draft202012Validator.check_schema(schema())


def test_a_compiled_cell_is_told_of_in_the_same_way(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its records know the plain classes of their fields, and of no other what they are."""
    hints = json_form.get_type_hints

    def known(record: type[object]) -> dict[str, object]:
        found: dict[str, object] = hints(record)
        if not record.__module__.startswith("whatif.cell"):
            return found
        return {key: each if isinstance(each, type) else type for key, each in found.items()}

    plain = {command: schema() for command, schema in SCHEMAS.items()}
    monkeypatch.setattr(json_form, "get_type_hints", known)
    assert {command: schema() for command, schema in SCHEMAS.items()} == plain
