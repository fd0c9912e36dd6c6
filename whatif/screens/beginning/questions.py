"""The questions of a first study on one page: answered, left and gone back to in any order."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import ClassVar, cast

from rich.cells import cell_len
from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Footer, Input, Static

from whatif.screens.beginning.lending import Lends
from whatif.screens.dialogs.reading import ReadText
from whatif.screens.widgets.drawing import cut, window, wrap, wrapped
from whatif.session.calculate.first import FirstLookOf, FirstStudyOf
from whatif.session.calculate.requests import ANY_REVISION, Alone, Reply, Request
from whatif.session.first_made import FirstStudy
from whatif.study.draft import Draft
from whatif.study.first.questions import QUESTIONS, FirstQuestion, is_known
from whatif.study.first.shop import faults
from whatif.telling.first_found import FROM_ANSWERS, NOT_YET, WORKING, FirstLook, look_said
from whatif.telling.first_study import (
    asked_told,
    asked_words,
    assumes,
    doubts,
    fault_sentence,
    may_be,
    means,
    spelled_out,
)
from whatif.telling.start import BY_HAND

_HELP = """\
About your shop as it is today. The answers make a study: today's
arrangement, and beside it what is worth a look.

Each answer
  Type it over what stands in the field. A bare number has the unit
  beside it; a time may have its own: 45 s, 11 min, 1.5 h. -20 % or
  +10 % over a number that stands there takes that share off or puts
  it on.
  Below stands how a shop finds the number; behind = what your answer
  comes to.

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
  Esc                back; asks where something was answered
  A click goes to a question too.

From the third answer on
  a first answer of today stands beside the questions, or below them;
  what is not answered yet is assumed in it.

More than one part, or another sort of machine?
  A typical part stands for all of them here, each number with its own
  setup. The others are added when the questions are done, in the
  sheet that opens then: n and then p a part, n and then f a whole
  table of parts, n and then m a machine. Enter there how many of each
  part are wanted.

