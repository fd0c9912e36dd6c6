"""The main screen as it is drawn: the strip of results, the sheet of inputs, the tree, the editor.

It owns where the cursor is, what is folded and how the study is looked at, and nothing else:
every value comes from the session, every figure from an answer.
"""

from __future__ import annotations

from collections.abc import Mapping

from rich.cells import cell_len
from textual import events
from textual.geometry import Region
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from whatif.answers.compare import Answer
from whatif.screens.desk.arrangement import Arrangement
from whatif.screens.views.pane import ViewPane
from whatif.screens.views.view import Look, View
from whatif.screens.widgets.columns import cut, fitted, wrapped
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.sheet import Sheet, SheetState
from whatif.screens.widgets.strip import ResultStrip, StripState
from whatif.screens.widgets.strip_rows import NO_ANSWER, WAITING, Room, room_for
from whatif.screens.widgets.tree import ScenarioTree, TreeState, branches
from whatif.session.about_value import about_value, meaning_words
from whatif.session.calculate.answered import Answered
from whatif.session.calculate.requests import Question
from whatif.session.next_step import next_step, standing
from whatif.session.session import Session
from whatif.session.sheet import (
    AS_TYPED,
    Cell,
    Differing,
    Heading,
    Line,
    Row,
    cell,
    differing,
    only_differing,
    result_units,
    rows,
)
from whatif.study.check.check import Checked
from whatif.study.draft import Draft
from whatif.study.raw import Path
from whatif.telling.warnings import warnings_of

SIDE_BY_SIDE = 110
"""Columns from which the tree stands beside the sheet without being asked for."""


