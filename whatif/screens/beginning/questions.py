"""The ten questions on one page: each can be answered, left, and gone back to, in any order."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Protocol, cast

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Footer, Input, Static

from whatif.screens.dialogs.texts import ReadText
from whatif.screens.widgets.drawing import wrapped
from whatif.session.calculate.calculator import Calculates
from whatif.session.calculate.first import FirstStudyOf
from whatif.session.calculate.requests import ANY_REVISION, Alone, Reply, Request
from whatif.session.first_made import FirstStudy
from whatif.study.draft import Draft
from whatif.study.first.questions import QUESTIONS, FirstQuestion, is_known
from whatif.study.first.shop import faults
from whatif.telling.first_study import assumes, fault_sentence, may_be, means

_HELP = """\
About your shop as it is today. The answers make a study: today's
arrangement, and beside it what is worth a look.

Each answer
  Type it over the coloured field. A bare number has the unit beside
  it; a time may have its own: 45 s, 11 min, 1.5 h. Below stands how
  a shop finds the number; behind = what your answer comes to.

Not known?
  Leave it empty, or press F9 or ?: the value behind ~ is assumed,
  and marked so in the study. Type it in there once it is measured.

An answer that cannot be taken
  is marked with !, and the reason stands below. Mend it, or F9; up
  and the mouse still go to the other questions. What you type then
  takes its place; an arrow goes on with it.

Keys
  Enter, Tab, down   on to the next question
  Shift+Tab, up      back to the one before
  F9 or ?            don't know: empty it and go on
  F10                make the study; Enter on the last one does too
  Esc                back; your answers are kept
  A click goes to a question too."""

_LINES = 5
"""Lines below the questions."""

_ANSWERS_AT = 31
"""The cell at which answers begin."""


class Lends(Protocol):
    """The program, which has a calculation also where no study is open."""

    def lend(self, deliver: Callable[[Reply], None]) -> Calculates:
        """Somebody who answers; replies come from another thread."""


class AnswerLine(Input):
    """The one line to type in, laid over the answer that is being given."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "screen.next", "next"),
        Binding("up,shift+tab", "screen.move(-1)", show=False),
        Binding("down,tab", "screen.move(1)", show=False),
        # Before the line takes it for a letter.
        Binding("question_mark", "screen.not_known", show=False, priority=True),
    ]


class QuestionRow(Horizontal):
    """A question, its answer, the unit, and what holds or is wrong."""

    class Clicked(Message):
        """The question was clicked."""

        def __init__(self, question: FirstQuestion) -> None:
            super().__init__()
            self.question = question

    def __init__(self, question: FirstQuestion) -> None:
        super().__init__(classes="question")
        self.question = question
        self._shown: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        """Four fields side by side."""
        yield Static(classes="asked", markup=False)
        yield Static(classes="answered", markup=False)
        yield Static(self.question.unit, classes="unit", markup=False)
        yield Static(classes="held", markup=False)

    def on_click(self, event: events.Click) -> None:
        """A click anywhere in the row goes to its answer."""
        event.stop()
        self.post_message(self.Clicked(self.question))

    def show(self, answer: str, meant: str, assumed: str, *, is_wrong: bool, here: bool) -> None:
        """Tell what holds: what is meant by the answer, what is assumed, that it is wrong."""
        question, sign = self.question, ">" if here else " "
        if is_wrong:
            held, kind = "! the reason is below" if here else "! cannot be taken", "wrong"
        elif is_known(answer):
            held, kind = f"= {meant}" if meant else "", ""
        else:
            held, kind = f"~ {assumed}", "assumed"
        # Only what changed is drawn anew: over a slow line each letter would send the page.
        for field, text in (
            ("asked", f"{sign}{question.number:>2}  {question.label}"),
            ("answered", answer),
            ("held", held),
        ):
            if self._shown.get(field) != text:
                self._shown[field] = text
                self.query_one(f".{field}", Static).update(text)
        for name in ("wrong", "assumed"):
            self.query_one(".held", Static).set_class(kind == name, name)


