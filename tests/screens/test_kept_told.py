"""What the desk says of changes that are not saved: not safe, kept elsewhere, kept again."""

from __future__ import annotations

import errno
from pathlib import Path

from desk_host import host_of
from small_study import STUDY

from whatif.session.kept.recovery import Keeping


def test_that_they_are_not_safe_is_told_as_long_as_it_holds(tmp_path: Path) -> None:
    host = host_of(tmp_path, STUDY)
    file = host.controllers.file
    host.program.keeping = Keeping(False, OSError(errno.ENOSPC, "full"))
    assert file.look_whether_kept()
    assert "not safe: the disk is full" in host.state.notice
    host.program.keeping = Keeping()
    assert file.look_whether_kept()
    assert (file.kept_mark, host.state.notice) == (", safe", "")


def test_what_was_said_since_then_stays(tmp_path: Path) -> None:
    host = host_of(tmp_path, STUDY)
    host.program.keeping = Keeping(False, OSError(errno.ENOSPC, "full"))
    host.controllers.file.look_whether_kept()
    host.state.notice = "Something else."
    host.program.keeping = Keeping()
    assert host.controllers.file.look_whether_kept()
    assert host.state.notice == "Something else."
