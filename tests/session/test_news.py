"""Only what is news travels to the screen, which sees each reply as it was made."""

from __future__ import annotations

import pickle
from dataclasses import replace
from typing import cast

import pytest
from small_study import STUDY

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.news import Changed, Message, Receiver, Rest, Sender
from whatif.session.calculate.requests import Reply
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import DuplicateScenario, SetValue
from whatif.study.file.reading import read_text

DRAFT = read_text(STUDY)
PALLETS = ("machine", "mill", "pallets")


@pytest.fixture(scope="module")
def memory() -> Memory:
    return Memory()


class Line:
    """Both sides; what lies between them are bytes."""

    def __init__(self) -> None:
        self.messages: list[Message] = []
        self._receiver = Receiver()
        self._sender = Sender(self._pass)
        self._came: list[Reply] = []

    def _pass(self, message: Message) -> None:
        self.messages.append(message)
        reply = self._receiver.take(cast(Message, pickle.loads(pickle.dumps(message))))
        if reply is not None:
            self._came.append(reply)

    def send(self, reply: Reply) -> Reply:
        """What comes of a reply at the other end, once and behind its answers."""
        self.messages.clear()
        self._came.clear()
        self._sender.send(reply)
        assert isinstance(self.messages[-1], Rest)
        (came,) = self._came
        return came

    @property
    def sent(self) -> list[str]:
        """The scenarios whose answers have been sent with the latest reply."""
        return [id_ for message in self.messages for id_ in message.answers]


def answered(draft: Draft, memory: Memory) -> Comparison:
    return compare(check(draft), memory)


def test_an_edit_sends_the_answers_that_it_changes(memory: Memory) -> None:
    line, found = Line(), answered(DRAFT, memory)
    every = list(found.answers)
    first = Reply(1, found)
    assert line.send(first) == first
    assert line.sent == every
    assert line.send(replace(first, final=True)) == replace(first, final=True)
    assert line.sent == []
    edited = answered(SetValue("pool", PALLETS, 9).apply(DRAFT), memory)
    assert edited.answers["pool"] != found.answers["pool"]
    second = Reply(2, edited, final=True)
    assert line.send(second) == second
    assert line.sent == ["pool"]


def test_of_an_answer_that_is_there_only_what_is_other_is_sent(memory: Memory) -> None:
    line, found = Line(), answered(DRAFT, memory)
    line.send(Reply(1, found))
    likely = replace(found.answers["pool"], could_make=130.0, settled=False)
    news = Reply(1, found.having("pool", likely))
    assert line.send(news) == news
    assert [message.answers for message in line.messages] == [
        {"pool": Changed({"could_make": 130.0, "settled": False})}
    ]


def test_news_of_one_scenario_leaves_the_others_there(memory: Memory) -> None:
    line, found = Line(), answered(DRAFT, memory)
    line.send(Reply(1, found))
    part = Reply(1, found.of(("pool",)))
    assert line.send(part) == part
    assert line.sent == []
    assert line.send(Reply(1, found, final=True)) == Reply(1, found, final=True)
    assert line.sent == []


def test_what_has_left_the_study_is_forgotten_on_both_sides(memory: Memory) -> None:
    line, found = Line(), answered(DRAFT, memory)
    line.send(Reply(1, found))
    line.send(Reply(2, found.of(("now",)), final=True))
    assert line.sent == []
    again = Reply(3, found, final=True)
    assert line.send(again) == again
    assert line.sent == [id_ for id_ in found.answers if id_ != "now"]


def test_many_answers_come_a_few_at_a_time(memory: Memory) -> None:
    draft = DRAFT
    for number in range(9):
        draft = DuplicateScenario("pool", f"copy{number}").apply(draft)
    reply = Reply(1, answered(draft, memory))
    line = Line()
    assert line.send(reply) == reply
    sizes = [len(message.answers) for message in line.messages]
    assert sum(sizes) == len(draft.ids)
    assert max(sizes) <= 4


def test_a_reply_without_answers_is_left_as_it_is() -> None:
    reply = Reply(1, final=True, fault="no room")
    line = Line()
    assert line.send(reply) == reply
    assert line.sent == []
