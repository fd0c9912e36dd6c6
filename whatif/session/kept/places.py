"""Where what is not saved yet may be kept: the first of some folders that can be written in."""

from __future__ import annotations

import hashlib
import os
import stat
from contextlib import suppress
from pathlib import Path as FilePath

from whatif.session.kept.state import StateLost, state_folder

SUFFIX = ".unsaved.toml"

_USUAL_TEMPORARY = ("/tmp", "/var/tmp") if os.name == "posix" else (r"C:\Windows\Temp",)
"""Where temporary files are, whatever the environment names."""

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
    found.extend(temporary_folders())
    if study is not None:
        found.append(FilePath(os.path.realpath(study)).parent)
    return tuple(dict.fromkeys(found))


def make_place(folder: FilePath, study: FilePath | None) -> None:
    """Make a folder that is to be written in, readable by its owner alone; raises OSError.

    One that others share, as the temporary one, must be the user's own and no link.
    """
    if study is not None and folder == FilePath(os.path.realpath(study)).parent:
        return
    # A folder for temporary files that is not there is a slip of the environment's.
    folder.mkdir(parents=folder not in temporary_folders(), exist_ok=True, mode=0o700)
    if not is_trusted(folder):
        raise PermissionError(f"{folder} is not this user's own")


def is_trusted(folder: FilePath) -> bool:
    """Whether nobody else can have put anything there; raises OSError.

    Among the temporary files anybody may make a folder of any name.
    """
    return folder not in temporary_folders() or _is_own(folder)


def temporary_folders() -> tuple[FilePath, ...]:
    """A user's own folders among those for temporary files.

    That which the environment names is the first, but what another session kept is looked for in
    the usual ones too, as it may have had another environment. Nothing is tried by writing: on a
    full disk the standard library knows no such folder.
    """
    user = os.geteuid() if hasattr(os, "geteuid") else os.environ.get("USERNAME", "")
    named = [os.environ.get(name, "") for name in ("TMPDIR", "TEMP", "TMP")]
    found = [*filter(os.path.isabs, named), *_USUAL_TEMPORARY]
    return tuple(dict.fromkeys(FilePath(folder) / f"whatif-{user}" for folder in found))


def _is_own(folder: FilePath) -> bool:
    if not hasattr(os, "geteuid"):
        return True
    found = folder.lstat()
    return stat.S_ISDIR(found.st_mode) and found.st_uid == os.geteuid() and not found.st_mode & 0o77
