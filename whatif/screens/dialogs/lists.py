"""A list laid over the desk, to choose one thing from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar

from rich.cells import cell_len
from rich.text import Text
from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option
from typing_extensions import override

from whatif.records import dataclass
from whatif.screens.dialogs.dialog import take_or_back
from whatif.screens.dialogs.reading import HelpedDialog, ReadText
from whatif.screens.widgets.drawing import cut, wrapped
from whatif.screens.widgets.paging import page_safely

if TYPE_CHECKING:
    from whatif.screens.views.all import Listed

page_safely()

_ROOM = 70
"""Cells of a row where the terminal is wide enough for the whole dialog."""


_MANY = 12
"""Things from which on it is said that one is found by typing."""


_FIND_KEYS = """\
Keys in this list
  arrows       choose one, which Enter takes; so does a click
  typing       a part of a name puts what is found at the top
  Esc          go back, nothing is changed"""

_LETTER_KEYS = """\
Keys in this list
  arrows       choose one, which Enter takes; so does a click
  a letter     that before a line takes it at once
  Esc          go back, nothing is changed"""


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing to choose.

    Attributes:
        title, words: its name, and a few words on it.
        letter: takes it at once; "" where none does.
        does: what is done when it is chosen, where whoever asks does not do that.
    """

    id: str
    title: str
    words: str = ""
    letter: str = ""
    does: Callable[[], object] | None = None


