"""What all small screens laid over another have: words to click, letters, a way back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path as FilePath
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.screen import ModalScreen
from textual.widgets import Static

Answers = Mapping[str, tuple[str, Callable[[], object]]]
"""What can be answered: by letter the words for it, and what it does."""


STYLES: Final = FilePath(__file__).with_name("dialogs.tcss")
"""Read when the first of them is laid over."""


class Ending(Static):
    """Words that say how a dialog ends; a click on them does what their key does.

    ``here``: Enter does it, which is seen.
    """

    def __init__(self, words: str, action: str, *, here: bool = False) -> None:
        super().__init__(words, classes="answer", markup=False)
        self.action = action
        self.set_class(here, "here")

    async def on_click(self, event: events.Click) -> None:
        """Do what the words say; ``action`` is one of the screen's."""
        event.stop()
        await self.screen.run_action(self.action)


class Dialog(ModalScreen[str | None]):
    """A small screen laid over another; dismissed with a text, or with None by Escape."""

    CSS_PATH = STYLES
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", "back")]

    def __init__(self, answers: Answers | None = None, *, classes: str | None = None) -> None:
        super().__init__(classes=classes)
        self._answers = answers or {}
        self.letters = {letter: letter for letter in self._answers}
        """What it is dismissed with at once when a letter or figure is pressed."""

    def take(self, answer: str | None) -> None:
        """Do what was answered, for whoever has laid it over; nothing where it was given up."""
        if answer is not None and answer in self._answers:
            _, does = self._answers[answer]
            does()

    async def action_marked(self) -> None:
        """Do what the marked ending says."""
        await self.run_action(self.query_one(".answer.here", Ending).action)

    def on_key(self, event: events.Key) -> None:
        """Take what has the letter."""
        answer = self.letters.get(event.character or "")
        if answer is not None:
            event.stop()
            self.dismiss(answer)


def take_or_back(take: str = "Enter take it") -> ComposeResult:
    """The line that says how to take what is chosen (the screen's ``take``), and the way back."""
    with Horizontal(classes="answers"):
        yield Ending(f"  {take}   ", "take")
        yield Ending("Esc go back", "dismiss(None)")
