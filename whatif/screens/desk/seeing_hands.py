"""The desk's hands on what is seen: rows found by name, columns, times and units.

Nothing here changes a value.
"""

from __future__ import annotations

from dataclasses import replace

from textual import events, on

from whatif.screens.desk.arrangement import Arrangement
from whatif.screens.desk.command import Command
from whatif.screens.desk.desk import Desk
from whatif.screens.dialogs.pick import Pick
from whatif.screens.widgets.borders import Borders
from whatif.screens.widgets.finder import Finder
from whatif.screens.widgets.sheet import Sheet
from whatif.session.sheet import UNITS, Line, find
from whatif.study.raw import Path

COMMANDS = (
    Command("find", "Find a row", "by a part of its name", "slash", "/", "find"),
    Command("only_differing", "Only differences", "or all rows again", "equals_sign", "="),
    Command("hide", "Hide the column", "of the chosen scenario", "h"),
    Command("show_hidden", "Show hidden columns", "one of them or all", "H"),
    Command("keep", "Keep the column in sight", "at the left, or let it go", "k"),
    Command("move_left", "Move the column left", "", "left_square_bracket,shift+left", "["),
    Command("move_right", "Move the column right", "", "right_square_bracket,shift+right", "]"),
    Command("wider", "Wider columns", "fewer of them fit", "plus", "+"),
    Command("narrower", "Narrower columns", "more of them fit", "minus", "-"),
    Command("fit_columns", "Columns as wide as they fit", "and the labels"),
    Command("per", "Figures per day, week, month, year", "one after the other", "p"),
    Command("units", "As typed, metric or inch", "one after the other", "i"),
)

_ALL = "*"
"""In the list of hidden columns: all of them; no scenario can have this id."""

_STEP = 2


