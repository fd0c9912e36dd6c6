"""A file that is no study yet: its text, what is wrong with it, and states to take instead."""

from __future__ import annotations

import time
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path as FilePath
from typing import Final

from whatif.records import dataclass
from whatif.session.kept.left import left_behind
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.file.reading import StudyError, fingerprint, read_bytes, read_text
from whatif.study.file.writing import replace_text, to_text
from whatif.study.refused import FileFault, FileFaultKind

LONGEST: Final = 400_000
"""Characters of a text that can be mended by hand; studies have some ten thousand."""

_IN_THE_TEXT: Final = {
    FileFaultKind.NO_TOML: "utf-8-sig",
    FileFaultKind.NESTED_TOO_DEEPLY: "utf-8-sig",
    FileFaultKind.UNREADABLE_NUMBER: "utf-8-sig",
    FileFaultKind.NUMBER_TOO_LARGE: "utf-8-sig",
    FileFaultKind.UTF_16: "utf-16",
    # Every byte is a letter there; the most usual one where a file is not UTF-8.
    FileFaultKind.NOT_UTF_8: "latin-1",
}
"""Faults that are mended in the text, and how its bytes are read for that."""


@dataclass(frozen=True, slots=True)
class GoodState:
    """A text that can be read; ``when`` it was kept, in seconds since the epoch."""

    text: str
    when: float
    is_held: bool = False
    """Whether the session that is open holds it."""


@dataclass(frozen=True, slots=True)
class Broken:
    """A file whose text is to be mended; ``base`` its fingerprint when it was read."""

    path: FilePath
    text: str
    base: str
    states: Sequence[GoodState]


def broken_file(
    path: FilePath, state: FilePath | None = None, held: Draft | None = None
) -> Broken | None:
    """The file at a path, where mending its text makes a study of it; None where it does not.

    ``held`` is what a session of this file holds.
    """
    try:
        content = read_bytes(path)
        fault = None if len(content) > LONGEST else _fault_of(content)
    except StudyError:
        return None
    encoding = None if fault is None else _IN_THE_TEXT.get(fault.kind)
    if encoding is None:
        return None
    states = [GoodState(to_text(left.draft), left.when) for left in left_behind(path, state)]
    if held is not None:
        states.insert(0, GoodState(to_text(held), time.time(), is_held=True))
    text = content.decode(encoding, "replace")
    return Broken(path, text, fingerprint(content), states)


def _fault_of(content: bytes) -> FileFault | None:
    with suppress(UnicodeDecodeError):
        return fault_of(content.decode("utf-8-sig"))
    utf_16 = content.startswith((b"\xff\xfe", b"\xfe\xff"))
    return FileFault(FileFaultKind.UTF_16 if utf_16 else FileFaultKind.NOT_UTF_8)


def fault_of(text: str) -> FileFault | None:
    """Why a text is no study; None where it can be read as one."""
    try:
        read_text(text)
    except StudyError as fault:
        return fault.why
    return None


def problems_of(text: str) -> int:
    """How many problems there are in a text that can be read; they are mended on the desk."""
    return len(check(read_text(text)).problems)


def save_mended(broken: Broken, text: str) -> None:
    """Put a mended text in the file's place, whole or not at all; raises `StudyError`."""
    replace_text(text, broken.path, broken.base)
