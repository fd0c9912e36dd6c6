"""A file that is no study yet, to be looked at and mended as the text that it is."""

from __future__ import annotations

from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Footer, Static, TextArea
from typing_extensions import override

from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.reading import HelpedDialog
from whatif.screens.widgets.bounded_area import BoundedArea
from whatif.screens.widgets.later import after
from whatif.session.broken import LONGEST, Broken, fault_of, problems_of, save_mended
from whatif.study.file.reading import StudyError
from whatif.study.refused import FileFault
from whatif.telling.refusals import refusal_words
from whatif.telling.study_file import (
    NO_STATE,
    file_fault_words,
    mended_words,
    place_in_text,
    state_words,
)

if TYPE_CHECKING:
    from asyncio import TimerHandle

SAVED = "saved"

_SOON = 0.15
"""Seconds without a key after which the text is read again: a large one takes some of them."""


_KEYS = """\
The file cannot be read as a study. It stands here as the text that it is;
what is wrong with it is told above, also while it is mended.

Keys
  typing       changes the text where the cursor is
  F4           go to the place where reading stops
  F3           put the last state that can be read in its place; again:
               the one before it
  F10, Ctrl+S  save it, and open it as a study
  Esc          go back; what was mended is not lost without asking"""


class MendText(HelpedDialog):
    """Dismissed with `SAVED` once the file has a text that can be read, else with None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f10,ctrl+s", "save", "save and open", priority=True),
        Binding("f3", "state", "last good state", priority=True),
        Binding("f4", "go_there", "to the place", priority=True),
        Binding("escape", "back", "back", priority=True),
    ]

    def __init__(self, broken: Broken) -> None:
        super().__init__()
        self._broken = broken
        self._next_state = 0
        self._fault: FileFault | None = None
        self._soon: TimerHandle | None = None

    def compose(self) -> ComposeResult:
        """The file's name, what is wrong, its text, the keys."""
        yield Static(f" whatif    {self._broken.path}", id="head", markup=False)
        yield Static(id="fault", markup=False)
        yield BoundedArea(
            self._broken.text, most=LONGEST, id="text", show_line_numbers=True, soft_wrap=True
        )
        yield Footer(show_command_palette=False)

    @override
    def help_words(self) -> str:
        return _KEYS

    def on_mount(self) -> None:
        """Look at the place where the text stops being a study."""
        self._area.focus()
        self._judge()
        self.call_after_refresh(self.action_go_there)

    @property
    def _area(self) -> BoundedArea:
        return self.query_one(BoundedArea)

    @on(TextArea.Changed)
    def _changed(self) -> None:
        if self._soon is not None:
            self._soon.cancel()
        self._soon = after(_SOON, self, self._judge)

    def _judge(self) -> None:
        """Tell what is wrong with the text as it stands."""
        if self._soon is not None:
            self._soon.cancel()
        self._fault = fault_of(self._area.text)
        if self._fault is None:
            self._tell(mended_words(problems_of(self._area.text)))
        else:
            self._tell(f"! {file_fault_words(self._fault)}", is_wrong=True)

    def _tell(self, words: str, *, is_wrong: bool = False) -> None:
        about = self.query_one("#fault", Static)
        about.set_class(is_wrong, "wrong")
        about.update(words)

    def action_go_there(self) -> None:
        """Put the cursor where the text stops being a study."""
        place = None if self._fault is None else place_in_text(self._fault)
        if place is not None:
            line, column = place
            self._area.move_cursor((line - 1, column - 1), center=True)

    def action_state(self) -> None:
        """Put the last state that can be read in the text's place, then the one before it."""
        states = self._broken.states
        if not states:
            self.app.bell()
            self._tell(NO_STATE)
            return
        state = states[self._next_state % len(states)]
        self._next_state += 1
        area = self._area
        area.replace(state.text, (0, 0), area.document.end)
        when = datetime.fromtimestamp(state.when).strftime("%Y-%m-%d %H:%M")
        self._tell(state_words(when, state.is_held))

    def action_save(self) -> None:
        """Save the text where it can be read, and go on with it."""
        self._judge()
        if self._fault is not None:
            self.app.bell()
            self.action_go_there()
            return
        try:
            save_mended(self._broken, self._area.text)
        except StudyError as fault:
            self.app.bell()
            self._tell(f"! {refusal_words(fault)}", is_wrong=True)
            return
        self.dismiss(SAVED)

    def action_back(self) -> None:
        """Go back; what was mended is not lost without asking."""
        if self._area.text == self._broken.text:
            self.dismiss(None)
            return
        ask = Ask(
            "The text has been changed, and is not saved.",
            {"t": ("throw the changes away", partial(self.dismiss, None))},
        )
        self.app.push_screen(ask, ask.take)
