"""Cells of the sheet are kept for as long as they hold, and no longer."""

from __future__ import annotations

from pathlib import Path

import pytest
from few_draws import SCENARIOS
from lengths import first_of
from small_study import CYCLE, PALLETS, STUDY

from whatif.screens.desk import state as desk_state
from whatif.screens.desk.state import DeskState
from whatif.session.session import Session
from whatif.session.sheet import Line, cell
from whatif.study.edits import SetHead, SetValue
from whatif.study.file.reading import read_file


def test_an_edit_works_out_the_cells_of_its_column_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    session = Session(read_file(path))
    state = DeskState(session)
    for scenario in session.draft.ids:
        state.cell(scenario, CYCLE)
    made: list[str] = []

    def noted(checked: object, scenario: str, *of: object) -> object:
        made.append(scenario)
        return cell(checked, scenario, *of)  # type: ignore[arg-type] # as it was called

    monkeypatch.setattr(desk_state, "cell", noted)
    session.do(SetValue("pool", PALLETS, 7))
    for scenario in session.draft.ids:
        state.cell(scenario, CYCLE)
        state.cell(scenario, CYCLE)
    assert made == ["pool"]


@pytest.mark.parametrize(
    "demo", first_of(sorted(SCENARIOS.glob("*.toml"))), ids=lambda path: path.stem
)
def test_what_is_kept_is_what_would_be_worked_out(demo: Path) -> None:
    session = Session(read_file(demo))
    state = DeskState(session)
    first, last = session.draft.ids[0], session.draft.ids[-1]
    part = session.draft.scenario(first).ids("part")[0]
    edits = [
        SetValue(last, ("part", part, "cycle"), "9 min"),
        # What others do not use hangs on it.
        SetValue(last, ("part", part, "contribution"), 12),
        SetHead("reference", last),
        SetValue(first, ("part", part, "weekly"), 0),
        SetHead("units", "inch"),
        SetHead("today", last),
    ]
    for edit in edits:
        session.do(edit)
        state.follow()
        rows = [row for row in state.all_rows(frozenset()) if isinstance(row, Line)]
        for scenario in session.draft.ids:
            for row in rows:
                kept = state.cell(scenario, row.path)
                assert kept == cell(session.checked, scenario, row.path, state.arrangement.units)