class Questions(Screen[FirstStudy | None]):
    """Dismissed with the study that the answers make, or with None.

    ``answers`` is kept up to date as they are typed, so that nothing is lost by going away.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f10", "make", "make the study", key_display="F10"),
        Binding("f9", "not_known", "don't know", key_display="F9"),
        Binding("f1", "help", "help", key_display="F1"),
        Binding("escape", "back", "back"),
    ]

    def __init__(self, answers: dict[str, str]) -> None:
        super().__init__()
        self._answers = answers
        self._faults = faults(answers)
        self._at = 0
        self._number = ANY_REVISION
        """Of the latest request, below those of any study."""
        self.is_working = False

    def compose(self) -> ComposeResult:
        """The head, the questions, help for the one that is being answered, the keys."""
        yield Static(id="head", markup=False)
        with Vertical(id="questions"):
            for question in QUESTIONS:
                yield QuestionRow(question)
        yield Static(id="about", markup=False)
        yield Footer(show_command_palette=False)
        yield AnswerLine(id="answer", compact=True, select_on_focus=False)

    def on_mount(self) -> None:
        """Begin with the first question."""
        self._say_head("")
        self._line.focus()
        self._go_to(0)
        # It is warm by the time the answers are given.
        self._calculates = cast(Lends, self.app).lend(self._deliver)

    def _deliver(self, reply: Reply) -> None:
        # Called from a thread; posting a message is safe from any.
        self.post_message(self.Replied(reply))

    def on_resize(self, event: events.Resize) -> None:
        """Break the help anew."""
        self.call_after_refresh(self._repaint)

    # -- where -------------------------------------------------------------------------

    @property
    def _line(self) -> AnswerLine:
        return self.query_one(AnswerLine)

    @property
    def _asked(self) -> FirstQuestion:
        """The question that is being answered."""
        return QUESTIONS[self._at]

    def _go_to(self, place: int) -> None:
        self._at = place % len(QUESTIONS)
        line = self._line
        line.value = self._answers.get(self._asked.id, "")
        line.cursor_position = len(line.value)
        # Below the head.
        line.styles.offset = (_ANSWERS_AT, 1 + self._at)
        self._repaint()

    def action_move(self, places: int) -> None:
        """Go to the question so many further down."""
        self._take()
        if places > 0 and self._asked.id in self._faults:
            # On from a wrong answer only when it is mended or taken out; its reason stands below.
            self._refuse()
            return
        self._go_to(self._at + places)

    def _refuse(self) -> None:
        """Say why the answer cannot be taken; typing takes its place, an arrow goes on with it."""
        self.app.bell()
        self._line.select_all()
        self._repaint()

    @on(QuestionRow.Clicked)
    def _clicked(self, message: QuestionRow.Clicked) -> None:
        self._take()
        self._go_to(QUESTIONS.index(message.question))

    def action_next(self) -> None:
        """Go on to the next question; after the last the study is made."""
        if self._at + 1 == len(QUESTIONS):
            self._take()
            self.action_make()
        else:
            self.action_move(1)

    def action_not_known(self) -> None:
        """Take the answer out, so that what is assumed holds, and go on."""
        self._line.value = ""
        self._take()
        self._go_to(min(self._at + 1, len(QUESTIONS) - 1))

    def action_help(self) -> None:
        """Tell how the page works."""
        self.app.push_screen(ReadText("Ten questions", _HELP))

    # -- answers -----------------------------------------------------------------------

    @on(Input.Changed)
    def _changed(self) -> None:
        self._take()
        self._repaint()

    def _take(self) -> None:
        """Keep what is in the line as the answer to the question it lies over."""
        if self._line.value != self._answers.get(self._asked.id, ""):
            self._answers[self._asked.id] = self._line.value
            self._faults = faults(self._answers)

    def _repaint(self) -> None:
        meant = means(self._answers, self._faults)
        assumed = assumes(self._answers, self._faults)
        for row in self.query(QuestionRow):
            id_ = row.question.id
            row.show(
                self._answers.get(id_, ""),
                meant.get(id_, ""),
                assumed.get(id_, row.question.assumed),
                is_wrong=id_ in self._faults,
                here=row.question is self._asked,
            )
        fault = self._faults.get(self._asked.id)
        about = self.query_one("#about", Static)
        about.set_class(fault is not None, "wrong")
        room = max(20, self.size.width - 2)
        if fault is None:
            lines = wrapped(self._asked.find, room, 2) + wrapped(may_be(self._asked), room, 2)
        else:
            lines = wrapped(f"! {fault_sentence(fault)}", room, _LINES - 1)
        about.update("\n".join(f" {line}" for line in lines if line))

    def _say_head(self, text: str) -> None:
        words = text or "Not known? Leave it empty: it is assumed (~)"
        self.query_one("#head", Static).update(f" First study: ten questions   {words}")

    # -- the study ---------------------------------------------------------------------

    def action_make(self) -> None:
        """Make the study, or go to the first answer that cannot be taken."""
        if self.is_working:
            return
        for place, question in enumerate(QUESTIONS):
            if question.id in self._faults:
                self._go_to(place)
                self._refuse()
                return
        self.is_working = True
        self._say_head("Working out what today makes; Esc stops")
        self._ask(FirstStudyOf(tuple(self._answers.items())))

    def _ask(self, question: Alone | None) -> None:
        """Have a question answered in the place of the one before; None only gives that up."""
        self._number -= 1
        self._calculates.ask(Request(self._number, Draft(), question))

    class Replied(Message):
        """The calculation has said something."""

        def __init__(self, reply: Reply) -> None:
            super().__init__()
            self.reply = reply

    @on(Replied)
    def _replied(self, message: Replied) -> None:
        reply = message.reply
        if not self.is_working or reply.revision not in (ANY_REVISION, self._number):
            return
        if isinstance(reply.result, FirstStudy):
            self.is_working = False
            self.dismiss(reply.result)
        elif reply.fault:
            self.is_working = False
            self._say_head(f"! {reply.fault}")

    def action_back(self) -> None:
        """Stop what is being worked out, or go back; the answers stay."""
        if self.is_working:
            self.is_working = False
            self._ask(None)
            self._say_head("")
            return
        self.dismiss(None)