class SeeingHands(Desk):
    """What is seen of the study, and how."""

    _before: tuple[frozenset[Path], Path, Path | None] = (frozenset(), (), None)
    """What was folded and where the cursor was when a search began."""

    def finder(self) -> Finder:
        """The line in which a row's name is typed; it stands at the bottom."""
        return Finder(self._find, self._end_finding)

    def see(self, arrangement: Arrangement, says: str = "") -> None:
        """Look at the study otherwise, the cursor staying with its scenario."""
        self.close_editor(keep=True)
        self.arrangement = arrangement
        self.notice = says
        self.repaint()

    # -- finding a row -----------------------------------------------------------------

    def action_find(self) -> None:
        """Begin to look for a row by its name."""
        self.begin_to_find()

    def begin_to_find(self) -> None:
        """Begin to look for a row by its name."""
        self.close_editor(keep=True)
        self.notice = ""
        self._before = (self._folded, self._place, self._path)
        self.query_one(Finder).open()
        self.repaint()

    def _find(self, typed: str, steps: int, again: bool) -> str:
        """Go to a row of that name, opening its heading; says how many there are."""
        folded, place, path = self._before
        rows = self._all_rows(frozenset())
        here = [
            isinstance(row, Line) == (path is not None)
            and row.place == place
            and (not isinstance(row, Line) or row.path == path)
            for row in rows
        ]
        start = here.index(True) if True in here else 0
        hits = find(rows, typed, start)
        if again:
            # The row where the cursor is has been found before.
            steps += hits.index(rows[start]) if rows and rows[start] in hits else -1
        self._folded, self._place, self._path = self._before
        said = ""
        if hits:
            hit = hits[steps % len(hits)]
            self._place = hit.place
            self._path = hit.path if isinstance(hit, Line) else None
            if self._path is not None:
                self._folded = folded - {hit.place}
            said = f"{steps % len(hits) + 1} of {len(hits)}"
        elif typed.strip():
            left_out = ", of those that differ (= shows all)"
            said = "no such row" + (left_out if self.arrangement.only_differing else "")
        self.repaint()
        return said

    def _end_finding(self, stay: bool) -> None:
        finder = self.query_one(Finder)
        if not finder.is_open:
            return
        finder.close()
        if not stay:
            self._folded, self._place, self._path = self._before
        self.set_focus(self.query_one(Sheet))
        self.repaint()

    def close_editor(self, *, keep: bool) -> None:
        """Whatever ends an edit ends a search too, where it has got to."""
        self._end_finding(stay=True)
        super().close_editor(keep=keep)

    def to_editor(self, event: events.Key) -> bool:
        """Give a key that was pressed before the line at the bottom had the focus to it."""
        finder = self.query_one(Finder)
        if not finder.is_open:
            return super().to_editor(event)
        if not finder.takes(event) and event.is_printable and event.character:
            finder.insert(event.character)
        return True

    # -- rows and columns --------------------------------------------------------------

    def action_only_differing(self) -> None:
        """Show only the rows in which the columns differ, or all of them."""
        only = not self.arrangement.only_differing
        self.see(
            replace(self.arrangement, only_differing=only),
            "Only rows in which these columns differ; = shows all rows again." if only else "",
        )

    def action_hide(self) -> None:
        """Hide the chosen column."""
        scenario = self.chosen
        if scenario is None:
            return
        if len(self.ids) == 1:
            self.see(self.arrangement, "This is the last column; one stays.")
            return
        place, title = self._column, self.session.shown.scenario(scenario).title
        self._chosen = None  # the cursor stays at its place, over the next one
        self._column = min(place, len(self.ids) - 2)
        self.see(
            self.arrangement.hiding(scenario),
            f"{title} is hidden, and answered as before. H shows hidden columns.",
        )

    def action_show_hidden(self) -> None:
        """Show one of the hidden columns, or all."""
        hidden = self.arrangement.out_of_sight(self.session.shown.ids)
        if not hidden:
            self.see(self.arrangement, "No column is hidden; h hides the chosen one.")
        elif len(hidden) == 1:
            self._show(hidden[0])
        else:
            titles = {one: self.session.shown.scenario(one).title for one in hidden}
            things = {_ALL: f"all {len(hidden)} of them", **titles}
            self.app.push_screen(Pick("Show which hidden column?", things), self._show)

    def _show(self, scenario: str | None) -> None:
        if scenario == _ALL:
            hidden = self.arrangement.out_of_sight(self.session.shown.ids)
            self.see(self.arrangement.showing(*hidden), "All columns are shown.")
        elif scenario is not None:
            self.choose(scenario)
            self.see(self.arrangement)

    def action_keep(self) -> None:
        """Keep the chosen column in sight at the left, or let it go."""
        scenario, reference = self.chosen, self.session.shown.reference_id
        if scenario is None:
            return
        title = self.session.shown.scenario(scenario).title
        arrangement = self.arrangement.keeping(scenario, reference)
        kept = arrangement.keeps(scenario, reference)
        self.see(
            arrangement,
            f"{title} stays in sight at the left; k lets it go."
            if kept
            else f"{title} moves along with the other columns; k keeps it in sight.",
        )

    def action_move_left(self) -> None:
        """Move the chosen column one place to the left."""
        self._move_column(-1)

    def action_move_right(self) -> None:
        """Move the chosen column one place to the right."""
        self._move_column(1)

    def _move_column(self, by: int) -> None:
        scenario, shown = self.chosen, self.session.shown
        if scenario is None:
            return
        arrangement = self.arrangement.moving(scenario, by, shown.ids, shown.reference_id)
        stays = "It cannot go further; columns kept in sight (k) stay at the left of the others."
        moved = "Moved on this screen only; in the file the scenarios keep their order."
        self.see(arrangement, stays if arrangement == self.arrangement else moved)

    def action_wider(self) -> None:
        """Make the columns wider."""
        self._widen(_STEP)

    def action_narrower(self) -> None:
        """Make the columns narrower."""
        self._widen(-_STEP)

    def _widen(self, by: int) -> None:
        columns = self._columns
        self._resize(*columns.dragged(1, columns.label + columns.width + by))

    def action_fit_columns(self) -> None:
        """Make columns and labels as wide as they fit."""
        self.see(replace(self.arrangement, label=None, width=None))

    @on(Borders.Dragged)
    def _dragged(self, message: Borders.Dragged) -> None:
        self._resize(message.label, message.width)

    def _resize(self, label: int, width: int) -> None:
        changed = label != self._columns.label
        self.arrangement = replace(
            self.arrangement,
            label=label if changed else self.arrangement.label,
            width=self.arrangement.width if changed else width,
        )
        self.repaint()

    # -- times and units ---------------------------------------------------------------

    def action_per(self) -> None:
        """Tell hours and pieces for the next time: day, week, month, year."""
        per = self.arrangement.per.next
        self.see(
            replace(self.arrangement, per=per),
            f"Hours and pieces per {per.value}; shares and gains are the same for all.",
        )

    def action_units(self) -> None:
        """Show lengths, masses and areas as typed, in metric units or in inches."""
        units = UNITS[(UNITS.index(self.arrangement.units) + 1) % len(UNITS)]
        self.see(replace(self.arrangement, units=units))
