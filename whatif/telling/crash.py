"""What is told when the program ends by a fault of its own: nothing of the user's data."""

from __future__ import annotations

import traceback
from pathlib import Path as FilePath

import whatif

_FRAMES = 6
"""Places in the program's own code that are told, the last ones."""

_HOUSE = FilePath(whatif.__file__).parent


def crash_words(fault: BaseException | None, kept_in: FilePath | None, is_kept: bool) -> str:
    """The sort of fault, where in the program it was, and where unsaved changes are.

    ``kept_in`` is the file that they are kept in, None where nothing is unsaved. What the fault
    itself says is left out, and so are all values: they may be the user's.
    """
    sort = "" if fault is None else f" ({type(fault).__name__})"
    lines = [f"whatif has ended by a fault of its own{sort}. We are sorry.", *_places(fault)]
    if kept_in is not None and is_kept:
        lines += [
            "Your unsaved changes are kept, and offered when the study is opened again:",
            f"  {kept_in}",
        ]
    elif kept_in is not None:
        lines.append("The changes since the last save could not be kept.")
    return "\n".join(lines)


def _places(fault: BaseException | None) -> list[str]:
    frames = traceback.extract_tb(None if fault is None else fault.__traceback__)
    own = [
        f"  {FilePath(frame.filename).relative_to(_HOUSE)}, line {frame.lineno}, in {frame.name}"
        for frame in frames
        if FilePath(frame.filename).is_relative_to(_HOUSE)
    ]
    return own[-_FRAMES:]
