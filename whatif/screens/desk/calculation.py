"""What has been asked of the calculation, and what it has replied."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from whatif.session.calculate.answered import Answered
from whatif.session.calculate.requests import ANY_REVISION, Question, Reply, Request
from whatif.telling.in_words import progress_words

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.progress import Progress
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState
    from whatif.screens.views.view import Look
    from whatif.study.draft import Draft


class Calculation:
    """The answers to what is on the screen, and to the question that the open view has.

    Attributes:
        status: how far the comparison is, in words; "" once it is there.
    """

    def __init__(self, state: DeskState, host: DeskHost) -> None:
        self.status = ""
        self._state = state
        self._host = host
        self._answered = Answered()
        self._replies: dict[Question, Reply] = {}
        """To questions that are done with: their results, or why there is none."""
        self._partly: dict[Question, object] = {}
        self._of: Draft | None = None
        """What these belong to."""
        self._front = ""
        """The scenario that was looked at when it was asked last."""
        self._asked: Question | None = None
        self._stopped: Question | None = None
        """The question that is not worked at until that is wished for."""
        self._progress = ""
        self._rush_progress = ""

    # -- what is known -----------------------------------------------------------------

    def current(self) -> Mapping[str, Answer]:
        """The answers that belong to what is on the screen."""
        return self._answered.current(self._state.session.checked)

    def look(self) -> Look:
        """What there is to be drawn by a view."""
        from whatif.screens.views.view import Look

        state, asked = self._state, self._asked
        draft = state.shown
        reply = None if asked is None else self._replies.get(asked)
        at_work = asked if self._stopped is None else self._stopped
        return Look(
            checked=state.session.checked,
            ids=state.ids,
            titles=state.titles,
            chosen=state.looked_at,
            reference=draft.reference_id,
            answers=self.current(),
            columns=state.columns,
            result=None if reply is None else reply.result,
            partly=None if at_work is None else self._partly.get(at_work),
            draft=draft,
            under=state.spot.path,
            units=state.arrangement.units,
            waiting=self._progress if self._stopped is None else "Stopped; s goes on with it.",
            fault="" if reply is None else reply.fault,
            rush_waiting=self._rush_progress,
            results={question: said.result for question, said in self._replies.items()},
        )

    # -- asking ------------------------------------------------------------------------

    def ask(self) -> None:
        """Ask for what is on the screen, and what the view wants to know of it."""
        if self._of is not self._state.shown:
            self._of = self._state.shown
            self._replies.clear()
            self._partly.clear()
        self._progress = ""
        self._send()

    def follow_view(self) -> bool:
        """Ask anew where the view wants to know something else than before; whether it does.

        Where another column is looked at before everything is known, that comes first.
        """
        is_news = self._follow_question()
        if self.status and (self._state.chosen or "") != self._front:
            self._send()
        return is_news

    def _follow_question(self) -> bool:
        view = self._state.view
        if view is None:
            return False
        question = view.question(self.look())
        if question == self._stopped:
            question = None
        else:
            # What was stopped was one question; another one is worked out again.
            self._stopped = None
        if question == self._asked:
            return False
        self._asked = question
        self._progress = ""
        if self._wanted() is not None:
            self._send()
        return True

    def _wanted(self) -> Question | None:
        """What the open view wants to know and has not been told."""
        view, checked = self._state.view, self._state.session.checked
        if view is None or self._stopped is not None or not checked.is_sound:
            return None
        question = view.question(self.look())
        return None if question in self._replies else question

    def _send(self) -> None:
        session = self._state.session
        self.status = "working out" if session.checked.is_sound else ""
        self._front = self._state.chosen or ""
        self._host.program.ask(
            Request(session.revision, session.shown, self._wanted(), self._front)
        )

    def stop_or_go_on(self) -> None:
        """Stop the work on the view's question, or go on with it."""
        if self._state.view is None or (self._asked is None and self._stopped is None):
            self._host.say("Nothing is being worked out that could be stopped.")
            return
        self._stopped = self._asked if self._stopped is None else None
        self._asked = None
        self._send()
        self._host.repaint()

    def go_on(self) -> None:
        """Whatever was stopped is worked out again when it is asked for."""
        self._stopped = None

    # -- replies -----------------------------------------------------------------------

    def take(self, reply: Reply) -> None:
        """Take what the calculation has said; of another revision it is no news."""
        is_news = reply.revision in (ANY_REVISION, self._state.session.revision)
        if is_news and reply.question is not None:
            self._take_result(reply.question, reply)
        if reply.fault:
            self._state.notice = f"The calculation failed: {reply.fault}"
        if is_news and reply.question is None:
            self._take_comparison(reply)

    def _take_result(self, question: Question, reply: Reply) -> None:
        if reply.fault or (reply.result is not None and not reply.partly):
            self._replies[question] = reply
        elif reply.result is not None:
            self._partly[question] = reply.result
        if not reply.partly:
            self._progress = _progress_line(reply.progress)
        self._host.repaint_soon()

    def _take_comparison(self, reply: Reply) -> None:
        if reply.fault and self._asked is not None and self._wanted() is not None:
            # What ended the calculation took the view's question with it.
            self._replies[self._asked] = reply
        if reply.found is not None:
            self._answered.take(reply.found, self._state.session.checked)
        told = reply.progress if reply.is_of_rush else None
        self._rush_progress = "" if told is None else progress_words(told)
        share = "" if reply.progress is None else f" {reply.progress.percent} %"
        self.status = "" if reply.final else f"working out{share}"
        if reply.found is None and not (reply.is_of_rush or reply.fault or reply.final):
            self._host.repaint_head()
        else:
            self._host.repaint_soon()


def _progress_line(progress: Progress | None) -> str:
    if progress is None:
        return ""
    return f"Being worked out: {progress_words(progress)}. s stops it."
