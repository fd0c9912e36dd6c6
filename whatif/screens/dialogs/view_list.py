"""The list of views: a line a view, and the whole question of the one that is marked."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from whatif.screens.dialogs.dialogs import BACK, TAKE, answer_at, take_or_back
from whatif.screens.views.view import View
from whatif.screens.widgets.columns import cut

_LETTERS = "1234567890bcdefgh"
"""On the lines, in their order; a letter or figure opens its view at once."""

_TITLE, _KEY, _ASKS = 21, 4, 41


class ViewList(ModalScreen[str | None]):
    """Dismissed with the name of the chosen view, or with None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,f6", "dismiss(None)", "back")]

    def __init__(self, views: Sequence[type[View]], now: str) -> None:
        super().__init__()
        self._views = views
        self._now = now

    def compose(self) -> ComposeResult:
        """The list, the marked view's question, and how to get back."""
        names = [one.name for one in self._views]
        with Vertical(classes="dialog", id="views"):
            yield Static("Which view? What it answers:", markup=False)
            found = OptionList(
                *(
                    Option(self._line(letter, one), id=one.name)
                    for letter, one in zip(_LETTERS, self._views, strict=False)
                ),
                markup=False,
                compact=True,
            )
            found.highlighted = names.index(self._now) if self._now in names else 0
            yield found
            yield Static(id="views-asks", markup=False)
            yield from take_or_back("Enter or its number opens it")

    def _line(self, letter: str, one: type[View]) -> str:
        here = ">" if one.name == self._now else " "
        key = cut(one.opens.upper(), _KEY)
        return f" {letter} {here}{cut(one.title, _TITLE)} {key}{cut(one.asks, _ASKS)}"

    @on(OptionList.OptionHighlighted)
    def _marked(self, event: OptionList.OptionHighlighted) -> None:
        asks = next(one.asks for one in self._views if one.name == event.option_id)
        self.query_one("#views-asks", Static).update(f"It answers {asks}.")

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.dismiss(event.option_id)

    def on_click(self, event: events.Click) -> None:
        """A click on a key's words is that key."""
        if answer_at(self, event) == TAKE:
            self.query_one(OptionList).action_select()
        elif answer_at(self, event) == BACK:
            self.dismiss(None)

    def on_key(self, event: events.Key) -> None:
        """A letter or figure opens its view."""
        place = _LETTERS.find(event.character) if event.character else -1
        if 0 <= place < len(self._views):
            event.stop()
            self.dismiss(self._views[place].name)
