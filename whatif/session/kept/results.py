"""Results kept between programs, by the content of what they are of, in the user's cache folder.

No answer depends on it: whatever goes wrong with the folder, its file or its lock, the program
works everything out itself and says nothing. What is read is plain JSON, never anything that could
be run, and only from a file that nobody else may write.
"""

from __future__ import annotations

import json
import os
import stat
import time
import zlib
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Any, Final, TypeVar
from weakref import WeakSet

if TYPE_CHECKING:
    from sqlite3 import Connection

T = TypeVar("T")

SWITCH: Final = "WHATIF_KEEP"
"""The environment variable that, set to one of `OFF`, has nothing kept and nothing read."""

OFF: Final = ("0", "no", "off")

MOST_BYTES: Final = 64 * 2**20
"""Size of the file beyond which the oldest results are dropped."""

MOST_DAYS: Final = 60
"""Days after which a result that nobody has asked for is dropped."""

_NAME: Final = "whatif"
_FILE: Final = "results.db"
_DAY: Final = 86400
_PATIENCE: Final = 0.5
"""Seconds to wait for another program that is writing."""

_TABLE: Final = (
    "CREATE TABLE IF NOT EXISTS kept "
    "(question BLOB PRIMARY KEY, day INTEGER NOT NULL, result BLOB NOT NULL) WITHOUT ROWID"
)


def cache_folder() -> FilePath:
    """Where programs keep for a user what they can make anew (XDG Base Directory Specification)."""
    named = os.environ.get("XDG_CACHE_HOME", "")
    if os.path.isabs(named):
        return FilePath(named) / _NAME
    if named:
        # It is to be ignored, says the specification, and would be read once more below.
        return FilePath.home() / ".cache" / _NAME
    from platformdirs import user_cache_path

    folder = user_cache_path(_NAME, appauthor=False)
    if not folder.is_absolute():
        raise FileNotFoundError("there is no home folder")
    return folder


def is_kept() -> bool:
    """Whether anything is to be kept and read at all."""
    return os.environ.get(SWITCH, "").lower() not in OFF


class KeptResults:
    """Plain results (what JSON holds) by the digests of their questions.

    Args:
        folder: the user's own where not given.
        most_bytes, most_days: beyond which the oldest are dropped.
    """

    def __init__(
        self,
        folder: FilePath | None = None,
        *,
        most_bytes: int = MOST_BYTES,
        most_days: int = MOST_DAYS,
    ) -> None:
        self._folder = folder
        self._most_bytes, self._most_days = most_bytes, most_days
        self._file: Connection | None = None
        self._is_tried = False
        _known.add(self)
        self._today = int(time.time()) // _DAY
        self._asked_again: set[bytes] = set()

    def find(self, question: bytes) -> Any:
        """What has been kept of a question; None where nothing has, or it cannot be read."""
        return self._try(lambda file: self._found(file, question))

    def keep(self, results: Mapping[bytes, Any]) -> None:
        """Keep some results, all or none of them; what is added to a mapping leaves the rest."""
        if results or self._asked_again:
            self._try(lambda file: self._put(file, results))

    def close(self) -> None:
        """Let go of the file; it is opened again where something more is asked for."""
        if self._file is not None:
            self._file.close()
            self._file, self._is_tried = None, False

    def _found(self, file: Connection, question: bytes) -> Any:
        asked = "SELECT day, result FROM kept WHERE question = :question"
        row = file.execute(asked, {"question": question}).fetchone()
        if row is None:
            return None
        day, packed = row
        try:
            found = json.loads(zlib.decompress(packed))
        except (ValueError, RecursionError, zlib.error):
            return None
        if day < self._today:
            self._asked_again.add(question)
        return found

    def _put(self, file: Connection, results: Mapping[bytes, Any]) -> None:
        again = [{"question": question, "day": self._today} for question in self._asked_again]
        file.execute("BEGIN IMMEDIATE")
        try:
            file.executemany("UPDATE kept SET day = :day WHERE question = :question", again)
            # Others may have kept something of it since it was looked for.
            merged = {
                question: _merged(self._found(file, question), result)
                for question, result in results.items()
            }
            rows = [
                {"question": question, "day": self._today, "result": _packed(result)}
                for question, result in merged.items()
            ]
            file.executemany("INSERT OR REPLACE INTO kept VALUES (:question, :day, :result)", rows)
            self._drop_oldest(file)
            file.execute("COMMIT")
        finally:
            if file.in_transaction:
                file.execute("ROLLBACK")
        self._asked_again.clear()

    def _drop_oldest(self, file: Connection) -> None:
        oldest = {"day": self._today - self._most_days}
        file.execute("DELETE FROM kept WHERE day < :day", oldest)
        pages, free, size = (
            file.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("page_count", "freelist_count", "page_size")
        )
        if (pages - free) * size > self._most_bytes:
            file.execute(
                "DELETE FROM kept WHERE question IN (SELECT question FROM kept ORDER BY day "
                "LIMIT (SELECT count(*) / 4 + 1 FROM kept))"
            )

    def _try(self, do: Callable[[Connection], T]) -> T | None:
        """Do something with the file; None where there is none, or something is wrong with it."""
        if not is_kept():
            return None
        try:
            import sqlite3
        except ImportError:  # some Pythons are built without it
            return None
        try:
            if not self._is_tried:
                self._is_tried = True
                self._file = _opened(self._path())
            return None if self._file is None else do(self._file)
        except sqlite3.OperationalError:
            return None  # it is busy, full or may only be read
        except sqlite3.DatabaseError:
            # It is torn, or none of ours: the next program finds none and makes a new one.
            self._file = None
            with suppress(OSError, RuntimeError):
                self._path().unlink()
        except (OSError, RuntimeError, ValueError):
            pass
        return None

    def _path(self) -> FilePath:
        return (cache_folder() if self._folder is None else self._folder) / _FILE


def _merged(before: Any, now: Any) -> Any:
    """Both of two mappings; else what is known now."""
    is_more = isinstance(before, dict) and isinstance(now, dict)
    return {**before, **now} if is_more else now


def _packed(result: Any) -> bytes:
    return zlib.compress(json.dumps(result, separators=(",", ":")).encode(), 1)


def _opened(path: FilePath) -> Connection | None:
    """The file at a place, made where there is none; None where others might write to it."""
    import sqlite3

    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    descriptor = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600)
    try:
        is_own = _is_own(path.parent.stat()) and _is_own(os.fstat(descriptor))
    finally:
        os.close(descriptor)
    if not is_own:
        return None
    # Whichever thread forks lets go of it before.
    file = sqlite3.connect(path, timeout=_PATIENCE, isolation_level=None, check_same_thread=False)
    # What a power cut tears is made anew; nobody waits for the disk.
    file.execute("PRAGMA synchronous = OFF")
    file.execute("PRAGMA trusted_schema = OFF")
    file.execute(_TABLE)
    return file


def _is_own(found: os.stat_result) -> bool:
    """Whether a file or folder is the user's, and nobody else may write to it."""
    if not hasattr(os, "getuid"):
        return True
    return found.st_uid == os.getuid() and not found.st_mode & (stat.S_IWGRP | stat.S_IWOTH)


_known: WeakSet[KeptResults] = WeakSet()


def _let_go() -> None:
    """No process may inherit an open file: it would take locks of its parent's for its own."""
    for each in list(_known):
        each.close()


if hasattr(os, "register_at_fork"):
    os.register_at_fork(before=_let_go)
