"""The ten questions on one page: each can be answered, left, and gone back to, in any order."""

from __future__ import annotations

from typing import ClassVar

from textual import events, on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.screen import Screen
from textual.widgets import Footer, Input, Static
from textual.worker import get_current_worker

from whatif.screens.columns import wrapped
from whatif.session.first_questions import BY_ID, QUESTIONS, FirstQuestion, is_known
from whatif.session.first_study import FirstStudy, first_study
from whatif.session.first_told import faults, means
from whatif.session.memory import Memory

_MOVES = {"up": -1, "shift+tab": -1, "down": 1, "tab": 1}
_LINES = 5
"""Lines below the questions."""


class GivenUp(Exception):
    """Escape was pressed while the study was being made."""


class Row(Horizontal):
    """A question, the line for its answer, its unit, and what holds or is wrong."""

    def __init__(self, question: FirstQuestion, answer: str) -> None:
        super().__init__(classes="question")
        self.question = question
        self._answer = answer

    def compose(self) -> ComposeResult:
        """Four fields side by side."""
        one = self.question
        yield Static(f"{one.number:>3}  {one.label}", classes="asked", markup=False)
        yield Input(self._answer, id=one.id, compact=True, select_on_focus=False)
        yield Static(one.unit, classes="unit", markup=False)
        yield Static(classes="held", markup=False)

    def show(self, wrong: str, meant: str) -> None:
        """Tell what holds: what is meant by the answer, what is assumed, that it is wrong."""
        known = is_known(self.query_one(Input).value)
        held = self.query_one(".held", Static)
        held.set_class(bool(wrong), "wrong")
        held.set_class(not known, "assumed")
        if wrong:
            held.update("! not understood" if known else f"! {wrong}")
        else:
            held.update(f"= {meant}" if meant else "" if known else f"~ {self.question.assumed}")


class Questions(Screen[FirstStudy | None]):
    """Dismissed with the study that the answers make, or with None.

    ``answers`` is kept up to date as they are typed, so that nothing is lost by going away.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "next", "next"),
        Binding("f10", "make", "make the study", key_display="F10"),
        Binding("question_mark", "not_known", "don't know", key_display="?", priority=True),
        Binding("escape", "back", "back"),
    ]

    def __init__(self, answers: dict[str, str]) -> None:
        super().__init__()
        self._answers = answers
        self._faults = faults(answers)
        self.is_working = False

    def compose(self) -> ComposeResult:
        """The head, the questions, help for the one that is being answered, the keys."""
        yield Static(id="head", markup=False)
        with Vertical(id="questions"):
            for one in QUESTIONS:
                yield Row(one, self._answers.get(one.id, ""))
        yield Static(id="about", markup=False)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        """Begin with the first question."""
        self._say_head("")
        self._place(0)
        self._repaint()

    def on_resize(self, event: events.Resize) -> None:
        """Break the help anew."""
        self.call_after_refresh(self._repaint)

    # -- where -------------------------------------------------------------------------

    @property
    def _at(self) -> int:
        """The place of the question that is being answered."""
        focused = self.focused
        return QUESTIONS.index(BY_ID[focused.id]) if focused is not None and focused.id else 0

    def _place(self, place: int) -> None:
        line = self.query_one(f"#{QUESTIONS[place % len(QUESTIONS)].id}", Input)
        # At once: `focus` would only ask for it, and the next key may be here already.
        self.set_focus(line)
        line.cursor_position = len(line.value)

    def on_key(self, event: events.Key) -> None:
        """Move between the questions."""
        if event.key in _MOVES:
            event.stop()
            event.prevent_default()
            self._place(self._at + _MOVES[event.key])

    def on_descendant_focus(self) -> None:
        """Help for the question that is being answered now."""
        self._repaint()

    @on(Input.Submitted)
    def _submitted(self, message: Input.Submitted) -> None:
        message.stop()
        self.action_next()

    def action_next(self) -> None:
        """Go on to the next question; after the last the study is made."""
        if self._at + 1 == len(QUESTIONS):
            self.action_make()
        else:
            self._place(self._at + 1)

    def action_not_known(self) -> None:
        """Take the answer out, so that what is assumed holds, and go on."""
        self.query_one(f"#{QUESTIONS[self._at].id}", Input).value = ""
        self._place(min(self._at + 1, len(QUESTIONS) - 1))

    # -- answers -----------------------------------------------------------------------

    @on(Input.Changed)
    def _changed(self, message: Input.Changed) -> None:
        if message.input.id is not None:
            self._answers[message.input.id] = message.value
            self._faults = faults(self._answers)
            self._repaint()

    def _repaint(self) -> None:
        sound = {one: text for one, text in self._answers.items() if one not in self._faults}
        meant = means(sound)
        for row in self.query(Row):
            one = row.question.id
            row.show(self._faults.get(one, ""), meant.get(one, ""))
        question = QUESTIONS[self._at]
        wrong = self._faults.get(question.id, "")
        about = self.query_one("#about", Static)
        about.set_class(bool(wrong), "wrong")
        texts = [wrong, question.find] if wrong else [question.find, question.may_be]
        room = max(20, self.size.width - 2)
        lines = [line for text in texts for line in wrapped(text, room, 2)]
        about.update("\n".join(f" {line}" for line in lines[:_LINES] if line))

    def _say_head(self, text: str) -> None:
        words = text or "What you don't know leave empty: it is assumed (~)"
        self.query_one("#head", Static).update(f" A first study in ten questions   {words}")

    # -- the study ---------------------------------------------------------------------

    def action_make(self) -> None:
        """Make the study, or go to the first answer that cannot be taken."""
        if self.is_working:
            return
        for place, question in enumerate(QUESTIONS):
            if question.id in self._faults:
                self._place(place)
                return
        self.is_working = True
        self._say_head("Working out what today makes; Esc stops")
        self._make(dict(self._answers))

    @work(thread=True, exclusive=True)
    def _make(self, answers: dict[str, str]) -> None:
        worker = get_current_worker()

        def between_weeks() -> None:
            if worker.is_cancelled:
                raise GivenUp

        try:
            first = first_study(answers, Memory(between_weeks=between_weeks))
        except GivenUp:
            return
        self.app.call_from_thread(self._made, first)

    def _made(self, first: FirstStudy) -> None:
        if self.is_working:
            self.is_working = False
            self.dismiss(first)

    def action_back(self) -> None:
        """Stop what is being worked out, or go back; the answers stay."""
        if self.is_working:
            self.is_working = False
            self.workers.cancel_node(self)
            self._say_head("")
            return
        self.dismiss(None)
