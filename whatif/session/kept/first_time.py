"""Whether the desk has been seen before: a file beside the user's other state.

A convenience: where it cannot be read or written nothing is told, since a hint that comes back
each time is worse than none.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path as FilePath

from whatif.session.kept.recovery import state_folder
from whatif.study.file.atomic import replace_file

_NAME = "desk-seen"


def is_first_time(folder: FilePath | None = None) -> bool:
    """Whether nobody has been told yet; from now on somebody has."""
    with suppress(OSError, RuntimeError, ValueError):
        where = state_folder() if folder is None else folder
        if (where / _NAME).exists():
            return False
        where.mkdir(parents=True, exist_ok=True, mode=0o700)
        replace_file(where / _NAME, b"The hint over the desk has been shown.\n")
        return True
    return False
