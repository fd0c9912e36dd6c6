"""What a machine shop does: a deterministic event engine in whole seconds.

Imports nothing of ours outside this folder, and no file, no clock, no quantity library: plain
frozen dataclasses go in (:mod:`whatif.cell.model`), tallies come out (:mod:`whatif.cell.tally`).

Its modules may have been compiled when the program was installed, and are then found first; in
``WHATIF_PLAIN=1`` the plain ones run all the same. Both count the same.
"""

import os
from collections.abc import MutableSequence

COMPILED = os.path.join(os.path.dirname(__file__), "compiled")
"""Where compiled modules lie, if there are any."""


def compiled_first(path: MutableSequence[str], *room: str) -> None:
    """Let compiled modules of the cell, or of a room of it, be found before the plain ones."""
    folder = os.path.join(COMPILED, *room)
    if os.environ.get("WHATIF_PLAIN", "") in ("", "0") and os.path.isdir(folder):
        path.insert(0, folder)


def is_compiled() -> bool:
    """Whether the cell that runs is a compiled one."""
    from importlib.machinery import EXTENSION_SUFFIXES
    from importlib.util import find_spec

    found = find_spec("whatif.cell.run")
    return bool(found and found.origin and found.origin.endswith(tuple(EXTENSION_SUFFIXES)))


compiled_first(__path__)
