"""The file: written, read again, watched for changes by others, and left."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from whatif.session.session import NO_FILE, OnDisk, Session
from whatif.study.file.reading import StudyError

if TYPE_CHECKING:
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState
    from whatif.screens.dialogs.dialog import Answers
    from whatif.study.draft import Draft
    from whatif.study.file.writing import Written

Then = Callable[[], object]
"""What is to follow once a file is written."""

_Stamp = tuple[str, int, int, int]
_NEVER: _Stamp = ("", 0, 0, 0)
"""Of no file, before the first look."""


def _nothing() -> None:
    pass


class StudyFile:
    """What the study is read from and saved in."""

    def __init__(self, state: DeskState, host: DeskHost, changes: Changes) -> None:
        self._state = state
        self._host = host
        self._changes = changes
        self._stamp: _Stamp | None = _NEVER
        self._seen = OnDisk.SAME
        self._trouble = ""
        """What was said last of how safe is what is not saved."""

    @property
    def _session(self) -> Session:
        return self._state.session

    # -- saving ------------------------------------------------------------------------

    def save(self, *, force: bool = False, then: Then = _nothing) -> None:
        """Write the file, asking for a name where it has none; ``then`` what follows on it."""
        from whatif.screens.dialogs.ask import Ask
        from whatif.study.file.writing import ChangedOnDisk
        from whatif.telling.refusals import refusal_words

        self._host.settle()
        session = self._session
        if session.needs_name:
            self._ask_name(then)
            return
        try:
            written = session.save(force=force)
        except ChangedOnDisk as fault:
            over = ("write over it with what is on the screen", partial(self.save, force=True))
            self._host.lay_over(Ask(refusal_words(fault), {**self._take_or_leave, "o": over}))
            return
        except StudyError as fault:
            self._host.refuse(refusal_words(fault))
            return
        self._saved(session.path.name, written, then)

    def save_as(self) -> None:
        """Save under another name, and go on with that file."""
        self._host.settle()
        self._ask_name(_nothing)

    def _ask_name(self, then: Then, name: str = "", wrong: str = "") -> None:
        """Ask for a name until the study has been saved under it, or stands there already."""
        from whatif.screens.dialogs.ask import AskLine
        from whatif.study.file.naming import file_named
        from whatif.study.file.writing import ChangedOnDisk
        from whatif.telling.refusals import refusal_words

        done: list[Then] = []

        def tried(name: str) -> str:
            """Save under the name; what is wrong with it, in words."""
            try:
                path = file_named(name)
                written = self._session.save_as(path)
            except ChangedOnDisk:
                done.append(partial(self._ask_whether_over, path, then))
            except StudyError as fault:
                return refusal_words(fault)
            else:
                done.append(partial(self._saved, str(path), written, then))
            return ""

        asks = AskLine("Save under which name?", name or str(self._session.path), tried, wrong)
        self._host.lay_over(asks, lambda _: [each() for each in done])

    def _write_over(self, path: FilePath, then: Then) -> None:
        from whatif.telling.refusals import refusal_words

        try:
            written = self._session.save_as(path, force=True)
        except StudyError as fault:
            self._host.refuse(refusal_words(fault))
            self._ask_name(then, str(path), refusal_words(fault))
            return
        self._saved(str(path), written, then)

    def _ask_whether_over(self, path: FilePath, then: Then) -> None:
        from whatif.screens.dialogs.ask import Ask

        answers: Answers = {
            "s": ("save under another name", partial(self._ask_name, then)),
            "o": (
                "write over it: what it holds is lost",
                partial(self._write_over, path, then),
            ),
        }
        self._host.lay_over(Ask(f"{path} is there already.", answers))

    def _saved(self, name: str, written: Written, then: Then) -> None:
        from whatif.telling.study_file import saved_words

        self._in_step()
        self._host.say(saved_words(name, written.copied_to, written.has_other_names))
        then()

    # -- reading again -----------------------------------------------------------------

    def read_again(self) -> None:
        """Take the file as it is on disk, after asking where something is not saved."""
        self._host.settle()
        session, name = self._session, self._session.path.name
        now = session.on_disk()
        if session.base == NO_FILE or now is OnDisk.GONE:
            self._host.say(f"{name} is not on disk; w writes it.")
        elif not session.is_saved:
            self._ask_whose(changed=now is OnDisk.CHANGED)
        elif now is OnDisk.SAME:
            self._host.say(f"{name} holds what is on the screen.")
        else:
            self._read_again()

    def _ask_whose(self, *, changed: bool) -> None:
        from whatif.screens.dialogs.ask import Ask

        name, count = self._session.path.name, self._session.unsaved
        mine = f"{count} change{'s' if count > 1 else ''} here {'are' if count > 1 else 'is'}"
        by = " was changed by somebody else, and" if changed else ":"

        keep = ("keep what is on the screen", _nothing)
        ask = Ask(f"{name}{by} {mine} not saved.", {**self._take_or_leave, "k": keep})

        def decided(answer: str) -> None:
            ask.take(answer)
            if changed and answer not in self._take_or_leave:
                self._host.say(
                    "Yours is kept on the screen; w asks before it writes over the file."
                )

        self._host.lay_over(ask, decided)

    @property
    def _take_or_leave(self) -> Answers:
        """What can be done where the file holds something else than the screen."""
        return {
            "r": (
                "take the file as it is; u brings back what is on the screen now",
                self._read_again,
            ),
            "s": ("save what is on the screen under another name", self.save_as),
        }

    def _read_again(self) -> None:
        from whatif.telling.study_file import file_fault_words

        name = self._session.path.name
        try:
            self._session.read_again()
        except StudyError as fault:
            # Its folder would push what is wrong out of a narrow line.
            in_short = replace(fault.why, path=FilePath(name))
            self._host.say(f"Not taken: {file_fault_words(in_short)}")
            self._offer_to_mend()
            return
        self._in_step()
        self._state.notice = f"Read {name} again.  (u brings back what was here before)"
        self._host.ask()

    def _offer_to_mend(self) -> None:
        """Offer the text of a file that is no study any more, and what the screen holds instead."""
        from whatif.screens.dialogs.ask import Ask
        from whatif.session.broken import broken_file

        broken = broken_file(self._session.path, held=self._session.draft)
        if broken is None:
            return

        def mend() -> None:
            from whatif.screens.dialogs.mend_text import MendText

            self._host.lay_over(MendText(broken), lambda _: self._read_again())

        answers: Answers = {
            "t": ("look at its text, and mend it there", mend),
            "o": ("write over it with what is on the screen", partial(self.save, force=True)),
        }
        self._host.lay_over(Ask(self._state.notice, answers))

    def take_up(self, draft: Draft, base: str) -> None:
        """Go on with what an earlier session left; ``base`` is what the file was to that."""
        from whatif.telling.study_file import taken_up_words

        self._session.recover(draft, base)
        self._changes.tell("")
        self._state.notice = taken_up_words(len(self._session.history.done))
        self._host.ask()

    # -- watching ----------------------------------------------------------------------

    def look(self) -> None:
        """Tell it where the file has been changed, or has gone, since the last look."""
        stamp = self._stamp_now()
        if stamp == self._stamp:
            return
        self._stamp = stamp
        before, self._seen = self._seen, self._session.on_disk()
        name = self._session.path.name
        if self._seen is OnDisk.CHANGED:
            self._state.notice = (
                f"{name} was changed by somebody else; f takes the file as it is now."
            )
        elif self._seen is OnDisk.GONE:
            self._state.notice = f"{name} is not there any more; w writes it again."
        # Another content than before is worth telling again.
        if before is not OnDisk.SAME or self._seen is not OnDisk.SAME:
            self._host.repaint()

    @property
    def mark(self) -> str:
        """What has become of the file while it was worked on; "" where it is as it was."""
        if self._seen is OnDisk.SAME:
            return ""
        return "  ! file changed: f" if self._seen is OnDisk.CHANGED else "  ! file gone: w"

    def _in_step(self) -> None:
        """File and screen have just become the same."""
        self._host.program.saved(self._session.base)
        self._stamp = self._stamp_now()
        self._seen = OnDisk.SAME

    def _stamp_now(self) -> _Stamp | None:
        """What the system tells of the file without reading it; None where it is not there."""
        if self._session.base == NO_FILE:
            return None
        path = self._session.path
        try:
            found = os.stat(path)
        except OSError:
            return None
        return (str(path), found.st_mtime_ns, found.st_size, found.st_ino)

    # -- kept safe ---------------------------------------------------------------------

    @property
    def kept_mark(self) -> str:
        """Behind the number of changes that are not saved: whether a kill would lose them."""
        keeping = self._host.program.keeping
        if keeping.fault is not None:
            return ", ! not safe"
        return ", safe" if keeping.is_kept else ""

    def look_whether_kept(self) -> bool:
        """Say where what is not saved cannot be kept any more, or is kept elsewhere; whether so."""
        from whatif.telling.study_file import kept_elsewhere_words, not_kept_words

        keeping = self._host.program.keeping
        trouble = (
            not_kept_words(keeping.fault)
            if keeping.fault is not None
            else kept_elsewhere_words(keeping.instead_in)
            if keeping.instead_in is not None
            else ""
        )
        before, self._trouble = self._trouble, trouble
        if trouble and trouble != before:
            self._state.notice = trouble
        elif not trouble and before and self._state.notice == before:
            self._state.notice = ""  # it holds no longer
        return trouble != before

    # -- going away --------------------------------------------------------------------

    def leave(self) -> None:
        """Leave, after asking where something is not saved."""
        self._go_away("leave", self._host.program.exit)

    def open_another(self) -> None:
        """Go to the start screen, after asking where something is not saved."""
        self._go_away("open another study", self._host.program.show_start)

    def _go_away(self, words: str, then: Then) -> None:
        from whatif.screens.dialogs.ask import Ask

        self._host.settle()
        if self._session.is_saved:
            then()
            return

        def unsaved() -> None:
            self._host.program.note(None)
            then()

        answers: Answers = {
            "s": (f"save and {words}", partial(self.save, then=then)),
            "l": (f"{words} without saving", unsaved),
        }
        self._host.lay_over(Ask(_not_saved(self._session), answers))


def _not_saved(session: Session) -> str:
    if session.is_unwritten:
        return "This study has not been saved yet."
    count = session.unsaved
    return f"{count} change{'s are' if count > 1 else ' is'} not saved."
