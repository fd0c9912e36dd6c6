"""What is open, and how another study is opened: the start screen, files, demos, new ones."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path as FilePath

from textual.screen import Screen

from whatif.screens.beginning.questions import Questions
from whatif.screens.beginning.start import StartScreen
from whatif.screens.desk.desk import Desk
from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.texts import FirstHint
from whatif.screens.in_turn import InTurn
from whatif.session.calculate.calculator import Calculates, Calculator
from whatif.session.calculate.requests import Reply
from whatif.session.first_study import FirstStudy
from whatif.session.kept.recovery import Left, Recovery, throw_away
from whatif.session.kept.state import is_first_time, remember
from whatif.session.opened import (
    Demo,
    Opened,
    begin_study,
    empty_study,
    open_demo,
    open_file,
    take_up,
    why_not_new,
)
from whatif.session.session import Session
from whatif.study.draft import Draft
from whatif.study.file.reading import StudyError
from whatif.telling.problems import refusal_words
from whatif.telling.study_file import file_fault_words

MakesCalculator = Callable[[Callable[[Reply], None]], Calculates]
"""Makes whoever answers; given where replies go."""


class OpenStudy:
    """A study that is open, with a desk, a calculation and a recovery of its own.

    So nothing of one study can be taken for another's.
    """

    def __init__(
        self, opened: Opened, make_calculator: MakesCalculator, state: FilePath | None
    ) -> None:
        session = opened.session
        self.opened = opened
        self.desk = Desk(session)
        self.desk.state.notice = opened.notice
        self.calculator = make_calculator(self._deliver)
        self.recovery = opened.recovery
        self._kept_for = None if session.needs_name else session.path
        self._state = state

    def _deliver(self, reply: Reply) -> None:
        # Called from a thread; posting a message is safe from any.
        self.desk.post_message(Desk.Replied(reply))

    def saved(self, base: str) -> None:
        """The file has everything; what is changed from now on is a change of it as it is."""
        self.recovery.base = base
        self.recovery.note(None)
        path = self.opened.session.path
        remember(path, self._state)
        if path != self._kept_for:
            # Under its new name, so that it is offered when that file is opened again.
            self.recovery.close()
            self.recovery, self._kept_for = Recovery(path, base, self._state), path

    def close(self) -> None:
        """End the calculation, and keep what is not saved."""
        self.calculator.close()
        self.recovery.close()


class Opening(InTurn):
    """The program as far as it opens and closes studies.

    Args:
        opened: the study to begin with; None begins with the start screen.
        missing: a path that was asked for and is not there; the start screen offers to begin it.
        state: where state is kept between sessions; None is the user's own place.
    """

    def __init__(
        self,
        opened: Opened | None = None,
        calculator: MakesCalculator = Calculator,
        *,
        missing: FilePath | None = None,
        state: FilePath | None = None,
    ) -> None:
        super().__init__()
        self._make_calculator = calculator
        self._missing = missing
        self._state = state
        self._answers: dict[str, str] = {}
        self._study = None if opened is None else OpenStudy(opened, calculator, state)

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
        return isinstance(self.screen, Questions) and self.screen.is_working

    def flush(self) -> None:
        """Write what is not saved, now; may be called from a signal handler."""
        if self._study is not None:
            self._study.recovery.flush()

    # -- opening and closing -----------------------------------------------------------

    def on_mount(self) -> None:
        """Show the study that was asked for, or what can be opened."""
        if self._study is not None:
            self._show_study(self._study)
            return
        self.show_start()
        if self._missing is not None:
            self.offer_to_begin(self._missing)

    def on_unmount(self) -> None:
        """End the calculation."""
        self._put_away()

    def open(self, opened: Opened) -> None:
        """Close what is open and go on with another study."""
        self._put_away()
        self._study = OpenStudy(opened, self._make_calculator, self._state)
        self._show_study(self._study)

    def _show_study(self, study: OpenStudy) -> None:
        opened, desk = study.opened, study.desk
        study.calculator.start()
        self._show(desk)
        if opened.left:
            self._offer_recovery(list(opened.left))
        elif opened.session.checked.problems:
            desk.call_after_refresh(desk.run, "problems")
        elif is_first_time(self._state):
            self.push_screen(FirstHint())
        if not opened.session.is_saved:
            self.note(opened.session.draft)

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
        self._put_away()
        self._show(StartScreen(self._state))

    # -- what can be opened ------------------------------------------------------------

    def open_path(self, path: FilePath) -> str:
        """Open a file, or offer to begin it where it is not there; what is wrong, in words."""
        if not path.exists():
            fault = why_not_new(path)
            if fault is not None:
                return file_fault_words(fault)
            self.offer_to_begin(path)
            return ""
        return self._try(lambda: open_file(path, self._state))

    def open_demo(self, demo: Demo) -> str:
        """Open a copy of a demo study; what is wrong, in words."""
        return self._try(lambda: open_demo(demo, self._state))

    def _try(self, opening: Callable[[], Opened]) -> str:
        try:
            self.open(opening())
        except StudyError as fault:
            return refusal_words(fault)
        return ""

    def offer_to_begin(self, path: FilePath) -> None:
        """Ask how a study that is not there is to be begun."""

        def begun(answer: str | None) -> None:
            if answer == "e":
                self.begin_empty(path)
            elif answer == "t":
                self.ask_questions(path)

        self.push_screen(
            Ask(
                f"There is no {path} yet. Begin it?",
                {"t": "with ten questions about your shop", "e": "as an empty study"},
            ),
            begun,
        )

    def begin_empty(self, path: FilePath | None = None) -> None:
        """Begin a study with nothing in it."""
        self.open(begin_study(empty_study(), path, self._state))

    def ask_questions(self, path: FilePath | None = None) -> None:
        """Ask the ten questions; what was answered in this session stands there already."""

        def made(first: FirstStudy | None) -> None:
            if first is not None:
                opened = begin_study(
                    first.draft, path, self._state, notice=first.notice, is_work=True
                )
                self.open(opened)

        self.push_screen(Questions(self._answers), made)

    def take_up(self, left: Left) -> None:
        """Go on with a new study that an earlier session could not save."""
        self.open(take_up(left, self._state))
        throw_away(left)

    # -- keeping it safe ---------------------------------------------------------------

    def saved(self, base: str) -> None:
        """The file has everything; ``base`` is its fingerprint now."""
        self.study.saved(base)

    def note(self, draft: Draft | None) -> None:
        """Keep an unsaved draft safe; None once the file has everything."""
        self.study.recovery.note(draft)

    def _offer_recovery(self, left: list[Left]) -> None:
        """Offer the newest of what earlier sessions left; the others keep for another time."""
        newest, session = left[0], self.session
        when = datetime.fromtimestamp(newest.when).strftime("%Y-%m-%d %H:%M")
        changed = " The file has been changed since." if newest.base != session.base else ""
        more = len(left) - 1
        others = f" {more} more such session{'s' if more > 1 else ''} left changes too."

        def decided(answer: str | None) -> None:
            if answer == "t":
                self.desk.controllers.file.take_up(newest.draft, newest.base)
                # Safe in this session's own file before the other one goes.
                self.study.recovery.flush()
                throw_away(newest)
            elif answer == "x":
                throw_away(newest)
                if more:
                    self._offer_recovery(left[1:])

        self.push_screen(
            Ask(
                f"A session of {when} ended before it could save its changes to "
                f"{session.path.name}.{changed}{others if more else ''}",
                {"t": "take them up", "x": "throw them away"},
            ),
            decided,
        )
