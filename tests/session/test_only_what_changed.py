"""After an edit only what it touches is looked at again, and nothing is missed by it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path as FilePath
from weakref import WeakKeyDictionary, WeakValueDictionary

import pytest
from few_draws import SCENARIOS
from lengths import first_of
from small_study import CYCLE, PALLETS, STUDY

import whatif.study.check.found as finding
from whatif.session.sheet import Differing, Line, _meant, differing, is_unknown_key, rows
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft
from whatif.study.edits import SetValue
from whatif.study.file.reading import read_file, read_text
from whatif.study.raw import Path, Raw
from whatif.study.resolve import GIVEN_BACK, Resolved

DEMOS = sorted(SCENARIOS.glob("*.toml"))


@pytest.fixture
def looked_at(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The scenarios whose values are seen together."""
    scenarios: list[str] = []
    rule_problems = finding.rule_problems

    def noted(here: finding.Resolved) -> object:
        scenarios.append(here.scenario)
        return rule_problems(here)

    monkeypatch.setattr(finding, "rule_problems", noted)
    return scenarios


def test_an_edit_leaves_other_scenarios_alone(looked_at: list[str]) -> None:
    # Values that no other test has, whose findings might still be known.
    draft = read_text(STUDY.replace("weekly = 300", "weekly = 4711"))
    before = check(draft)
    del looked_at[:]
    after = check(SetValue("pool", PALLETS, 7).apply(draft))
    assert looked_at == ["pool"]
    del looked_at[:]
    mills = ("machine", "mill", "count")
    more = check(SetValue("now", mills, 3).apply(after.draft))
    assert looked_at == ["now", "pool"], "what is based on it has changed with it"
    del looked_at[:]
    check(SetValue("now", CYCLE, "8 min").apply(more.draft))
    assert not looked_at, "no rule looks at how long a cycle is"
    assert before.resolved["other"] is after.resolved["other"]


def changes(draft: Draft) -> list[tuple[str, Path, Raw]]:
    """Values after which other things are wrong, odd, or differ."""
    first, second, last = draft.ids[0], draft.ids[1], draft.ids[-1]
    part = draft.scenario(first).ids("part")[0]
    machine = draft.scenario(first).ids("machine")[0]
    return [
        (last, ("part", part, "batch"), 17),
        (first, ("part", part, "batch"), 17),
        (last, ("machine", machine, "pallets"), 3),
        (first, ("machine", machine, "load_stations"), 2),
        (last, ("part", part, "after"), "nobody"),
        (last, ("part", "new", "cycle"), "8 min"),
        (first, ("part", part, "colour"), "red"),
        (first, ("part", part, "load"), "3 min"),
        (first, ("handling", "walk"), "3 m"),
        (first, ("handling", "walk"), "66 s"),
        (last, ("part", part, "load"), "4 min"),
        (first, ("part", part, "cycle"), GIVEN_BACK),
        (last, ("shift", "day", "start"), "05:00"),
        (second, ("parent",), last),
        (last, ("parent",), second),
        (last, ("parent",), "nobody"),
    ]


def told(checked: Checked) -> tuple[object, ...]:
    return checked.problems, checked.warnings, checked.holding, checked.unknown_keys


def looked_at_one_by_one(checked: Checked, columns: tuple[str, ...]) -> Differing:
    held = [checked.resolved[scenario] for scenario in columns]
    return frozenset(
        row
        for row in rows(checked, columns, frozenset())
        if isinstance(row, Line)
        and (is_unknown_key(row.path) or len({_meant(each, row.path) for each in held}) > 1)
    )


@pytest.mark.parametrize("demo", first_of(DEMOS), ids=lambda path: path.stem)
@pytest.mark.long
def test_edit_after_edit_finds_what_a_fresh_look_finds(
    demo: FilePath, monkeypatch: pytest.MonkeyPatch
) -> None:
    draft = read_file(demo).draft
    check(draft)
    for scenario, path, raw in changes(draft):
        draft = draft.with_scenario(draft.scenario(scenario).having(path, raw))
        checked = check(draft)
        found = told(checked)
        for columns in (draft.ids, draft.ids[:2], draft.ids[2:]):
            assert differing(checked, columns) == looked_at_one_by_one(checked, columns)
        with monkeypatch.context() as fresh:
            fresh.setattr(finding, "_texts", WeakKeyDictionary())
            for sort in (finding.FAULTS, finding.ODD):
                fresh.setattr(sort, "_latest", WeakValueDictionary())
                for kept in ("_known", "_since"):
                    fresh.setattr(sort, kept, WeakKeyDictionary())
            assert told(check(draft)) == found


@pytest.mark.long
def test_no_rule_looks_at_a_value_that_is_taken_to_be_alone(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Else an edit of it would leave warnings of before in the scenarios below."""
    looked_at: set[Path] = set()
    at_work: list[bool] = []

    def noting(rules: Callable[..., Iterable[object]]) -> Callable[..., list[object]]:
        def noted(*given: object) -> list[object]:
            at_work.append(True)
            try:
                return list(rules(*given))
            finally:
                at_work.pop()

        return noted

    def value(here: Resolved, *path: str) -> object:
        if at_work:
            looked_at.add(path)
        return read(here, *path)

    read = Resolved.value
    monkeypatch.setattr(Resolved, "value", value)
    for rules in ("rule_problems", "oddities"):
        monkeypatch.setattr(finding, rules, noting(getattr(finding, rules)))
    for demo in DEMOS:
        draft = read_file(demo).draft
        for scenario, path, raw in changes(draft):
            draft = draft.with_scenario(draft.scenario(scenario).having(path, raw))
            check(draft)
    assert looked_at
    assert not [path for path in looked_at if finding.stands_alone(path)]
