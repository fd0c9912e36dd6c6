"""The cursor of the desk: where it goes when rows and columns come and go."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from small_study import CYCLE, PALLETS, STUDY

from whatif.screens.desk.state import DeskState
from whatif.session.session import Session
from whatif.session.sheet import Heading, Line
from whatif.session.things import adding
from whatif.study.edits import AddScenario, RemoveScenario
from whatif.study.file.reading import read_file
from whatif.telling.sheet_cell import ATTENDED


@pytest.fixture
def state(tmp_path: Path) -> DeskState:
    path = tmp_path / "study.toml"
    path.write_text(STUDY, "utf-8")
    state = DeskState(Session(read_file(path)))
    state.follow()
    return state


def add_lathe(state: DeskState) -> None:
    edit, _ = adding(state.draft, "now", "machine", "lathe")
    state.session.do(edit)


def paths(state: DeskState) -> set[tuple[str, ...]]:
    return {row.path for row in state.rows if isinstance(row, Line)}


def test_at_first_it_stands_on_a_value_and_what_is_rarely_changed_is_closed(
    state: DeskState,
) -> None:
    assert state.line is not None
    assert state.line.path == ATTENDED
    assert state.chosen == "now"
    assert PALLETS in paths(state)
    assert not {path for path in paths(state) if path[0] == "money"}


def test_it_stays_on_its_value_when_rows_come_above_it(state: DeskState) -> None:
    assert state.go_to_value(CYCLE)
    state.follow()
    before = state.row
    add_lathe(state)
    state.follow()
    assert state.row > before
    assert state.line is not None
    assert state.line.path == CYCLE


def test_it_goes_to_the_heading_where_its_value_is_folded_away(state: DeskState) -> None:
    state.go_to_value(CYCLE)
    state.follow()
    state.fold()
    state.follow()
    row = state.rows[state.row]
    assert isinstance(row, Heading)
    assert row.place == CYCLE[:2]
    state.fold()
    state.follow()
    assert CYCLE in paths(state)


def test_it_goes_to_the_nearest_row_where_its_thing_has_gone(state: DeskState) -> None:
    add_lathe(state)
    state.go_to_value(("machine", "lathe", "count"))
    state.follow()
    before = state.row
    state.session.undo()
    state.follow()
    assert state.row == before


def test_it_stays_with_its_scenario_or_else_at_its_place(state: DeskState) -> None:
    state.choose("pool")
    state.follow()
    state.session.do(AddScenario("first", None, "First"))
    state.arrangement = state.arrangement.moving("other", -1, state.shown.ids, "now")
    state.follow()
    assert state.chosen == "pool"
    state.session.do(RemoveScenario("pool"))
    column = state.column
    state.follow()
    assert state.column == column
    assert state.chosen != "pool"


def test_hiding_leaves_it_at_its_place_and_choosing_shows_again(state: DeskState) -> None:
    state.choose("pool")
    state.hide_chosen()
    state.follow()
    assert state.ids == ("now", "other")
    assert state.chosen == "other"
    state.choose("pool")
    assert state.ids == ("now", "pool", "other")
    assert state.chosen == "pool"


def test_a_value_is_gone_to_in_a_closed_heading_too(state: DeskState) -> None:
    walk = ("handling", "walk")
    assert walk not in paths(state)
    assert state.go_to_value(walk)
    state.follow()
    assert state.line is not None
    assert state.line.path == walk
    assert not state.go_to_value(("machine", "none", "count"))


def test_only_rows_that_differ_and_the_one_being_edited_are_left(state: DeskState) -> None:
    state.arrangement = replace(state.arrangement, only_differing=True)
    state.follow()
    assert PALLETS in paths(state)
    assert ("sequence", "rule") not in paths(state)
    assert {row.place for row in state.rows if isinstance(row, Heading)} == {
        row.place for row in state.rows if isinstance(row, Line)
    } | {row.place for row in state.rows if row.place in state.spot.folded}


def test_it_never_leaves_the_sheet(state: DeskState) -> None:
    state.move(-1000, -1000)
    assert (state.row, state.column) == (0, 0)
    state.move(1000, 1000)
    assert (state.row, state.column) == (len(state.rows) - 1, 2)
