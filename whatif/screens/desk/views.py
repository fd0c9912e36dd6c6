"""Views: opened in the place of the sheet, closed again, and what they ask of the desk."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from whatif.screens.dialogs.ask import AskLine
from whatif.screens.dialogs.lists import ChooseOne, ChooseView
from whatif.screens.views.all import VIEWS
from whatif.screens.views.opening import load_view, view_class

if TYPE_CHECKING:
    from whatif.screens.desk.calculation import Calculation
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.entering import Entering
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState
    from whatif.screens.dialogs.dialog import Dialog
    from whatif.screens.views.view import Look, View
    from whatif.study.edits.edit import Edit
    from whatif.study.raw import Path


class Views:
    """Opens and closes views, and does for the open one what it asks for."""

    def __init__(
        self,
        state: DeskState,
        host: DeskHost,
        *,
        calculation: Calculation,
        changes: Changes,
        entering: Entering,
    ) -> None:
        self._state = state
        self._host = host
        self._calculation = calculation
        self._changes = changes
        self._entering = entering
        self._told = ""
        self._opened_from: View | None = None
        """Where Escape goes back to from a view that was opened on the way; None is the sheet."""
        self._opened: frozenset[str] = frozenset()
        """Views that have been open."""
        self._begun: tuple[str, str, int] | None = None
        """The scenario that was chosen before a view began with another one, that one, and the
        leftmost column that there was to be seen."""
        self._looked_at: dict[str, tuple[Path | None, Path]] = {}
        """By view the row of the sheet from which it was looked at, and the input seen last."""
        self._stays: dict[str, View] = {}
        """Views that are opened again as they were left, by name."""

    # -- opening and closing -----------------------------------------------------------

    def offer_all(self) -> None:
        """Offer the views."""
        view = self._state.view
        now = "" if view is None else view.name
        self._host.lay_over(
            ChooseView(VIEWS, now), lambda name: self.load_and_open(name) if name != now else None
        )

    async def load_and_open(self, name: str) -> None:
        """Open a view once it is loaded; the screen goes on meanwhile, and later keys wait."""
        await load_view(name)
        self.open(name)

    def open(self, name: str) -> None:
        """Open a view in place of the sheet; the same one again goes back."""
        self._host.settle()
        before = self._state.view
        if before is not None and before.name == name:
            self.close_view()
            return
        self._state.notice = ""
        view, line = self._stays.get(name) or view_class(name)(), self._state.line
        if before is not None:
            view.turn_to(before.figure(self.look()))
        elif line is not None and self._state.has_pointed:
            view.turn_to_input(line.path)
        row, seen = self._looked_at.get(name, (None, None))
        if seen is not None and row == self._row:
            view.come_back_to(seen)
        if view.stays:
            self._stays[name] = view
            view.come_back(self.look())
        self._begin(view)
        self._show(view, before if view.aside else None)

    def _begin(self, view: View) -> None:
        """Choose the scenario that a view begins with, as long as nobody has chosen another for it.

        Whoever has changed one of them between two looks at a view finds that one again.
        """
        look = self.look()
        is_first, self._opened = view.name not in self._opened, self._opened | {view.name}
        scenario = view.begins_with(look)
        if scenario is not None and (is_first or look.chosen == look.reference):
            if look.chosen is not None:
                self._begun = look.chosen, scenario, self._state.columns.first
            self._state.choose(scenario)

    def _back_to_chosen(self) -> None:
        """On the sheet the column of before, unless somebody has chosen one since.

        What is typed next goes into it, and beside it stands what stood there.
        """
        if self._begun is not None and self._state.chosen == self._begun[1]:
            before, _, first = self._begun
            self._state.choose(before)
            self._state.columns = replace(self._state.columns, first=first)
        self._begun = None

    def close_view(self) -> None:
        """Go back to the view that this one was opened from, or else to the sheet."""
        self._host.settle()
        self._show(self._opened_from, None)

    def close_all(self) -> None:
        """Go back to the sheet, wherever this view was opened from."""
        self._host.settle()
        self._show(None, None)

    def _show(self, view: View | None, opened_from: View | None) -> None:
        # It speaks of the view that is left.
        self.hush()
        self._hold()
        if view is None:
            self._back_to_chosen()
        self._state.view, self._opened_from = view, opened_from
        self._calculation.go_on()
        self._host.repaint_laid_out()
        self._host.focus_view()

    @property
    def _row(self) -> Path | None:
        line = self._state.line
        return None if line is None else line.path

    def _hold(self) -> None:
        """Hold which input the view that is left was about: whoever comes back goes on there."""
        view = self._state.view
        if view is None:
            return
        look = self.look()
        view.leave(look)
        seen = view.input_looked_at(look)
        if seen is not None:
            self._looked_at[view.name] = self._row, seen

    # -- what views ask of the desk ----------------------------------------------------

    @property
    def room(self) -> tuple[int, int]:
        """Cells and rows that the view is drawn in."""
        return self._host.view_room

    def look(self) -> Look:
        """What there is to be drawn by a view."""
        return self._calculation.look()

    def repaint(self) -> None:
        """Draw everything anew; also after a view's own state has changed."""
        self._host.repaint()

    def tell(self, words: str) -> None:
        """Say something in the line below, when that is drawn; it goes with the next key."""
        self._state.notice = self._told = words

    def hush(self) -> None:
        """Take back what was told, where it still stands there."""
        if self._state.notice == self._told:
            self._state.notice = ""

    def do(self, edit: Edit) -> None:
        """Make a change that can be undone, or say why it cannot be made."""
        self._changes.do(edit)

    def choose(self, scenario: str) -> None:
        """Choose a scenario's column, as whoever looks at a view does."""
        self._begun = None
        self._state.choose(scenario)

    def edit_value(self, path: Path) -> None:
        """Open the editor on a value of the chosen scenario, or the list or form that it has."""
        self._entering.edit_value(path)

    def edit_for_all(self, path: Path) -> None:
        """Open the editor on a value where it holds for all, and say which scenario that is."""
        self._entering.edit_for_all(path)

    def ask_line(self, question: str, text: str, take: Callable[[str], None]) -> None:
        """Have a line typed; nothing is taken where that is given up."""
        self._ask(AskLine(question, text), take)

    def ask_which(
        self, question: str, things: Mapping[str, str], take: Callable[[str], None], told: str = ""
    ) -> None:
        """Have one of some things chosen by its name; ``told`` is what F1 says of them."""
        self._ask(ChooseOne(question, things, told=told), take)

    def _ask(self, dialog: Dialog, take: Callable[[str], None]) -> None:
        def done(said: str) -> None:
            take(said)
            self._host.repaint()

        self._host.settle()
        self._host.lay_over(dialog, done)