Somebody on the shift may do more, or less?
  In the sheet every shift has a row "may do"; a second shift of the
  same hours holds those who may do something else."""

_HELP_CELLS, _HELP_NAME = 70, 16
"""Cells of a line of the help, and those of a name before what is told."""

_LINES = 6
"""Lines below the questions, with the stroke above them."""

_SOFAR_LINES = 4
"""Lines of the first answer where it stands below the questions, with the stroke above them."""

_WIDE = 116
"""Cells from which there is room for it beside them."""

_QUESTIONS_WIDE = 80
"""Cells of the questions where it is."""

_DIM = "$text-muted"

_MOST_CELLS = 60
"""Cells of a line beside the questions at most."""

_NAME_CELLS = 22
"""Cells of the name of a file that is not there yet at most: so much stands beside all else."""

_ANSWERS_AT = 31
"""The cell at which answers begin."""


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
        question = self.question
        self.set_class(here, "here")
        if is_wrong:
            held, kind = "! the reason is below" if here else "! cannot be taken", "wrong"
        elif is_known(answer):
            held, kind = f"= {meant}" if meant else "", ""
        else:
            held, kind = f"~ {assumed}", "assumed"
        # Only what changed is drawn anew: over a slow line each letter would send the page.
        for field, text in (
            ("asked", cut(f" {question.number:>2}  {question.label}", _ANSWERS_AT - 1)),
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

    ``answers`` is kept up to date as they are typed, so that nothing is lost by going away;
    ``remember`` is told of them with each question that is gone to. ``name`` is that of the file
    that was asked for and is not there yet, "" where none was; whoever has asked for one may
    ``begin_empty`` in the questions' place.
    """

    CSS_PATH = "beginning.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f10", "make", "make the study"),
        Binding("f9", "not_known", "don't know"),
        Binding("f1", "help", "help"),
        Binding("escape", "back", "back"),
    ]

    def __init__(
        self,
        answers: dict[str, str],
        remember: Callable[[Mapping[str, str]], None],
        name: str,
        begin_empty: Callable[[], None],
    ) -> None:
        super().__init__()
        self._name = name
        self._begin_empty = begin_empty
        self._answers = answers
        self._remember = remember
        self._remembered = dict(answers)
        self._faults = faults(answers)
        self._at = 0
        self._stood = ""
        """The answer before anything was typed over it."""
        self._more = ""
        """How many questions are out of sight, and where."""
        self._number = ANY_REVISION
        """Of the latest request, below those of any study."""
        self._look: FirstLook | None = None
        self._looked_at: tuple[tuple[str, str], ...] = ()
        """The answers that a look was asked for last."""
        self.is_working = False

    def compose(self) -> ComposeResult:
        """The head, the questions, help for the one that is being answered, the keys."""
        yield Static(id="head", markup=False)
        with Container(id="page"):
            with Vertical(id="questions"):
                for question in QUESTIONS:
                    yield QuestionRow(question)
            yield Static(id="so-far", markup=False)
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
        self._look_again()

    def on_screen_resume(self) -> None:
        """Take the calculation back from the page that says what was found."""
        self._calculates = cast(Lends, self.app).lend(self._deliver)

    def _deliver(self, reply: Reply) -> None:
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
        self._keep_given()
        self._at = place % len(QUESTIONS)
        line = self._line
        line.value = self._stood = self._answers.get(self._asked.id, "")
        # What is typed takes its place, as it does on the sheet.
        line.select_all()
        self._repaint()

    def _show_rows(self) -> None:
        """Show as many questions as there is room for, that one among them."""
        below = 0 if self._is_wide or not self._is_told else _SOFAR_LINES
        room = max(3, self.size.height - 2 - _LINES - below)
        shown = window(len(QUESTIONS), room, self._at)
        for place, row in enumerate(self.query(QuestionRow)):
            row.display = place in shown
        # Below the head.
        self._line.styles.offset = (_ANSWERS_AT, 1 + self._at - shown.start)
        before, after = shown.start, len(QUESTIONS) - shown.stop
        more = (f"{before} above" * bool(before), f"{after} below" * bool(after))
        said = ", ".join(filter(None, more))
        self._more = f"more questions: {said}; " if said else ""

    @property
    def _is_wide(self) -> bool:
        return self.size.width >= _WIDE

    @property
    def _is_told(self) -> bool:
        """Whether enough is answered for a first answer."""
        return len(self._known) >= FROM_ANSWERS

    @property
    def _known(self) -> tuple[tuple[str, str], ...]:
        """The answers that can be taken."""
        return tuple(
            (id_, text)
            for id_, text in self._answers.items()
            if is_known(text) and id_ not in self._faults
        )

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
        """Tell of the question that is being answered, then how the page works."""
        self._take()
        asked = self._asked
        told = asked_told(asked, self._answers, self._faults)
        lines = [asked_words(asked)]
        for name, text in told:
            first, *more = wrap(text, _HELP_CELLS - _HELP_NAME)
            lines += [f"  {name:<{_HELP_NAME - 2}}{first}"]
            lines += [" " * _HELP_NAME + line for line in more]
        words = "\n".join((*lines, "", _HELP))
        self.app.push_screen(ReadText("A few questions", words, under_headings=True))

    # -- answers -----------------------------------------------------------------------

    @on(Input.Changed)
    def _changed(self) -> None:
        self._take()
        self._repaint()

    def _take(self) -> None:
        """Keep what is in the line as the answer to the question it lies over."""
        typed = self._asked.typed_over(self._line.value, self._stood)
        if typed != self._answers.get(self._asked.id, ""):
            self._answers[self._asked.id] = typed
            self._faults = faults(self._answers)
            self._look_again()

    def _keep_given(self) -> None:
        """Have the answers outlive the program."""
        if self._remembered != self._answers:
            self._remembered = dict(self._answers)
            self._remember(self._remembered)

    def _look_again(self) -> None:
        """Have the first answer found for the answers as they are, where there are enough."""
        known = self._known
        if known == self._looked_at or self.is_working:
            return
        self._looked_at, self._look = known, None
        if self._is_told:
            self._ask(FirstLookOf(known))

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
        self._show_rows()
        self._tell_so_far()
        fault = self._faults.get(self._asked.id)
        doubt = doubts(self._answers, self._faults).get(self._asked.id, "")
        about = self.query_one("#about", Static)
        about.set_class(fault is not None, "wrong")
        room = max(20, min(self.size.width - 2, 100))
        if fault is None:
            asked = self._asked
            doubted = wrapped(f"! {doubt}", room, 2) if doubt else []
            # Once it is answered, what is made of it tells more than why it is asked.
            lead = spelled_out(self._answers, self._faults).get(asked.id, asked.why)
            lines = doubted + wrapped(f"{lead} {asked.find}", room, 3 - len(doubted))
            lines += wrapped(may_be(asked), room, 2)
        else:
            lines = wrapped(f"! {fault_sentence(fault)}", room, _LINES - 1)
        about.update("\n".join(f" {line}" for line in lines if line))

    def _tell_so_far(self) -> None:
        """The first answer, as far as it is known."""
        so_far = self.query_one("#so-far", Static)
        page, is_wide = self.query_one("#page"), self._is_wide
        page.set_class(is_wide, "wide")
        so_far.display = is_wide or self._is_told
        rests = "" if self._look is None else look_said(self._look).rests
        # What is out of sight first, since the end is cut where it is narrow.
        so_far.border_title = self._more + "so far" + f", {rests}" * bool(rests)
        width = self.size.width - 2
        if is_wide:
            width = min(_MOST_CELLS, self.size.width - _QUESTIONS_WIDE - 3)
        so_far.update(self._so_far(width, is_wide=is_wide))

    def _so_far(self, width: int, *, is_wide: bool) -> Content:
        if not self._is_told or self._look is None:
            words = WORKING if self._is_told else NOT_YET
            return Content.styled("\n".join(wrap(words, width)), "$text-muted")
        said = look_said(self._look)
        if is_wide:
            tones = (
                ("A first answer", "bold $text-primary"),
                (f"{said.lead}.", "bold"),
                (f"{said.likely[:1].upper()}{said.likely[1:]}." if said.likely else "", ""),
                (said.others, ""),
                (said.rests, _DIM),
            )
            # A line of its own for each, with air between them.
            texts = (("\n".join(wrap(text, width)), tone) for text, tone in tones if text)
            return Content("\n\n").join(Content.styled(*text) for text in texts)
        first = f"{said.lead}{', ' * bool(said.likely)}{said.likely}."
        lines = wrapped(first, width, 2)
        lead = "\n".join(line for line in lines if line)
        return Content("\n").join([Content.styled(lead, "bold"), Content(said.others)])

    def _say_head(self, text: str) -> None:
        words = text or "Not known? Leave it empty (~ assumed)"
        if self._name and not text:
            words = "Esc: an empty study"
        first = "First study"
        if self._name:
            first = f"{cut(self._name, min(_NAME_CELLS, cell_len(self._name)))} is not there yet"
        self.query_one("#head", Static).update(f" {first}: a few questions   {words}")

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
        if reply.revision not in (ANY_REVISION, self._number):
            return
        if isinstance(reply.result, FirstLook):
            self._take_look(reply.result)
        elif self.is_working and isinstance(reply.result, FirstStudy):
            self._end_work()
            self._show_found(reply.result)
        elif self.is_working and reply.fault:
            self._end_work(f"! {reply.fault}")

    def _take_look(self, look: FirstLook) -> None:
        if self.is_working:
            return
        self._look = look
        self._tell_so_far()
        if look.likely is None:
            self._ask(FirstLookOf(self._looked_at, is_ranged=True))

    def _end_work(self, said: str = "") -> None:
        self.is_working = False
        self._looked_at = ()
        self._say_head(said)

    def _show_found(self, first: FirstStudy) -> None:
        """Say what was found; going on from there opens the study."""
        from whatif.screens.beginning.found import FoundPage

        self._number -= 1

        def ended(goes_on: bool | None) -> None:
            if goes_on:
                self.dismiss(first)
            else:
                # Whoever comes back types over what stands there, as at any other question.
                self._go_to(self._at)
                self._look_again()

        self.app.push_screen(FoundPage(first, self._number), ended)

    def action_back(self) -> None:
        """Stop what is being worked out, or go back; the answers stay, and it is asked before."""
        if self.is_working:
            self._end_work()
            self._ask(None)
            self._look_again()
            return
        self._take()
        self._keep_given()
        many = sum(is_known(text) for text in self._answers.values())
        if not (many or self._name):
            self.dismiss(None)
            return
        from whatif.screens.dialogs.ask import Ask

        leave, given = "leave them", ""
        if many:
            given = f"{many} answers are given. " if many > 1 else "1 answer is given. "
            leave = "leave them; they stand here again, after the next start too"
        answers: dict[str, tuple[str, Callable[[], object]]] = {}
        answers["l"] = (leave, partial(self.dismiss, None))
        if many:
            answers["m"] = ("make the study from what is answered", self.action_make)
        if self._name:
            given = f"{self._name} is not there yet. {given}"
            answers["e"] = (f"an empty study instead: {BY_HAND}", self._begin_instead)
        ask = Ask(f"{given}Leave the questions?", answers)
        self.app.push_screen(ask, ask.take)

    def _begin_instead(self) -> None:
        self.dismiss(None)
        self._begin_empty()
