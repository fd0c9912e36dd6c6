"""A list laid over the desk, to choose one thing from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from whatif.screens.dialogs import BACK, TAKE, clicked, take_or_back


class Pick(ModalScreen[str | None]):
    """Things by name; dismissed with the id of the chosen one, or with None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", "back")]

    def __init__(self, question: str, things: Mapping[str, str]) -> None:
        super().__init__()
        self._question = question
        self._things = things

    def compose(self) -> ComposeResult:
        """The question, the list, and how to get back."""
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            yield OptionList(
                *(Option(name, id=id_) for id_, name in self._things.items()),
                markup=False,
                compact=True,
            )
            yield from take_or_back()

    def on_click(self, event: events.Click) -> None:
        """A click on a key's words is that key."""
        if clicked(event) == TAKE:
            self.query_one(OptionList).action_select()
        elif clicked(event) == BACK:
            self.dismiss(None)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take what was chosen."""
        event.stop()
        self.dismiss(event.option_id)
