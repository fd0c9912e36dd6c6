"""A list laid over the desk, to choose one thing from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import cell_len
from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from whatif.screens.dialogs.ask import BACK, TAKE, answer_at, take_or_back
from whatif.screens.views.view import View
from whatif.screens.widgets.columns import cut, wrapped

_ROOM = 70
"""Cells of a row where the terminal is wide enough for the whole dialog."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing to choose: its name, a few words on it, and a letter that takes it at once."""

    id: str
    title: str
    words: str = ""
    letter: str = ""


class ChooseOne(ModalScreen[str | None]):
    """Things by name; dismissed with the id of the chosen one, or with None.

    Args:
        question: what is asked.
        things: names by ids, or offers with words and letters.
        at: the id of the one that the cursor stands on at first.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", "back")]

    def __init__(
        self, question: str, things: Mapping[str, str] | Iterable[Offer], at: str | None = None
    ) -> None:
        super().__init__()
        self._question = question
        self._offers = (
            tuple(Offer(id_, name) for id_, name in things.items())
            if isinstance(things, Mapping)
            else tuple(things)
        )
        self._at = at

    def compose(self) -> ComposeResult:
        """The question, the list, and how to get back."""
        lettered = any(offer.letter for offer in self._offers)
        take = "Enter or its letter takes it" if lettered else "Enter take it"
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            yield OptionList(
                *(Option(text, id=offer.id) for text, offer in self._lines()),
                markup=False,
                compact=True,
            )
            yield from take_or_back(take)

    def on_click(self, event: events.Click) -> None:
        """A click on a key's words is that key."""
        if answer_at(self, event) == TAKE:
            self.query_one(OptionList).action_select()
        elif answer_at(self, event) == BACK:
            self.dismiss(None)

    def _lines(self) -> list[tuple[str, Offer]]:
        """What stands in each row, words below words."""
        lettered = any(offer.letter for offer in self._offers)
        told = any(offer.words for offer in self._offers)
        widest = max((cell_len(offer.title) for offer in self._offers), default=0)
        room = max(24, min(_ROOM, self.app.size.width - 8)) - (3 if lettered else 0)
        name = min(widest, room // 2 if told else room)
        lines = []
        for offer in self._offers:
            head = f"{offer.letter or ' '}  " if lettered else ""
            if not told:
                lines.append((head + offer.title, offer))
                continue
            indent = " " * (cell_len(head) + name + 2)
            told_in = (part for part in wrapped(offer.words, room - name - 2, 3) if part)
            words = f"\n{indent}".join(told_in)
            lines.append((f"{head}{cut(offer.title, name)}  {words}", offer))
        return lines

    def on_mount(self) -> None:
        """Begin where the cursor is wanted."""
        ids = [offer.id for offer in self._offers]
        if self._at in ids:
            self.query_one(OptionList).highlighted = ids.index(self._at)

    def on_key(self, event: events.Key) -> None:
        """Take the thing whose letter was pressed."""
        for offer in self._offers:
            if offer.letter and event.character == offer.letter:
                event.stop()
                self.dismiss(offer.id)
                return

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take what was chosen."""
        event.stop()
        self.dismiss(event.option_id)


_LETTERS = "1234567890bcdefgh"
"""On the lines, in their order; a letter or figure opens its view at once."""

_TITLE, _KEY, _ASKS = 21, 4, 41


class ChooseView(ModalScreen[str | None]):
    """Dismissed with the name of the chosen view, or with None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,f6", "dismiss(None)", "back")]

    def __init__(self, views: Sequence[type[View]], now: str) -> None:
        super().__init__()
        self._views = views
        self._now = now

    def compose(self) -> ComposeResult:
        """The list, the marked view's question, and how to get back."""
        names = [view.name for view in self._views]
        with Vertical(classes="dialog", id="views"):
            yield Static("Which view? What it answers:", markup=False)
            found = OptionList(
                *(
                    Option(self._line(letter, view), id=view.name)
                    for letter, view in zip(_LETTERS, self._views, strict=False)
                ),
                markup=False,
                compact=True,
            )
            found.highlighted = names.index(self._now) if self._now in names else 0
            yield found
            yield Static(id="views-asks", markup=False)
            yield from take_or_back("Enter or its number opens it")

    def _line(self, letter: str, view: type[View]) -> str:
        here = ">" if view.name == self._now else " "
        key = cut(view.opens.upper(), _KEY)
        return f" {letter} {here}{cut(view.title, _TITLE)} {key}{cut(view.asks, _ASKS)}"

    @on(OptionList.OptionHighlighted)
    def _marked(self, event: OptionList.OptionHighlighted) -> None:
        asks = next(view.asks for view in self._views if view.name == event.option_id)
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
