"""The desk's eye on the file: whether somebody else has changed it meanwhile."""

from __future__ import annotations

import os

from whatif.screens.desk.desk import Desk
from whatif.session.session import NO_FILE, OnDisk

EVERY = 2.0
"""Seconds between two looks; a look is one call of the system while nothing changes."""

_Stamp = tuple[str, int, int, int]


class WatchHands(Desk):
    """What notices that the file is no longer the one that was read."""

    _stamp: _Stamp | None = None
    _seen: OnDisk = OnDisk.SAME

    def on_mount(self) -> None:
        """Begin to look."""
        self._stamp = self._stamp_now()
        self._look_again()
        self.set_interval(EVERY, self.look_at_file)

    def look_at_file(self) -> None:
        """Tell it where the file has been changed, or has gone, since the last look."""
        stamp = self._stamp_now()
        if stamp == self._stamp:
            return
        self._stamp = stamp
        if self._look_again():
            self.repaint()

    def _look_again(self) -> bool:
        """Whether what has become of the file is something else than at the last look."""
        before, self._seen = self._seen, self.session.on_disk()
        name = self.session.path.name
        if self._seen is before:
            # Another content than before is worth telling again.
            before = OnDisk.SAME
        if self._seen is OnDisk.CHANGED:
            self.notice = f"{name} was changed by somebody else; f takes the file as it is now."
        elif self._seen is OnDisk.GONE:
            self.notice = f"{name} is not there any more; w writes it again."
        return self._seen is not before

    def file_words(self) -> str:
        """See `Board`."""
        if self._seen is OnDisk.SAME:
            return ""
        return "  ! file changed: f" if self._seen is OnDisk.CHANGED else "  ! file gone: w"

    def in_step(self) -> None:
        """File and screen have just become the same."""
        self.host.saved(self.session.base)
        self._stamp = self._stamp_now()
        self._seen = OnDisk.SAME

    def _stamp_now(self) -> _Stamp | None:
        """What the system tells of the file without reading it; None where it is not there."""
        if self.session.base == NO_FILE:
            return None
        path = self.session.path
        try:
            found = os.stat(path)
        except OSError:
            return None
        return (str(path), found.st_mtime_ns, found.st_size, found.st_ino)
