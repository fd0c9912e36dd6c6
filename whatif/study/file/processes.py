"""Which process a file's name speaks of, and whether it still runs."""

import os
import sys
from pathlib import Path as FilePath
from typing import Final
from zlib import crc32

ENDED: Final = "ended"
"""In the place of when a process started: it has ended, or never was."""

UNTOLD: Final = "0"
"""Likewise, where the system does not tell."""


def host() -> str:
    """Eight hexadecimal digits for this machine; another one's processes have the same numbers."""
    name = os.uname().nodename if sys.platform != "win32" else os.environ.get("COMPUTERNAME", "")
    return f"{crc32(name.encode(errors='replace')):08x}"


def this_process() -> str:
    """The number of this process, and when it started, which no other one has in common."""
    return f"{os.getpid()}-{started(os.getpid())}"


def is_running(process: int, when: str) -> bool:
    """Whether the process that started then still runs; its number may have been given out again.

    ``when`` is what :func:`started` told of it.
    """
    try:
        # As a signal on Windows 0 would end it.
        if sys.platform != "win32":
            os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        pass
    return started(process) == when


def started(process: int) -> str:
    """When a process started, in the system's own count.

    One that has ended, and that nobody has taken notice of yet, has not started any more.
    """
    try:
        stat = FilePath(f"/proc/{process}/stat").read_text("utf-8", errors="replace")
    except OSError:
        return UNTOLD
    # Fields 3 and 22 of proc(5); the name before them, in brackets, may hold blanks.
    fields = stat.rpartition(")")[2].split()
    return ENDED if fields[0] in "ZX" else fields[19]
