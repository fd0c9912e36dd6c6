"""The user's own state folder, and what is remembered in it: files opened lately, hints given,
colours chosen.

All of it is a convenience: whatever goes wrong with it, the program goes on without it.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path as FilePath

from platformdirs import user_state_path

from whatif.study.file.atomic import replace_file

MOST = 10
"""Files opened lately that are remembered."""

_NAME = "whatif"
_RECENT = "recent.json"
_HINT_GIVEN = "desk-seen"
_COLOURS = "colours"
_ANSWERS = "answers.json"


class StateLost(OSError):
    """The user has no folder of their own: no HOME, and the system knows none."""


def state_folder() -> FilePath:
    """Where programs keep their state for a user (XDG Base Directory Specification).

    A place that is not told from the root on is none, as the specification says. Raises
    :class:`StateLost`.
    """
    named = os.environ.get("XDG_STATE_HOME", "")
    if os.path.isabs(named):
        return FilePath(named) / _NAME
    try:
        home = FilePath.home()
    except (RuntimeError, KeyError):
        raise StateLost("there is no home folder") from None
    if not home.is_absolute():
        raise StateLost("the home folder is not told from the root on")
    # Here it lay on every system before; who has something in it finds it again.
    before = home / ".local" / "state" / _NAME
    if named or before.is_dir():
        return before
    return user_state_path(_NAME, appauthor=False)


def recent(folder: FilePath | None = None) -> tuple[FilePath, ...]:
    """The files opened lately that are still there, the newest first."""
    return tuple(path for path in _remembered(folder) if _is_there(path))


def missing(folder: FilePath | None = None) -> int:
    """How many files opened lately are not there now."""
    return sum(not _is_there(path) for path in _remembered(folder))


def remember(study: FilePath, folder: FilePath | None = None) -> None:
    """Put a file at the top of the list; where that cannot be written nothing happens."""
    place = FilePath(os.path.abspath(study))
    # A file that is missing now may be back: on a stick, on a drive of the network.
    others = [path for path in _remembered(folder) if path != place]
    paths = [str(path) for path in (place, *others)][:MOST]
    with suppress(OSError, RuntimeError, ValueError):
        _write(_RECENT, json.dumps(paths, indent=1), folder)


def is_first_time(folder: FilePath | None = None) -> bool:
    """Whether nobody has been told yet what the desk is; from now on somebody has.

    Where that cannot be kept nothing is told: a hint that comes back each time is worse than none.
    """
    with suppress(OSError, RuntimeError, ValueError):
        if _in(folder, _HINT_GIVEN).exists():
            return False
        _write(_HINT_GIVEN, "shown\n", folder)
        return True
    return False


def colours(folder: FilePath | None = None) -> str:
    """The set of colours that was chosen last; "" where none was."""
    with suppress(OSError, RuntimeError, ValueError):
        return _in(folder, _COLOURS).read_text("utf-8").strip()
    return ""


def remember_colours(name: str, folder: FilePath | None = None) -> None:
    """Begin with these colours from now on; where that cannot be written nothing happens."""
    with suppress(OSError, RuntimeError, ValueError):
        _write(_COLOURS, f"{name}\n", folder)


def answers_given(folder: FilePath | None = None) -> dict[str, str]:
    """The answers to the questions about a shop that no study has been made of yet, by question."""
    with suppress(OSError, RuntimeError, ValueError):
        given = json.loads(_in(folder, _ANSWERS).read_text("utf-8"))
        if isinstance(given, dict):
            return {id_: text for id_, text in given.items() if isinstance(text, str)}
    return {}


def remember_answers(given: Mapping[str, str], folder: FilePath | None = None) -> None:
    """Have those answers stand there at the next start; none are remembered where none are given.

    Where that cannot be written nothing happens.
    """
    with suppress(OSError, RuntimeError, ValueError):
        if any(given.values()):
            _write(_ANSWERS, json.dumps(dict(given), indent=1), folder)
        else:
            _in(folder, _ANSWERS).unlink(missing_ok=True)


def _in(folder: FilePath | None, name: str) -> FilePath:
    return (state_folder() if folder is None else folder) / name


def _write(name: str, text: str, folder: FilePath | None) -> None:
    path = _in(folder, name)
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    replace_file(path, text.encode())


def _remembered(folder: FilePath | None) -> list[FilePath]:
    with suppress(OSError, RuntimeError, ValueError):
        paths = json.loads(_in(folder, _RECENT).read_text("utf-8"))
        if isinstance(paths, list):
            return [FilePath(path) for path in paths if isinstance(path, str) and path][:MOST]
    return []


def _is_there(path: FilePath) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False
