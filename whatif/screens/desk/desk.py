"""The main screen with hands: the calculation's replies, the cursor, and editing.

Every change goes through the session; what is drawn follows from it.
"""

from __future__ import annotations

from typing import ClassVar, cast

from textual import events, on
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Input

from whatif.screens.desk.board import Board
from whatif.screens.desk.host import Host
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.sheet import Sheet
from whatif.screens.widgets.strip import ResultStrip
from whatif.screens.widgets.tree import ScenarioTree
from whatif.session.calculate.requests import ANY_REVISION, Reply
from whatif.session.sheet import STRAY, Heading, Row, editable_text
from whatif.study.raw import Path


class Desk(Board):
    """A study on the desk; :class:`whatif.screens.desk.commands.WorkDesk` adds what keys do."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "close_view", "back", key_display="Esc"),
        Binding("enter", "edit", "edit"),
    ]

    class Replied(Message):
        """The calculation has said something."""

        def __init__(self, reply: Reply) -> None:
            super().__init__()
            self.reply = reply

    def on_mount(self) -> None:
        """Fold what is long and rarely changed; ask for the first answer."""
        self._folded = _folded_at_first(self._all_rows())
        self._row = 1
        self.query_one(Sheet).focus()
        self.ask()

    @property
    def host(self) -> Host:
        """The program around the desk."""
        return cast(Host, self.app)

    # -- the calculation ---------------------------------------------------------------

    def ask(self) -> None:
        """Ask for what is on the screen to be answered, and draw it."""
        if self._answering is not self.session.shown:
            self._answering = self.session.shown
            self.results.clear()
            self.partly.clear()
            self.faults.clear()
        self._progress = ""
        self._status = "" if self.session.checked.study is None else "working out"
        self.send()
        self.repaint()

    def send(self) -> None:
        """Hand what is on the screen, and what the view wants to know of it, to the program."""
        self._status = "" if self.session.checked.study is None else "working out"
        self.host.ask(self.session.revision, self.session.shown, self.wanted())

    @on(Replied)
    def _replied(self, message: Replied) -> None:
        reply = message.reply
        if reply.fault:
            self.notice = f"The calculation failed: {reply.fault}"
        if reply.revision not in (ANY_REVISION, self.session.revision):
            return
        if reply.found is not None:
            self.answered.take(reply.found, self.session.checked)
        if reply.question is not None:
            return
        share = f" {min(99, 100 * reply.done // reply.of)} %" if reply.of else ""
        self._status = "" if reply.final else f"working out{share}"
        self.repaint()

    # -- cursor ------------------------------------------------------------------------

    def go_to(self, row: int, column: int) -> None:
        """Move the cursor to a row and column."""
        self.close_editor(keep=True)
        self.notice = ""
        self._row, self._column = row, column
        self._remember()
        self.repaint()

    def move(self, rows: int, columns: int) -> None:
        """Move the cursor by so many rows and columns."""
        self.notice = ""
        self._row = max(0, min(len(self._rows) - 1, self._row + rows))
        self._column = max(0, min(len(self.ids) - 1, self._column + columns))
        self._remember()
        self.repaint()

    @on(ResultStrip.Chosen)
    def _strip_chosen(self, message: ResultStrip.Chosen) -> None:
        self.go_to(self._row, message.column)

    @on(ScenarioTree.Chosen)
    def _tree_chosen(self, message: ScenarioTree.Chosen) -> None:
        self.close_editor(keep=True)
        self.choose(message.scenario)
        self.repaint()

    def action_fold(self) -> None:
        """Open or close the heading that the cursor is under."""
        self._folded ^= {self._place}
        self._path = None
        self.repaint()

    def action_tree(self) -> None:
        """Show or hide the tree."""
        self._tree_wanted = not self.query_one(ScenarioTree).display
        self.repaint()

    # -- editing -----------------------------------------------------------------------

    def action_edit(self) -> None:
        """Edit the value under the cursor, or open and close a heading."""
        self.press_enter()

    def press_enter(self) -> None:
        """Edit the value under the cursor, or open and close a heading."""
        if self.line is None:
            self.action_fold()
        else:
            self.type_over(None)

    def to_editor(self, event: events.Key) -> bool:
        """Give a key that was pressed before the editor had the focus to it."""
        editor = self.query_one(Editor)
        if not editor.is_open:
            return False
        if not editor.ends(event) and event.is_printable and event.character:
            editor.insert_text_at_cursor(event.character)
        return True

    def type_over(self, text: str | None) -> None:
        """Lay the editor over the value; ``text`` replaces it where it is given."""
        line, scenario = self.line, self.chosen
        if line is None or scenario is None:
            return
        self.notice = ""
        editor = self.query_one(Editor)
        first = self._old_text() if text is None else text
        self._typing_from = self.focused
        editor.open(scenario, line.path, first, old=text is None, at=self._over())
        self._try_typed(editor)

    def _old_text(self) -> str:
        line, scenario = self.line, self.chosen
        if line is None or scenario is None:
            return ""
        return editable_text(self.session.checked, scenario, line.path)

    @on(Input.Changed, "#editor")
    def _changed(self, message: Input.Changed) -> None:
        editor = self.query_one(Editor)
        if editor.is_open and editor.value != editor.tried:
            self._try_typed(editor)

    def _try_typed(self, editor: Editor) -> None:
        editor.tried = editor.value
        if editor.value == editor.untouched:
            # Nothing has been typed: an inherited value is not entered by looking at it.
            self.session.drop()
            editor.say("")
        else:
            editor.say(self.session.type(editor.scenario, editor.path, editor.value))
        self.ask()

    def editor_ends(self, keep: bool, rows: int, columns: int) -> None:
        """End the editing, unless what is to be kept is wrong, and move the cursor."""
        editor = self.query_one(Editor)
        if editor.value != editor.tried:
            self._try_typed(editor)
        if keep and editor.wrong:
            return
        self.close_editor(keep=keep)
        if rows or columns:
            self.move(rows, columns)

    def close_editor(self, *, keep: bool) -> None:
        """Close the editor; what is valid is kept, or set aside for ``redo``."""
        editor = self.query_one(Editor)
        if not editor.is_open:
            return
        typed = editor.value
        editor.close()
        if keep and not editor.wrong:
            self.changed(self.session.keep(), editor.scenario)
        elif self.session.set_aside():
            self.notice = f"Back to the old value. r takes {typed} up again."
        else:
            self.session.drop()
        editor.say("")
        self.set_focus(self._typing_from or self.query_one(Sheet))
        self.ask()

    def changed(self, says: str, scenario: str = "") -> None:
        """After a change was kept: tell it, and put it where a cut line cannot lose it.

        ``scenario`` is the one whose value was typed over. In the reference that moves the gains
        of all the others, which surprises who only wanted to try something.
        """
        session = self.session
        if says:
            others = scenario == session.draft.reference_id and len(self.ids) > 1
            also = ", the reference.  (u undoes it; a tries beside it)"
            self.notice = says[0].upper() + says[1:] + (also if others else ".  (u undoes it)")
        self.host.note(None if session.is_saved else session.draft)


def _folded_at_first(all_rows: tuple[Row, ...]) -> frozenset[Path]:
    """Open are hours, machines, shifts and parts; what is rarely changed is closed."""
    open_at_first = {STRAY[0], "hours", "machine", "shift", "unattended", "part"}
    return frozenset(
        row.place
        for row in all_rows
        if isinstance(row, Heading) and row.place[0] not in open_at_first
    )
