"""Edits leave behind what undoing needs, and nothing else."""

from __future__ import annotations

import gc
import pickle
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from study_texts import valves

from whatif.plan.build import plans_of
from whatif.session.calculate import memory
from whatif.session.calculate.latest import Latest
from whatif.session.session import Session
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import SetValue
from whatif.study.resolve import Resolved


def edit(session: Session, times: int) -> None:
    """Type, look, keep, and undo some of it."""
    for place in range(times):
        session.type("today", ("handling", "walk"), f"{20 + place} s")
        assert session.checked.is_sound
        session.keep()
        if place % 5 == 4:
            session.undo()
            session.redo()


@pytest.fixture(autouse=True)
def without_what_other_tests_left() -> None:
    """What is there already is neither collected nor looked through."""
    gc.freeze()


def alive() -> Counter[str]:
    """What there is of what a check finds."""
    gc.collect()
    names = (type(each).__name__ for each in gc.get_objects())
    return Counter(name for name in names if name in ("Resolved", "Checked", "Scenario", "Problem"))


@pytest.mark.long
def test_what_a_check_has_found_is_forgotten_after_a_few_more() -> None:
    session = Session.begun(valves(), Path("valves.toml"), needs_name=True)
    edit(session, 80)
    before = alive()
    edit(session, 80)
    after = alive()
    assert after["Checked"] <= before["Checked"]
    assert after["Resolved"] <= before["Resolved"]
    assert after["Scenario"] <= before["Scenario"]


def test_a_kept_step_holds_what_it_changed_and_no_index_of_the_study() -> None:
    session = Session.begun(valves(), Path("valves.toml"), needs_name=True)
    edit(session, 1)
    (step,) = session.history.done
    assert set(vars(step.before)) == set(vars(Draft()))
    assert step.before.scenario("night") is step.after.scenario("night")


def test_a_study_is_sent_without_what_was_found_out_about_it() -> None:
    draft = valves()
    size = len(pickle.dumps(Draft(draft.head, draft.scenarios, draft.preamble)))
    assert draft.ids
    assert draft.ancestors("night")
    assert len(pickle.dumps(draft)) == size


def test_what_holds_in_a_scenario_is_forgotten_with_the_study() -> None:
    # Nobody else has this one: what other tests left of the same texts would be taken again.
    draft = SetValue("today", ("handling", "walk"), "1234 s").apply(valves())
    before = alive()["Resolved"]
    session = Session.begun(draft, Path("valves.toml"), needs_name=True)
    resolved = session.checked.resolved["night"]
    assert isinstance(resolved, Resolved)
    assert alive()["Resolved"] > before
    del session, resolved, draft
    assert alive()["Resolved"] <= before


@pytest.mark.parametrize("steps", [3])
def test_history_is_bounded(monkeypatch: pytest.MonkeyPatch, steps: int) -> None:
    monkeypatch.setattr("whatif.session.history.MOST", steps)
    session = Session.begun(valves(), Path("valves.toml"), needs_name=True)
    edit(session, 9)
    assert len(session.history.done) == steps


def test_the_latest_are_kept_as_there_is_room() -> None:
    kept: Latest[str, int] = Latest(most=3, room=10)
    for key, size in (("a", 4), ("b", 4), ("c", 2)):
        kept.keep(key, ord(key), size)
    assert kept.get("a") == ord("a")
    kept.keep("b", 7, 5)  # larger now, and the latest
    assert (kept.get("a"), kept.get("b"), kept.get("c")) == (None, 7, ord("c"))
    kept.keep("large", 1, 1000)
    assert (len(kept), kept.get("large")) == (1, 1)
    assert kept.pop("large") == 1
    assert kept.pop("large") is None
    for key in "defg":
        kept.keep(key, 0, 0)
    assert len(kept) == 3


def test_cells_take_no_more_room_than_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    plan = plans_of(check(valves()))["today"]
    assert plan.cell is not None
    cells = [replace(plan.cell, walk=30 + place) for place in range(4)]
    # Up to two borders and a window, and what stands beside them: room for two such cells.
    monkeypatch.setattr(memory, "ROOM", 9 * memory.tally_bytes(plan.cell))
    runs = memory.Memory()
    for cell in cells:
        runs(cell, 0, 1)
    assert runs.ran == 4
    runs(cells[-1], 0, 1)
    assert runs.ran == 4
    runs(cells[0], 0, 1)
    assert runs.ran == 5
