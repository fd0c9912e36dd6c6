"""How the study is looked at: columns, headings, the tree, times and units.

Nothing here changes a value.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from whatif.screens.dialogs.lists import ChooseOne
from whatif.session.sheet import UNITS

if TYPE_CHECKING:
    from whatif.screens.desk.arrangement import Arrangement
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState

_ALL = "*"
"""In the list of hidden columns: all of them; no scenario can have this id."""


class Arranging:
    """What is shown of the study, where, and in what its figures are told."""

    def __init__(self, state: DeskState, host: DeskHost) -> None:
        self._state = state
        self._host = host

    def _arrange(self, arrangement: Arrangement, says: str = "") -> None:
        """Look at the study otherwise, the cursor staying with its scenario."""
        self._host.settle()
        self._state.arrangement = arrangement
        self._host.say(says)

    # -- rows and the tree -------------------------------------------------------------

    def fold(self) -> None:
        """Open or close the heading that the cursor is under."""
        self._state.fold()
        self._host.repaint()

    def show_tree(self) -> None:
        """Show the tree of scenarios, or hide it."""
        self._state.tree_wanted = not self._state.tree_shown
        self._host.repaint()

    def only_differing(self) -> None:
        """Show only the rows in which the columns differ, or all of them."""
        now = self._state.arrangement
        only = not now.only_differing
        self._arrange(replace(now, only_differing=only), self._compared() if only else "")

    def _compared(self) -> str:
        """Which columns are compared, and how to compare two."""
        count = len(self._state.ids)
        fewer = "b leaves the reference and this one alone" if count > 2 else "H shows more"
        return f"Only rows in which the {count} columns differ; {fewer}. = ends."

    # -- columns -----------------------------------------------------------------------

    def hide(self) -> None:
        """Hide the chosen column."""
        state, scenario = self._state, self._state.chosen
        if scenario is None:
            return
        if len(state.ids) == 1:
            self._arrange(state.arrangement, "This is the last column; one stays.")
            return
        title, is_reference = state.title(scenario), scenario == state.shown.reference_id
        self._host.settle()
        state.hide_chosen()
        if state.arrangement.only_differing:
            self._host.say(f"{title} is hidden. {self._compared()}")
        else:
            held = "gains are against it still" if is_reference else "answered as before"
            self._host.say(f"{title} is hidden, and {held}. H shows hidden columns.")

    def beside_reference(self) -> None:
        """Show the chosen column alone beside the reference's, or the others again."""
        state, scenario, reference = self._state, self._state.chosen, self._state.shown.reference_id
        if scenario is None:
            return
        if state.arrangement.hidden_before is not None:
            self._look_with(state.arrangement.as_before(), scenario, "The other columns are back.")
        elif reference is None or scenario == reference:
            self._host.say("This is the reference: b on another column shows the two alone.")
        else:
            arrangement = state.arrangement.beside(scenario, reference, state.shown.ids)
            says = f"Only {state.title(scenario)} beside the reference; b shows the others again."
            self._look_with(arrangement, scenario, says)

    def _look_with(self, arrangement: Arrangement, scenario: str, says: str) -> None:
        """Look at other columns, the cursor staying with its scenario."""
        self._arrange(arrangement, says)
        self._state.choose(scenario)

    def show_hidden(self) -> None:
        """Show one of the hidden columns, or all."""
        state = self._state
        hidden = state.arrangement.out_of_sight(state.shown.ids)
        if not hidden:
            self._arrange(state.arrangement, "No column is hidden; h hides the chosen one.")
        elif len(hidden) == 1:
            self._show(hidden[0])
        else:
            titles = {scenario: state.title(scenario) for scenario in hidden}
            offered = {_ALL: f"all {len(hidden)} of them", **titles}
            self._host.lay_over(ChooseOne("Show which hidden column?", offered), self._show)

    def _show(self, scenario: str) -> None:
        state = self._state
        if scenario == _ALL:
            hidden = state.arrangement.out_of_sight(state.shown.ids)
            self._arrange(state.arrangement.showing(*hidden), "All columns are shown.")
        else:
            state.choose(scenario)
            self._arrange(state.arrangement)

    def keep(self) -> None:
        """Keep the chosen column in sight at the left, or let it go."""
        state, scenario = self._state, self._state.chosen
        if scenario is None:
            return
        title, reference = state.title(scenario), state.shown.reference_id
        arrangement = state.arrangement.keeping(scenario, reference)
        if arrangement.keeps(scenario, reference):
            says = f"{title} stays in sight at the left; k lets it go."
        else:
            says = f"{title} moves along with the other columns; k keeps it in sight."
        self._arrange(arrangement, says)

    def move_column(self, by: int) -> None:
        """Move the chosen column so many places to the right."""
        now, scenario, shown = self._state.arrangement, self._state.chosen, self._state.shown
        if scenario is None:
            return
        arrangement = now.moving(scenario, by, shown.ids, shown.reference_id)
        stays = "It cannot go further; columns kept in sight (k) stay at the left of the others."
        moved = "Moved on this screen only; in the file the scenarios keep their order."
        self._arrange(arrangement, stays if arrangement == now else moved)

    def widen(self, by: int) -> None:
        """Make the columns so many cells wider."""
        columns = self._state.columns
        self.resize(*columns.dragged(1, columns.label + columns.width + by))

    def resize(self, label: int, width: int) -> None:
        """Make the labels so many cells wide, or else the columns, whichever is another width."""
        now = self._state.arrangement
        if label != self._state.columns.label:
            self._state.arrangement = replace(now, label=label)
        else:
            self._state.arrangement = replace(now, width=width)
        self._host.repaint()

    def resize_tree(self, width: int) -> None:
        """Make the tree so many cells wide."""
        self._state.arrangement = replace(self._state.arrangement, tree=width)
        self._host.repaint()

    def fit(self) -> None:
        """Make columns, labels and the tree as wide as they fit."""
        self._arrange(replace(self._state.arrangement, label=None, width=None, tree=None))

    # -- times and units ---------------------------------------------------------------

    def next_time(self) -> None:
        """Tell hours and pieces for the next time: day, week, month, year."""
        per = self._state.arrangement.per.next
        self._arrange(
            replace(self._state.arrangement, per=per),
            f"Hours and pieces per {per.value}; shares and gains are the same for all.",
        )

    def next_units(self) -> None:
        """Show lengths, masses and areas as typed, in metric units or in inches."""
        now = self._state.arrangement
        units = UNITS[(UNITS.index(now.units) + 1) % len(UNITS)]
        self._arrange(replace(now, units=units))
