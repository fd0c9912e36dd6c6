"""Answers of commands as they were printed, kept for whoever asks the same again.

An answer is known by all that it can hang on: the code of the house and of what it is made with,
the content of the study's file, the words of the command line, the cells of the terminal.
"""

from __future__ import annotations

import os
import stat
import sys
from copy import copy
from hashlib import blake2b
from typing import TYPE_CHECKING, Final, NamedTuple

from whatif.session.kept.code import code_of
from whatif.session.kept.results import KeptResults, is_kept

if TYPE_CHECKING:
    from collections.abc import Callable

_LARGEST_FILE: Final = 4_000_000
"""Bytes of a file beyond which it is no study."""

_LONGEST: Final = 2_000_000
"""Signs of an answer beyond which it is not kept: it would take the place of too many others."""


class _Read(NamedTuple):
    """A file at a moment: its content, and what is known of its writing."""

    content: bytes
    written: tuple[int, ...]


class KeptAnswer:
    """What one command line has printed before, of a file as it is now.

    Args:
        file: the study's; one that is read only once, such as a pipe, is left alone.
        words: all else that the answer hangs on.
        results: where it is kept; in the user's own folder where not given.
        content: what the file held where it has been read already, and is not to be read again.
    """

    def __init__(
        self,
        file: str,
        words: object,
        results: KeptResults | None = None,
        content: bytes | None = None,
    ) -> None:
        self._results = KeptResults() if results is None else results
        self._file, self._words = file, repr(words)
        self._content = content
        self._read = self._read_now() if is_kept() else None
        self._question = None if self._read is None else self._digest(self._read, code_of)

    def beside(self, words: object) -> KeptAnswer:
        """What other words have come to, of the file as it was read for these."""
        other = copy(self)
        other._words = repr(words)
        other._question = None if self._read is None else other._digest(self._read, code_of)
        return other

    def told(self) -> str | None:
        """The answer that was given; None where there was none."""
        if self._question is None:
            return None
        found = self._results.find(self._question)
        self._results.keep({})  # that it has been asked for again
        return found if isinstance(found, str) else None

    def keep(self, text: str) -> None:
        """Keep an answer, unless the file or the code was changed while it was worked out."""
        if self._read is None or self._question is None or len(text) > _LONGEST:
            return
        now = self._read_now()
        if now == self._read and self._digest(now, code_of.__wrapped__) == self._question:
            self._results.keep({self._question: text})

    def _read_now(self) -> _Read | None:
        if self._content is None:
            return _read(self._file)
        return _Read(self._content, ()) if len(self._content) <= _LARGEST_FILE else None

    def _digest(self, read: _Read, code_of: Callable[[str], bytes | None]) -> bytes | None:
        code = code_of("")
        if code is None:
            return None
        digest = blake2b(repr((self._words, _made_with())).encode(), digest_size=24, key=code)
        digest.update(b"\0" + read.content)
        return digest.digest()


def _read(file: str) -> _Read | None:
    """A regular file as it is now; None where it is none or cannot be read."""
    try:
        if not stat.S_ISREG(os.stat(file).st_mode):
            return None
        with open(file, "rb") as opened:
            found = os.fstat(opened.fileno())
            content = opened.read(_LARGEST_FILE + 1)
    except (OSError, ValueError):
        return None
    if len(content) > _LARGEST_FILE:
        return None
    return _Read(content, (found.st_ino, found.st_dev, found.st_mtime_ns, found.st_ctime_ns))


def _made_with() -> tuple[object, ...]:
    """Python, and the folders of packages: another version put into one changes the folder."""
    folders = [each for each in sys.path if each.endswith("-packages")]
    return sys.version, [
        (each, os.stat(each).st_mtime_ns) for each in folders if os.path.isdir(each)
    ]
