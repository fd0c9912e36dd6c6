"""The calculating side: one request at a time, the newest, in a process of its own."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable
from dataclasses import replace
from multiprocessing.connection import Connection

from whatif.answers.moves.inputs import Unanswerable
from whatif.answers.progress import Parts, Progress, Steps
from whatif.session.calculate.answering import Answering
from whatif.session.calculate.fanned import Fanned
from whatif.session.calculate.garbage import RESTED, Looking, look_rarely
from whatif.session.calculate.hearing import hearing
from whatif.session.calculate.memory import Kept
from whatif.session.calculate.news import Sender
from whatif.session.calculate.pool import Pool
from whatif.session.calculate.requests import Alone, AtOnce, Material, Question, Reply, Request
from whatif.session.kept.runs import KeptRuns
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.telling.in_words import fault_words, question_fault_words

_OFTEN = 25
"""Weeks between two words on how far it is; at a few milliseconds a week that is often enough."""

_FEW = 16
"""Cells that are kept in less time than a key would be waited for."""


class Overtaken(Exception):
    """A newer request has come."""


class _Reordered(Exception):
    """Something else of the same draft is looked at now."""


class Server:
    """Answers requests that come over a line; a newer one gives up the one before it.

    A request for the same draft gives up nothing that has been found; it changes the order.

    Args:
        line: where requests come from, and where replies go to unless ``send`` takes them.
        rests: called where nothing has been asked for a while.

    Attributes:
        memory: what has been run.
    """

    def __init__(
        self,
        line: Connection,
        pool: Pool | None = None,
        kept: Kept | None = None,
        *,
        send: Callable[[Reply], None] | None = None,
        rests: Callable[[], None] = lambda: None,
    ) -> None:
        self._line = line
        self._rests = rests
        self._send = line.send if send is None else send
        self._pool = Pool() if pool is None else pool
        self.memory = Fanned(
            self._pool,
            between_weeks=self._between_weeks,
            hears=(line,),
            kept=kept,
            within_week=self._hear,
        )
        self._request = Request(0, Draft())
        self._next: Request | None = None
        self._answering: Answering | None = None
        self._may_reorder = False
        self._weeks = self._expected = 0
        self._steps = Steps(self._tell_weeks)
        self._is_heard = hearing(line)

    def serve(self) -> None:
        """Answer until the other end is closed, and end the workers then."""
        with self._pool:
            try:
                while True:
                    if self._next is None and not self._line.poll(RESTED):
                        self._rests()
                    self._request = self._next or self._line.recv()
                    self._next = None
                    while self._is_heard():
                        self._request = self._line.recv()
                    try:
                        self._answer(self._request)
                        self._keep()
                    except Overtaken:
                        continue
            except (EOFError, OSError):
                return

    def _answer(self, request: Request) -> None:
        try:
            if isinstance(request.question, Alone):
                self.memory.take_back(stop=True)
                self._expect(0)
                found = request.question.work_alone(self.memory)
                self._reply(
                    Reply(request.revision, question=request.question, result=found, final=True)
                )
                return
            answering = self._going_on(request)
            if answering is None:
                self._reply(Reply(request.revision, final=True))
                return
            answering.front = request.front
            self._expect(0)  # how many weeks there are is known behind the first column
            for news in answering.first_runs():
                self._reply(Reply(request.revision, news))
                self._expect(answering.weeks_as_typed)
            question = request.question
            at_once = None
            if question is not None and answering.found is not None and not answering.is_typed:
                at_once = self._ask_at_once(request, question, answering)
            self._expect(answering.weeks_as_typed)
            for news in answering.as_typed():
                self._reply(Reply(request.revision, news))
            if question is not None and not (at_once and at_once.is_whole):
                self._ask(request, question, answering, at_once)
            self._find_the_rest(request, answering)
            self._reply(Reply(request.revision, answering.known, final=True))
        except (Overtaken, EOFError, OSError):
            raise
        except Exception as fault:  # told on the screen; the process lives on
            said = fault_words(fault)
            self._reply(Reply(request.revision, final=True, fault=said))

    def _going_on(self, request: Request) -> Answering | None:
        """What is known of the draft already, or nothing yet; None where it has problems."""
        answering = self._answering
        is_same = answering is not None and answering.draft == request.draft
        self.memory.take_back(stop=not is_same)
        if is_same:
            return answering
        checked = check(request.draft)
        if checked.study is None:
            return None
        self._answering = Answering(request.draft, checked, self.memory, answering)
        return self._answering

    def _find_the_rest(self, request: Request, answering: Answering) -> None:
        """What takes longer: likely ranges, scenario by scenario, and what else is tried out."""
        self._expect(answering.weeks_of_ranges)
        is_done = False
        while not is_done:
            self._may_reorder = True
            try:
                for news in answering.ranges():
                    self._reply(Reply(request.revision, news))
                is_done = True
            except _Reordered:
                self.memory.take_back(stop=False)
            finally:
                self._may_reorder = False
        self._expect(0)  # trials tell how far they are
        steps = Steps(
            lambda progress: self._reply(
                Reply(request.revision, progress=progress, is_of_rush=True)
            )
        )

        def told(done: int, of: int) -> None:
            self.memory.pause()
            steps(done, of)

        for news in answering.rush_trials(told):
            if any(answer.rush for answer in news.answers.values()):
                self._reply(Reply(request.revision, news))

    def _keep(self) -> None:
        """Have runs outlive the program, a few at a time, as long as nobody asks for anything."""
        while not self._is_heard() and not self.memory.keep(_FEW):
            pass

    def _reply(self, reply: Reply) -> None:
        self._send(reply)

    def _expect(self, weeks: int) -> None:
        """So many weeks are to be simulated from here on; 0 where that is not to be told."""
        self._weeks, self._expected = 0, weeks
        self._steps = Steps(self._tell_weeks)

    def _ask_at_once(
        self, request: Request, question: Question, answering: Answering
    ) -> AtOnce | None:
        """What can be told before the study is answered as typed."""
        try:
            found = question.at_once(self._material(request, question, answering))
        except (Overtaken, EOFError, OSError):
            raise
        except Exception:  # whatever it is, it is told when the question is worked out
            return None
        if found is not None:
            partly = not found.is_whole
            self._reply(
                Reply(request.revision, question=question, result=found.result, partly=partly)
            )
        return found

    def _ask(
        self,
        request: Request,
        question: Question,
        answering: Answering,
        at_once: AtOnce | None,
    ) -> None:
        try:
            result = question.work_out(
                replace(
                    self._material(request, question, answering),
                    at_once=None if at_once is None else at_once.result,
                )
            )
        except (Overtaken, EOFError, OSError):
            raise
        except Unanswerable as why:
            result = why
        except Exception as fault:  # the view says it; the comparison goes on
            said = question_fault_words(fault)
            self._reply(Reply(request.revision, question=question, fault=said))
            return
        self._reply(Reply(request.revision, question=question, result=result))

    def _material(self, request: Request, question: Question, answering: Answering) -> Material:
        self._expected = 0  # its own items tell how far it is
        steps = Steps(
            lambda progress: self._reply(
                Reply(request.revision, progress=progress, question=question)
            )
        )

        def told(done: int, of: int) -> None:
            self.memory.pause()
            steps(done, of)

        def partly(result: object) -> None:
            part = Reply(request.revision, question=question, result=result, partly=True)
            self._reply(part)

        return Material(
            request.draft,
            answering.checked,
            answering.known,
            self.memory,
            self.memory.pause,
            told,
            Parts(partly),
        )

    def _hear(self) -> None:
        if self._is_heard():
            self._listen()

    def _between_weeks(self) -> None:
        self._hear()
        self._weeks += 1
        if self._weeks % _OFTEN == 0:
            self._steps(self._weeks, self._expected)

    def _listen(self) -> None:
        """Hear a newer request; one that only looks at another scenario gives nothing up."""
        newer: Request = self._line.recv()
        now, answering = self._request, self._answering
        same = (newer.revision, newer.question) == (now.revision, now.question)
        if not (same and answering is not None and newer.draft == now.draft):
            self._next = newer
            raise Overtaken
        self._request = newer
        answering.front = newer.front
        if self._may_reorder:
            raise _Reordered

    def _tell_weeks(self, progress: Progress) -> None:
        self._reply(Reply(self._request.revision, progress=progress))


def serve_requests(line: Connection) -> None:
    """What the calculating process runs."""
    # An interrupt from the keyboard is the screen's to handle, not ours.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # Whoever ends this process ends its workers too, in order.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit())
    look_rarely()
    pool, kept, sender = Pool(kept=KeptRuns), KeptRuns(), Sender(line.send)
    Server(line, pool, kept, send=sender.send, rests=Looking().look).serve()
