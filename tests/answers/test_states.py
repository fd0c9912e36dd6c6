"""One table of the states: complete, and the only one."""

from __future__ import annotations

import ast
from dataclasses import fields
from pathlib import Path

import pytest

from whatif.answers.states import IN_CYCLE, LOSSES, ROWS, STATE_ROWS, StateRow, states_of
from whatif.cell.codes import Job
from whatif.cell.states import STATES
from whatif.study.schema.catalogue import KEYS

PACKAGE = Path(__file__).parents[2] / "whatif"
ELSEWHERE = [
    path
    for folder in ("answers", "telling", "session/calculate", "reports", "screens", "command")
    for path in sorted((PACKAGE / folder).rglob("*.py"))
    if path != PACKAGE / "answers" / "states.py"
]
ALSO_KEYS = {name for key in KEYS for name in key.pattern}
"""States that are called like a key of a study file: tables of those keys are none of states."""

OF_SOME = {"down", "turning", "jobs"}
"""What only some states have."""


def test_every_state_has_its_row_in_the_order_of_the_cell_model() -> None:
    assert tuple(STATE_ROWS) == STATES
    assert [row.name for row in STATE_ROWS.values()] == list(STATES)


@pytest.mark.parametrize("row", STATE_ROWS.values(), ids=STATES)
def test_every_row_is_complete(row: StateRow) -> None:
    of_losses = {"holds_back", "eased_by"} if row.name == IN_CYCLE else set()
    for field in fields(row):
        value = getattr(row, field.name)
        assert field.name in OF_SOME | of_losses or isinstance(value, int) or value, field.name
    assert set(row.jobs) <= {job.name.lower() for job in Job}
    assert len(row.letter) == 1


@pytest.mark.parametrize("trait", ["label", "in_bar", "letter", "letter_means", "now", "meaning"])
def test_no_two_states_are_told_alike(trait: str) -> None:
    assert len({getattr(row, trait) for row in STATE_ROWS.values()}) == len(STATE_ROWS)


def test_no_two_losses_are_told_alike() -> None:
    assert len({row.holds_back for row in LOSSES}) == len(LOSSES) == len(STATES) - 1
    assert len({row.eased_by for row in LOSSES}) == len(LOSSES)


def test_rows_and_states_are_the_same() -> None:
    assert sorted(row.name for row in ROWS) == sorted(STATES)


def test_a_time_of_the_standard_tells_first_what_is_served_and_then_what_is_down() -> None:
    delay = ["load", "pallet_change", "stopped", "waiting_for_person", "first_piece"]
    assert [row.name for row in states_of("delay")] == delay
    assert [row.name for row in ROWS if row.name in delay] != delay


@pytest.mark.parametrize("path", ELSEWHERE, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_other_table_of_states(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Dict):
            named = [one.value for one in node.keys if isinstance(one, ast.Constant)]
        elif isinstance(node, ast.Tuple | ast.List | ast.Set):
            named = [one.value for one in node.elts if isinstance(one, ast.Constant)]
        else:
            continue
        assert len(set(named) & set(STATES) - ALSO_KEYS) < 2, f"{path}:{node.lineno}"
