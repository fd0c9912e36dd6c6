"""Edits that no save has reached yet, kept on the disk in case the session is cut off.

After each kept change the study's text is handed over here and written by a thread of its own,
whole or not at all. A dropped line ends a terminal program at once; what has been handed over
by then can be flushed from a signal handler. What cannot be written is said, and tried again:
with each change, and every few seconds. Where one folder cannot be had another one is.
"""

from __future__ import annotations

import json
import os
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path as FilePath

from whatif.records import dataclass
from whatif.session.kept.places import SUFFIX, kept_name, make_place, places
from whatif.study.draft import Draft
from whatif.study.file.atomic import replace_file
from whatif.study.file.processes import this_process
from whatif.study.file.unfinished import clear_unfinished

HEAD = "# unsaved changes of "
"""Begins the first line; the fingerprint of the file that was changed and its place follow."""

AGAIN = 5.0
"""Seconds after which what could not be written is tried again."""

_PATIENCE = 2.0
"""Seconds that somebody else's writing is waited for at the end."""


@dataclass(frozen=True, slots=True)
class _Noted:
    """What is to be on disk: a draft that is not saved, and the file that it is changed from."""

    draft: Draft | None
    base: str


@dataclass(frozen=True, slots=True)
class Keeping:
    """How safe is what no save has reached.

    ``is_kept`` tells whether all of it is on the disk, ``fault`` why it cannot be, ``instead_in``
    the folder it is kept in because the usual one cannot be had.
    """

    is_kept: bool = True
    fault: OSError | None = None
    instead_in: FilePath | None = None


def _nobody() -> None:
    pass


class Recovery:
    """Keeps the unsaved state of one session on disk.

    Args:
        study: the study's file, or in its place what stands for one that has no name yet.
        base: the fingerprint of its file.
        folder: where it is kept first of all; the user's own state folder where not given.
        is_named: whether ``study`` is a place that the study is to be opened from again.
        beside: whether it may be kept beside the study where nothing else can be had.

    Attributes:
        on_news: called, mostly from another thread, when :attr:`keeping` is another than before.
    """

    def __init__(
        self,
        study: FilePath,
        base: str,
        folder: FilePath | None = None,
        *,
        is_named: bool = True,
        beside: bool = True,
    ) -> None:
        self.base = base
        self.on_news: Callable[[], None] = _nobody
        # Told from the root on: the folder that its name is told from may be removed meanwhile.
        self._study = FilePath(os.path.realpath(study))
        self._is_named = is_named
        self._own = self._study if beside and is_named else None
        self._name = f"{kept_name(study)}-{this_process()}{SUFFIX}"
        self._places = places(self._own, folder)
        self.path = self._places[0] / self._name
        """Where it is kept, or is to be."""
        self._noted = self._written = self._tried = _Noted(None, base)
        self._fault: OSError | None = None
        self._instead_of: list[FilePath] = []
        self._change = threading.Condition()
        # A signal may come while its own thread writes, and writes then, whole, within that.
        self._write = threading.RLock()
        self._closed = False
        self._thread = threading.Thread(target=self._keep_up, daemon=True)
        self._thread.start()

    # -- what is told ------------------------------------------------------------------

    @property
    def keeping(self) -> Keeping:
        """How safe is what was noted."""
        folder = self.path.parent
        return Keeping(
            self._written == self._noted,
            self._fault,
            None if folder == self._places[0] else folder,
        )

    # -- what is to be kept ------------------------------------------------------------

    def note(self, draft: Draft | None, *, instead_of: FilePath | None = None) -> None:
        """Remember a draft that is not saved; None once the file has everything.

        A draft is never changed, so that its text may be made by whoever writes it. ``instead_of``
        is what an earlier session kept of the same, which goes once this is on the disk.
        """
        # Loaded now and not with the first text, which a signal handler may ask for.
        from whatif.study.file import writing as _writing  # noqa: F401 - only loaded

        with self._change:
            self._noted = _Noted(draft, self.base)
            if instead_of is not None:
                self._instead_of.append(instead_of)
            self._change.notify()

    def flush(self) -> bool:
        """Write what has been handed over, now; may be called from a signal handler.

        Returns whether it is on the disk.
        """
        # The thread may hold the lock in the middle of the same writing; then it finishes it.
        if self._write.acquire(timeout=_PATIENCE):
            try:
                self._settle(self._noted)
            finally:
                self._write.release()
        return self._written == self._noted

    def close(self) -> None:
        """Stop, with the disk as the last note says."""
        with self._change:
            self._closed = True
            self._change.notify()
        self._thread.join(timeout=_PATIENCE)
        self.flush()

    # -- writing -----------------------------------------------------------------------

    def _keep_up(self) -> None:
        clear_unfinished(self._places[0])
        while True:
            with self._change:
                self._change.wait_for(
                    lambda: self._closed or self._noted is not self._tried,
                    timeout=AGAIN if self._fault is not None else None,
                )
                if self._closed:
                    return
                noted = self._noted
            with self._write:
                self._settle(noted)

    def _settle(self, noted: _Noted) -> None:
        """Have the disk say what was noted, and tell where that is news."""
        before = self._fault is None, self._written
        self._tried = noted
        if noted != self._written or self._fault is not None:
            self._fault = self._put(noted)
        if self._fault is None:
            self._written = noted
            self._clear_old()
        if before != (self._fault is None, self._written):
            self.on_news()

    def _put(self, noted: _Noted) -> OSError | None:
        """Write or remove; why that cannot be done anywhere, None where it is."""
        if noted.draft is None:
            return self._remove(self.path)
        from whatif.study.file.writing import to_text

        content = (self._head(noted.base) + to_text(noted.draft)).encode()
        first: OSError | None = None
        for folder in self._places:
            path = folder / self._name
            try:
                make_place(folder, self._own)
                replace_file(path, content, like=self._own)
            except OSError as fault:
                first = first or fault
                continue
            if path != self.path:
                self._remove(self.path)
                self.path = path
            return None
        return first

    def _head(self, base: str) -> str:
        place = json.dumps(str(self._study)) if self._is_named else ""
        return f"{HEAD}{base} in {place}\n" if place else f"{HEAD}{base}\n"

    def _clear_old(self) -> None:
        while self._instead_of:
            self._remove(self._instead_of.pop())

    def _remove(self, path: FilePath) -> OSError | None:
        try:
            path.unlink(missing_ok=True)
        except NotADirectoryError:
            return None  # in the place of its folder stands a file
        except OSError as fault:
            return fault
        return None


def head_told(head: str) -> tuple[str, FilePath | None] | None:
    """The fingerprint and the study's place that a first line tells; None where it is no such."""
    if not head.startswith(HEAD):
        return None
    base, _, place = head.removeprefix(HEAD).rstrip("\r").partition(" in ")
    with suppress(ValueError):
        named = json.loads(place) if place else None
        if named is None or isinstance(named, str):
            return base, None if named is None else FilePath(named)
    return None
