"""A study that can be read only once: from standard input, or from a pipe with a name."""

from __future__ import annotations

import os
import stat
import sys

TYPE_CHECKING = False  # as `typing` has it, which a command has no other need of
if TYPE_CHECKING:
    from typing import Final

STANDARD_INPUT: Final = "standard input"
"""What it is called in all that is told."""

LARGEST_FILE: Final = 4_000_000
"""Bytes of a file beyond which it is no study."""


class ReadOnce(str):
    """The name of a study that has been read, with what it held.

    It goes wherever the name of a file goes, so that nobody reads a second time.

    Attributes:
        content: as much as shows that it is too large, where it is.
    """

    content: bytes

    def __new__(cls, name: str, content: bytes) -> ReadOnce:
        """A name with its content."""
        made = super().__new__(cls, name)
        made.content = content
        return made


def read_already(study: str) -> bytes | None:
    """What has been read of a study; None of one that can be read at any time."""
    return study.content if isinstance(study, ReadOnce) else None


def study_named(text: str) -> str:
    """The study that a command line names: ``-`` is standard input, and what is no plain file is
    read now. Raises `OSError` where standard input cannot be read; of a file others tell that.
    """
    if text == "-":
        if sys.stdin is None:
            raise OSError("it is closed")
        return ReadOnce(STANDARD_INPUT, sys.stdin.buffer.read(LARGEST_FILE + 1))
    try:
        mode = os.stat(text).st_mode
        if stat.S_ISREG(mode) or stat.S_ISDIR(mode):
            return text
        with open(text, "rb") as file:
            return ReadOnce(text, file.read(LARGEST_FILE + 1))
    except (OSError, ValueError):
        return text
