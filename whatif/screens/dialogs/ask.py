"""Small screens laid over the desk: a question, a name to type, a text to read."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.errors import NoWidget
from textual.screen import ModalScreen, Screen
from textual.widgets import Input, Static

from whatif.screens.widgets.columns import wrapped
from whatif.session.things import Judged

_WIDEST, _AROUND = 76, 4
"""Cells of a small screen laid over, and those of them for its border."""

_MOST_LINES = 12


TAKE, BACK = "take", "back"
"""Names of the words that say how a small screen ends, for a click on them."""


def take_or_back(take: str = "Enter take it") -> ComposeResult:
    """The line that says how to take what is chosen, and how to go back."""
    with Horizontal(classes="answers"):
        yield Static(f"  {take}   ", classes="answer", markup=False, name=TAKE)
        yield Static("Esc go back", classes="answer", markup=False, name=BACK)


def answer_at(screen: Screen[Any], event: events.Click) -> str | None:
    """The name of the answer that was clicked, None where it was something else.

    A click that a line leaves to its screen no longer tells which line it was.
    """
    try:
        widget, _ = screen.get_widget_at(*event.screen_offset)
    except NoWidget:
        return None
    return (widget.name or "") if widget.has_class("answer") else None


class Ask(ModalScreen[str]):
    """A question with answers on single keys; Escape is always the answer that loses nothing."""

    def __init__(self, question: str, answers: dict[str, str], safe: str) -> None:
        super().__init__()
        self._question = question
        self._answers = answers
        self._safe = safe

    def compose(self) -> ComposeResult:
        """The question, then a line an answer."""
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            for key, words in self._answers.items():
                yield Static(self._answer(key, words), classes="answer", markup=False, name=key)
            yield Static("  Esc  go back", classes="answer", markup=False, name=self._safe)

    def _answer(self, key: str, words: str) -> str:
        """The key, its words behind it; what goes over to a next line stays behind the key."""
        head = f"  {key}  "
        room = min(_WIDEST, self.app.size.width * 96 // 100) - _AROUND - len(head)
        lines = [line for line in wrapped(words, room, _MOST_LINES) if line]
        return head + f"\n{' ' * len(head)}".join(lines)

    def on_key(self, event: events.Key) -> None:
        """Take the answer whose key was pressed."""
        event.stop()
        if event.key == "escape" or event.character == "n":
            self.dismiss(self._safe)
        elif event.character in self._answers:
            self.dismiss(event.character)

    def on_click(self, event: events.Click) -> None:
        """Take the answer that was clicked."""
        answer = answer_at(self, event)
        if answer is not None:
            self.dismiss(answer)


class AskLine(ModalScreen[str | None]):
    """A line to type; dismissed with it, or with None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", "back")]

    def __init__(self, question: str, text: str = "") -> None:
        super().__init__()
        self._question = question
        self._text = text

    def compose(self) -> ComposeResult:
        """The question and the line."""
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            yield Input(self._text, select_on_focus=True)
            yield from take_or_back()

    def on_click(self, event: events.Click) -> None:
        """A click on a key's words is that key."""
        if answer_at(self, event) == TAKE:
            self.dismiss(self.query_one(Input).value.strip() or None)
        elif answer_at(self, event) == BACK:
            self.dismiss(None)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take what was typed; an empty line is nothing."""
        event.stop()
        self.dismiss(event.value.strip() or None)


Judge = Callable[[str], Judged]
"""Tells what a typed name comes to."""


class AskShortName(ModalScreen[str | None]):
    """A line to type a name in; dismissed with the id that it makes, or with None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", "back")]

    def __init__(self, question: str, text: str, judge: Judge) -> None:
        super().__init__()
        self._question = question
        self._text = text
        self._judge = judge
        self._instead = ""

    def compose(self) -> ComposeResult:
        """The question, the line, what is wrong with it."""
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            yield Input(self._text, select_on_focus=True)
            yield Static(classes="name-said", markup=False)
            yield from take_or_back()

    async def on_click(self, event: events.Click) -> None:
        """A click on a key's words is that key."""
        if answer_at(self, event) == TAKE:
            await self.query_one(Input).action_submit()
        elif answer_at(self, event) == BACK:
            self.dismiss(None)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Tell what the name comes to while it is typed."""
        event.stop()
        if event.value != self._instead:
            self._instead = ""
            self._say(self._judge(event.value))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take what was typed, or tell why not and propose another."""
        event.stop()
        judged = self._judge(event.value)
        if not judged.wrong:
            self.dismiss(judged.id)
            return
        line = event.input
        if judged.instead:
            self._instead = line.value = judged.instead
            line.action_select_all()
            self._say(judged, f"{judged.wrong} Enter takes {judged.instead}.")
        else:
            self._say(judged)

    def _say(self, judged: Judged, words: str = "") -> None:
        said = self.query_one(".name-said", Static)
        said.set_class(bool(judged.wrong), "wrong")
        said.update(words or judged.wrong or judged.words)
