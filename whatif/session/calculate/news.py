"""Only what is news travels to the screen, a few columns at a time.

While a message is read nothing else runs in the screen's process, keys and all. A reply has the
answers of up to all scenarios, of which an edit, a likely range or a rush order changes few, and
of these little: the plan, three quarters of an answer, only by an edit. So the sending side knows
what the receiving side has, and the receiving side puts the rest beside what comes: whoever takes
its replies sees each as it was made. Where the process is begun anew both begin with nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field, fields, replace
from itertools import islice
from typing import TYPE_CHECKING, Any

from whatif.records import dataclass

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.session.calculate.requests import Reply

_AT_ONCE = 4
"""Answers in a message: with all that they rest on they are read in two or three milliseconds."""


@dataclass(frozen=True, slots=True)
class Changed:
    """What of an answer is other than in the one that is there, by the names of its fields."""

    values: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Some:
    """Answers that are news, of the reply that comes behind them."""

    answers: Mapping[str, Answer | Changed]


@dataclass(frozen=True, slots=True)
class Rest:
    """A reply without its answers, which scenarios' answers it has, and the last that are news."""

    reply: Reply
    scenarios: tuple[str, ...] = ()
    answers: Mapping[str, Answer | Changed] = field(default_factory=dict)


Message = Some | Rest


class Sender:
    """The side that replies.

    Args:
        send: sends one message; it may wait until the other side reads.
    """

    def __init__(self, send: Callable[[Message], None]) -> None:
        self._send = send
        self._there: dict[str, Answer] = {}
        """What the other side has, by the scenario."""

    def send(self, reply: Reply) -> None:
        """Send what of a reply is not there yet."""
        found = reply.found
        answers = {} if found is None else found.answers
        news = {id_: answer for id_, answer in answers.items() if not self._is_there(id_, answer)}
        left = iter(news.items())
        for _ in range(_AT_ONCE, len(news), _AT_ONCE):
            few = dict(islice(left, _AT_ONCE))
            self._send(Some(self._changes(few)))
            self._there.update(few)
        last = dict(left)
        if found is not None:
            reply = replace(reply, found=replace(found, answers={}))
        self._send(Rest(reply, tuple(answers), self._changes(last)))
        self._there.update(last)
        if found is not None and reply.final:
            self._there = dict(answers)

    def _is_there(self, scenario: str, answer: Answer) -> bool:
        there = self._there.get(scenario)
        return there is answer or there == answer

    def _changes(self, news: Mapping[str, Answer]) -> dict[str, Answer | Changed]:
        """Of answers whose scenarios are there only what is other."""
        return {
            id_: _changed(self._there[id_], answer) if id_ in self._there else answer
            for id_, answer in news.items()
        }


def _changed(there: Answer, answer: Answer) -> Changed:
    pairs = {
        each.name: (getattr(there, each.name), getattr(answer, each.name))
        for each in fields(answer)
    }
    return Changed(
        {name: now for name, (then, now) in pairs.items() if now is not then and now != then}
    )


class Receiver:
    """The side that is replied to."""

    def __init__(self) -> None:
        self._there: dict[str, Answer] = {}

    def take(self, message: Message) -> Reply | None:
        """The whole reply; None where more of it is to come."""
        for id_, news in message.answers.items():
            if isinstance(news, Changed):
                self._there[id_] = replace(self._there[id_], **news.values)
            else:
                self._there[id_] = news
        if isinstance(message, Some):
            return None
        reply = message.reply
        if reply.found is None:
            return reply
        answers = {id_: self._there[id_] for id_ in message.scenarios}
        if reply.final:
            self._there = answers.copy()
        return replace(reply, found=replace(reply.found, answers=answers))
