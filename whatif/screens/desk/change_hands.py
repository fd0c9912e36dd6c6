"""The desk's hands on values: changes that are kept, given back, undone and done again."""

from __future__ import annotations

from whatif.screens.desk.command import Command
from whatif.screens.desk.desk import Desk
from whatif.session.hours import ATTENDED
from whatif.study.edits import Edit, EditError

COMMANDS = (
    Command("undo", "Undo", "the last change", "u", footer="undo", roomy=True),
    Command("redo", "Do again", "the change undone last", "r"),
    Command("give_back", "Give the value back", "to the parent", "delete,backspace", "Del"),
)


class ChangeHands(Desk):
    """What changes values beside typing."""

    def do(self, edit: Edit, choose: str | None = None, *, mends: bool = False) -> None:
        """Make a change, or say why it cannot be made."""
        self.close_editor(keep=True)
        try:
            says = self.session.do(edit, mends=mends)
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
