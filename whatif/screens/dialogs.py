"""Small screens laid over the desk: a question, a name to type, a text to read."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, Static


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
                yield Static(f"  {key}  {words}", classes="answer", markup=False, name=key)
            yield Static("  Esc  go back", classes="answer", markup=False, name=self._safe)

    def on_key(self, event: events.Key) -> None:
        """Take the answer whose key was pressed."""
        event.stop()
        if event.key == "escape" or event.character == "n":
            self.dismiss(self._safe)
        elif event.character in self._answers:
            self.dismiss(event.character)

    def on_click(self, event: events.Click) -> None:
        """Take the answer that was clicked."""
        if event.widget is not None and event.widget.has_class("answer"):
            self.dismiss(event.widget.name or self._safe)


class Name(ModalScreen[str | None]):
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
            yield Static("  Enter take it   Esc go back", classes="answer", markup=False)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take what was typed; an empty line is nothing."""
        event.stop()
        self.dismiss(event.value.strip() or None)


class Reading(ModalScreen[None]):
    """A text to read, with its own scrolling."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,enter,f1,f2,f3", "dismiss", "back"),
        Binding("up", "scroll(-1)", "up", show=False),
        Binding("down", "scroll(1)", "down", show=False),
        Binding("pageup", "scroll(-10)", "page up", show=False),
        Binding("pagedown,space", "scroll(10)", "page down", show=False),
    ]

    def __init__(self, title: str, text: str) -> None:
        super().__init__()
        self._title = title
        self.text = text

    def compose(self) -> ComposeResult:
        """The title, the text, and how to get back."""
        with Vertical(classes="dialog reading"):
            yield Static(self._title, classes="reading-title", markup=False)
            with VerticalScroll(can_focus=False):
                yield Static(self.text, markup=False)
            yield Static("  arrows scroll   Esc go back", classes="answer", markup=False)

    def action_scroll(self, lines: int) -> None:
        """Move the text."""
        self.query_one(VerticalScroll).scroll_relative(y=lines, animate=False)
