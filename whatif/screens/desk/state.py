"""Where one is on the desk, and how one looks at the study there.

Nothing here is an edit: no value and no answer follows from it, and nothing of it is saved.
"""

from __future__ import annotations

from dataclasses import field, replace
from itertools import takewhile
from typing import TYPE_CHECKING, Final

from whatif.records import dataclass
from whatif.screens.desk.arrangement import Arrangement
from whatif.screens.widgets.columns import Columns, fitted
from whatif.screens.widgets.tree import Branch, branches, is_same_tree
from whatif.session.first_letters import first_letters, first_signs
from whatif.session.sheet import (
    UNKNOWN_KEYS,
    Differing,
    Heading,
    Line,
    Row,
    cell,
    differing,
    is_unknown_key,
    only_differing,
    result_units,
    rows,
    shapes,
)
from whatif.telling.sheet_cell import ATTENDED, SheetCell

if TYPE_CHECKING:
    from whatif.screens.views.view import View
    from whatif.session.session import Session
    from whatif.study.check.check import Checked
    from whatif.study.draft import Draft
    from whatif.study.raw import Path
    from whatif.study.resolve import Resolved

_OPEN_AT_FIRST = {UNKNOWN_KEYS[0], "hours", "machine", "shift", "unattended", "part"}
"""Headings that are open at first; what is rarely changed is closed."""


_PAUSE: Final = 1.0
"""Seconds after which a key belongs no more to what was typed before it."""

REFUSED: Final = "! "
"""What a notice begins with that tells a refusal: a sign beside its colour."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A row of the sheet as it can be found again, whatever rows come and go.

    Attributes:
        place: of its heading.
        path: of its value; None on the heading itself.
        folded: the headings that are closed.
    """

    place: Path = ()
    path: Path | None = None
    folded: frozenset[Path] = frozenset()


@dataclass(slots=True)
class Typing:
    """A value that is being typed over.

    Attributes:
        untouched: the old value, as long as it may still stand there unchanged; None where the
            text was typed over it.
        tried: the text that has been tried as the value last.
        over: what stood there on the screen, for the unit of a bare number.
        wrong: what is wrong with that, in words; "" where nothing is.
        back_to: the scenario to choose again once it is done; None where that stays.
    """

    scenario: str
    path: Path
    untouched: str | None
    tried: str
    over: str = ""
    wrong: str = ""
    back_to: str | None = None


