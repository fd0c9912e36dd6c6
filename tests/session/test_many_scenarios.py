"""Of many scenarios an edit works out only those that it touches; held by lines, not by time."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import pytest
from lengths import first_of
from support.effort import lines_run
from typing_extensions import override

from whatif.answers.simulate import WindowAsked
from whatif.plan import build
from whatif.plan.model import Plan
from whatif.session.calculate.answering import Answering
from whatif.session.calculate.remembering import Remembering
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import SetValue
from whatif.study.file.reading import read_text

ROOT = """
format = 1
reference = "today"
runs = 2
warm_up = 1
[scenario.today.shift.day]
days = ["mon"]
start = "06:00"
end = "14:00"
[scenario.today.machine.mill]
pallets = 2
[scenario.today.part.body]
cycle = "47 min"
weekly = 100
"""


def study(scenarios: int, *, paid: bool) -> Draft:
    """So many that are based on the reference; they are alike two by two, to be run quickly."""
    text = ROOT + ("contribution = 5\n" if paid else "")
    for place in range(1, scenarios):
        text += f'[scenario.s{place}]\nparent = "today"\nmachine.mill.pallets = {2 + place % 2}\n'
    return read_text(text)


class Saying(Remembering):
    """Notes what is said ahead, as it would go to other processes."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[WindowAsked] = []

    @override
    def ahead(self, windows: Iterable[WindowAsked]) -> None:
        self.said += windows


def wholly(draft: Draft, front: str, memory: Saying, before: Answering | None) -> Answering:
    """Answer a draft as the calculating process does."""
    answering = Answering(draft, check(draft), memory, before)
    answering.front = front
    for stage in (answering.first_runs, answering.as_typed, answering.ranges):
        for _ in stage():
            pass
    return answering


def edits(scenarios: int, *, paid: bool = False) -> Callable[[], Answering]:
    """An edit of the last of so many, its runs known already; the others have been answered."""
    memory, draft = Saying(), study(scenarios, paid=paid)
    last = draft.ids[-1]
    before = wholly(draft, last, memory, None)
    for walk in ("2 min", "3 min"):
        draft = SetValue(last, ("handling", "walk"), walk).apply(draft)
        # The first one runs what is shared by all tests, and is thrown away.
        wholly(draft, last, Saying(), None)
        if walk == "2 min":
            before = wholly(draft, last, memory, before)
    return lambda: wholly(draft, last, memory, before)


@pytest.mark.long
@pytest.mark.parametrize("paid", first_of([False, True]), ids=["minutes", "money"])
def test_a_scenario_more_is_hardly_any_work_in_an_edit_of_another(paid: bool) -> None:
    few, many = (lines_run(edits(scenarios, paid=paid)) for scenarios in (10, 40))
    assert (many - few) / 30 < few / 40
    assert many < 2 * few


def test_an_edit_says_no_runs_ahead_but_of_what_it_touches() -> None:
    memory, draft = Saying(), study(12, paid=False)
    before = wholly(draft, "s11", memory, None)
    del memory.said[:]
    wholly(SetValue("s11", ("handling", "walk"), "2 min").apply(draft), "s11", memory, before)
    # The edited one as typed and flat out, and two draws of it and of what it is held against.
    assert len({cell for cell, *_ in memory.said}) <= 2 + 2 * 2


def test_what_an_edit_leaves_alone_stays_the_same_object() -> None:
    memory, draft = Saying(), study(6, paid=True)
    before = wholly(draft, "s5", memory, None).known
    edited = SetValue("s5", ("handling", "walk"), "2 min").apply(draft)
    after = wholly(edited, "s5", memory, None).known
    answering = wholly(draft, "s5", memory, None)
    again = wholly(edited, "s5", memory, answering).known
    same = [id_ for id_ in draft.ids if again.answers[id_] is answering.known.answers[id_]]
    assert same == [id_ for id_ in draft.ids if id_ != "s5"]
    assert again == after
    assert before == answering.known


def test_the_column_looked_at_is_answered_before_the_others_are_planned(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    memory, draft = Saying(), study(12, paid=True)
    before = wholly(draft, "s5", memory, None)
    # All are based on today's, so that all of them are other.
    draft = SetValue("today", ("handling", "walk"), "2 min").apply(draft)
    planned: list[str] = []
    plan = build._plan

    def noted(*of: Any, **how: Any) -> Plan:
        planned.append(of[1].id)
        return plan(*of, **how)

    monkeypatch.setattr(build, "_plan", noted)
    answering = Answering(draft, check(draft), memory, before)
    answering.front = "s5"
    runs = answering.first_runs()
    assert set(next(runs).answers) == {"s5"}
    assert sorted(planned) == ["s5", "today"]
    assert len(list(runs)) == 1
    assert sorted(planned) == sorted(draft.ids), "each once"
    assert answering.known.answers.keys() == set(draft.ids)


def test_money_that_only_another_column_has_is_known_in_the_first_answer() -> None:
    memory, draft = Saying(), study(4, paid=False)
    draft = SetValue("s3", ("part", "body", "contribution"), 20).apply(draft)
    answering = Answering(draft, check(draft), memory)
    answering.front = "s1"
    assert next(answering.first_runs()).in_money


def test_what_an_undo_comes_back_to_is_told_before_anything_is_compared() -> None:
    memory, draft = Saying(), study(6, paid=True)
    before = wholly(draft, "s5", memory, None)
    edited = SetValue("s5", ("handling", "walk"), "2 min").apply(draft)
    trying = Answering(edited, check(edited), memory, before)
    trying.front = "s5"
    assert set(next(trying.first_runs()).answers) == {"s5"}
    undone = Answering(draft, check(draft), memory, trying)
    undone.front = "s5"
    (news,) = undone.first_runs()
    assert news.answers["s5"] is before.known.answers["s5"]
    assert undone.found is None, "the rest is compared behind it"
