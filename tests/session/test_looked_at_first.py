"""The order in which the calculating side answers, and what an edit leaves as it was."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from multiprocessing import Pipe
from multiprocessing.connection import Connection
from typing import ClassVar

import pytest
from answer_studies import CHILD, TODAY, today
from typing_extensions import override

from whatif.answers.compare import compare_wholly
from whatif.answers.week import Week, week
from whatif.plan.build import plans_of
from whatif.session.calculate.answered import Answered
from whatif.session.calculate.first import FirstStudyOf
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.pool import Pool
from whatif.session.calculate.questions import OnTableOf, WeekOf
from whatif.session.calculate.requests import Material, Question, Reply, Request
from whatif.session.calculate.serving import Server
from whatif.session.first_study import first_study
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import SetValue
from whatif.study.file.reading import read_text

THREE = (
    TODAY
    + CHILD
    + 'machine.mill.count = 2\n[scenario.other]\nparent = "today"\nmachine.mill.pallets = 3\n'
)
RUSH = 'rush.hot.part = "body"\nrush.hot.pieces = 2\nrush.hot.arrives = "tue 10:00"\n'
METERS = (
    'hour_meters.gap = "show"\nhour_meters.switched_on = "2000 h"\nhour_meters.in_cut = "600 h"\n'
)


class Asking:
    """The other end of the line: asks, and keeps what comes back."""

    def __init__(self, line: Connection, server: Server) -> None:
        self.line, self.server = line, server
        self.revision = 0
        self.replies: list[Reply] = []

    def ask(self, draft: Draft, front: str = "", question: Question | None = None) -> int:
        """Runs that the answer takes, all of it; what was replied is in ``replies``."""
        before = self.server.memory.ran
        self.send(draft, front, question)
        self.listen(lambda reply: reply.final)
        return self.server.memory.ran - before

    def send(self, draft: Draft, front: str = "", question: Question | None = None) -> None:
        self.revision += 1
        self.again(draft, front, question)

    def again(self, draft: Draft, front: str = "", question: Question | None = None) -> None:
        """The same revision: something else of it is looked at."""
        self.line.send(Request(self.revision, draft, question, front))
        self.replies = []

    def listen(self, until: Callable[[Reply], bool]) -> None:
        while True:
            reply = self.line.recv()
            if reply.revision == self.revision:
                self.replies.append(reply)
                if until(reply):
                    return

    @property
    def told(self) -> list[tuple[str, ...]]:
        """Whose answers each reply has, those with a likely range marked."""
        return [
            tuple(
                f"{id_}~" if answer.likely is not None else id_
                for id_, answer in reply.found.answers.items()
            )
            for reply in self.replies
            if reply.found is not None
        ]


@contextmanager
def asking(workers: int = 0) -> Iterator[Asking]:
    ours, theirs = Pipe()
    server = Server(theirs, Pool(workers))
    other = threading.Thread(target=server.serve)
    other.start()
    try:
        yield Asking(ours, server)
    finally:
        ours.close()
        other.join()


def edited(draft: Draft, scenario: str, key: str, text: object) -> Draft:
    return SetValue(scenario, tuple(key.split(".")), text).apply(draft)  # type: ignore[arg-type]


@dataclass(frozen=True)
class Looks(Question):
    """A view that is open."""

    @override
    def work_out(self, material: Material) -> object:
        return tuple(material.found.answers)


@dataclass(frozen=True)
class Waits(Question):
    """A view that is open until the test goes on."""

    begun: ClassVar = threading.Event()
    over: ClassVar = threading.Event()

    @override
    def work_out(self, material: Material) -> object:
        self.begun.set()
        self.over.wait()
        return "waited"


@dataclass(frozen=True)
class Counts(Question):
    """A view whose answer is known part by part, all of them from before."""

    @override
    def work_out(self, material: Material) -> object:
        for known in range(50):
            material.partly(known)
        return 50


# -- order ---------------------------------------------------------------------------------


@pytest.mark.parametrize("workers", [0, 2])
def test_what_is_looked_at_comes_first(workers: int) -> None:
    draft = read_text(THREE)
    with asking(workers) as desk:
        desk.ask(draft, front="other", question=Looks())
        every = ("today", "child", "other")
        ranges = [("other~",), ("today~",), ("child~",)]
        assert desk.told == [("other",), every, *ranges, tuple(f"{id_}~" for id_ in every)]
        # The view in front is answered before any range of the strip.
        at = next(place for place, reply in enumerate(desk.replies) if reply.question)
        assert not any(
            answer.likely
            for reply in desk.replies[:at]
            if reply.found
            for answer in reply.found.answers.values()
        )


@pytest.mark.long
@pytest.mark.parametrize("is_settled", [True, False])
def test_a_week_is_seen_before_every_scenario_is_settled(is_settled: bool) -> None:
    text = THREE.replace("weeks = 2\n", "") if is_settled else THREE
    asked = WeekOf("child", 1)
    with asking() as desk:
        desk.ask(read_text(text), question=asked)
        weeks = [reply.result for reply in desk.replies if reply.question and reply.result]
        places = [place for place, reply in enumerate(desk.replies) if reply.result]
        typed = [place for place, reply in enumerate(desk.replies) if reply.found][1]
        found = desk.replies[-1].found
        assert found is not None
        assert weeks[-1] == week(found.answers["child"].plan, 1)
        assert places[0] < typed
        if is_settled:
            first, last = weeks
            assert isinstance(first, Week)
            assert first.may_be_more
            assert (
                replace(first, weeks=found.answers["child"].plan.weeks, may_be_more=False) == last
            )
        else:
            assert len(weeks) == 1


@pytest.mark.long
def test_a_part_on_its_machine_is_shown_before_anything_is_settled() -> None:
    asked = OnTableOf("child", "body", "mill")
    with asking() as desk:
        desk.ask(read_text(THREE.replace("weeks = 2\n", "")), question=asked)
        kinds = [bool(reply.question) for reply in desk.replies if reply.found or reply.result]
        assert kinds == [False, True, *[False] * (len(kinds) - 2)]


def test_an_answer_that_is_known_already_is_not_sent_in_every_part_of_it() -> None:
    with asking() as desk:
        desk.ask(read_text(THREE), question=Counts())
        told = [reply.result for reply in desk.replies if reply.result is not None]
        assert told[0] == 0
        assert told[-1] == 50
        assert len(told) < 10


def test_an_edited_column_comes_before_the_others_and_they_keep_what_they_have() -> None:
    draft = read_text(THREE)
    with asking() as desk:
        desk.ask(draft)
        desk.ask(edited(draft, "child", "handling.walk", "3 min"), front="child")
        assert desk.told == [
            ("child",),
            ("today~", "child", "other~"),
            ("child~",),
            ("today~", "child~", "other~"),
        ]


@pytest.mark.parametrize("workers", [0, 2])
def test_another_column_looked_at_gives_nothing_up(workers: int) -> None:
    draft = read_text(THREE)
    with asking(workers) as desk:
        Waits.begun.clear()
        Waits.over.clear()
        desk.send(draft, front="child", question=Waits())
        Waits.begun.wait()
        ran = desk.server.memory.ran
        desk.line.send(Request(desk.revision, draft, Waits(), "other"))
        Waits.over.set()
        desk.listen(lambda reply: reply.final)
        assert desk.told.index(("other~",)) < desk.told.index(("child~",))
        assert ran == 3
        alone = Memory()
        expected = compare_wholly(check(draft), alone, alone.pause)
        assert desk.replies[-1].found == expected
        assert desk.server.memory.ran == alone.ran


@pytest.mark.parametrize("workers", [0, 2])
@pytest.mark.long
def test_what_the_desk_puts_together_is_the_comparison(workers: int) -> None:
    draft = read_text(THREE + RUSH)
    edit = edited(draft, "child", "handling.walk", "3 min")
    answered = Answered()
    with asking(workers) as desk:
        for each in (draft, edit):
            desk.ask(each, front="child")
            for reply in desk.replies:
                if reply.found is not None:
                    answered.take(reply.found, check(each))
    alone = Memory()
    expected = compare_wholly(check(edit), alone, alone.pause)
    assert answered.current(check(edit)) == expected.answers


@pytest.mark.long
def test_a_first_study_is_made_for_nobody_s_study_and_can_be_given_up() -> None:
    answers = {"shift": "6-14", "machines": "1"}
    asked = FirstStudyOf(tuple(answers.items()))
    with asking() as desk:
        desk.send(Draft(), question=asked)
        desk.ask(Draft())  # given up, or answered so soon that nobody waits for it
        assert [reply.result for reply in desk.replies] == [None]
        desk.ask(Draft(), question=asked)
        assert [reply.result for reply in desk.replies if reply.final] == [
            first_study(answers, Memory())
        ]
        assert desk.ask(Draft(), question=asked) == 0


# -- what an edit does not touch -----------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "text"),
    [("title", "Another name"), ("machine.mill.price", 90000), ("money.one_off", 5)],
)
def test_what_is_beside_the_physics_runs_nothing_again(key: str, text: object) -> None:
    draft = read_text(THREE)
    with asking() as desk:
        desk.ask(draft)
        assert desk.ask(edited(draft, "child", key, text), front="child") == 0
        # Not even for a moment are ranges lacking that still hold.
        assert desk.told == [("child",), *[("today~", "child~", "other~")] * 2]


@pytest.mark.long
def test_meters_that_are_only_shown_change_no_range() -> None:
    draft = read_text((THREE + METERS).replace("weeks = 2", "weeks = 1"))
    with asking() as desk:
        desk.ask(draft)
        desk.ask(edited(draft, "other", "hour_meters.in_cut", "700 h"), front="other")
        assert desk.told == [("other",), *[("today~", "child~", "other~")] * 2]


def test_an_edit_of_one_scenario_runs_that_one_alone() -> None:
    draft = read_text(THREE)
    with asking() as desk:
        desk.ask(draft)
        # As typed, flat out and in three draws; the other two scenarios are not run again.
        assert desk.ask(edited(draft, "child", "handling.walk", "3 min"), front="child") == 5


def test_undoing_an_edit_runs_nothing() -> None:
    draft = read_text(THREE)
    with asking() as desk:
        desk.ask(draft)
        desk.ask(edited(draft, "child", "handling.walk", "3 min"))
        assert desk.ask(draft) == 0
        assert desk.replies[-1].found is not None


def test_plans_of_what_an_edit_does_not_touch_are_those_from_before() -> None:

    then = check(read_text(THREE))
    plans = plans_of(then)
    now = check(edited(then.draft, "child", "handling.walk", "3 min"))
    found = plans_of(now, (then, plans))
    assert found == plans_of(now)
    assert [id_ for id_, plan in found.items() if plan is not plans[id_]] == ["child"]
    # What all inherit, and what holds of the whole study, changes all of them.
    above = check(edited(then.draft, "today", "handling.walk", "3 min"))
    assert plans_of(above, (then, plans)) == plans_of(above)
    longer = check(then.draft.with_head("weeks", 3))
    assert plans_of(longer, (then, plans)) == plans_of(longer)


def test_a_plan_follows_the_meters_of_another_scenario() -> None:
    then = check(read_text(today(*METERS.splitlines()) + CHILD))
    now = check(edited(then.draft, "today", "hour_meters.in_cut", "700 h"))
    assert plans_of(now, (then, plans_of(then))) == plans_of(now)
