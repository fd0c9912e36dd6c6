"""A list laid over the desk, to choose one thing from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import cell_len
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from whatif.screens.dialogs.dialogs import BACK, TAKE, answer_at, take_or_back
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


class Pick(ModalScreen[str | None]):
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
        lettered = any(one.letter for one in self._offers)
        take = "Enter or its letter takes it" if lettered else "Enter take it"
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            yield OptionList(
                *(Option(text, id=one.id) for text, one in self._lines()),
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
        lettered = any(one.letter for one in self._offers)
        told = any(one.words for one in self._offers)
        widest = max((cell_len(one.title) for one in self._offers), default=0)
        room = max(24, min(_ROOM, self.app.size.width - 8)) - (3 if lettered else 0)
        name = min(widest, room // 2 if told else room)
        lines = []
        for one in self._offers:
            head = f"{one.letter or ' '}  " if lettered else ""
            if not told:
                lines.append((head + one.title, one))
                continue
            indent = " " * (cell_len(head) + name + 2)
            told_in = (part for part in wrapped(one.words, room - name - 2, 3) if part)
            words = f"\n{indent}".join(told_in)
            lines.append((f"{head}{cut(one.title, name)}  {words}", one))
        return lines

    def on_mount(self) -> None:
        """Begin where the cursor is wanted."""
        ids = [one.id for one in self._offers]
        if self._at in ids:
            self.query_one(OptionList).highlighted = ids.index(self._at)

    def on_key(self, event: events.Key) -> None:
        """Take the thing whose letter was pressed."""
        for one in self._offers:
            if one.letter and event.character == one.letter:
                event.stop()
                self.dismiss(one.id)
                return

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take what was chosen."""
        event.stop()
        self.dismiss(event.option_id)
