"""Files that are ours while something is written, and what becomes of those that a kill leaves."""

import os
import re
import secrets
import stat
import time
from contextlib import suppress
from pathlib import Path as FilePath
from typing import Final

from whatif.study.file.processes import UNTOLD, host, is_running, this_process

_NAME: Final = re.compile(
    r"\.whatif-(?P<host>[0-9a-f]{8})-(?P<process>\d{1,10})-(?P<when>\w{1,24})-[0-9a-f]{16}\.tmp"
)
_DAY: Final = 86_400
"""Seconds; whoever writes is done by then, where the system does not tell who still runs."""


def unfinished_name(path: FilePath) -> FilePath:
    """A name beside a file for what is to take its place; it tells who writes."""
    return path.with_name(f".whatif-{host()}-{this_process()}-{secrets.token_hex(8)}.tmp")


def clear_unfinished(folder: FilePath) -> None:
    """Remove what a session that was killed left half written in a folder.

    Only what is provably ours and old: an ordinary file of such a name, of the same owner, whose
    process ran on this machine and has ended. Whatever goes wrong, nothing else happens.
    """
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if (named := _NAME.fullmatch(entry.name)) is not None:
                with suppress(OSError):
                    if _is_abandoned(entry, named):
                        os.unlink(entry.path)


def _is_abandoned(entry: "os.DirEntry[str]", named: re.Match[str]) -> bool:
    found = entry.stat(follow_symlinks=False)
    if not stat.S_ISREG(found.st_mode) or named["host"] != host():
        return False
    if hasattr(os, "geteuid") and found.st_uid != os.geteuid():
        return False
    if named["when"] == UNTOLD:
        return time.time() - found.st_mtime > _DAY
    return not is_running(int(named["process"]), named["when"])
