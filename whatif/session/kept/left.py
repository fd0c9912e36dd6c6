"""What sessions that are gone left unsaved: found, offered, thrown away."""

from __future__ import annotations

import re
import stat
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path as FilePath

from whatif.records import dataclass
from whatif.session.kept.places import SUFFIX, is_trusted, kept_digest, places
from whatif.session.kept.recovery import head_told
from whatif.study.draft import Draft
from whatif.study.file.processes import is_running
from whatif.study.file.reading import LARGEST, StudyError, read_text

_NAME = re.compile(
    rf".*-(?P<digest>[0-9a-f]{{12}})-(?P<process>\d{{1,10}})-(?P<when>\w+){re.escape(SUFFIX)}"
)
_HEAD_BYTES = 20_000
"""A first line holds a place, and a place has some thousand bytes at most."""


@dataclass(frozen=True, slots=True)
class Left:
    """What an earlier session left behind.

    ``draft`` is its unsaved state, ``base`` the fingerprint of the file that it had read, ``when``
    it was last written, in seconds since the epoch; ``study`` the file that it was changed from,
    None where it had no name yet, or where that was not written down.
    """

    path: FilePath
    draft: Draft
    base: str
    when: float
    study: FilePath | None = None


def left_behind(study: FilePath, folder: FilePath | None = None) -> list[Left]:
    """What sessions that are gone left of a study, the newest first."""
    digest = kept_digest(study)
    return _newest_first(
        left
        for place in places(study, folder)
        for path, of in _names(place)
        if of == digest and (left := _read(path)) is not None
    )


def all_left(folder: FilePath | None = None) -> list[Left]:
    """What sessions that are gone left of any study, but for what lies beside one."""
    return _newest_first(
        left
        for place in places(None, folder)
        for path, _ in _names(place)
        if (left := _read(path)) is not None
    )


def throw_away(left: Left) -> None:
    """Remove what a session left, it being saved or not wanted."""
    with suppress(OSError):
        left.path.unlink()


def _newest_first(found: Iterator[Left]) -> list[Left]:
    return sorted(found, key=lambda left: -left.when)


def _names(folder: FilePath) -> Iterator[tuple[FilePath, str]]:
    """What is kept in a folder by sessions that are gone, each with the digest of its study."""
    with suppress(OSError):
        for path in folder.iterdir() if is_trusted(folder) else ():
            named = _NAME.fullmatch(path.name)
            if named is not None and not is_running(int(named["process"]), named["when"]):
                yield path, named["digest"]


def _read(path: FilePath) -> Left | None:
    """What a file holds; None where that is no study that a session left whole."""
    with suppress(OSError, ValueError, StudyError):
        found = path.lstat()
        if not stat.S_ISREG(found.st_mode) or found.st_size > LARGEST + _HEAD_BYTES:
            return None
        # As bytes: what ends its lines is the study's own.
        head, _, text = path.read_bytes().decode("utf-8").partition("\n")
        if (told := head_told(head)) is not None:
            base, study = told
            return Left(path, read_text(text), base, found.st_mtime, study)
    return None
