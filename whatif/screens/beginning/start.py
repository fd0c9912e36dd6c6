"""The start screen: begin a study, or open one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from functools import partial
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Footer, OptionList, Static
from textual.widgets.option_list import Option

from whatif.records import dataclass
from whatif.screens.widgets.drawing import cut
from whatif.session.kept.recovery import Left, throw_away
from whatif.session.kept.state import recent
from whatif.session.opened import (
    Demo,
    Opened,
    begin_study,
    demos,
    empty_study,
    open_demo,
    open_file,
    take_up,
    unnamed,
    why_not_new,
)
from whatif.study.file.reading import StudyError
from whatif.telling.study_file import file_fault_words

if TYPE_CHECKING:
    from whatif.session.first_made import FirstStudy


_NAME = 26
"""Cells for a file's name, before its folder."""

_LATELY = "Opened lately"

_QUESTIONS = (
    "Ten numbers of your shop, and you see it beside a second pallet, a pool of pallets, one more "
    "machine and more hours. What you don't know is assumed, and said to be."
)
_EMPTY = "One scenario with nothing in it: add machines, a shift and parts yourself."
_FILE = "Type the path of a study file. Where there is none yet, it can be begun."
_LEFT = "A new study that had no name when its session ended. Enter goes on with it."
_HELP = """\
A study holds your cell as it is today, and beside it what you think of changing: more machines,
pallets, people or hours. Every change is answered at once: what it brings in pieces that somebody
buys, and what limits it.

arrows       choose
Enter        open what is chosen; so does a click
1 to 9       open by its number
q            leave

Never used it? Open a demo study and change a number: it is a copy, and nothing can break. Then
answer the ten questions for your own shop."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that can be opened.

    Attributes:
        title: its line in the list.
        about: a few words on it.
        open: opens it, or says what is wrong.
        numbered: whether a number key opens it. What is seldom there has none, so that the others
            keep theirs.
    """

    title: str
    about: str
    open: Callable[[], None]
    numbered: bool = True


