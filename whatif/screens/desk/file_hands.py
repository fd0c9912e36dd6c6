"""The desk's hands on the file: saving, reading again, leaving, opening another."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path as FilePath

from whatif.screens.desk.command import Command
from whatif.screens.desk.watch_hands import WatchHands
from whatif.screens.dialogs.dialogs import Ask, Name
from whatif.session.session import NO_FILE, OnDisk
from whatif.study.file.reading import StudyError
from whatif.study.file.writing import ChangedOnDisk

COMMANDS = (
    Command("save", "Save", "write the file", "f10,w", "F10", "save"),
    Command("save_as", "Save under another name", "and go on with that file"),
    Command("read_again", "Read the file again", "as it stands on disk now", "f"),
    Command("open", "Open another study", "or begin one", "o"),
    Command("leave", "Leave", "asks first where something is not saved", "q", footer="leave"),
)

Then = Callable[[], object]
"""What is to follow once a file is written."""


def _nothing() -> None:
    pass


class FileHands(WatchHands):
    """What reads and writes files, and leaves."""

    def action_save(self) -> None:
        """Write the file."""
        self.save()

    def save(self, *, force: bool = False, then: Then = _nothing) -> None:
        """Write the file, asking for a name where it has none; ``then`` what follows on it."""
        self.close_editor(keep=True)
        if self.session.needs_name:
            self._ask_name(then)
            return
        if not self.session.checked.study and not force:
            self.notice = "Saved with problems in it; F3 lists them."
        try:
            notes = self.session.save(force=force)
        except ChangedOnDisk as fault:
            self.app.push_screen(
                Ask(
                    f"{fault}",
                    {
                        "r": "take the file as it is; u brings back what is on the screen now",
                        "s": "save what is on the screen under another name",
                        "o": "write over it with what is on the screen",
                    },
                    safe="n",
                ),
                self._write_over,
            )
            return
        except StudyError as fault:
            self.notice = str(fault)
            self.repaint()
            return
        self.notice = " ".join([f"Saved {self.session.path.name}.", *notes])
        self.in_step()
        self.repaint()
        then()

    def _write_over(self, answer: str | None) -> None:
        if answer == "o":
            self.save(force=True)
        elif answer == "r":
            self._read_again()
        elif answer == "s":
            self.action_save_as()

    def action_read_again(self) -> None:
        """Take the file as it is on disk, after asking where something is not saved."""
        self.close_editor(keep=True)
        session, name = self.session, self.session.path.name
        now = session.on_disk()
        if session.base == NO_FILE or now is OnDisk.GONE:
            self.notice = f"{name} is not on disk; w writes it."
            self.repaint()
        elif not session.is_saved:
            self._ask_whose(changed=now is OnDisk.CHANGED)
        elif now is OnDisk.SAME:
            self.notice = f"{name} holds what is on the screen."
            self.repaint()
        else:
            self._read_again()

    def _ask_whose(self, *, changed: bool) -> None:
        name, count = self.session.path.name, self.session.unsaved
        mine = f"{count} change{'s' if count > 1 else ''} here {'are' if count > 1 else 'is'}"
        by = " was changed by somebody else, and" if changed else ":"

        def decided(answer: str | None) -> None:
            if answer == "r":
                self._read_again()
            elif answer == "s":
                self.action_save_as()
            elif changed:
                self.notice = "Yours is kept on the screen; w asks before it writes over the file."
                self.repaint()

        self.app.push_screen(
            Ask(
                f"{name}{by} {mine} not saved.",
                {
                    "r": "take the file as it is; u brings back what is on the screen now",
                    "s": "save what is on the screen under another name",
                    "k": "keep what is on the screen",
                },
                safe="n",
            ),
            decided,
        )

    def _read_again(self) -> None:
        try:
            self.session.read_again()
        except StudyError as fault:
            # Its folder would push what is wrong out of a narrow line.
            path = self.session.path
            self.notice = "Not taken: " + str(fault).replace(str(path), path.name)
            self.repaint()
            return
        self.in_step()
        self.notice = f"Read {self.session.path.name} again.  (u brings back what was here before)"
        self.ask()

    def action_save_as(self) -> None:
        """Save under another name, and go on with that file."""
        self.close_editor(keep=True)
        self._ask_name(_nothing)

    def _ask_name(self, then: Then) -> None:
        def named(name: str | None) -> None:
            if name:
                path = FilePath(name).expanduser()
                # A study is found by its ending, in the list of the start screen too.
                self._save_as(path if path.suffix else path.with_suffix(".toml"), then)

        self.app.push_screen(Name("Save under which name?", str(self.session.path)), named)

    def _save_as(self, path: FilePath, then: Then, *, force: bool = False) -> None:
        try:
            notes = self.session.save_as(path, force=force)
        except ChangedOnDisk:
            self._ask_whether_over(path, then)
            return
        except StudyError as fault:
            self.notice = str(fault)
            self.repaint()
            return
        self.notice = " ".join([f"Saved {path}.", *notes])
        self.in_step()
        self.repaint()
        then()

    def _ask_whether_over(self, path: FilePath, then: Then) -> None:
        def decided(answer: str | None) -> None:
            if answer == "s":
                self._ask_name(then)
            elif answer == "o":
                self._save_as(path, then, force=True)

        self.app.push_screen(
            Ask(
                f"{path} is there already.",
                {"s": "save under another name", "o": "write over it: what it holds is lost"},
                safe="n",
            ),
            decided,
        )

    # -- going away --------------------------------------------------------------------

    def action_leave(self) -> None:
        """Leave, after asking where something is not saved."""
        self._go_away("leave", self.app.exit)

    def action_open(self) -> None:
        """Go to the start screen, after asking where something is not saved."""
        self._go_away("open another study", self.host.show_start)

    def _go_away(self, words: str, then: Then) -> None:
        self.close_editor(keep=True)
        if self.session.is_saved:
            then()
            return

        def decided(answer: str | None) -> None:
            if answer == "l":
                self.host.note(None)
                then()
            elif answer == "s":
                self.save(then=then)

        self.app.push_screen(
            Ask(
                self._not_saved(),
                {"s": f"save and {words}", "l": f"{words} without saving"},
                safe="n",
            ),
            decided,
        )

    def _not_saved(self) -> str:
        if self.session.is_unwritten:
            return "This study has not been saved yet."
        count = self.session.unsaved
        return f"{count} change{'s are' if count > 1 else ' is'} not saved."
