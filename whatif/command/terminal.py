"""What stands on a terminal beside an answer: how far the work is, and signs that it can show."""

from __future__ import annotations

import json
import sys
from codecs import register_error
from collections.abc import Callable
from types import TracebackType
from typing import Self

from whatif.answers.progress import Progress, Steps

_OFTEN = 200
"""Weeks between two words on how many have been simulated."""


class ProgressLine:
    """How far the work is, in one line that is wiped out in the end; nothing off a terminal."""

    def __init__(self) -> None:
        self._is_shown = sys.stderr.isatty()
        self._said = ""
        self._weeks = 0

    def __enter__(self) -> Self:
        """Work begins."""
        return self

    def __exit__(
        self,
        sort: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """The work is done or given up."""
        self._say("")

    def week(self) -> None:
        """One more week has been simulated, of nobody knows how many."""
        self._weeks += 1
        if self._weeks % _OFTEN == 0:
            self._say(f"{self._weeks} weeks simulated")

    def steps(self, words: Callable[[Progress], str]) -> Steps:
        """What is to be called between the items of long work; ``words`` say how far it is."""
        return Steps(lambda progress: self._say(words(progress)))

    def _say(self, text: str) -> None:
        if self._is_shown and text != self._said:
            wiped = " " * len(self._said)
            print(f"\r{wiped}\r{text}", end="\r", file=sys.stderr, flush=True)
            self._said = text


def writable(text: str) -> str:
    """The text with what standard output has no signs for as \\u escapes, which JSON reads."""
    encoding = sys.stdout.encoding or "ascii"
    return text.encode(encoding, _ESCAPED).decode(encoding)


def _escaped(fault: UnicodeError) -> tuple[str, int]:
    assert isinstance(fault, UnicodeEncodeError)  # the texts are only written
    return json.dumps(fault.object[fault.start : fault.end])[1:-1], fault.end


_ESCAPED = "as JSON"
register_error(_ESCAPED, _escaped)
