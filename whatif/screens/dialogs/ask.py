"""A question laid over the desk: answered with one key, or with a line to type."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static
from typing_extensions import override

from whatif.screens.dialogs.dialog import Answers, Ending, take_or_back
from whatif.screens.dialogs.reading import HelpedDialog
from whatif.screens.widgets.drawing import wrapped
from whatif.session.things import Judged

_WIDEST, _AROUND = 76, 4
"""Cells of a small screen laid over, and those of them for its border."""

_MOST_LINES = 12


class Ask(HelpedDialog):
    """A question with answers on single keys; dismissed with the key, or with "" to go back.

    Enter gives the answer that is marked: at first the way back, by which nothing is lost.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,n", "dismiss('')", "back"),
        Binding("enter", "marked", show=False),
        Binding("up,shift+tab", "mark(-1)", show=False),
        Binding("down,tab", "mark(1)", show=False),
    ]

    def __init__(self, question: str, answers: Answers) -> None:
        super().__init__(answers)
        self._question = question

    def compose(self) -> ComposeResult:
        """The question, then a line an answer."""
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            for letter, (words, _) in self._answers.items():
                yield Ending(self._answer(letter, words), f"dismiss('{letter}')")
            yield Ending("  Esc  go back", "dismiss('')", here=True)
            yield Static("  arrows choose, Enter takes it", classes="how", markup=False)

    @override
    def help_words(self) -> str:
        answers = "\n".join(
            f"  {letter:<8} {words}" for letter, (words, _) in self._answers.items()
        )
        return (
            f"{self._question}\n\nKeys\n{answers}\n"
            "  arrows   mark another answer, which Enter gives\n"
            "  Esc      go back; nothing is lost by that"
        )

    def action_mark(self, step: int) -> None:
        """Mark the answer above or below."""
        answers = list(self.query(Ending))
        at = next(place for place, each in enumerate(answers) if each.has_class("here"))
        for place, each in enumerate(answers):
            each.set_class(place == (at + step) % len(answers), "here")

    def _answer(self, letter: str, words: str) -> str:
        """The letter, its words behind it; what goes over to a next line stays behind it."""
        head = f"  {letter}  "
        room = min(_WIDEST, self.app.size.width * 96 // 100) - _AROUND - len(head)
        lines = [line for line in wrapped(words, room, _MOST_LINES) if line]
        return head + f"\n{' ' * len(head)}".join(lines)


_LINE_KEYS = """\
Keys
  typing   takes the place of what stands there; an arrow first, and it
           is changed where the cursor is
  Enter    take it; what is wrong with it is said, and it stays open
  Esc      go back, nothing is changed"""


class AskLine(HelpedDialog):
    """A line to type; dismissed with it, or with None where it is empty.

    ``tries`` does what can be done with the line and says what is wrong with it, in words: then it
    stays open, and is said to be wrong; ``wrong`` is so from the start. Where ``empty`` tells what
    to do instead, an empty line is wrong too.
    """

    def __init__(
        self,
        question: str,
        text: str = "",
        tries: Callable[[str], str] = lambda typed: "",
        wrong: str = "",
        empty: str = "",
    ) -> None:
        super().__init__()
        self._empty = empty
        self._question = question
        self._text = text
        self.tries = tries
        self._wrong = wrong

    def compose(self) -> ComposeResult:
        """The question, the line, what is said of it."""
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            yield Input(self._text, select_on_focus=True)
            yield from self.said()
            yield from take_or_back()

    def said(self) -> ComposeResult:
        """What is said of the line: what is wrong with it."""
        line = Static(_wrong_words(self._wrong), classes="name-said wrong", markup=False)
        line.display = bool(self._wrong)
        yield line

    @override
    def help_words(self) -> str:
        return f"{self._question}\n\n{_LINE_KEYS}"

    async def action_take(self) -> None:
        """Take what was typed, as Enter does."""
        await self.query_one(Input).action_submit()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take what was typed."""
        event.stop()
        self.submit(event.value)

    def submit(self, typed: str) -> None:
        """Take what was typed; an empty line is nothing."""
        wrong = self.tries(typed.strip()) if typed.strip() else self._empty
        if not wrong:
            self.dismiss(typed.strip() or None)
            return
        self.app.bell()
        self.query_one(Input).select_all()
        line = self.query_one(".name-said", Static)
        line.update(_wrong_words(wrong))
        line.display = True


def _wrong_words(wrong: str) -> str:
    return f"! {wrong}" if wrong else ""


Judge = Callable[[str], Judged]
"""Tells what a typed name comes to."""


class AskShortName(AskLine):
    """A line to type a name in; dismissed with the id that it makes."""

    def __init__(self, question: str, text: str, judge: Judge) -> None:
        super().__init__(question, text)
        self._judge = judge
        self._instead = ""

    @override
    def said(self) -> ComposeResult:
        yield Static(classes="name-said", markup=False)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Tell what the name comes to while it is typed."""
        event.stop()
        if event.value != self._instead:
            self._instead = ""
            self._say(self._judge(event.value))

    @override
    def submit(self, typed: str) -> None:
        judged = self._judge(typed)
        if not judged.wrong:
            self.dismiss(judged.id)
            return
        self.app.bell()
        if not judged.instead:
            self.query_one(Input).select_all()
            self._say(judged)
        else:
            line = self.query_one(Input)
            self._instead = line.value = judged.instead
            line.select_all()
            self._say(judged, f"{judged.wrong} Enter takes {judged.instead}.")

    def _say(self, judged: Judged, words: str = "") -> None:
        said = self.query_one(".name-said", Static)
        said.set_class(bool(judged.wrong), "wrong")
        wrong = words or judged.wrong
        said.update(f"! {wrong}" if wrong else judged.words)
