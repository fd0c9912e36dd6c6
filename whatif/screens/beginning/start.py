"""The start screen: begin a study, or open one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import datetime
from functools import partial
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Footer, OptionList, Static
from textual.widgets.option_list import Option

from whatif.records import dataclass
from whatif.screens.widgets.drawing import cut, wrap
from whatif.screens.widgets.paging import page_safely
from whatif.session.kept.left import Left
from whatif.session.kept.state import missing, recent, remember_answers
from whatif.session.opened import (
    Demo,
    Opened,
    begin_study,
    demos,
    empty_study,
    open_demo,
    open_file,
    open_unsaved,
    study_title,
    take_up,
    unnamed,
    unsaved_studies,
    why_not_new,
)
from whatif.study.file.naming import file_named
from whatif.study.file.reading import StudyError
from whatif.telling.start import BY_HAND, GONE, PURPOSE, not_there, teaches
from whatif.telling.study_file import file_fault_words

if TYPE_CHECKING:
    from whatif.session.first_made import FirstStudy


page_safely()

_TITLE, _TITLE_WIDE = 26, 40
"""Cells at most for what is opened, before the words on it: on a small screen, and on others."""

_WIDE = 120
"""Cells from which there is."""

_LINE = 100
"""Cells of a line of running text, at most."""

_LATELY = "Opened lately"
_UNSAVED_STUDIES = "Not saved when its session ended"

_QUESTIONS = (
    "Some numbers of your shop, and you see it beside a second pallet, a pool of pallets, one more "
    "machine and more hours. What you don't know is assumed, and said to be."
)
_EMPTY = "One scenario with nothing in it: add machines, a shift and parts yourself."
_FILE = "Type the path of a study file. Where there is none yet, the questions begin it."
_LEFT = "A new study that had no name when its session ended. Enter goes on with it."
_UNSAVED = (
    "Changes that no save had reached when their session ended. Enter opens the study and offers "
    "them."
)
_HELP = """\
A study holds your cell as it is today, and beside it what you think of
changing: more machines, pallets, people or hours. Every change is
answered at once: what it brings in pieces that somebody buys, and what
limits it.

arrows       choose
Enter        open what is chosen; so does a click
1 to 9       open by its number
q            leave

Never used it? Open a demo study and change a number: it is a copy, and
nothing can break. Then answer the questions on your own shop."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that can be opened.

    Attributes:
        title: what it is called.
        brief: a few words behind it in its line.
        about: a sentence or some, told while it is chosen.
        open: opens it, or says what is wrong.
        numbered: whether a number key opens it. What is seldom there has none, so that the others
            keep theirs.
    """

    title: str
    brief: str
    about: str
    open: Callable[[], None]
    numbered: bool = True


def _when(left: Left) -> str:
    return datetime.fromtimestamp(left.when).strftime("%Y-%m-%d %H:%M")


def _in_home(folder: FilePath) -> str:
    """A folder as people write it: their own one as "~"."""
    try:
        return str("~" / folder.relative_to(FilePath.home()))
    except (ValueError, RuntimeError):
        return str(folder)


class Choices(OptionList):
    """The list; what Enter does is told in the line of keys."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "open")]


