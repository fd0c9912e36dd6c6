"""What the desk's keys do beside moving and typing: scenarios, undo, saving, reading."""

from __future__ import annotations

from pathlib import Path as FilePath
from typing import ClassVar

from textual.binding import Binding, BindingType

from whatif.screens.desk import Desk
from whatif.screens.dialogs import Ask, Name, Reading
from whatif.screens.words import KEYS, key_words, meaning_words, problems_words, scenario_words
from whatif.session.hours import ATTENDED
from whatif.study.edits import (
    AddScenario,
    DuplicateScenario,
    Edit,
    EditError,
    RemoveScenario,
    SetHead,
)
from whatif.study.naming import fresh_id
from whatif.study.reading import StudyError
from whatif.study.writing import ChangedOnDisk


class WorkDesk(Desk):
    """The desk with all that its keys, and the palette, do."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("delete,backspace", "give_back", "give back", key_display="Del"),
        Binding("f1", "help", "help", key_display="F1"),
        Binding("f2", "scenario", "in words", key_display="F2"),
        Binding("f10,w", "save", "save", key_display="F10"),
        Binding("q", "leave", "leave"),
        Binding("a", "add", "add scenario", show=False),
        Binding("d", "duplicate", "duplicate", show=False),
        Binding("x", "remove", "remove", show=False),
        Binding("u", "undo", "undo", show=False),
        Binding("r", "redo", "do again", show=False),
        Binding("f3", "problems", "problems", show=False),
    ]

    # -- scenarios ---------------------------------------------------------------------

    def action_add(self) -> None:
        """Add a scenario that is based on the chosen one."""
        parent = self.chosen
        title = self.session.draft.scenario(parent).title if parent else ""
        question = (
            f"A new scenario based on {title}: what is different in it? Its name:"
            if parent
            else "The first scenario: what is it called?"
        )
        self.app.push_screen(Name(question), lambda name: self._add(name, parent))

    def action_add_root(self) -> None:
        """Add a scenario that is based on none."""
        self.app.push_screen(
            Name("A new scenario that is based on none (a second tree): its name:"),
            lambda name: self._add(name, None),
        )

    def _add(self, name: str | None, parent: str | None) -> None:
        if name:
            id_ = fresh_id(self.session.draft, name)
            self.do(AddScenario(id_, parent, name), choose=id_)

    def action_duplicate(self) -> None:
        """Duplicate the chosen scenario."""
        source = self.chosen
        if source is None:
            return
        title = self.session.draft.scenario(source).title

        def made(name: str | None) -> None:
            if name:
                id_ = fresh_id(self.session.draft, name)
                self.do(DuplicateScenario(source, id_, name), choose=id_)

        self.app.push_screen(Name(f"A copy of {title}: its name:", f"{title} 2"), made)

    def action_remove(self) -> None:
        """Remove the chosen scenario, with those based on it, after asking."""
        scenario = self.chosen
        if scenario is None:
            return
        edit = RemoveScenario(scenario)
        gone = [self.session.draft.scenario(one).title for one in edit.removes(self.session.draft)]
        also = f" and what is based on it ({', '.join(gone[1:])})" if len(gone) > 1 else ""
        self.app.push_screen(
            Ask(
                f"Remove {gone[0]}{also}? u brings it back.",
                {"y": "yes, remove"},
                safe="n",
            ),
            lambda answer: self.do(edit) if answer == "y" else None,
        )

    def action_reference(self) -> None:
        """Measure gains against the chosen scenario."""
        if self.chosen is not None:
            self.do(SetHead("reference", self.chosen))

    # -- changing ----------------------------------------------------------------------

    def do(self, edit: Edit, choose: str | None = None) -> None:
        """Make a change, or say why it cannot be made."""
        self.close_editor(keep=True)
        try:
            says = self.session.do(edit)
        except EditError as fault:
            self.notice = str(fault)
            self.repaint()
            return
        self.changed(says)
        if choose is not None:
            self.choose(choose)
        self.ask()

    def action_give_back(self) -> None:
        """Give the value under the cursor back to the parent."""
        line, scenario = self.line, self.chosen
        if line is None or scenario is None:
            return
        self.close_editor(keep=True)
        if line.path == ATTENDED:
            self.notice = "The attended hours follow from the shifts: give a shift's end back."
            self.repaint()
            return
        try:
            self.changed(self.session.give_back(scenario, line.path))
        except EditError as fault:
            self.notice = str(fault)
        self.ask()

    def action_undo(self) -> None:
        """Undo the last change."""
        self.close_editor(keep=True)
        says = self.session.undo()
        self.changed("")
        self.notice = f"Undone: {says}.  (r does it again)" if says else "Nothing to undo."
        self.ask()

    def action_redo(self) -> None:
        """Do the change undone last again."""
        self.close_editor(keep=True)
        says = self.session.redo()
        self.changed("")
        self.notice = f"Done again: {says}." if says else "Nothing to do again."
        self.ask()

    # -- saving and leaving ------------------------------------------------------------

    def action_save(self) -> None:
        """Write the file."""
        self.save()

    def save(self, *, force: bool = False) -> bool:
        """Write the file; whether it is written."""
        self.close_editor(keep=True)
        if not self.session.checked.study and not force:
            self.notice = "Saved with problems in it; F3 lists them."
        try:
            notes = self.session.save(force=force)
        except ChangedOnDisk as fault:
            self.app.push_screen(
                Ask(
                    f"{fault}",
                    {
                        "r": "read it again; what is on the screen and not saved is dropped",
                        "s": "save what is on the screen under another name",
                        "o": "write over it with what is on the screen",
                    },
                    safe="n",
                ),
                self._write_over,
            )
            return False
        except StudyError as fault:
            self.notice = str(fault)
            self.repaint()
            return False
        self.notice = " ".join([f"Saved {self.session.path.name}.", *notes])
        self.host.saved(self.session.base)
        self.repaint()
        return True

    def _write_over(self, answer: str | None) -> None:
        if answer == "o":
            self.save(force=True)
        elif answer == "r":
            self._read_again()
        elif answer == "s":
            self.action_save_as()

    def _read_again(self) -> None:
        try:
            self.session.read_again()
        except StudyError as fault:
            self.notice = str(fault)
            self.repaint()
            return
        self.host.saved(self.session.base)
        self.notice = f"Read {self.session.path.name} again."
        self.ask()

    def action_save_as(self) -> None:
        """Save under another name, and go on with that file."""
        self.app.push_screen(Name("Save under which name?", str(self.session.path)), self._save_as)

    def _save_as(self, name: str | None) -> None:
        if not name:
            return
        try:
            self.session.save_as(FilePath(name))
        except StudyError as fault:
            self.notice = str(fault)
        else:
            self.notice = f"Saved {self.session.path}."
            self.host.saved(self.session.base)
        self.repaint()

    def action_leave(self) -> None:
        """Leave, after asking where something is not saved."""
        self.close_editor(keep=True)
        if self.session.is_saved:
            self.app.exit()
            return
        count = self.session.unsaved
        self.app.push_screen(
            Ask(
                f"{count} change{'s are' if count > 1 else ' is'} not saved.",
                {"s": "save and leave", "l": "leave without saving"},
                safe="n",
            ),
            self._leave,
        )

    def _leave(self, answer: str | None) -> None:
        if answer == "l":
            self.host.note(None)
            self.app.exit()
        elif answer == "s" and self.save():
            self.app.exit()

    # -- reading -----------------------------------------------------------------------

    def action_help(self) -> None:
        """What the value under the cursor is, and the keys."""
        line = self.line
        about = ""
        if line is not None:
            about = f"{line.label}\n{meaning_words(line.path)}\n{key_words(line.path)}\n\n"
        self.app.push_screen(Reading("Help", about + KEYS))

    def action_scenario(self) -> None:
        """The chosen scenario in words."""
        answer = self.current().get(self.chosen or "")
        if answer is None:
            self.notice = "Its answer is being worked out."
            self.repaint()
            return
        self.app.push_screen(
            Reading(
                answer.plan.title, scenario_words(answer, self.session.shown.reference_id or "")
            )
        )

    def action_problems(self) -> None:
        """All problems and warnings of the study."""
        self.app.push_screen(Reading("Problems", problems_words(self.session.checked)))
