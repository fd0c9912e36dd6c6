"""The program: what is open, what the desk asks for, every command by name."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import SystemCommand
from textual.binding import Binding
from textual.filter import LineFilter, Monochrome
from textual.screen import Screen
from typing_extensions import override

from whatif.screens.in_turn import InTurn
from whatif.screens.turns import Turns
from whatif.screens.widgets.colours import DARK, LIGHT, Uncoloured
from whatif.screens.widgets.composing import Prompt
from whatif.screens.widgets.harmless import Harmless
from whatif.screens.widgets.later import after
from whatif.session.calculate.calculator import Calculates, Calculator
from whatif.session.calculate.requests import Reply, Request
from whatif.session.kept.left import Left, throw_away
from whatif.session.kept.recovery import Keeping, Recovery
from whatif.session.kept.state import (
    answers_given,
    colours,
    is_first_time,
    remember,
    remember_colours,
)

if TYPE_CHECKING:
    from rich.console import RenderableType
    from textual.command import Provider

    from whatif.screens.desk.desk import Desk
    from whatif.screens.desk.host import MakesReport
    from whatif.session.opened import Opened
    from whatif.session.session import Session
    from whatif.study.draft import Draft

_UNCOLOURED = Uncoloured()
_HARMLESS = Harmless()

_IN_A_MOMENT = 0.02
"""Seconds."""

_LIST_GONE = 0.1
"""Seconds after which a list that was left is seen no more."""

MakesCalculator = Callable[[Callable[[Reply], None]], Calculates]
"""Makes whoever answers; given where replies go."""


class OpenStudy:
    """A study that is open, with a desk, a calculation and a recovery of its own.

    So nothing of one study can be taken for another's.
    """

    def __init__(
        self, opened: Opened, make_calculator: MakesCalculator, state: FilePath | None
    ) -> None:
        from whatif.screens.desk.desk import Desk

        session = opened.session
        self.opened = opened
        self.desk = Desk(session)
        self.desk.state.notice = opened.notice
        self.calculator = make_calculator(self._deliver)
        self._keep_in(opened.recovery)
        self._kept_for = None if session.needs_name else session.path
        self._state = state

    def _keep_in(self, recovery: Recovery) -> None:
        """Keep what is not saved in this, and tell the desk what becomes of that."""
        self.recovery = recovery
        recovery.on_news = self._tell_kept

    def _tell_kept(self) -> None:
        # Called from a thread; posting a message is safe from any.
        self.desk.post_message(self.desk.Kept())

    def _deliver(self, reply: Reply) -> None:
        self.desk.post_message(self.desk.Replied(reply))

    def saved(self, base: str) -> None:
        """The file has everything; what is changed from now on is a change of it as it is."""
        self.recovery.base = base
        self.recovery.note(None)
        path = self.opened.session.path
        remember(path, self._state)
        if path != self._kept_for:
            # Under its new name, so that it is offered when that file is opened again.
            self.recovery.close()
            self._keep_in(Recovery(path, base, self._state))
            self._kept_for = path

    def close(self) -> None:
        """End the calculation and the report, and keep what is not saved."""
        self.desk.controllers.report.close()
        self.calculator.close()
        self.recovery.close()


def _palette() -> type[Provider]:
    """What lists the commands, loaded when it is opened first."""
    from whatif.screens.desk.palette import Palette

    return Palette


class Lent:
    """A calculation without a study; the next study that is opened takes it over, warm as it is."""

    def __init__(self, make_calculator: MakesCalculator) -> None:
        self.deliver: Callable[[Reply], None] = lambda _reply: None
        self.calculator = make_calculator(lambda reply: self.deliver(reply))

    def take_over(self, deliver: Callable[[Reply], None]) -> Calculates:
        """The calculation, whose replies go elsewhere from now on; makes it for a study."""
        self.deliver = deliver
        return self.calculator


class WhatIf(InTurn):
    """What-if sessions for a machining cell.

    Args:
        opened: the study to begin with; None begins with the start screen.
        calculator: makes whoever answers; None is a process of its own.
        missing: a path that was asked for and is not there; the start screen offers to begin it.
        state: where state is kept between sessions; None is the user's own place.
        make_report: begins a report, which no screen knows how to make; None where nobody does.
    """

    CSS_PATH = "whatif.tcss"
    TITLE = "whatif"
    ENABLE_COMMAND_PALETTE = True
    COMMANDS: ClassVar = {_palette}

    def __init__(
        self,
        opened: Opened | None = None,
        calculator: MakesCalculator | None = None,
        *,
        missing: FilePath | None = None,
        state: FilePath | None = None,
        make_report: MakesReport | None = None,
    ) -> None:
        super().__init__()
        for theme in (DARK, LIGHT):
            self.register_theme(theme)
        self.theme = LIGHT.name if colours(state) == LIGHT.name else DARK.name
        self.make_report = make_report
        self._turns = Turns()
        self._make_calculator = calculator or partial(Calculator, hand_over=self._turns)
        self._missing = missing
        self._state = state
        self._to_begin: list[Callable[[], None]] = []
        """What begins when the first frame has been seen."""
        self._answers = answers_given(state)
        """To the questions."""
        self._made_of: dict[str, str] = {}
        """Those of them that a study has been made of last."""
        self._lent: Lent | None = None
        self._study = None if opened is None else OpenStudy(opened, self._make_calculator, state)

    def refresh_css(self, animate: bool = True) -> None:
        """Have the colours of the theme hold.

        Before anything is shown nothing has been read with others: to read all the styles then
        would be to read them twice.
        """
        if self.screen_stack:
            super().refresh_css(animate)
        else:
            self.stylesheet.set_variables(self.get_css_variables())

    @override
    def get_default_screen(self) -> Screen[Any]:
        # Below all others; nothing is on it.
        return Prompt(id="_default")

    @override
    def _load_screen_css(self, screen: Screen[Any]) -> None:
        # Textual would read all styles anew for those of one screen, and look all of them up for
        # what is shown already. The screen looks its own up when it is resumed.
        for path in screen.css_path:
            if not self.stylesheet.has_source(str(path)):
                self.stylesheet.add_source(path.read_text("utf-8"), (str(path), ""))

    @override
    def get_line_filters(self) -> Sequence[LineFilter]:
        """What is changed on every line: without colours none is sent, greys neither."""
        filters = super().get_line_filters()
        own = [_UNCOLOURED if isinstance(each, Monochrome) else each for each in filters]
        return [*own, _HARMLESS]

    # -- what is open ------------------------------------------------------------------

    @property
    def is_open(self) -> bool:
        """Whether a study is open; with none there is no desk, session or recovery."""
        return self._study is not None

    @property
    def study(self) -> OpenStudy:
        """The study that is open."""
        assert self._study is not None
        return self._study

    @property
    def desk(self) -> Desk:
        """The desk of the open study."""
        return self.study.desk

    @property
    def session(self) -> Session:
        """The session of the open study."""
        return self.study.opened.session

    @property
    def is_waiting(self) -> bool:
        """Whether an answer for what is on the screen is still to come."""
        if self._study is not None:
            return self._study.desk.is_waiting
        from whatif.screens.beginning.questions import Questions

        return isinstance(self.screen, Questions) and self.screen.is_working

    @property
    @override
    def letters_are_commands(self) -> bool:
        return self.is_open and self.screen is self.desk and not self.desk.is_typed_in

    @override
    def get_key_display(self, binding: Binding) -> str:
        # Named as keyboards and our own texts name them: Esc, F9.
        shown = super().get_key_display(binding)
        return shown[:1].upper() + shown[1:] if len(shown) > 1 else shown

    # -- a fault of our own ------------------------------------------------------------

    @override
    def panic(self, *renderables: RenderableType) -> None:
        """End after a fault, telling nothing of what anybody typed.

        What would be shown holds the values of everything, the user's among them.
        """
        self._end_by_fault(sys.exception())

    @override
    def _fatal_error(self) -> None:
        self._end_by_fault(sys.exception())

    def _end_by_fault(self, fault: BaseException | None) -> None:
        from rich.text import Text

        from whatif.telling.crash import crash_words

        self._return_code = 1
        kept_in, is_kept = None, True
        if self._study is not None and not self.session.is_saved:
            is_kept, kept_in = self._study.recovery.flush(), self._study.recovery.path
        self._exit_renderables.append(Text(crash_words(fault, kept_in, is_kept)))
        self._close_messages_no_wait()

    def flush(self) -> None:
        """Write what is not saved, now; may be called from a signal handler."""
        if self._study is not None:
            self._study.recovery.flush()

    # -- opening and closing -----------------------------------------------------------

    def on_mount(self) -> None:
        """Show the study that was asked for, or what can be opened."""
        self._turns.begin()
        if self._study is not None:
            self._show_study(self._study)
        else:
            self.show_start()

    def on_unmount(self) -> None:
        """End the calculation."""
        self._put_away()
        if self._lent is not None:
            self._lent.calculator.close()

    def open(self, opened: Opened) -> None:
        """Close what is open and go on with another study."""
        self._put_away()
        lent, self._lent = self._lent, None
        make = self._make_calculator if lent is None else lent.take_over
        self._study = OpenStudy(opened, make, self._state)
        self._show_study(self._study)

    def lend(self, deliver: Callable[[Reply], None]) -> Calculates:
        """A calculation for what belongs to no study."""
        if self._lent is None:
            self._lent = Lent(self._make_calculator)
        self._lent.deliver = deliver
        self._when_seen(self._lent.calculator.start)
        return self._lent.calculator

    def _show_study(self, study: OpenStudy) -> None:
        opened, desk = study.opened, study.desk
        self._show(desk)
        self._when_seen(study.calculator.start)
        if opened.left:
            self._offer_recovery(list(opened.left))
        elif opened.session.checked.problems:
            desk.call_after_refresh(desk.action_run, "problems")
        elif is_first_time(self._state):
            from whatif.screens.dialogs.texts import FirstHint

            self.push_screen(FirstHint())
        if not opened.session.is_saved:
            self.note(opened.session.draft)

    def _when_seen(self, begin: Callable[[], None]) -> None:
        """Begin something once what is shown is seen; it would keep the first frame waiting.

        What is asked till then waits for it. Where nothing is seen it begins at once.
        """
        if self.is_headless:
            begin()
        else:
            self._to_begin.append(begin)

    def post_display_hook(self) -> None:
        """A frame is drawn, or kept back till all is laid out: then it follows in a moment."""
        if self._to_begin:
            after(_IN_A_MOMENT, self, self._begin)

    def _begin(self) -> None:
        waiting, self._to_begin = self._to_begin, []
        for begin in waiting:
            begin()

    def _put_away(self) -> None:
        if self._study is not None:
            self._study.close()
        self._study = None

    def _show(self, screen: Screen[None]) -> None:
        """Show a screen in the place of all that are shown."""
        while len(self.screen_stack) > 1:
            self.pop_screen()
        self.push_screen(screen)

    def show_start(self) -> None:
        """Close what is open and show what can be opened."""
        from whatif.screens.beginning.start import StartScreen

        if self._study is not None and self._study.opened.session.is_in_file:
            # The way back: the first of those opened lately.
            remember(self._study.opened.session.path, self._state)
        self._put_away()
        missing, self._missing = self._missing, None
        self._show(StartScreen(self.open, self._answers, self._state, missing, self._made_of))

    def _offer_recovery(self, left: list[Left]) -> None:
        """Offer the newest of what earlier sessions left; the others keep for another time."""
        from whatif.screens.dialogs.ask import Ask
        from whatif.study.edits import between
        from whatif.telling.study_file import left_words

        newest, session = left[0], self.session
        more = len(left) - 1
        words = left_words(
            datetime.fromtimestamp(newest.when).strftime("%Y-%m-%d %H:%M"),
            session.path.name,
            [change.says for change in between(session.draft, newest.draft)],
            is_changed=newest.base != session.base,
            others=more,
        )

        def take_up() -> None:
            recovery = self.study.recovery
            recovery.base = newest.base
            self.desk.controllers.file.take_up(newest.draft, newest.base)
            # Safe in this session's own file before the other one goes.
            recovery.note(newest.draft, instead_of=newest.path)
            recovery.flush()

        def leave_out() -> None:
            throw_away(newest)
            if more:
                self._offer_recovery(left[1:])

        ask = Ask(
            words,
            {"t": ("take them up", take_up), "x": ("throw them away", leave_out)},
        )
        self.push_screen(ask, ask.take)

    # -- what the desk asks for --------------------------------------------------------

    def ask(self, request: Request) -> None:
        """Have a draft answered, and what a view wants to know of it."""
        self.study.calculator.ask(request)

    def saved(self, base: str) -> None:
        """The file has everything; ``base`` is its fingerprint now."""
        self.study.saved(base)

    def note(self, draft: Draft | None) -> None:
        """Keep an unsaved draft safe; None once the file has everything."""
        self.study.recovery.note(draft)

    @property
    def keeping(self) -> Keeping:
        """How safe is what is not saved."""
        return Keeping() if self._study is None else self._study.recovery.keeping

    # -- commands ----------------------------------------------------------------------

    def action_colours(self) -> None:
        """Dark colours for light ones, or the other way round; the next start has them too."""
        self.theme = LIGHT.name if self.theme == DARK.name else DARK.name
        remember_colours(self.theme, self._state)

    def picture_soon(self) -> None:
        """Take a picture of the screen, once the list that it is chosen in has gone."""
        after(_LIST_GONE, self, self._take_picture)

    def _take_picture(self) -> None:
        if self.is_web:
            # Whoever looks is elsewhere: the picture goes there.
            self.deliver_screenshot()
            return
        from whatif.screens.picture import NotSaved, save_picture

        study = self.session.path if self.is_open else None
        is_desk = self.is_open and self.screen is self.desk
        try:
            said = save_picture(self, study)
        except NotSaved as fault:
            said = str(fault)
            if is_desk:
                self.desk.refuse(said)
                return
        if is_desk:
            self.desk.say(said)
        else:
            self.notify(said, markup=False)

    async def action_quit(self) -> None:
        """Leave as the desk does it, asking where something is not saved."""
        if self.is_open:
            if self.screen is self.desk:
                self.desk.action_run("leave")
            return
        from whatif.screens.beginning.found import FoundPage
        from whatif.screens.beginning.questions import Questions

        if isinstance(self.screen, Questions | FoundPage):
            self.screen.action_back()
        else:
            self.exit()

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """Every command by name, for the palette."""
        for common in super().get_system_commands(screen):
            # Ours are called "Leave", "Theme: light or dark" and "Picture of the screen".
            if common.title not in ("Quit", "Theme", "Screenshot"):
                yield common
        from whatif.screens.picture import SAYS, TITLE

        yield SystemCommand(TITLE, SAYS, self.picture_soon)
        yield SystemCommand(
            "Theme: light or dark", "colours for a bright room or a dim one", self.action_colours
        )
        if not self.is_open:
            return
        from whatif.screens.desk.commands import COMMANDS

        for command in COMMANDS:
            run = partial(self.desk.action_run, command.name)
            yield SystemCommand(command.title, command.help, run)