@dataclass(slots=True, eq=False)
class DeskState:
    """The cursor, the rows and columns around it, and what is open.

    Attributes:
        notice: what was done last, in words, until something else is done.
        view: the view in the place of the sheet, None with the sheet.
        typing: the value that is being typed over, if one is.
        tree_wanted: whether the tree is to be shown; None where it may follow the room there is.
        tree_shown: whether it is.
        scenario: of the cursor's column, wherever that goes; None once it has gone.
        column, row: where the cursor is.
        refused_at: when the latest key of what is refused on this row was heeded, by the
            monotonic clock; None where nothing is.
        has_pointed: whether the cursor has gone to another row since the study was opened.
        room: cells that there are for labels and columns.
        rows: of the sheet.
        columns: where they stand.
    """

    session: Session
    arrangement: Arrangement = field(default_factory=Arrangement)
    notice: str = ""
    view: View | None = None
    typing: Typing | None = None
    tree_wanted: bool | None = None
    tree_shown: bool = False
    spot: Spot = field(default_factory=Spot)
    scenario: str | None = None
    column: int = 0
    row: int = 1
    refused_at: float | None = None
    has_pointed: bool = False
    room: int = 80
    rows: tuple[Row, ...] = ()
    columns: Columns = field(default_factory=lambda: fitted(80, 1, 0, 0))
    _cells: dict[str, tuple[Resolved, dict[Path, SheetCell]]] = field(default_factory=dict)
    """Of each scenario, with what held there when they were worked out."""
    _cells_of: tuple[Checked, str, tuple[object, ...]] | None = None
    """The check and the units that they are of, and what of the whole study they hang on."""
    _differing: tuple[Checked, tuple[str, ...], Differing] | None = None
    _ids: tuple[Arrangement, Draft, tuple[str, ...]] | None = None
    _titles: tuple[Draft, tuple[str, ...], tuple[str, ...]] | None = None
    _branches: tuple[Draft, tuple[Branch, ...]] | None = None
    _rows: tuple[object, tuple[Row, ...]] | None = None

    def __post_init__(self) -> None:
        self.spot = Spot(
            folded=frozenset(
                row.place
                for row in self.all_rows()
                if isinstance(row, Heading) and row.place[0] not in _OPEN_AT_FIRST
            )
        )

    # -- what there is -----------------------------------------------------------------

    @property
    def draft(self) -> Draft:
        """What has been kept."""
        return self.session.draft

    @property
    def shown(self) -> Draft:
        """What is on the screen: the same, or with what is being typed."""
        return self.session.shown

    def title(self, scenario: str) -> str:
        """What a scenario is called."""
        return self.shown.scenario(scenario).title

    @property
    def titles(self) -> tuple[str, ...]:
        """What the scenarios in the columns are called."""
        draft, ids, known = self.shown, self.ids, self._titles
        if known is None or known[0] is not draft or known[1] is not ids:
            known = draft, ids, tuple(draft.scenario(scenario).title for scenario in ids)
            self._titles = known
        return known[2]

    @property
    def branches(self) -> tuple[Branch, ...]:
        """All scenarios as a tree; the same one for as long as they hang together alike."""
        draft, known = self.shown, self._branches
        if known is None or not (known[0] is draft or is_same_tree(known[0], draft)):
            known = draft, tuple(branches(draft))
        self._branches = draft, known[1]
        return known[1]

    @property
    def result_units(self) -> str:
        """What areas of results are shown in."""
        return result_units(self.arrangement.units, self.shown)

    # -- columns -----------------------------------------------------------------------

    @property
    def ids(self) -> tuple[str, ...]:
        """The scenarios in the columns, from left to right."""
        arrangement, draft, known = self.arrangement, self.shown, self._ids
        if known is None or known[0] is not arrangement or known[1] is not draft:
            ids = arrangement.columns(draft.ids, draft.reference_id)
            if known is not None and known[2] == ids:
                ids = known[2]  # The same, so that what hangs on it is known to hold.
            known = self._ids = arrangement, draft, ids
        return known[2]

    @property
    def chosen(self) -> str | None:
        """The scenario of the cursor's column."""
        return self.ids[self.column] if self.column < len(self.ids) else None

    @property
    def looked_at(self) -> str | None:
        """The scenario that a view is about.

        While a value is typed where it holds for all it is still the one that was chosen before,
        so that what is said of it follows.
        """
        typing = self.typing
        return self.chosen if typing is None or typing.back_to is None else typing.back_to

    def choose(self, scenario: str) -> None:
        """Put the cursor on a scenario's column, which is shown again if it was hidden."""
        self.arrangement = self.arrangement.showing(scenario)
        if scenario in self.ids:
            self.scenario, self.column = scenario, self.ids.index(scenario)

    def hide_chosen(self) -> None:
        """Hide the chosen column; the cursor stays at its place, over the next one."""
        scenario = self.chosen
        if scenario is not None:
            self.scenario, self.column = None, min(self.column, len(self.ids) - 2)
            self.arrangement = self.arrangement.hiding(scenario)

    def _lay_out(self) -> None:
        """Find out which columns stand where."""
        arrangement, reference = self.arrangement, self.shown.reference_id
        # They stand in front of all others.
        kept = sum(
            1 for _ in takewhile(lambda scenario: arrangement.keeps(scenario, reference), self.ids)
        )
        wished = arrangement.label, arrangement.width
        first = self.columns.first
        self.columns = fitted(self.room, len(self.ids), self.column, first, kept, wished)

    # -- rows --------------------------------------------------------------------------

    @property
    def line(self) -> Line | None:
        """The row of values under the cursor, None on a heading."""
        row = self.rows[self.row] if self.row < len(self.rows) else None
        return row if isinstance(row, Line) else None

    @property
    def letters(self) -> frozenset[str]:
        """The letters and signs typed over the value under the cursor; all others are commands."""
        line, scenario = self.line, self.chosen
        if line is None or scenario is None or self.view is not None:
            return frozenset()
        return first_letters(line.path) | first_signs(line.path)

    def belongs_to_refused(self, character: str | None, when: float) -> bool:
        """Whether a key goes on with what was refused on this row, and is no command therefore.

        Any other key ends that: arrows, Enter, Escape, and whatever comes after a pause.

        Args:
            character: of the key; None where it has none that is printed.
            when: it is heeded, by that clock.
        """
        at, self.refused_at = self.refused_at, None
        if at is None or character is None or when - at > _PAUSE:
            return False
        self.refused_at = when
        return True

    def all_rows(self, folded: frozenset[Path] | None = None) -> tuple[Row, ...]:
        """The rows that there are, with other headings closed than now where that is asked."""
        closed = self.spot.folded if folded is None else folded
        found = self._found_rows(closed)
        if not self.arrangement.only_differing:
            return found
        # What is being edited stays where it is, also while it is the same everywhere.
        edited = self.line if self.typing is not None else None
        return only_differing(found, self.differing(), edited)

    def _found_rows(self, closed: frozenset[Path]) -> tuple[Row, ...]:
        """All rows; a value that is changed brings no other ones."""
        checked, columns = self.session.checked, self._readable
        unknown = [checked.unknown_keys[id_] for id_ in columns if id_ in checked.unknown_keys]
        shown = shapes(checked, columns), [tuple(keys) for keys in unknown], closed
        if self._rows is None or self._rows[0] != shown:
            self._rows = shown, tuple(rows(checked, columns, closed))
        return self._rows[1]

    def differing(self) -> Differing:
        """The rows in which the columns differ, worked out once for what is shown."""
        checked, ids = self.session.checked, self._readable
        last = self._differing
        if last is None or last[0] is not checked or last[1] != ids:
            last = self._differing = (checked, ids, differing(checked, ids))
        return last[2]

    @property
    def _readable(self) -> tuple[str, ...]:
        ids, resolved = self.ids, self.session.checked.resolved
        return (
            ids
            if all(id_ in resolved for id_ in ids)
            else tuple(id_ for id_ in ids if id_ in resolved)
        )

    def cell(self, scenario: str, path: Path) -> SheetCell:
        """What stands in a scenario's column, worked out once for as long as it holds."""
        checked, units = self.session.checked, self.arrangement.units
        of = self._cells_of
        if of is None or of[0] is not checked or of[1] != units:
            self._renew_cells(checked, units)
        here = checked.resolved[scenario]
        held, cells = self._cells.get(scenario, (None, {}))
        if held is not here:
            cells = {}
            self._cells[scenario] = here, cells
        if path not in cells:
            cells[path] = cell(checked, scenario, path, units)
        return cells[path]

    def _renew_cells(self, checked: Checked, units: str) -> None:
        """Keep the cells of scenarios that are as they were, unless the study is another."""
        unused, draft = checked.unused, checked.draft
        common = (
            units,
            unused.contributions,
            *(unused.in_money, unused.reference, unused.today),
            draft.head.get("units"),
        )
        if self._cells_of is None or self._cells_of[2] != common:
            self._cells.clear()
        self._cells_of = checked, units, common

    # -- the cursor --------------------------------------------------------------------

    def follow(self) -> None:
        """Bring rows, columns and the cursor up to what the study and the room are now."""
        self.column = self._find_column()
        self.rows = self.all_rows()
        self.row = self._find_row()
        self._remember()
        self._lay_out()

    def _find_column(self) -> int:
        """The cursor's column: the same scenario, or else the same place."""
        if self.scenario in self.ids:
            return self.ids.index(self.scenario)
        return max(0, min(self.column, len(self.ids) - 1))

    def _find_row(self) -> int:
        """The cursor's row: the same value, or else its heading, or the nearest row."""
        place, path = self.spot.place, self.spot.path
        for i, row in enumerate(self.rows):
            if isinstance(row, Line) and row.path == path and row.place == place:
                return i
        for i, row in enumerate(self.rows):
            if row.place == place and (path is None or isinstance(row, Heading)):
                return i
        return max(0, min(self.row, len(self.rows) - 1))

    def _remember(self) -> None:
        """Hold on to the value under the cursor, wherever its row and column may go."""
        self.scenario = self.chosen
        if self.rows:
            row = self.rows[self.row]
            path = row.path if isinstance(row, Line) else None
            self.spot = replace(self.spot, place=row.place, path=path)

    def go_to(self, row: int, column: int) -> None:
        """Move the cursor to a row and a column; beyond the last it stays there."""
        self.notice, self.refused_at = "", None
        self.has_pointed |= row != self.row
        self.row = max(0, min(len(self.rows) - 1, row))
        self.column = max(0, min(len(self.ids) - 1, column))
        self._remember()

    def move(self, rows: int, columns: int) -> None:
        """Move the cursor by so many rows and columns."""
        self.go_to(self.row + rows, self.column + columns)

    def go_to_next_value(self) -> None:
        """Move the cursor down to the next value, over headings; behind the last one it stays.

        What was said of the value that it leaves is still said.
        """
        notice, below = self.notice, range(self.row + 1, len(self.rows))
        row = next((at for at in below if isinstance(self.rows[at], Line)), self.row)
        self.go_to(row, self.column)
        self.notice = notice

    def fold(self) -> None:
        """Open or close the heading that the cursor is under, and go there."""
        self.spot = replace(self.spot, path=None, folded=self.spot.folded ^ {self.spot.place})

    def put_on(self, place: Path, path: Path | None = None, *, opening: bool = True) -> None:
        """Put the cursor on a value or on its heading, which is opened unless that is left."""
        opened = {place} if opening else set()
        self.has_pointed = True
        self.spot = Spot(place, path, self.spot.folded - opened)

    def go_to_value(self, path: Path) -> bool:
        """Put the cursor on a value's row, its heading open; whether there is one."""
        self.spot = replace(self.spot, folded=self.spot.folded - self._headings_of(path))
        for row in self.all_rows():
            if isinstance(row, Line) and row.path == path:
                self.put_on(row.place, path)
                return True
        return False

    def _headings_of(self, path: Path) -> set[Path]:
        if path == ATTENDED:
            return {("hours",)}
        if is_unknown_key(path):
            # It stands under whichever heading the file has it at.
            lines = (row for row in self.all_rows(frozenset()) if isinstance(row, Line))
            return {line.place for line in lines if line.path == path}
        if len(path) == 1:
            return {("scenario",)}
        return {path[:2], path[:1]}