class Board(Screen[None]):
    """What of a study is drawn where; :class:`whatif.screens.desk.desk.Desk` puts hands to it."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.answered = Answered()
        self.arrangement = Arrangement()
        self.notice = ""
        self._chosen: str | None = None
        self.view: View | None = None
        self.results: dict[Question, object] = {}
        self.partly: dict[Question, object] = {}
        self.faults: dict[Question, str] = {}
        self._progress = ""
        self._answering: Draft | None = None
        self._asked: Question | None = None
        self._stopped = False
        self._stopped_at: Question | None = None
        self._typing_from: Widget | None = None
        self._column = 0
        self._first = 0
        self._place: Path = ()
        self._path: Path | None = None
        self._folded: frozenset[Path] = frozenset()
        self._tree_wanted: bool | None = None
        self._status = ""
        self._rows: tuple[Row, ...] = ()
        self._row = 0
        self._columns = fitted(80, 1, 0, 0)
        self._differ: tuple[Checked, tuple[str, ...], Differing] | None = None
        self._cells: dict[tuple[str, Path], Cell] = {}

    def on_resize(self, event: events.Resize) -> None:
        """Lay the columns out anew, once the new sizes are known."""
        self.call_after_refresh(self._repaint_twice)

    def _repaint_twice(self) -> None:
        self.repaint()
        # The strip may have changed its height, and with it the place of the sheet.
        self.call_after_refresh(self.repaint)

    # -- what a view is answered ---------------------------------------------------------

    def look(self) -> Look:
        """What there is to be drawn by a view."""
        draft = self.session.shown
        asked = self._asked
        at_work = self._stopped_at if self._stopped else asked
        return Look(
            checked=self.session.checked,
            ids=self.ids,
            titles=tuple(draft.scenario(one).title for one in self.ids),
            chosen=self.chosen,
            reference=draft.reference_id,
            answers=self.current(),
            columns=self._columns,
            result=None if asked is None else self.results.get(asked),
            partly=None if at_work is None else self.partly.get(at_work),
            draft=draft,
            under=self._path,
            units=self.arrangement.units,
            waiting="Stopped; s goes on with it." if self._stopped else self._progress,
            fault="" if asked is None else self.faults.get(asked, ""),
        )

    def wanted(self) -> Question | None:
        """What the open view wants to know and has not been told."""
        if self.view is None or self._stopped or self.session.checked.study is None:
            return None
        question = self.view.question(self.look())
        return None if question in self.results or question in self.faults else question

    # -- what is where -----------------------------------------------------------------

    @property
    def ids(self) -> tuple[str, ...]:
        """The scenarios in the columns, from left to right."""
        shown = self.session.shown
        return self.arrangement.columns(shown.ids, shown.reference_id)

    @property
    def chosen(self) -> str | None:
        """The scenario of the chosen column."""
        return self.ids[self._column] if self._column < len(self.ids) else None

    @property
    def line(self) -> Line | None:
        """The row of values under the cursor, None on a heading."""
        row = self._rows[self._row] if self._row < len(self._rows) else None
        return row if isinstance(row, Line) else None

    def choose(self, scenario: str) -> None:
        """Move the cursor to a scenario's column, which is shown again if it was hidden."""
        self.arrangement = self.arrangement.showing(scenario)
        if scenario in self.ids:
            self._chosen, self._column = scenario, self.ids.index(scenario)

    def _known(self) -> tuple[str, ...]:
        return tuple(one for one in self.ids if one in self.session.checked.resolved)

    def _all_rows(self, folded: frozenset[Path] | None = None) -> tuple[Row, ...]:
        """The rows that are shown, with other headings folded than now where that is asked."""
        known = self._known()
        shown = tuple(rows(self.session.checked, known, self._folded if folded is None else folded))
        if not self.arrangement.only_differing:
            return shown
        # What is being edited stays where it is, also while it is the same everywhere.
        edited = self.line if self.query_one(Editor).is_open else None
        return only_differing(shown, self._differing(), edited)

    def _differing(self) -> Differing:
        """The rows in which the columns differ, worked out once for what is shown."""
        checked, known = self.session.checked, self._known()
        last = self._differ
        if last is None or last[0] is not checked or last[1] != known:
            last = self._differ = (checked, known, differing(checked, known))
        return last[2]

    def _find_column(self) -> int:
        """The cursor's column: the same scenario, or else the same place."""
        if self._chosen in self.ids:
            return self.ids.index(self._chosen)
        return max(0, min(self._column, len(self.ids) - 1))

    def _find_row(self) -> int:
        """The cursor's row: the same value, or else its heading, or the nearest row."""
        for i, row in enumerate(self._rows):
            if isinstance(row, Line) and row.path == self._path and row.place == self._place:
                return i
        for i, row in enumerate(self._rows):
            if row.place == self._place and (self._path is None or isinstance(row, Heading)):
                return i
        return max(0, min(self._row, len(self._rows) - 1))

    def _cell(self, scenario: str, path: Path) -> Cell:
        key = (scenario, path)
        if key not in self._cells:
            self._cells[key] = cell(self.session.checked, scenario, path, self.arrangement.units)
        return self._cells[key]

    # -- painting ----------------------------------------------------------------------

    def repaint(self) -> None:
        """Draw everything from the session and the answers."""
        self._cells.clear()
        self._column = self._find_column()
        self._rows = self._all_rows()
        self._row = self._find_row()
        self._remember()
        self._lay_out()
        self._paint_strip()
        self._paint_sheet()
        self._paint_head()
        self._paint_info()
        self.query_one(ViewPane).show(self.view)
        self.place_editor()

    def place_editor(self) -> None:
        """Lay the open editor over its value, wherever that has gone."""
        editor = self.query_one(Editor)
        if editor.is_open:
            at, sheet = self._over(), self.query_one(Sheet).region
            editor.styles.offset = (at.x, at.y)
            editor.set_class(not sheet.y <= at.y < sheet.bottom, "away")

    def _remember(self) -> None:
        """Hold on to the value under the cursor, wherever its row and column may go."""
        self._chosen = self.chosen
        if self._rows:
            row = self._rows[self._row]
            self._place = row.place
            self._path = row.path if isinstance(row, Line) else None

    def _lay_out(self) -> None:
        tree = self.query_one(ScenarioTree)
        wanted = self._tree_wanted
        beside = self.size.width >= SIDE_BY_SIDE and self.view is None
        tree.display = beside if wanted is None else wanted
        self._make_room()
        room = self.size.width - (30 if tree.display else 0) - 1
        reference, arrangement = self.session.shown.reference_id, self.arrangement
        self._columns = fitted(
            room,
            len(self.ids),
            self._column,
            self._first,
            sum(arrangement.keeps(one, reference) for one in self.ids),
            (arrangement.label, arrangement.width),
        )
        self._first = self._columns.first

    def _make_room(self) -> None:
        """With a view open the sheet is the one line that is being changed, or nothing."""
        view = self.view
        whole = view is not None and view.whole
        self.query_one(ViewPane).display = view is not None
        self.query_one(Sheet).set_class(view is not None, "one-line")
        for one in (ResultStrip, Sheet):
            self.query_one(one).display = not whole
        self.query_one("#rule").display = not whole

    @property
    def is_waiting(self) -> bool:
        """Whether an answer for what is on the screen is still to come."""
        return bool(self._status)

    def current(self) -> Mapping[str, Answer]:
        """The answers that belong to what is on the screen."""
        return self.answered.current(self.session.checked)

    def result_units(self) -> str:
        """What areas of results are shown in."""
        return result_units(self.arrangement.units, self.session.shown)

    def _paint_strip(self) -> None:
        draft, answers = self.session.shown, self.current()
        titles = tuple(draft.scenario(one).title for one in self.ids)
        blank = NO_ANSWER if self.session.checked.study is None else WAITING
        self.query_one(ResultStrip).show(
            StripState(
                columns=self._columns,
                ids=self.ids,
                titles=titles,
                reference=draft.reference_id,
                cursor=self._column,
                answers=answers,
                room=self._strip_room(),
                blank=blank,
                per=self.arrangement.per,
                hidden=len(self.arrangement.out_of_sight(draft.ids)),
            )
        )
        self.query_one(ScenarioTree).show(
            TreeState(tuple(branches(draft)), self.chosen, draft.reference_id, answers, blank)
        )
        self.query_one("#rule", Static).update(f"──{self._caution_words()}" + "─" * self.size.width)

    def _strip_room(self) -> Room:
        if self.view is not None:
            return min(Room.SHORT, room_for(self.size.height))
        return room_for(self.size.height)

    def _paint_sheet(self) -> None:
        self.query_one(Sheet).show(
            SheetState(
                columns=self._columns,
                ids=self.ids,
                rows=self._rows,
                folded=self._folded,
                row=self._row,
                column=self._column,
                cell=self._cell,
                heading_note=self._heading_note,
                empty="  Nothing differs between these columns; = shows all rows again.",
                single=self.view is not None,
            )
        )

    def _heading_note(self, heading: Heading) -> str:
        if heading.place not in self._folded:
            return ""
        count = sum(line.place == heading.place for line in self._differing())
        return f"{count} differ" if count else ""

    def _paint_head(self) -> None:
        session, draft = self.session, self.session.shown
        title = draft.head.get("title") or session.path.name
        unsaved = f"  *{session.unsaved} unsaved" if session.unsaved else ""
        unsaved += self.file_words()
        reference = draft.reference_id
        against = draft.scenario(reference).title if reference and draft.has(reference) else "?"
        weeks = draft.head.get("weeks") or 13
        roomy, in_view = self.size.width >= SIDE_BY_SIDE, self.view is not None
        per = self.arrangement.per_words(f"{weeks}", roomy=roomy, in_view=in_view)
        right_side = f"{self._status_words()}{per} "
        seen = self._view_words()
        # What is marked must be seen: the reference's name gives way to it, as the title does.
        room = self.size.width - cell_len(f" 1234{unsaved}   against:   {seen}{right_side}")
        against = cut(against, max(4, min(24, room, cell_len(against))))
        marks = f"{unsaved}   against: {against}  {seen}"
        room = self.size.width - cell_len(marks) - len(right_side) - 1
        name = cut(str(title), max(4, min(cell_len(str(title)), room)))
        left = cut(f" {name}{marks}", max(0, self.size.width - len(right_side)))
        self.query_one("#head", Static).update(left + right_side)

    def file_words(self) -> str:
        """What has become of the file while it was worked on; "" where it is as it was."""
        return ""

    def _view_words(self) -> str:
        """What of the study is shown otherwise than it stands there."""
        said = "only differences  " if self.arrangement.only_differing else ""
        return said + (
            f"in {self.arrangement.units}  " if self.arrangement.units != AS_TYPED else ""
        )

    def _status_words(self) -> str:
        count = len(self.session.checked.problems)
        if count:
            return f"{count} problem{'s' if count > 1 else ''}: F3   "
        return f"{self._status}   " if self._status else ""

    def _paint_info(self) -> None:
        info = self.query_one("#info", Static)
        high = self._strip_room() is Room.HIGH
        info.set_class(high, "high")
        editor = self.query_one(Editor)
        info.set_class(bool(editor.wrong), "wrong")
        lines = [editor.wrong] if editor.wrong else self._info_lines()
        room = max(10, self.size.width - 2)
        if len(lines) > 1 and not high and cell_len(lines[0]) > room and self.notice:
            lines = lines[:1]  # What was just done is told in full.
        each = 2 if high or len(lines) == 1 else 1
        shown = [f" {cut(part, room)}" for text in lines for part in wrapped(text, room, each)]
        info.update("\n".join(shown))

    def _info_lines(self) -> list[str]:
        """What was done last or what the chosen value takes; then what the value means."""
        line, scenario, view = self.line, self.chosen, self.view
        if view is not None and view.whole:
            keys = "; ".join(" ".join(line.split()) for line in view.keys.splitlines())
            return [self.notice or f"Keys: {keys}; Esc goes back."]
        if scenario is None:
            return [self.notice or "No scenario yet: press a to add one."]
        shown, resolved = self.session.shown, self.session.checked.resolved[scenario]
        step = next_step(shown, resolved)
        if line is None:
            return [self.notice or step or "Space opens or closes the heading.", ""]
        about = standing(shown, resolved, line.path) or meaning_words(line.path)
        if not step or self.query_one(Editor).is_open:
            cell = self._cell(scenario, line.path)
            step = about_value(self.session.checked, scenario, line.path, line.label, cell)
        return [self.notice or step, about]

    def _caution_words(self) -> str:
        """How many cautions and warnings the chosen scenario calls for."""
        answer = self.current().get(self.chosen or "")
        if answer is None:
            return ""
        counts = [
            f"{len(said)} {word}{'s' if len(said) > 1 else ''}"
            for said, word in ((answer.cautions, "caution"), (warnings_of(answer), "warning"))
            if said
        ]
        return f" {' and '.join(counts)} here: F2 reads them " if counts else ""

    def _over(self) -> Region:
        """Where the editor lies: over the value."""
        sheet = self.query_one(Sheet)
        x = sheet.region.x + self._columns.x(self._column) + 1
        line = 1 if self.view is not None else self._row
        y = sheet.region.y + line - round(sheet.scroll_offset.y)
        # Just its own column: figures of a neighbour cut short would be read as whole ones.
        return Region(x, y, self._columns.width - 1, 1)
