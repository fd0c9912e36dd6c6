"""What the desk asks of the program around it, and what its controllers ask of the desk."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from pathlib import Path as FilePath

    from whatif.screens.dialogs.dialog import Dialog
    from whatif.screens.widgets.drawing import Seen
    from whatif.session.calculate.requests import Request
    from whatif.session.kept.recovery import Keeping
    from whatif.study.draft import Draft


class ReportAtWork(Protocol):
    """A report that is being written."""

    @property
    def said(self) -> str | None:
        """What has come of it, in words; None while it is at work."""

    def stop(self) -> None:
        """End it; what stood where it was to be is as it was."""


MakesReport = Callable[["FilePath", "str | None", "FilePath", bool], ReportAtWork]
"""Begins a report: of a study's file, or of a text in its place; into a file; whether over it."""


class Program(Protocol):
    """The program: it has drafts answered, keeps unsaved ones safe, opens and closes studies."""

    def ask(self, request: Request) -> None:
        """Have a draft and a question on it answered; replies come with the same revision."""

    def saved(self, base: str) -> None:
        """The file has everything; ``base`` is its fingerprint now."""

    def note(self, draft: Draft | None) -> None:
        """Keep an unsaved draft safe; None once the file has everything."""

    @property
    def keeping(self) -> Keeping:
        """How safe is what is not saved."""

    @property
    def make_report(self) -> MakesReport | None:
        """Begins a report; None where nobody can."""

    def show_start(self) -> None:
        """Close the study and show what can be opened."""

    def exit(self) -> None:
        """End the program."""

    @property
    def clipboard(self) -> str:
        """What was copied in this program last."""

    def copy_to_clipboard(self, text: str) -> None:
        """Hand a text to the terminal, and keep it for :attr:`clipboard`."""


class DeskHost(Protocol):
    """The desk: it draws, asks, has the lines to type in, and knows where the keys go."""

    @property
    def program(self) -> Program:
        """The program around the desk."""

    def repaint(self) -> None:
        """Draw everything anew, and ask what the view wants to know now."""

    def repaint_soon(self) -> None:
        """The same, once for all that comes within a frame of the screen."""

    def repaint_head(self) -> None:
        """Draw the first line alone, which says how far the answers are."""

    def repaint_laid_out(self) -> None:
        """The same, and once more when it is known how much room everything has."""

    def ask(self) -> None:
        """Have what is on the screen answered, and draw it."""

    def say(self, words: str) -> None:
        """Say something in the line below the sheet."""

    def refuse(self, words: str) -> None:
        """Ring, and say in that line why something cannot be done."""

    def later(self, seconds: float, then: Callable[[], None]) -> object:
        """Have something done after a while, unless the study is closed before."""

    def settle(self) -> None:
        """End what is being typed, which is kept if it is valid, and what is being looked for."""

    def lay_over(self, dialog: Dialog, take: Callable[[str], object] | None = None) -> None:
        """Lay a dialog over; ``take`` gets its answer, or else the dialog does what it stands for.

        Nothing is taken where it is given up.
        """

    @property
    def drawn(self) -> Seen:
        """What is on the screen now."""

    # -- the lines to type in ----------------------------------------------------------

    @property
    def typed(self) -> str:
        """What stands in the editor."""

    def open_editor(self, text: str, *, marked: bool) -> None:
        """Lay the editor over the value under the cursor, with a text in it.

        ``marked``: what is typed takes the place of the text; else it goes on behind it.
        """

    def refuse_typed(self) -> None:
        """Ring, and mark all that stands in the editor, so that typing takes its place."""

    def close_editor(self) -> None:
        """Put the editor away; the keys go back to where they went before."""

    def open_finder(self) -> None:
        """Show the line in which a row's name is typed."""

    def close_finder(self) -> None:
        """Put that line away; the keys go to the sheet."""

    def insert(self, text: str) -> bool:
        """Put a text into the line that is being typed in; whether there is one."""

    # -- where the keys go -------------------------------------------------------------

    def focus_sheet(self) -> None:
        """Give the keys to the sheet."""

    def focus_view(self) -> None:
        """Give the keys to the view, or to the sheet where none is open."""

    @property
    def view_room(self) -> tuple[int, int]:
        """Cells and rows that a view is drawn in."""