class Choices(OptionList):
    """The list; what Enter does is told in the line of keys."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "open")]


class StartScreen(Screen[None]):
    """What can be begun or opened. Nothing is chosen that cannot be undone.

    Args:
        opens: goes on with a study that has been opened or begun.
        answers: to the ten questions, as far as they have been answered; kept up to date.
        state: where state is kept between sessions; None is the user's own place.
        missing: a path that was asked for and is not there; it is offered to begin it.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(str(digit), f"open_number({digit})", show=False) for digit in range(1, 10)),
        Binding("f1", "help", "help", key_display="F1"),
        Binding("q", "leave", "leave"),
    ]

    def __init__(
        self,
        opens: Callable[[Opened], None],
        answers: dict[str, str],
        state: FilePath | None,
        missing: FilePath | None = None,
    ) -> None:
        super().__init__()
        self._opens = opens
        self._answers = answers
        self._state = state
        self._missing = missing
        self._entries: list[Entry] = []
        self._numbers: list[Entry] = []

    def compose(self) -> ComposeResult:
        """A line on what this is, what can be opened, words on what is chosen, the keys."""
        yield Static(id="head", markup=False)
        yield Choices(id="openings", markup=False)
        yield Static(id="about", markup=False)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        """List what there is; what was opened last is chosen."""
        self.query_one("#head", Static).update(
            " whatif   What would more machines, pallets, people or hours bring?"
        )
        openings = self.query_one(OptionList)
        chosen = 1
        for heading, entries in self._sections():
            openings.add_option(Option(heading, disabled=True))
            if heading == _LATELY and not unnamed(self._state):
                chosen = openings.option_count
            for entry in entries:
                self._add(openings, entry)
        openings.focus()
        openings.highlighted = chosen
        if self._missing is not None:
            self._offer_to_begin(self._missing)

    def _add(self, openings: OptionList, entry: Entry) -> None:
        self._entries.append(entry)
        if entry.numbered:
            self._numbers.append(entry)
        number = len(self._numbers)
        sign = number if entry.numbered and number < 10 else " "
        openings.add_option(Option(f" {sign}  {entry.title}", str(len(self._entries) - 1)))

    def _sections(self) -> Iterator[tuple[str, list[Entry]]]:
        """The headings and what stands below them, none of them empty."""
        left = unnamed(self._state)
        if left:
            yield "Not saved when its session ended", [self._left(study) for study in left]
        yield (
            "Begin",
            [
                Entry("A first study in ten questions", _QUESTIONS, self._ask_questions),
                Entry("An empty study", _EMPTY, self._begin_empty),
                Entry("Open a file ...", _FILE, self._ask_path),
            ],
        )
        found = demos()
        if found:
            yield "Demo studies (a copy is opened)", [self._demo(demo) for demo in found]
        lately = recent(self._state)
        if lately:
            yield _LATELY, [self._file(path) for path in lately]

    def _left(self, left: Left) -> Entry:
        title = left.draft.head.get("title")
        when = datetime.fromtimestamp(left.when).strftime("%Y-%m-%d %H:%M")
        return Entry(
            f"{title or 'A new study'}, {when}", _LEFT, partial(self._take_up, left), False
        )

    def _demo(self, demo: Demo) -> Entry:
        opening = partial(open_demo, demo, self._state)
        return Entry(demo.title, demo.about, partial(self._try, opening))

    def _file(self, path: FilePath) -> Entry:
        title = f"{cut(path.name, _NAME)} {path.parent}"
        return Entry(title, f"{path}", partial(self._open_path, path))

    # -- choosing ----------------------------------------------------------------------

    @on(OptionList.OptionHighlighted)
    def _highlighted(self, message: OptionList.OptionHighlighted) -> None:
        if message.option.id is not None:
            self._say(self._entries[int(message.option.id)].about)

    @on(OptionList.OptionSelected)
    def _selected(self, message: OptionList.OptionSelected) -> None:
        self._entries[int(message.option.id or 0)].open()

    def action_open_number(self, number: int) -> None:
        """Open what has the number."""
        if number <= len(self._numbers):
            self._numbers[number - 1].open()

    def _say(self, text: str) -> None:
        self.query_one("#about", Static).update(text)

    # -- opening and beginning ---------------------------------------------------------

    def _try(self, opening: Callable[[], Opened]) -> None:
        from whatif.telling.refusals import refusal_words

        try:
            opened = opening()
        except StudyError as fault:
            self._say(refusal_words(fault))
        else:
            self._opens(opened)

    def _ask_path(self) -> None:
        from whatif.screens.dialogs.ask import AskLine

        self.app.push_screen(AskLine("Open which file? Its path:"), self._open_typed)

    def _open_typed(self, path: str | None) -> None:
        if path is not None:
            self._open_path(FilePath(path).expanduser())

    def _open_path(self, path: FilePath) -> None:
        """Open a file, or offer to begin it where it is not there."""
        if path.exists():
            self._try(partial(open_file, path, self._state))
        elif (fault := why_not_new(path)) is not None:
            self._say(file_fault_words(fault))
        else:
            self._offer_to_begin(path)

    def _offer_to_begin(self, path: FilePath) -> None:
        """Ask how a study that is not there is to be begun."""
        from whatif.screens.dialogs.ask import Ask

        answers = {
            "t": ("with ten questions about your shop", partial(self._ask_questions, path)),
            "e": ("as an empty study", partial(self._begin_empty, path)),
        }
        ask = Ask(f"There is no {path} yet. Begin it?", answers)
        self.app.push_screen(ask, ask.take)

    def _begin_empty(self, path: FilePath | None = None) -> None:
        self._opens(begin_study(empty_study(), path, self._state))

    def _ask_questions(self, path: FilePath | None = None) -> None:
        """Ask the ten questions; what was answered before stands there already."""
        from whatif.screens.beginning.questions import Questions

        def made(first: FirstStudy | None) -> None:
            if first is not None:
                draft, notice = first.draft, first.notice
                self._opens(begin_study(draft, path, self._state, notice=notice, is_work=True))

        self.app.push_screen(Questions(self._answers), made)

    def _take_up(self, left: Left) -> None:
        """Go on with a new study that an earlier session could not save."""
        self._opens(take_up(left, self._state))
        throw_away(left)

    # -- the other keys ----------------------------------------------------------------

    def action_help(self) -> None:
        """What this is for, and the keys."""
        from whatif.screens.dialogs.texts import ReadText

        self.app.push_screen(ReadText("whatif", _HELP))

    def action_leave(self) -> None:
        """Leave the program."""
        self.app.exit()
