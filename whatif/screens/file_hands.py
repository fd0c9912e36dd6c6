"""The desk's hands on the file: saving, reading again, leaving."""

from __future__ import annotations

from pathlib import Path as FilePath

from whatif.screens.command import Command
from whatif.screens.desk import Desk
from whatif.screens.dialogs import Ask, Name
from whatif.study.reading import StudyError
from whatif.study.writing import ChangedOnDisk

COMMANDS = (
    Command("save", "Save", "write the file", "f10,w", "F10", "save"),
    Command("save_as", "Save under another name", "and go on with that file"),
    Command("leave", "Leave", "asks first where something is not saved", "q", footer="leave"),
)


class FileHands(Desk):
    """What reads and writes files, and leaves."""

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
