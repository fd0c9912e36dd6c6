"""A short name to type for a thing; what cannot be one is told, and stays to be mended."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from whatif.screens.dialogs.dialogs import BACK, TAKE, answer_at, take_or_back
from whatif.session.things import Judged

Judge = Callable[[str], Judged]
"""Tells what a typed name comes to."""


class ShortName(ModalScreen[str | None]):
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