class StartScreen(Screen[None]):
    """What can be begun or opened. Nothing is chosen that cannot be undone.

    Args:
        opens: goes on with a study that has been opened or begun.
        answers: to the questions, as far as they have been answered; kept up to date.
        state: where state is kept between sessions; None is the user's own place.
        missing: a path that was asked for and is not there; it is offered to begin it.
        made_of: the answers that a study has been made of last; kept up to date.
    """

    CSS_PATH = "beginning.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(str(digit), f"open_number({digit})", show=False) for digit in range(1, 10)),
        Binding("f1", "help", "help"),
        Binding("q", "leave", "leave"),
    ]

    def __init__(
        self,
        opens: Callable[[Opened], None],
        answers: dict[str, str],
        state: FilePath | None,
        missing: FilePath | None = None,
        made_of: dict[str, str] | None = None,
    ) -> None:
        super().__init__()
        self._made_of = {} if made_of is None else made_of
        self._opens = opens
        self._answers = answers
        self._state = state
        self._missing = missing
        self._chosen = 0
        """The place of the entry that is chosen at first."""
        self._lit = ""
        """Of the line that is drawn as chosen."""
        self._cells = self._room = 0
        """Of a title, and of a line."""
        self._entries: list[Entry] = []
        self._numbers: list[Entry] = []
        self._sections: list[tuple[str, list[Entry]]] = []

    def compose(self) -> ComposeResult:
        """What this is for, what can be opened, words on what is chosen, the keys."""
        yield Static(" whatif", id="head", markup=False)
        yield Static(id="purpose", markup=False)
        yield Choices(id="openings", markup=False)
        yield Static(id="about", markup=False)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        """List what there is; what was opened last is chosen."""
        self._sections = list(self._found())
        for heading, entries in self._sections:
            if heading == _LATELY:
                self._chosen = len(self._entries)
            self._entries += entries
        self._numbers = [entry for entry in self._entries if entry.numbered]
        self.query_one(OptionList).focus()
        if self._missing is not None:
            # There is none, or one that is no study yet.
            self.call_after_refresh(self._open_path, self._missing)

    def on_resize(self, event: events.Resize) -> None:
        """Lay the lines out for the width there is."""
        width = event.size.width
        lines = wrap(PURPOSE, min(width, _LINE) - 2)
        self.query_one("#purpose", Static).update("\n".join(f" {line}" for line in lines))
        openings = self.query_one(OptionList)
        chosen = self._chosen if openings.highlighted is None else self._at(openings)
        openings.clear_options()
        openings.add_options(self._options(width))
        openings.highlighted = openings.get_option_index(str(chosen))

    def _at(self, openings: OptionList) -> int:
        """The place of the entry that is chosen."""
        option = openings.highlighted_option
        return self._chosen if option is None or option.id is None else int(option.id)

    def _options(self, width: int) -> Iterator[Option]:
        """A titled rule for each section, then a line for each of its entries."""
        most = _TITLE_WIDE if width >= _WIDE else _TITLE
        self._cells = min(most, max(len(entry.title) for entry in self._entries))
        self._room = room = width - 2
        place = 0
        for heading, entries in self._sections:
            yield Option(self._rule(heading, room), disabled=True)
            for entry in entries:
                yield Option(self._line(entry), str(place))
                place += 1
            if heading == _LATELY and (words := not_there(missing(self._state))):
                yield Option(f"    {words}", disabled=True)

    def _rule(self, heading: str, room: int) -> Content:
        rule = "─" * max(0, room - len(heading) - 5)
        return Content.assemble(" ── ", (heading, "bold $text-primary"), f" {rule}")

    def _line(self, entry: Entry, *, is_chosen: bool = False) -> Content:
        number = self._numbers.index(entry) + 1 if entry.numbered else 0
        sign = str(number) if 0 < number < 10 else " "
        brief = cut(entry.brief, max(0, self._room - self._cells - 7)).rstrip()
        # What is chosen has one colour, which stands out from what is behind it.
        key, second = ("", "") if is_chosen else ("bold $text-primary", "$text-muted")
        title = cut(entry.title, self._cells)
        return Content.assemble((f" {sign}  ", key), title, (f"   {brief}", second))

    def _found(self) -> Iterator[tuple[str, list[Entry]]]:
        """The headings and what stands below them, none of them empty."""
        yield (
            "Begin",
            [
                Entry(
                    "A few questions",
                    self._questions_in_brief,
                    _QUESTIONS,
                    self._ask_questions,
                ),
                Entry("An empty study", BY_HAND, _EMPTY, self._begin_empty),
                Entry("Open a file …", "by its path", _FILE, self._ask_path),
            ],
        )
        left = [self._left(each) for each in unnamed(self._state)]
        left += [self._unsaved(each) for each in unsaved_studies(self._state)]
        if left:
            yield _UNSAVED_STUDIES, left
        found = demos()
        if found:
            yield "Demos: change a number, it is a copy", [self._demo(demo) for demo in found]
        lately = recent(self._state)
        if lately:
            yield _LATELY, [self._file(path) for path in lately]

    def _left(self, left: Left) -> Entry:
        title = left.draft.head.get("title")
        opening = partial(self._take_up, left)
        return Entry(f"{title or 'A new study'}", _when(left), _LEFT, opening, numbered=False)

    def _unsaved(self, left: Left) -> Entry:
        assert left.study is not None
        title = left.draft.head.get("title")
        where = f"{_when(left)}  {left.study.name} in {_in_home(left.study.parent)}"
        opening = partial(self._try, partial(open_unsaved, left, self._state))
        return Entry(f"{title or left.study.stem}", where, _UNSAVED, opening, numbered=False)

    @property
    def _questions_in_brief(self) -> str:
        given = sum(map(bool, self._answers.values()))
        if not given:
            return "about your shop; a first answer from the third on"
        return f"about your shop; {given} answered already, go on"

    def _demo(self, demo: Demo) -> Entry:
        opening = partial(open_demo, demo, self._state)
        brief = teaches(demo.path.stem, demo.about)
        return Entry(demo.title, brief, demo.about, partial(self._try, opening))

    def _file(self, path: FilePath) -> Entry:
        return Entry(
            study_title(path) or path.stem,
            f"{path.name} in {_in_home(path.parent)}",
            f"{path}",
            partial(self._open_again, path),
        )

    # -- choosing ----------------------------------------------------------------------

    @on(OptionList.OptionHighlighted)
    def _highlighted(self, message: OptionList.OptionHighlighted) -> None:
        place, openings = message.option.id, message.option_list
        if place is None:
            return
        for other in {self._lit, place} & {option.id for option in openings.options}:
            line = self._line(self._entries[int(other)], is_chosen=other == place)
            openings.replace_option_prompt(other, line)
        self._lit = place
        self._tell(self._entries[int(place)].about)

    @on(OptionList.OptionSelected)
    def _selected(self, message: OptionList.OptionSelected) -> None:
        self._entries[int(message.option.id or 0)].open()

    def action_open_number(self, number: int) -> None:
        """Open what has the number."""
        if number <= len(self._numbers):
            self._numbers[number - 1].open()

    def _tell(self, text: str, *, is_wrong: bool = False) -> None:
        about = self.query_one("#about", Static)
        about.set_class(is_wrong, "wrong")
        room = min(self.size.width, _LINE) - 2
        sign = "! " if is_wrong else ""
        about.update("\n".join(f" {line}" for line in wrap(sign + text, room)))

    def _say(self, text: str) -> None:
        """Say why something could not be opened."""
        self._tell(text, is_wrong=True)

    # -- opening and beginning ---------------------------------------------------------

    def _try(self, opening: Callable[[], Opened]) -> None:
        from whatif.telling.refusals import refusal_words

        try:
            opened = opening()
        except StudyError as fault:
            words = refusal_words(fault)
            self._say(words)
            if fault.why.path is not None:
                self._offer_to_mend(fault.why.path, words)
        else:
            self._opens(opened)

    def _offer_to_mend(self, path: FilePath, words: str) -> None:
        """Show the text of a file that is no study, where mending it makes one of it."""
        from whatif.screens.dialogs.mend_text import MendText
        from whatif.session.broken import broken_file

        broken = broken_file(path, self._state)
        if broken is None:
            return

        def done(answer: str | None) -> None:
            if answer is None:
                self._say(words)
            else:
                self._open_path(path)

        self.app.push_screen(MendText(broken), done)

    def _ask_path(self) -> None:
        from whatif.screens.dialogs.ask import AskLine

        self.app.push_screen(AskLine("Open which file? Its path:"), self._open_typed)

    def _open_typed(self, path: str | None) -> None:
        if path is None:
            return
        # A file that is there may have any ending.
        with suppress(OSError, ValueError, RuntimeError):
            there = FilePath(path).expanduser()
            if there.exists():
                self._open_path(there)
                return
        self._try_named(path)

    def _try_named(self, path: str) -> None:
        from whatif.telling.refusals import refusal_words

        try:
            self._open_path(file_named(path))
        except StudyError as fault:
            self._say(refusal_words(fault))

    def _open_again(self, path: FilePath) -> None:
        """Open a file of those opened lately, which may have gone since they were listed."""
        if path.exists():
            self._open_path(path)
        else:
            self._say(GONE)

    def _open_path(self, path: FilePath) -> None:
        """Open a file, or begin it with the questions where it is not there."""
        if path.exists():
            self._try(partial(open_file, path, self._state))
        elif (fault := why_not_new(path)) is not None:
            self._say(file_fault_words(fault))
        else:
            self._ask_questions(path)

    def _begin_empty(self, path: FilePath | None = None) -> None:
        self._opens(begin_study(empty_study(), path, self._state))

    def _ask_questions(self, path: FilePath | None = None) -> None:
        """Ask the questions; what was answered before stands there already."""
        from whatif.screens.beginning.questions import Questions

        def made(first: FirstStudy | None) -> None:
            if first is not None:
                draft, notice = first.draft, first.notice
                self._made_of.clear()
                self._made_of.update(self._answers)
                opened = begin_study(draft, path, self._state, notice=notice, is_work=True)
                self._opens(opened)
                if opened.recovery.flush():
                    # The study is safe, and with it what was answered.
                    remember_answers({}, self._state)

        remember = partial(remember_answers, folder=self._state)
        name = "" if path is None else path.name
        begin_empty = partial(self._begin_empty, path)
        self.app.push_screen(Questions(self._answers, remember, name, begin_empty), made)

    def _take_up(self, left: Left) -> None:
        """Go on with a new study that an earlier session could not save."""
        self._opens(take_up(left, self._state))

    # -- the other keys ----------------------------------------------------------------

    def action_help(self) -> None:
        """What this is for, and the keys."""
        from whatif.screens.dialogs.reading import ReadText

        self.app.push_screen(ReadText("whatif", _HELP))

    def action_leave(self) -> None:
        """Leave the program; what has been answered of the questions is asked about first."""
        from whatif.study.first.questions import is_known

        many = sum(is_known(text) for text in self._answers.values())
        if not many or self._answers == self._made_of:
            self.app.exit()
            return
        from whatif.screens.dialogs.ask import Ask

        are = f"{many} answers are" if many > 1 else "1 answer is"
        ask = Ask(
            f"{are} given to the questions on your shop, and no study is made of them yet. Leaving "
            "loses them.",
            {
                "l": ("leave", self.app.exit),
                "g": ("go on with the questions", self._ask_questions),
            },
        )
        self.app.push_screen(ask, ask.take)
