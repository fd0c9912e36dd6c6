"""Edits that no save has reached yet, kept beside the session in case it is cut off.

After each kept change the study's text is handed over here and written by a thread of its own,
whole or not at all. A dropped line ends a terminal program at once; what has been handed over
by then can be flushed from a signal handler.
"""

from __future__ import annotations

import hashlib
import os
import threading
from contextlib import suppress
from pathlib import Path as FilePath

from whatif.records import dataclass
from whatif.session.kept.state import state_folder
from whatif.study.draft import Draft
from whatif.study.file.atomic import replace_file
from whatif.study.file.reading import StudyError, read_text

_SUFFIX = ".unsaved.toml"
_ENDED = "ended"
_HEAD = "# unsaved changes of "
"""Begins the first line; the fingerprint of the file that was changed follows."""


def _stem(study: FilePath) -> str:
    place = os.path.realpath(study)
    return f"{FilePath(place).stem}-{hashlib.sha256(place.encode()).hexdigest()[:12]}"


@dataclass(frozen=True, slots=True)
class Left:
    """What an earlier session left behind.

    ``draft`` is its unsaved state, ``base`` the fingerprint of the file that it had read, ``when``
    it was last written, in seconds since the epoch.
    """

    path: FilePath
    draft: Draft
    base: str
    when: float


@dataclass(frozen=True, slots=True)
class _Noted:
    """What is to be on disk: a draft that is not saved, and the file that it is changed from."""

    draft: Draft | None
    base: str

    @property
    def text(self) -> str:
        """What the file is to say."""
        from whatif.study.file.writing import to_text

        return "" if self.draft is None else f"{_HEAD}{self.base}\n{to_text(self.draft)}"


class Recovery:
    """Keeps the unsaved state of one session on disk; ``base``: the fingerprint of its file."""

    def __init__(self, study: FilePath, base: str, folder: FilePath | None = None) -> None:
        self._folder = state_folder() if folder is None else folder
        self.base = base
        mine = f"{os.getpid()}-{_started(os.getpid())}"
        self.path = self._folder / f"{_stem(study)}-{mine}{_SUFFIX}"
        self._noted = self._written = _Noted(None, base)
        self._change = threading.Condition()
        self._write = threading.Lock()
        self._closed = False
        self._thread = threading.Thread(target=self._keep_up, daemon=True)
        self._thread.start()

    def note(self, draft: Draft | None) -> None:
        """Remember a draft that is not saved; None once the file has everything.

        A draft is never changed, so that its text may be made by whoever writes it.
        """
        # Loaded now and not with the first text, which a signal handler may ask for.
        from whatif.study.file import writing as _writing  # noqa: F401 - only loaded

        with self._change:
            self._noted = _Noted(draft, self.base)
            self._change.notify()

    def flush(self) -> None:
        """Write what has been handed over, now; may be called from a signal handler."""
        # The thread may hold the lock in the middle of the same writing; then it finishes it.
        if self._write.acquire(timeout=2):
            try:
                self._settle(self._noted)
            finally:
                self._write.release()

    def close(self) -> None:
        """Stop, with the disk as the last note says."""
        with self._change:
            self._closed = True
            self._change.notify()
        self._thread.join(timeout=2)
        self.flush()

    def _keep_up(self) -> None:
        while True:
            with self._change:
                self._change.wait_for(lambda: self._closed or self._noted is not self._written)
                if self._closed:
                    return
                noted = self._noted
            with self._write:
                self._settle(noted)

    def _settle(self, noted: _Noted) -> None:
        if noted == self._written:
            self._written = noted
            return
        # A recovery that cannot be written must not end the session it protects.
        with suppress(OSError):
            if noted.draft is None:
                self.path.unlink(missing_ok=True)
            else:
                self._folder.mkdir(parents=True, exist_ok=True, mode=0o700)
                replace_file(self.path, noted.text.encode())
        self._written = noted


def left_behind(study: FilePath, folder: FilePath | None = None) -> list[Left]:
    """What sessions that are gone left of a study, the newest first."""
    import glob

    folder = state_folder() if folder is None else folder
    unsaved = []
    for path in folder.glob(f"{glob.escape(_stem(study))}-*{_SUFFIX}"):
        _, pid, started = path.name.removesuffix(_SUFFIX).rsplit("-", 2)
        if not pid.isdigit() or _lives(int(pid), started):
            continue
        with suppress(OSError, UnicodeDecodeError, StudyError):
            head, _, text = path.read_text("utf-8").partition("\n")
            base = head.removeprefix(_HEAD)
            unsaved.append(Left(path, read_text(text), base, path.stat().st_mtime))
    return sorted(unsaved, key=lambda left: -left.when)


def throw_away(left: Left) -> None:
    """Remove what a session left, it being taken up and kept, or not wanted."""
    with suppress(OSError):
        left.path.unlink()


def _lives(pid: int, started: str) -> bool:
    """Whether the process still runs; its number alone may have been given out again."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        pass
    return _started(pid) == started


def _started(pid: int) -> str:
    """When a process started, in the system's own count; "0" where it does not tell.

    One that has ended, and that nobody has taken notice of yet, has not started any more.
    """
    try:
        stat = FilePath(f"/proc/{pid}/stat").read_text("utf-8")
    except OSError:
        return "0"
    # Fields 3 and 22 of proc(5); the name before them, in brackets, may hold blanks.
    fields = stat.rpartition(")")[2].split()
    return _ENDED if fields[0] in "ZX" else fields[19]
