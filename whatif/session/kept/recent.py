"""Files opened lately, the newest first, kept beside the user's other state.

The list is a convenience: whatever goes wrong with it, the program goes on without it.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from pathlib import Path as FilePath

from whatif.session.kept.recovery import state_folder
from whatif.study.file.atomic import replace_file

MOST = 10
"""Files that are remembered."""

_NAME = "recent.json"


def recent(folder: FilePath | None = None) -> tuple[FilePath, ...]:
    """The files opened lately that are still there, the newest first."""
    return tuple(path for path in _kept(folder) if _is_there(path))


def remember(study: FilePath, folder: FilePath | None = None) -> None:
    """Put a file at the top of the list; where that cannot be written nothing happens."""
    place = FilePath(os.path.abspath(study))
    # A file that is missing now may be back: on a stick, on a drive of the network.
    others = [path for path in _kept(folder) if path != place]
    paths = [str(path) for path in (place, *others)][:MOST]
    with suppress(OSError, RuntimeError, ValueError):
        where = state_folder() if folder is None else folder
        where.mkdir(parents=True, exist_ok=True, mode=0o700)
        replace_file(where / _NAME, json.dumps(paths, indent=1).encode())


def _kept(folder: FilePath | None) -> list[FilePath]:
    with suppress(OSError, RuntimeError, ValueError):
        where = state_folder() if folder is None else folder
        paths = json.loads((where / _NAME).read_text("utf-8"))
        if isinstance(paths, list):
            return [FilePath(path) for path in paths if isinstance(path, str) and path][:MOST]
    return []


def _is_there(path: FilePath) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False
