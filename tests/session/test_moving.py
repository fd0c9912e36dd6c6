"""Moving a scenario: what it would change is told before, and all values can be kept."""

from __future__ import annotations

import pytest
from json_told import json_of
from lengths import first_of
from moving_scenarios import OTHER, study
from screen import SCENARIOS
from study_texts import VALVES

from whatif.answers.compare import compare_wholly
from whatif.session.calculate.memory import Memory
from whatif.session.session import Session
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import MoveKeeping, MoveScenario
from whatif.study.edits.moving import Moving, moving, new_parents
from whatif.study.file.reading import FileRead, read_file, read_text
from whatif.study.problem import Problem
from whatif.telling.edits import ToldChange, change_told, obstacle_sentence

DEMOS = sorted(SCENARIOS.glob("*.toml"))


def move(draft: Draft, scenario: str, parent: str | None) -> Moving:
    session = Session(FileRead(SCENARIOS / "none.toml", draft, ""))
    return moving(draft, MoveScenario(scenario, parent), session.new_problems)


def told(draft: Draft, found: Moving, scenario: str) -> dict[str, ToldChange]:
    changes = (change_told(draft, change) for change in found.changes[scenario])
    return {change.label: change for change in changes}


def test_a_scenario_may_not_be_based_on_itself_or_on_what_is_below_it() -> None:
    draft = study()
    assert new_parents(draft, "six_pallets") == ("today", "other")
    assert new_parents(draft, "night") == ("today", "six_pallets", "other")
    assert new_parents(draft, "today") == ("other",)
    found = move(draft, "six_pallets", "night")
    assert found.edit is None
    (wrong,) = found.wrong
    said = "Six pallets cannot be based on night, which inherits from it."
    assert obstacle_sentence(draft, wrong) == said


def test_every_value_that_would_differ_is_told_with_where_it_would_be_from() -> None:
    found = move(study(), "six_pallets", "other")
    assert found.edit == MoveScenario("six_pallets", "other")
    changes = told(study(), found, "six_pallets")
    assert changes["body: weekly demand"] == ToldChange(
        "body: weekly demand", "1100", "500", "from Another shop"
    )
    assert changes["body: size"].new == "not given"
    assert changes["body: size"].origin == "assumed"
    # 11 min is 660 s, and what is entered in the scenario itself stays.
    assert "body: cycle" not in changes
    assert "mill: pallets each" not in changes
    assert changes["body: bench work"].old == "0 min"
    assert changes["body: cycle on lathe"].new == "9 min"


def test_things_that_appear_and_vanish_are_told_as_things() -> None:
    found = move(study(), "six_pallets", "other")
    changes = told(study(), found, "six_pallets")
    assert (changes["machine lathe"].old, changes["machine lathe"].new) == ("not there", "there")
    assert (changes["shift early"].old, changes["shift early"].new) == ("there", "gone")
    assert not any(label.startswith(("lathe:", "early:", "day:")) for label in changes)


def test_the_scenarios_below_are_told_too() -> None:
    found = move(study(), "six_pallets", "other")
    assert list(found.changes) == ["six_pallets", "night"]
    assert told(study(), found, "night")["body: weekly demand"].new == "500"
    assert found.count == sum(len(some) for some in found.changes.values()) > 10


def test_a_move_that_changes_nothing_says_so() -> None:
    draft = study('\n[scenario.twin]\nparent = "today"\n')
    found = move(draft, "night", "six_pallets")
    assert (found.count, found.keeping, found.wrong) == (0, None, ())
    assert move(draft, "six_pallets", "twin").count == 0


def test_a_move_that_adds_problems_is_refused_and_the_problem_is_told() -> None:
    # The parent that had the part is left behind: the rush order asks for nothing.
    draft = read_text(VALVES + '\nrush.call.part = "body"\nrush.call.pieces = 5\n')
    found = move(draft, "night", None)
    assert found.edit is None
    assert any("there is no part body" in obstacle_sentence(draft, each) for each in found.wrong)
    assert found.keeping == MoveKeeping("night", None)


def test_hour_meters_above_are_told_and_cannot_be_kept() -> None:
    metered = OTHER + 'hour_meters.switched_on = "400 h"\nhour_meters.in_cut = "200 h"\n'
    draft = study(metered)
    found = move(draft, "six_pallets", "other")
    change = told(draft, found, "night")["hour meters that hold"]
    assert (change.old, change.new) == ("none", "those of Another shop")
    assert found.keeping is None
    assert found.not_kept is not None
    assert "hour meters" in obstacle_sentence(draft, found.not_kept)


def test_half_a_reading_is_no_hour_meters() -> None:
    draft = study(OTHER + 'hour_meters.switched_on = "400 h"\n')
    found = move(draft, "six_pallets", "other")
    assert "hour meters that hold" not in told(draft, found, "night")


def test_the_order_of_things_is_told() -> None:
    two = "\n[scenario.a]\nmachine.x.count = 1\nmachine.y.count = 1\n"
    turned = "[scenario.b]\nmachine.y.count = 1\nmachine.x.count = 1\n"
    draft = read_text(VALVES + two + turned + '[scenario.c]\nparent = "a"\n')
    change = told(draft, move(draft, "c", "b"), "c")["order of the machines"]
    assert (change.old, change.new) == ("x, y", "y, x")


def results(draft: Draft) -> dict[str, object]:
    memory = Memory()
    found = json_of(compare_wholly(check(draft), memory, memory.pause))
    for one in found["scenarios"].values():
        # What it is based on is what was changed, a warning may name where a value is from, and
        # values are drawn by the scenario in which they stand.
        del one["parent"], one["warnings"], one["likely_percent"]
    scenarios: dict[str, object] = found["scenarios"]
    return scenarios


@pytest.mark.long
@pytest.mark.parametrize("parent", first_of(["other", None]), ids=["under another", "by itself"])
def test_with_all_values_kept_nothing_changes(parent: str | None) -> None:
    draft = study()
    found = move(draft, "six_pallets", parent)
    assert found.keeping == MoveKeeping("six_pallets", parent)
    kept = found.keeping.apply(draft)
    assert kept.scenario("six_pallets").parent == parent
    assert results(kept) == results(draft)
    assert "all values kept" in found.keeping.says(draft)


@pytest.mark.long
def test_a_move_without_keeping_changes_results() -> None:
    draft = study()
    assert results(MoveScenario("six_pallets", "other").apply(draft)) != results(draft)


def no_problems(draft: Draft) -> list[Problem]:
    return list(check(draft).problems)


@pytest.mark.long
@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_in_the_demos_what_is_kept_changes_nothing(demo: object) -> None:
    draft = read_file(str(demo)).draft
    for scenario in draft.ids:
        for parent in (*new_parents(draft, scenario), None):
            found = moving(draft, MoveScenario(scenario, parent), no_problems)
            if found.keeping is None:
                assert not found.count or found.not_kept
                continue
            kept = found.keeping.apply(draft)
            again = moving(kept, MoveScenario(scenario, draft.scenario(scenario).parent), list_no)
            assert check(kept).problems == ()
            # Back under the old parent with all entered, nothing changes either.
            assert again.count == 0
            assert kept.scenario(scenario).parent == parent


def list_no(_: Draft) -> list[Problem]:
    return []
