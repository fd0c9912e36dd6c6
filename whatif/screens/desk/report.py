"""The report of what is on the screen, written beside the study while one works on."""

from __future__ import annotations

from functools import partial
from time import monotonic
from typing import TYPE_CHECKING

from whatif.session.session import OnDisk

if TYPE_CHECKING:
    from pathlib import Path as FilePath

    from whatif.screens.desk.host import DeskHost, MakesReport, ReportAtWork
    from whatif.screens.desk.state import DeskState

_LOOK = 0.5
"""Seconds between two looks at how far it is."""


class Report:
    """Has a report written by whoever the program knows for that, and tells what comes of it."""

    def __init__(self, state: DeskState, host: DeskHost) -> None:
        self._state = state
        self._host = host
        self._at_work: ReportAtWork | None = None
        self._began = 0.0

    @property
    def status(self) -> str:
        """For how long it has been worked on, in words; "" where it is not."""
        return "" if self._at_work is None else f"report {monotonic() - self._began:.0f} s"

    def write(self) -> None:
        """Begin to write it, after asking where a file is there; offer to stop one at work."""
        from whatif.screens.dialogs.ask import Ask
        from whatif.telling import paper

        self._host.settle()
        session, make = self._state.session, self._host.program.make_report
        if self._at_work is not None:
            ask = Ask(paper.AT_WORK_ALREADY, {"s": ("stop it; nothing is written", self.stop)})
            self._host.lay_over(ask)
        elif make is None:
            self._host.refuse(paper.NOBODY_WRITES)
        elif (out := self._out()) is None:
            self._host.refuse(paper.NO_FILE_YET)
        elif session.checked.problems:
            self._host.refuse(paper.PROBLEMS_FIRST)
        elif out.exists():
            over = ("write over it", partial(self._begin, make, out, replaces=True))
            self._host.lay_over(Ask(f"{out} is there already.", {"o": over}))
        else:
            self._begin(make, out, replaces=False)

    def _out(self) -> FilePath | None:
        """The report's file; None where the study has none, or its folder has been removed."""
        session = self._state.session
        if session.needs_name:
            return None
        try:
            return session.path.absolute().with_suffix(".report.html")
        except FileNotFoundError:
            return None

    def _begin(self, make: MakesReport, out: FilePath, *, replaces: bool) -> None:
        from whatif.study.file.writing import to_text
        from whatif.telling.paper import being_written_words

        session = self._state.session
        is_in_file = session.is_saved and session.on_disk() is OnDisk.SAME
        text = None if is_in_file else to_text(session.draft)
        self._at_work = make(session.path.absolute(), text, out, replaces)
        self._began = monotonic()
        self._host.say(being_written_words(out.name))
        self._host.later(_LOOK, self._look)

    def _look(self) -> None:
        if self._at_work is None:
            return
        said = self._at_work.said
        if said is None:
            self._host.repaint_soon()
            self._host.later(_LOOK, self._look)
        else:
            self._at_work = None
            self._host.say(said)

    def stop(self) -> bool:
        """End the work, of which nothing is left; whether there was any."""
        at_work, self._at_work = self._at_work, None
        if at_work is None:
            return False
        from whatif.telling.paper import STOPPED

        at_work.stop()
        self._host.say(STOPPED)
        return True

    def close(self) -> None:
        """End the work with the study."""
        at_work, self._at_work = self._at_work, None
        if at_work is not None:
            at_work.stop()