class ChooseOne(HelpedDialog):
    """Things by name; dismissed with the id of the chosen one, or with None.

    One is found by typing, in a list with letters only where :attr:`finds_beside_letters` says so.

    Args:
        question: what is asked.
        things: names by ids, or offers with words and letters.
        at: the id of the one that the cursor stands on at first.
        told: what F1 says of what is listed, where that is more than the list says itself.
    """

    finds_beside_letters: ClassVar[bool] = False
    """Whether a letter takes only as the first one typed, and any other finds."""

    def __init__(
        self,
        question: str,
        things: Mapping[str, str] | Iterable[Offer],
        at: str | None = None,
        told: str = "",
    ) -> None:
        if isinstance(things, Mapping):
            things = [Offer(id_, name) for id_, name in things.items()]
        self.offers = tuple(things)
        super().__init__(
            {offer.id: (offer.title, offer.does) for offer in self.offers if offer.does}
        )
        self._question = question
        self._at = at
        self._told = told
        self.letters = {offer.letter: offer.id for offer in self.offers if offer.letter}
        how = "type to find one" if len(self.offers) > _MANY else "arrows choose"
        self._take = "Enter or its letter takes it" if self.letters else f"{how}   Enter take it"
        self._typed = ""
        """What is being looked for, where no letter takes anything."""
        self._is_missed = False
        self._order = [offer.id for offer in self.offers]
        """The rows from the top: what was found first, where no letter keeps them in place."""

    def compose(self) -> ComposeResult:
        """The question, the list, and how to get back."""
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            yield OptionList(*self.rows(), markup=False, compact=True)
            yield Static(classes="list-typed", markup=False)
            yield from self.below()
            yield from take_or_back(self._take)

    @override
    def help_words(self) -> str:
        listed = self._told or "\n".join(
            f"{offer.title}\n  {offer.words}" for offer in self.offers if offer.words
        )
        keys = _LETTER_KEYS if self.letters else _FIND_KEYS
        return "\n\n".join(filter(None, (self._question, keys, listed)))

    def below(self) -> ComposeResult:
        """What stands below the list: nothing."""
        return ()

    def rows(self) -> Iterator[Option]:
        """What stands in each row, words below words."""
        told = any(offer.words for offer in self.offers)
        widest = max((cell_len(offer.title) for offer in self.offers), default=0)
        room = max(24, min(_ROOM, self.app.size.width - 8)) - (3 if self.letters else 0)
        name = min(widest, room // 2 if told else room)
        for offer in self.offers:
            row = f"{offer.letter or ' '}  " if self.letters else ""
            if told:
                indent = " " * (cell_len(row) + name + 2)
                lines = (part for part in wrapped(offer.words, room - name - 2, 3) if part)
                row += f"{cut(offer.title, name)}  " + f"\n{indent}".join(lines)
            else:
                row += offer.title
            yield Option(row, offer.id)

    def on_mount(self) -> None:
        """Begin where the cursor is wanted."""
        ids = [offer.id for offer in self.offers]
        if self._at in ids:
            self.query_one(OptionList).highlighted = ids.index(self._at)

    def action_take(self) -> None:
        """Take what the cursor stands on, as Enter does."""
        self.query_one(OptionList).action_select()

    @override
    def on_key(self, event: events.Key) -> None:
        """Look for what is typed; letters that take something are taken by every dialog."""
        if self.letters and not self.finds_beside_letters:
            return
        if event.character in self.letters and not self._typed:
            return
        if event.key == "backspace":
            self._look_for(self._typed[:-1])
        elif event.is_printable and event.character and (self._typed or event.key != "space"):
            self._look_for(self._typed + event.character)
        else:
            return
        event.stop()
        # A letter within a name takes nothing.
        event.prevent_default()

    def _look_for(self, typed: str) -> None:
        """Put the cursor on the first thing that a text may mean: what begins so, before others.

        Where no letter keeps the rows in place, what is found stands first, and then the others.
        """
        self._typed = typed
        wanted = typed.strip().lower()
        names = {offer.id: offer.title.lower() for offer in self.offers}
        found = [
            *(id_ for id_, name in names.items() if name.startswith(wanted)),
            *(id_ for id_, name in names.items() if any(map(_begins(wanted), name.split()))),
            *(id_ for id_, name in names.items() if wanted in name),
            *(each.id for each in self.offers if wanted in f"{each.title} {each.words}".lower()),
        ]
        self._is_missed = not found
        if found:
            self._put_first(found if wanted else list(names))
            self.query_one(OptionList).highlighted = self._order.index(found[0])
        line = self.query_one(".list-typed", Static)
        line.display = bool(typed)
        line.set_class(self._is_missed, "wrong")
        line.update(f"! none is called {typed}" if self._is_missed else f"looked for: {typed}")

    def _put_first(self, found: Sequence[str]) -> None:
        """Let the rows of what is found stand at the top, those of the others below them."""
        order = list(dict.fromkeys([*found, *(offer.id for offer in self.offers)]))
        if self.letters or order == self._order:
            return
        rows = {row.id: row for row in self.rows()}
        self._order = order
        self.query_one(OptionList).set_options(rows[id_] for id_ in order)

    @on(OptionList.OptionHighlighted)
    def _moved(self, event: OptionList.OptionHighlighted) -> None:
        """An arrow has gone on from what was missed."""
        self._is_missed = False

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if self._is_missed:
            # What was typed is meant, and not what the cursor was left on.
            self.app.bell()
        else:
            self.dismiss(event.option_id)


def _begins(wanted: str) -> Callable[[str], bool]:
    return lambda word: word.startswith(wanted)


_LETTERS = "1234567890bcdefgh"
"""On the lines, in their order; a letter or figure opens its view at once."""

_LIST_KEYS = """\
Keys in this list
  arrows       choose a view, which Enter opens; so does a click
  1 to 9, ...  the number or letter before a view opens it at once
  F5, F7 ...   so does the key behind it, here and on the sheet
  typing       part of a name, or of what it shows, finds the view
  F6, Esc      go back
"""

_TITLE, _KEY, _ASKS = 20, 3, 43
"""Cells; the longest of each fit, at 80 columns too."""


class ChooseView(ChooseOne):
    """Dismissed with the name of the chosen view, or with None."""

    finds_beside_letters = True

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f6", "dismiss(None)", "back"),
    ]

    def __init__(self, views: Sequence[Listed], now: str) -> None:
        self._views = views
        self._now = now
        offers = [
            Offer(view.name, view.title, f"{view.asks} {view.finds}", letter)
            for letter, view in zip(_LETTERS, views, strict=False)
        ]
        super().__init__("Which view? What it answers:", offers, now or offers[0].id)
        self._take = "type to find one   Enter, its number or its key opens it"

    @override
    def on_key(self, event: events.Key) -> None:
        """The key that stands beside a view opens it from here too."""
        named = next((view.name for view in self._views if view.opens == event.key), None)
        if named is not None:
            event.stop()
            # Any other key is the list's, which is asked next.
            event.prevent_default()
            self.dismiss(named)

    @override
    def action_help(self) -> None:
        """Tell what each view answers, and the keys of the list; the cursor stays where it is."""
        text = _LIST_KEYS
        for view in self._views:
            key = f" ({view.opens.upper()})" if view.opens else ""
            text += f"\n{view.title}{key}\n  It shows {view.asks}."
        self.app.push_screen(ReadText("Views", text, under_headings=True))

    @override
    def rows(self) -> Iterator[Option]:
        for letter, view in zip(self.letters, self._views, strict=True):
            key = cut(view.opens.upper(), _KEY)
            row = f" {letter}  {cut(view.title, _TITLE)} {key}{cut(view.asks, _ASKS)}"
            yield Option(Text(row, "bold" if view.name == self._now else ""), view.name)

    @override
    def below(self) -> ComposeResult:
        yield Static(id="views-asks", markup=False)

    @on(OptionList.OptionHighlighted)
    def _marked(self, event: OptionList.OptionHighlighted) -> None:
        asks = next(view.asks for view in self._views if view.name == event.option_id)
        self.query_one("#views-asks", Static).update(f"It shows {asks}.")
