"""Texts laid over another screen: to decide on, to write, and the first hint."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar, Protocol, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static
from typing_extensions import override

from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.dialog import STYLES, Answers, Ending
from whatif.screens.dialogs.reading import HelpedDialog, ScrolledText
from whatif.study.schema.kinds.plain import MOST_LETTERS

if TYPE_CHECKING:
    from textual.widgets import TextArea


class HandsKeysBack(Protocol):
    """A program that takes a key which closes what lies over a screen, and is meant for that."""

    def hand_back(self, event: events.Key) -> None:
        """Have a key heeded by what comes next on top, before all that came behind it."""


class WeighText(ScrolledText, HelpedDialog):
    """A text to read and then to decide on, with its own scrolling; Escape loses nothing.

    Dismissed with the key of an answer. Enter is ``y`` where that is an answer, else the way back;
    which of them is marked.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "marked", "yes", show=False)]

    @override
    def help_words(self) -> str:
        answers = [f"  {letter:<9}{words}" for letter, (words, _) in self._answers.items()]
        enter = "y is done" if "y" in self._answers else "go back"
        return "\n".join(
            [
                f"{self._title}\n",
                "Keys",
                *answers,
                f"  Enter    {enter}",
                "  Esc      go back, nothing is changed",
                "  arrows   scroll the text; so do Page up and down, Home and End",
            ]
        )

    @override
    def ends(self) -> ComposeResult:
        for letter, (words, _) in self._answers.items():
            yield Ending(f"  {letter}  {words}", f"dismiss('{letter}')", here=letter == "y")
        back = "  Esc  go back, nothing is changed   (arrows scroll)"
        yield Ending(back, "dismiss(None)", here="y" not in self._answers)


class WeighTable(WeighText):
    """The same of a table, with room for more answers below it."""


_NOTES_KEYS = """\
Keys
  typing       writes where the cursor is; Enter begins a line
  arrows       move the cursor; so do Home, End, Page up and down
  F10, Ctrl+S  keep the notes
  Esc          go back; what was written is not lost without asking"""


class WriteNotes(HelpedDialog):
    """Lines to write; dismissed with them, or with None where they stay as they were."""

    # Ctrl+S beside F10, since some terminals keep F10 for a menu of their own.
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f10,ctrl+s", "keep", "keep", priority=True),
        Binding("escape", "back", "back", priority=True),
    ]

    def __init__(self, title: str, text: str) -> None:
        super().__init__()
        self._title = title
        self._text = text

    def compose(self) -> ComposeResult:
        """The title, the lines, and how to end."""
        # Loaded now: it is large, and seldom needed.
        from whatif.screens.widgets.bounded_area import BoundedArea

        with Vertical(classes="dialog notes"):
            yield Static(self._title, markup=False)
            yield BoundedArea(self._text, soft_wrap=True, tab_behavior="focus", most=MOST_LETTERS)
            yield Ending("  F10 or Ctrl+S  keep the notes", "keep")
            yield Ending("  Esc  go back", "back")

    @override
    def help_words(self) -> str:
        return f"{self._title}\n\n{_NOTES_KEYS}"

    def on_mount(self) -> None:
        """Begin behind what is there."""
        area = self._area
        area.move_cursor(area.document.end)
        area.focus()

    @property
    def _area(self) -> TextArea:
        return cast("TextArea", self.query_one("BoundedArea"))

    @property
    def _written(self) -> str:
        return self._area.text.strip()

    def action_keep(self) -> None:
        """Keep what is written."""
        self.dismiss(self._written)

    def action_back(self) -> None:
        """Go back; what was written is not lost without asking."""
        if self._written == self._text.strip():
            self.dismiss(None)
            return

        answers: Answers = {
            "k": ("keep what is written now", self.action_keep),
            "t": ("throw it away", partial(self.dismiss, None)),
        }
        ask = Ask("The notes have been changed.", answers)
        self.app.push_screen(ask, ask.take)


TEXT = """\
A column is a scenario: one way your shop could be. One of them, the
reference, is what the others are measured against.

Above the line  what each scenario brings, and what limits it
Below the line  what you enter; the answers follow while you type

arrows     move; left and right go from scenario to scenario
0 to 9     type over a value; Enter keeps it and goes down, Esc goes
           back, u undoes
a          add a scenario: change in it what would be different
F6         views: where the hours go, the night, money and others
F1         help: on the value, on the view, and every key

Nothing is written into your file before F10."""

_ONLY_CLOSE = ("escape", "enter", "space")


class FirstHint(ModalScreen[None]):
    """Closed by any key or a click; a key that means something on the desk is then done there."""

    CSS_PATH = STYLES

    def compose(self) -> ComposeResult:
        """What there is to see, the keys that matter, and how to get rid of it."""
        with Vertical(classes="dialog", id="hint"):
            yield Static("Your first time here?", classes="reading-title", markup=False)
            yield Static(TEXT, markup=False)
            yield Static(
                "  Esc or a click closes this; any other key does its work at once",
                classes="answer",
                markup=False,
            )

    def on_key(self, event: events.Key) -> None:
        """Close, and hand the key on, so that nothing typed is lost."""
        event.stop()
        event.prevent_default()
        self.dismiss(None)
        if event.key not in _ONLY_CLOSE:
            cast(HandsKeysBack, self.app).hand_back(events.Key(event.key, event.character))

    def on_click(self) -> None:
        """Close."""
        self.dismiss(None)
