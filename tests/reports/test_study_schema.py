"""The form of study files as JSON Schema, held against files that the program reads."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from answer_studies import TODAY
from demos import DEMOS
from every_key_study import EVERY_KEY
from jsonschema import Draft202012Validator
from whole_comparison import WHOLE

from whatif.command.main import main
from whatif.reports.study_schema import study_schema

VALIDATOR = Draft202012Validator(study_schema())


def faults(text: str) -> list[str]:
    return [fault.json_path for fault in VALIDATOR.iter_errors(tomllib.loads(text))]


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(study_schema())


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_every_demo_is_as_it_says(demo: Path) -> None:
    assert faults(demo.read_text("utf-8")) == []


@pytest.mark.parametrize("text", [TODAY, WHOLE, EVERY_KEY])
def test_other_studies_are_too(text: str) -> None:
    assert faults(text) == []


def test_a_lever_is_one_too() -> None:
    lever = """\
[lever.pallets]
key = "machine.mill.pallets"
values = ["2", "4"]
price = 60000
also.part.body.fixtures = ""
"""
    assert faults(TODAY + lever) == []
    assert faults(TODAY + lever.replace("price", "prize")) != []


@pytest.mark.parametrize(
    "wrong",
    ["machine.mill.count = 1.5", "machine.mill.cuont = 1", "part.body.cycle = 9", "surprise = 1"],
)
def test_what_a_file_may_not_have_is_found(wrong: str) -> None:
    assert faults(TODAY + f"[scenario.other]\n{wrong}\n") != []


def test_the_command_prints_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out) == study_schema()
