"""Edits leave behind what undoing needs, and nothing else."""

from __future__ import annotations

import gc
import pickle
from collections import Counter
from pathlib import Path

import pytest
from study_texts import valves

from whatif.session.session import Session
from whatif.study.draft import Draft
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


def alive() -> Counter[str]:
    """What there is of what a check finds."""
    gc.collect()
    names = (type(each).__name__ for each in gc.get_objects())
    return Counter(name for name in names if name in ("Resolved", "Checked", "Scenario", "Problem"))


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
    before = alive()["Resolved"]
    session = Session.begun(valves(), Path("valves.toml"), needs_name=True)
    resolved = session.checked.resolved["night"]
    assert isinstance(resolved, Resolved)
    assert alive()["Resolved"] > before
    del session, resolved
    assert alive()["Resolved"] <= before


@pytest.mark.parametrize("steps", [3])
def test_history_is_bounded(monkeypatch: pytest.MonkeyPatch, steps: int) -> None:
    monkeypatch.setattr("whatif.session.history.MOST", steps)
    session = Session.begun(valves(), Path("valves.toml"), needs_name=True)
    edit(session, 9)
    assert len(session.history.done) == steps
