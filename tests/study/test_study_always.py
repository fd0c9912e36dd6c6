"""What holds for any study, however wrong it is."""

from typing import Any

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples
from study_strategies import toml_tables
from study_texts import valves

from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import (
    AddScenario,
    AddThing,
    ClearValue,
    DuplicateScenario,
    Edit,
    EditError,
    MoveScenario,
    RemoveScenario,
    RemoveThing,
    RenameScenario,
    RenameThing,
    SetHead,
    SetValue,
)
from whatif.study.file.reading import read_text
from whatif.study.file.writing import to_text
from whatif.telling.problems import problem_sentence


@examples(100)
@given(toml_tables())
def test_a_check_tells_everything_and_never_fails(tables: dict[str, Any]) -> None:
    draft = read_text(tomli_w.dumps(tables))
    checked = check(draft)
    assert (checked.study is None) == bool(checked.problems)
    assert set(checked.resolved) == set(draft.ids)
    for problem in checked.problems + checked.warnings:
        assert problem.key in problem_sentence(problem)
        assert problem.value in problem_sentence(problem)
        assert problem.scenario is None or draft.has(problem.scenario)
    assert len(set(checked.problems)) == len(checked.problems)


def edits(draft: Draft) -> st.SearchStrategy[Edit]:
    """Edits that have to do with a draft, most of which can be made."""
    scenarios = st.sampled_from((*draft.ids, "new"))
    paths = [path for each in draft for path in each.entered] or [("title",)]
    path = st.sampled_from((*paths, ("machine", "mill", "count"), ("handling", "walk")))
    raw = st.sampled_from([3, "", "5 min", "mon", True, ("mill",)])
    thing = st.sampled_from(["mill", "lathe", "body", "new"])
    group = st.sampled_from(["machine", "part", "shift", "rush"])
    return st.one_of(
        st.builds(SetValue, scenarios, path, raw),
        st.builds(ClearValue, scenarios, path),
        st.builds(SetHead, st.sampled_from(["weeks", "reference", "x"]), raw),
        st.builds(AddScenario, scenarios, st.none() | scenarios, st.just("T")),
        st.builds(DuplicateScenario, scenarios, scenarios),
        st.builds(RemoveScenario, scenarios),
        st.builds(RenameScenario, scenarios, scenarios),
        st.builds(MoveScenario, scenarios, st.none() | scenarios),
        st.builds(AddThing, scenarios, group, thing),
        st.builds(RemoveThing, scenarios, group, thing),
        st.builds(RenameThing, group, thing, thing),
    )


@examples(100)
@given(st.one_of(st.just(valves()), toml_tables().map(tomli_w.dumps).map(read_text)), st.data())
@pytest.mark.long
def test_whatever_is_edited_can_be_checked_saved_and_read_back(
    draft: Draft, data: st.DataObject
) -> None:
    for _ in range(6):
        edit = data.draw(edits(draft))
        try:
            edited = edit.apply(draft)
        except EditError:
            continue
        assert edit.says(draft)
        assert read_text(to_text(edited)) == edited
        check(edited)
        draft = edited
