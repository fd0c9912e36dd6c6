"""What stands on a terminal beside an answer: how far the work is, and signs that it can show."""

from __future__ import annotations

import os
import signal
import sys
import time
from codecs import register_error
from contextlib import suppress
from typing import TYPE_CHECKING, Any, Final

from whatif.command.stopping import ECHO, has_line
from whatif.telling.harmless import harmless

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import TracebackType
    from typing import Self, TextIO

    from whatif.answers.progress import Progress, Stage, Steps

_SOON: Final = 0.5
"""Seconds of work of which nothing is said."""

_EVERY: Final = 0.1
"""Seconds between two words."""

_SILENT: Final = 1.0
"""Seconds without a word after which it is told that work goes on, and for how long already."""

_READING: Final = "reading the study"
"""What is done before any stage begins."""

_ROOM: Final = 80
"""Cells of a terminal that does not tell how many it has."""


class ProgressLine:
    """How far the work is, in one line that is wiped out in the end; nothing off a terminal.

    Where nothing is told for a second, that it goes on is: a timer interrupts whatever that is.

    Args:
        clock: seconds, from any beginning.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._is_shown = sys.stderr.isatty()
        self._clock = clock
        self._next = clock() + _SOON
        self._words = self._said = ""
        self._weeks = self._of = 0
        self._stage: Stage | None = None
        self._began = self._last = self._first = clock()
        self._timer: Any = None
        self._is_putting = False

    def __enter__(self) -> Self:
        """Work begins."""
        if self._is_shown and hasattr(signal, "setitimer"):
            # No thread: processes are forked while this one works.
            self._timer = signal.signal(signal.SIGALRM, lambda number, frame: self.beat())
            signal.setitimer(signal.ITIMER_REAL, _SILENT, _SILENT / 2)
        return self

    def __exit__(
        self,
        sort: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """The work is done or given up."""
        if self._timer is not None:
            signal.setitimer(signal.ITIMER_REAL, 0)
            signal.signal(signal.SIGALRM, self._timer)
        self._put("")

    def beat(self) -> None:
        """Tell that work goes on, where nothing has been told for a while."""
        now = self._clock()
        if self._is_putting or now - self._last < _SILENT or not self._is_due():
            return
        if self._stage is not None:
            self._words = self._stage_words(self._stage)
        self._put(f"{self._words or _READING} ({now - self._first:.0f} s so far)", is_beat=True)

    def begin(self, stage: Stage, weeks: int) -> None:
        """A stage begins, for which about so many weeks are simulated; 0 where nobody knows."""
        self._stage, self._weeks, self._of, self._began = stage, 0, weeks, self._clock()

    def week(self) -> None:
        """One more week has been simulated."""
        self._weeks += 1
        if not self._is_due():
            return
        if self._stage is not None:
            self._words = self._stage_words(self._stage)
        self._show()

    def _stage_words(self, stage: Stage) -> str:
        from whatif.answers.progress import progress_of
        from whatif.telling.in_words import stage_words

        spent = self._clock() - self._began
        return stage_words(stage, progress_of(self._weeks, self._of, spent))

    def steps(self, words: Callable[[Progress], str]) -> Steps:
        """What is to be called between the items of long work; ``words`` say how far it is."""
        from whatif.answers.progress import Steps

        def tell(progress: Progress) -> None:
            self._stage, self._words = None, words(progress)
            self._show()

        return Steps(tell)

    def _is_due(self) -> bool:
        return self._is_shown and self._clock() >= self._next

    def _show(self) -> None:
        if self._is_due():
            self._put(self._words)
            self._next = self._clock() + _EVERY

    def _put(self, text: str, *, is_beat: bool = False) -> None:
        """Have a text in the line, as much of it as there is room for."""
        if not is_beat:
            self._last = self._clock()
        text = text[: max(0, _columns() - 1 - ECHO)]
        if not self._is_shown or text == self._said:
            return
        wiped = " " * len(self._said)
        has_line(max(len(text), len(self._said)))
        self._is_putting = True
        try:
            print(f"\r{wiped}\r{text}", end="\r", file=sys.stderr, flush=True)
        except OSError:
            self._is_shown = False  # nobody is there to read it
        self._is_putting = False
        self._said = text


def _columns() -> int:
    try:
        return os.get_terminal_size(sys.stderr.fileno()).columns or _ROOM
    except (OSError, ValueError):
        return _ROOM


def writable(text: str, stream: TextIO | None = None) -> str:
    """The text as a stream may have it, standard output where none is given.

    What would move a terminal's cursor, turn its text round or do anything else there, and what the
    stream has no signs for, stands as a \\u escape, which JSON reads. Ends of lines and tabs stay.
    """
    encoding = (sys.stdout if stream is None else stream).encoding or "ascii"
    return harmless(text).encode(encoding, _ESCAPED).decode(encoding)


def tell(*lines: str) -> None:
    """Say something on standard error; where nobody is there to read it nothing happens."""
    with suppress(OSError):
        print(*(writable(line, sys.stderr) for line in lines), sep="\n", file=sys.stderr)


def _escaped(fault: UnicodeError) -> tuple[str, int]:
    import json

    assert isinstance(fault, UnicodeEncodeError)  # the texts are only written
    return json.dumps(fault.object[fault.start : fault.end])[1:-1], fault.end


_ESCAPED = "as JSON"
register_error(_ESCAPED, _escaped)
