"""Texts laid over another screen: to read, to decide on, to write, and the first hint."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, ClassVar, Final, Protocol, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static
from typing_extensions import override

from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.dialog import STYLES, Answers, Dialog, Ending
from whatif.study.schema.kinds.plain import MOST_LETTERS

if TYPE_CHECKING:
    from textual.widgets import TextArea


class HandsKeysBack(Protocol):
    """A program that takes a key which closes what lies over a screen, and is meant for that."""

    def hand_back(self, event: events.Key) -> None:
        """Have a key heeded by what comes next on top, before all that came behind it."""


class _ScrolledText(Dialog):
    """A text that is scrolled by keys, wherever else the focus might be."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "scroll(-1)", "up", show=False),
        Binding("down", "scroll(1)", "down", show=False),
        Binding("pageup", "page(-1)", "page up", show=False),
        Binding("pagedown,space", "page(1)", "page down", show=False),
        Binding("home", "whole(0)", "the beginning", show=False),
        Binding("end", "whole(1)", "the end", show=False),
    ]

    def __init__(self, title: str, text: str, answers: Answers | None = None) -> None:
        super().__init__(answers)
        self._title = title
        self.text = text

    def compose(self) -> ComposeResult:
        """The title, the text, how to end."""
        with Vertical(classes="dialog reading"):
            yield Static(self._title, classes="reading-title", markup=False)
            with VerticalScroll(can_focus=False):
                yield Static(self.drawn(), markup=False)
            yield from self.ends()

    def drawn(self) -> Content | str:
        """The text as it is shown."""
        return self.text

    def ends(self) -> ComposeResult:
        """The lines that say how to end."""
        raise NotImplementedError

    def action_scroll(self, lines: int) -> None:
        """Move the text."""
        self._scrolled.scroll_relative(y=lines, animate=False)

    def action_page(self, pages: int) -> None:
        """Move the text by what is seen of it, less a line that is seen again."""
        self.action_scroll(pages * max(1, self._scrolled.size.height - 1))

    def action_whole(self, end: int) -> None:
        """Move the text to its beginning (0) or its end (1)."""
        scrolled = self._scrolled
        scrolled.scroll_to(y=end * scrolled.max_scroll_y, animate=False)

    @property
    def _scrolled(self) -> VerticalScroll:
        return self.query_one(VerticalScroll)


_PROBLEMS: Final = "run('problems')"
"""What F3 does on a screen that has problems to go to."""


class ReadText(_ScrolledText):
    """A text to read, with its own scrolling."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("q,enter,f2", "dismiss(None)", "back"),
        Binding("f1", "help", "help", show=False),
        Binding("f3", "problems", "problems", show=False),
    ]

    def __init__(
        self,
        title: str,
        text: str,
        *,
        under_headings: bool = False,
        of_problems: bool = False,
        told: str = "",
    ) -> None:
        """``of_problems``: F3 has opened it, and closes it again. ``told``: what F1 says of it."""
        super().__init__(title, text)
        self._told = told
        self._under_headings = under_headings
        self._of_problems = of_problems

    def action_help(self) -> None:
        """What its own signs and words say; back where there is nothing to tell."""
        if self._told:
            self.app.push_screen(ReadText("Help", self._told))
        else:
            self.dismiss(None)

    def action_problems(self) -> None:
        """Go to the problems as F3 does everywhere, where the screen below has any."""
        below = self.app.screen_stack[-2]
        self.dismiss(None)
        if not self._of_problems:
            self.app.call_later(below.run_action, _PROBLEMS)

    @override
    def drawn(self) -> Content | str:
        """The first line leads and headings stand out, where there are any."""
        if not self._under_headings:
            return self.text
        lines = self.text.split("\n")
        looks = [
            "bold" if not place else "bold $text-primary" if _is_heading(lines, place) else ""
            for place in range(len(lines))
        ]
        ends = ["\n"] * (len(lines) - 1) + [""]
        parts = zip(lines, ends, looks, strict=True)
        return Content.assemble(*((line + end, look) for line, end, look in parts))

    @override
    def ends(self) -> ComposeResult:
        with Horizontal(classes="answers"):
            yield Static(id="more", classes="answer", markup=False)
            if self._told:
                yield Ending("F1 help   ", "help")
            yield Ending("Esc go back", "dismiss(None)")

    def on_mount(self) -> None:
        """Say how much is not seen, whenever that becomes another."""
        self.watch(self._scrolled, "scroll_y", self._tell_more, init=False)

    def on_resize(self) -> None:
        """The same once it is known how much there is room for."""
        self.call_after_refresh(self._tell_more)

    def _tell_more(self) -> None:
        scrolled = self._scrolled
        below = round(scrolled.max_scroll_y - scrolled.scroll_y)
        more = f"{below} more line{'s' if below > 1 else ''} below" if below > 0 else "the end"
        words = f"  arrows scroll, {more}   " if scrolled.max_scroll_y else "  "
        self.query_one("#more", Static).update(words)


def _is_heading(lines: Sequence[str], place: int) -> bool:
    """Whether a line begins at the edge and the one below it stands to the right."""
    line, below = lines[place], lines[place + 1] if place + 1 < len(lines) else ""
    return bool(line) and not line.startswith(" ") and below.startswith("  ")


class WeighText(_ScrolledText):
    """A text to read and then to decide on, with its own scrolling; Escape loses nothing.

    Dismissed with the key of an answer. Enter is ``y`` where that is an answer, else the way back;
    which of them is marked.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "marked", "yes", show=False)]

    @override
    def ends(self) -> ComposeResult:
        for letter, (words, _) in self._answers.items():
            yield Ending(f"  {letter}  {words}", f"dismiss('{letter}')", here=letter == "y")
        back = "  Esc  go back, nothing is changed   (arrows scroll)"
        yield Ending(back, "dismiss(None)", here="y" not in self._answers)


class WeighTable(WeighText):
    """The same of a table, with room for more answers below it."""


class WriteNotes(Dialog):
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
