"""What the code of the house is, told in a digest: what was made by other code is not kept."""

from __future__ import annotations

import os
import sys
from functools import cache
from hashlib import blake2b

import whatif

_TOLD = (".py", ".md")
"""Ends of the files that decide what is answered; the book is read as it stands."""


@cache
def code_of(*rooms: str) -> bytes | None:
    """A digest of all code in some rooms of the house, the same for plain and compiled modules.

    None where it cannot be told: without sources, or where one has been changed after it was
    compiled. The room "" is the whole house.
    """
    digest = blake2b(repr(sys.version_info[:2]).encode(), digest_size=32)
    try:
        for room in rooms:
            if not _add_code(digest, os.path.join(whatif.__path__[0], room)):
                return None
    except OSError:
        return None
    return digest.digest()


def _add_code(digest: blake2b, room: str) -> bool:
    """Add all sources of a room to a digest; whether there are some, and no newer than compiled."""
    sources = 0
    for folder, inner, names in os.walk(room):
        inner[:] = sorted(set(inner) - {"__pycache__"})
        changed: dict[str, float] = {}
        for name in sorted(name for name in names if name.endswith(_TOLD)):
            with open(os.path.join(folder, name), "rb") as source:
                changed[_module(name)] = os.fstat(source.fileno()).st_mtime
                digest.update(name.encode() + b"\0" + source.read())
        for name in names:
            if name.endswith((".so", ".pyd")) and _module(name) in changed:
                compiled = os.stat(os.path.join(folder, name)).st_mtime
                if compiled < changed[_module(name)]:
                    return False
        sources += len(changed)
    return sources > 0


def _module(name: str) -> str:
    """The module that a file is of: "run" of "run.cpython-311-x86_64-linux-gnu.so"."""
    return name.partition(".")[0]
