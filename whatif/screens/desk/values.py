"""Typing over a value: the gains follow each letter, and nothing is kept before Enter."""

from __future__ import annotations

from time import monotonic
from typing import TYPE_CHECKING

from whatif.screens.desk.painting import NO_ROW, NO_SCENARIO
from whatif.screens.desk.state import DeskState, Typing
from whatif.session.sheet import Line, editable_text
from whatif.study.edits import EditError, SetValue
from whatif.telling.refusals import refusal_words
from whatif.telling.sheet_cell import ATTENDED, not_there_words

if TYPE_CHECKING:
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.host import DeskHost
    from whatif.study.raw import Raw


class Values:
    """The one line in which a value is typed over, and what gives it back."""

    def __init__(self, state: DeskState, host: DeskHost, changes: Changes) -> None:
        self._state = state
        self._host = host
        self._changes = changes

    def type_over(self, text: str | None) -> None:
        """Lay the editor over the value; ``text`` replaces it where it is given."""
        state = self._state
        line, scenario = state.line, state.chosen
        state.notice = ""
        refused = self._refused()
        if line is None or scenario is None or refused:
            # The letters of a unit behind it are no commands either.
            state.refused_at = monotonic() if text is not None else None
            self._host.refuse(refused)
            return
        old = editable_text(state.session.checked, scenario, line.path) if text is None else None
        first = text or old or ""
        # Typed over what is seen, a bare number is in its unit; what is edited stands as typed.
        over = "" if text is None else state.cell(scenario, line.path).text
        state.typing = Typing(scenario, line.path, untouched=old, tried=first, over=over)
        self._host.open_editor(first, marked=text is None)
        self._try(state.typing, first)

    def _refused(self) -> str:
        """Why there is no value under the cursor to type over; "" where there is."""
        state, scenario = self._state, self._state.chosen
        if scenario is None:
            return NO_SCENARIO
        row = state.rows[state.row] if state.row < len(state.rows) else None
        if isinstance(row, Line):
            there = state.cell(scenario, row.path).exists
            return "" if there else not_there_words(row.path, state.title(scenario))
        if row is None:
            return NO_ROW
        opens = "Space opens it, then " if row.place in state.spot.folded else ""
        return f"{row.title} is a heading; {opens}go to a row below it to type a value."

    def text_changed(self, text: str) -> None:
        """Follow what is typed."""
        typing = self._state.typing
        if typing is not None and text != typing.tried:
            self._try(typing, text)

    def _try(self, typing: Typing, text: str) -> None:
        typing.tried = text
        session = self._state.session
        if text == typing.untouched:
            # Nothing has been typed: an inherited value is not entered by looking at it.
            session.drop()
            typing.wrong = ""
        else:
            typing.wrong = session.type(typing.scenario, typing.path, text, typing.over)
        self._host.ask()

    def end(self, keep: bool, rows: int, columns: int, *, entered: bool = False) -> None:
        """End the typing, unless what is to be kept is wrong, and move the cursor.

        ``entered`` tells that Enter ends it: what is only assumed is confirmed by that, and the
        cursor goes to the next value, over headings; with a view open it stays.
        """
        typing = self._state.typing
        if typing is None:
            return
        self.text_changed(self._host.typed)
        if keep and typing.wrong:
            # What is typed next is most likely meant instead; an arrow goes on with what is there.
            self._host.refuse_typed()
            return
        assumed = self._assumed(typing) if entered and keep else None
        stays = typing.back_to is not None or self._state.view is not None
        self.close(keep=keep)
        if assumed is not None:
            self._changes.do(SetValue(typing.scenario, typing.path, assumed))
        if entered and not stays:
            self._state.go_to_next_value()
            self._host.repaint()
        elif (rows or columns) and not entered:
            self._state.move(rows, columns)
            self._host.repaint()

    def _assumed(self, typing: Typing) -> Raw | None:
        """What stands there and nobody has entered, where it has been left as it is."""
        resolved = self._state.session.checked.resolved.get(typing.scenario)
        if resolved is None or typing.tried != typing.untouched or typing.path == ATTENDED:
            return None
        given = resolved.values.get(typing.path)
        is_assumed = given is not None and resolved.origin(*typing.path).is_assumed
        return given.raw if given is not None and is_assumed and given.raw != "" else None

    def close(self, *, keep: bool) -> None:
        """Close the editor; what is valid is kept, or set aside for :meth:`Changes.redo`."""
        state, session, typing = self._state, self._state.session, self._state.typing
        if typing is None:
            return
        typed = self._host.typed
        state.typing = None
        self._host.close_editor()
        if keep and not typing.wrong:
            before = session.draft.scenario(typing.scenario).entered.get(typing.path)
            says = session.keep()
            self._changes.tell(says, typing.scenario, also=self._of_title(typing, before))
        elif session.set_aside():
            state.notice = f"Back to the old value. r takes {typed} up again."
        elif len(typed) == 1 and typed in state.letters:
            session.drop()
            state.notice = f"On this row {typed} begins a value; commands: Ctrl+P, or another row."
        else:
            session.drop()
        if typing.back_to is not None:
            state.choose(typing.back_to)
        self._host.ask()

    def _of_title(self, typing: Typing, before: Raw | None) -> str:
        """What is told of a title that names what was there before."""
        here = self._state.session.checked.resolved.get(typing.scenario)
        if here is None or before is None:
            return ""
        from whatif.telling.titles import title_told

        return title_told(self._state.title(typing.scenario), here, typing.path, before)

    def give_back(self) -> None:
        """Give the value under the cursor back to the parent."""
        state = self._state
        line, scenario = state.line, state.chosen
        if line is None or scenario is None:
            return
        self._host.settle()
        if line.path == ATTENDED:
            self._host.refuse("The attended hours follow from the shifts: give a shift's end back.")
            return
        try:
            self._changes.tell(state.session.give_back(scenario, line.path))
        except EditError as fault:
            self._host.refuse(refusal_words(fault))
        self._host.ask()
