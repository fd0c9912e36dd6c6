"""Files that are either the old one or the new one, whatever happens in between."""

import os
import stat
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path as FilePath

from whatif.study.file.unfinished import unfinished_name


def _nothing() -> None:
    pass


def replace_file(
    path: FilePath,
    content: bytes,
    *,
    like: FilePath | None = None,
    before_that: Callable[[], None] = _nothing,
) -> None:
    """Put `content` in the place of the file at `path`, or make it; raises OSError.

    Until the last step the old file stays as it is, and on any failure there is
    no other trace. Permission bits are kept, or are those of `like`. `path` must not be
    a link: replacing a link would leave what it points to as it was. `before_that` is
    called right before the last step, when the content is on the disk, and may raise.
    """
    before = _seen(like or path)
    temporary = unfinished_name(path)
    try:
        _fill(_opened_new(temporary), content, before)
        before_that()
        os.replace(temporary, path)
    except BaseException:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise
    _settle_folder(path.parent)


def add_file(path: FilePath, content: bytes, like: FilePath) -> None:
    """Make a file that is not there yet, with the permission bits of `like`; raises OSError."""
    temporary = unfinished_name(path)
    try:
        _fill(_opened_new(temporary), content, like.stat())
        _put_where_nothing_is(temporary, path)
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
    _settle_folder(path.parent)


def _put_where_nothing_is(temporary: FilePath, path: FilePath) -> None:
    try:
        os.link(temporary, path)
    except FileExistsError:
        raise
    except OSError:
        # A disk without second names: between the look and the step somebody might make it.
        if os.path.lexists(path):
            raise FileExistsError(path) from None
        os.replace(temporary, path)


def _seen(path: FilePath) -> os.stat_result | None:
    try:
        return path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return None


def _opened_new(path: FilePath) -> int:
    # Made with the usual bits rather than by tempfile, whose files nobody else may read.
    return os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)


def _fill(descriptor: int, content: bytes, before: os.stat_result | None) -> None:
    """Write everything to an open file and see it to the disk; closes it."""
    with os.fdopen(descriptor, "wb") as file:
        if before is not None:
            _take_after(descriptor, before)
        file.write(content)
        file.flush()
        os.fsync(descriptor)


def _take_after(descriptor: int, before: os.stat_result) -> None:
    """Owner, group and permission bits of the file before, as far as they may be given."""
    if hasattr(os, "fchown"):
        with suppress(OSError):
            os.fchown(descriptor, before.st_uid, before.st_gid)
    if hasattr(os, "fchmod"):
        os.fchmod(descriptor, stat.S_IMODE(before.st_mode))


def _settle_folder(folder: FilePath) -> None:
    """See a renamed file's name to the disk, where the system lets a folder be opened.

    The new file is in its place already, so a failure here is none of the writing.
    """
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
