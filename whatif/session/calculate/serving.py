"""The calculating side: one request at a time, the newest, in a process of its own."""

from __future__ import annotations

import signal
import sys
from collections.abc import Mapping
from multiprocessing.connection import Connection

from whatif.answers.compare import (
    Comparison,
    compare,
    likely_one_by_one,
    of_fewer_runs,
    rush_one_by_one,
    with_could_make,
    with_gain_ranges,
)
from whatif.answers.likely import weeks_of_draws
from whatif.answers.moves.inputs import Unanswerable
from whatif.answers.progress import Progress, Steps
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.session.calculate.fanned import Fanned
from whatif.session.calculate.pool import Pool
from whatif.session.calculate.requests import Material, Question, Reply, Request
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft
from whatif.telling.in_words import fault_words, question_fault_words

_OFTEN = 25
"""Weeks between two words on how far it is; at a few milliseconds a week that is often enough."""


def _weeks_as_typed(plans: Mapping[str, Plan]) -> int:
    """Weeks of all runs as typed, of settled ones those that they begin with."""
    return sum(plan.runs * (plan.warm_up + plan.weeks) for plan in plans.values())


class Overtaken(Exception):
    """A newer request has come."""


class Server:
    """Answers requests that come over a line; a newer one gives up the one before it."""

    def __init__(self, line: Connection) -> None:
        self._line = line
        self._pool = Pool()
        self._memory = Fanned(self._pool, between_weeks=self._between_weeks, hears=(line,))
        self._request = Request(0, Draft())
        self._weeks = self._expected = 0
        self._steps = Steps(self._tell_weeks)
        self._whole: tuple[Draft, Comparison] | None = None

    def serve(self) -> None:
        """Answer until the other end is closed, and end the workers then."""
        with self._pool:
            self._serve()

    def _serve(self) -> None:
        while True:
            try:
                self._request = self._line.recv()
                while self._line.poll():
                    self._request = self._line.recv()
                self._memory.take_back(stop=True)
                self._answer(self._request)
            except Overtaken:
                continue
            except (EOFError, OSError):
                return

    def _answer(self, request: Request) -> None:
        try:
            checked = check(request.draft)
            if not checked.is_sound:
                self._line.send(Reply(request.revision, final=True))
                return
            self._expect(0)
            known = self._whole is not None and self._whole[0] == request.draft
            found = self._whole[1] if known and self._whole else self._compared(request, checked)
            if request.question is not None:
                self._ask(request, request.question, checked, found)
            if not known:
                found = self._with_the_rest(request, found)
                self._whole = (request.draft, found)
            self._line.send(Reply(request.revision, found, final=True))
        except (Overtaken, EOFError, OSError):
            raise
        except Exception as fault:  # told on the screen; the process lives on
            said = fault_words(fault)
            self._line.send(Reply(request.revision, final=True, fault=said))

    def _compared(self, request: Request, checked: Checked) -> Comparison:
        """The comparison as typed, a first one sent on as soon as it is there."""
        plans = plans_of(checked)
        self._expect(_weeks_as_typed(of_fewer_runs(plans, 1)))
        found = compare(checked, self._memory, most_runs=1, quickly=True)
        self._line.send(Reply(request.revision, found))
        if any(plan.settled or plan.runs > 1 for plan in plans.values()):
            # How many weeks it takes to settle is not known before.
            self._expect(_weeks_as_typed(plans))
            found = compare(checked, self._memory)
            self._line.send(Reply(request.revision, found))
        return found

    def _with_the_rest(self, request: Request, found: Comparison) -> Comparison:
        """What takes longer: likely ranges, scenario by scenario, and what else is tried out."""
        self._expect(weeks_of_draws(found.plans))
        found = with_could_make(found, self._memory)
        for more in likely_one_by_one(found, self._memory):
            found = more
            self._line.send(Reply(request.revision, found))
        found = with_gain_ranges(found, self._memory)
        self._expect(0)  # trials tell how far they are
        steps = Steps(
            lambda progress: self._line.send(
                Reply(request.revision, progress=progress, is_of_rush=True)
            )
        )

        def told(done: int, of: int) -> None:
            self._memory.pause()
            steps(done, of)

        for more in rush_one_by_one(found, told):
            found = more
            if any(answer.rush for answer in found.answers.values()):
                self._line.send(Reply(request.revision, found))
        return found

    def _expect(self, weeks: int) -> None:
        """So many weeks are to be simulated from here on; 0 where that is not to be told."""
        self._weeks, self._expected = 0, weeks
        self._steps = Steps(self._tell_weeks)

    def _ask(
        self, request: Request, question: Question, checked: Checked, found: Comparison
    ) -> None:
        self._expected = 0  # its own items tell how far it is
        steps = Steps(
            lambda progress: self._line.send(
                Reply(request.revision, progress=progress, question=question)
            )
        )

        def told(done: int, of: int) -> None:
            self._memory.pause()
            steps(done, of)

        def partly(result: object) -> None:
            part = Reply(request.revision, question=question, result=result, partly=True)
            self._line.send(part)

        material = Material(
            request.draft, checked, found, self._memory, self._memory.pause, told, partly
        )
        try:
            result = question.work_out(material)
        except (Overtaken, EOFError, OSError):
            raise
        except Unanswerable as why:
            result = why
        except Exception as fault:  # the view says it; the comparison goes on
            said = question_fault_words(fault)
            self._line.send(Reply(request.revision, question=question, fault=said))
            return
        self._line.send(Reply(request.revision, question=question, result=result))

    def _between_weeks(self) -> None:
        if self._line.poll():
            raise Overtaken
        self._weeks += 1
        if self._weeks % _OFTEN == 0:
            self._steps(self._weeks, self._expected)

    def _tell_weeks(self, progress: Progress) -> None:
        self._line.send(Reply(self._request.revision, progress=progress))


def serve_requests(line: Connection) -> None:
    """What the calculating process runs."""
    # An interrupt from the keyboard is the screen's to handle, not ours.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # Whoever ends this process ends its workers too, in order.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit())
    Server(line).serve()
