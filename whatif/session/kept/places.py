"""Where what is not saved yet may be kept: the first of some folders that can be written in."""

from __future__ import annotations

import hashlib
import os
import stat
from contextlib import suppress
from pathlib import Path as FilePath

from whatif.session.kept.state import StateLost, state_folder

SUFFIX = ".unsaved.toml"

_LONGEST_STEM = 60
"""Bytes of a study's name in the name of what is kept of it; a whole name has 255 at most."""


def kept_name(study: FilePath) -> str:
    """What the names of all that is kept of a study begin with.

    The digest of its whole place tells one study from all others; its own name is there for whoever
    looks into the folder.
    """
    place = os.path.realpath(study)
    stem = os.fsencode(FilePath(place).stem)[:_LONGEST_STEM].decode("utf-8", errors="ignore")
    return f"{stem}-{kept_digest(study)}"


def kept_digest(study: FilePath) -> str:
    """Twelve hexadecimal digits for the place of a study."""
    return hashlib.sha256(os.fsencode(os.path.realpath(study))).hexdigest()[:12]


def places(study: FilePath | None, folder: FilePath | None = None) -> tuple[FilePath, ...]:
    """The folders in the order in which they are tried, none of them looked at yet.

    Where programs keep their state, or ``folder`` in its place; where temporary files are, which
    may be gone when the machine is started again; beside the study itself.
    """
    found = []
    with suppress(StateLost):
        found.append(state_folder() if folder is None else folder)
    found.append(temporary_folder())
    if study is not None:
        found.append(FilePath(os.path.realpath(study)).parent)
    return tuple(dict.fromkeys(found))


def make_place(folder: FilePath, study: FilePath | None) -> None:
    """Make a folder that is to be written in, readable by its owner alone; raises OSError.

    One that others share, as the temporary one, must be the user's own and no link.
    """
    if study is not None and folder == FilePath(os.path.realpath(study)).parent:
        return
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    if not is_trusted(folder):
        raise PermissionError(f"{folder} is not this user's own")


def is_trusted(folder: FilePath) -> bool:
    """Whether nobody else can have put anything there; raises OSError.

    Among the temporary files anybody may make a folder of any name.
    """
    return folder != temporary_folder() or _is_own(folder)


def temporary_folder() -> FilePath:
    """A user's own folder among those for temporary files."""
    import tempfile

    user = os.geteuid() if hasattr(os, "geteuid") else os.environ.get("USERNAME", "")
    return FilePath(tempfile.gettempdir()) / f"whatif-{user}"


def _is_own(folder: FilePath) -> bool:
    if not hasattr(os, "geteuid"):
        return True
    found = folder.lstat()
    return stat.S_ISDIR(found.st_mode) and found.st_uid == os.geteuid() and not found.st_mode & 0o77
