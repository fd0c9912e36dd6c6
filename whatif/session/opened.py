"""A study that is open: its session, what keeps it safe, and what an earlier one left of it."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from itertools import count
from pathlib import Path as FilePath

import whatif
from whatif.records import dataclass
from whatif.session.kept.recovery import Left, Recovery, left_behind
from whatif.session.kept.state import remember, state_folder
from whatif.session.session import NO_FILE, Session
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.file.reading import StudyError, read_draft, read_file
from whatif.study.raw import Entries, Raw
from whatif.study.refused import FileFault, FileFaultKind
from whatif.telling.study_file import DEMO_COPIED, TAKEN_UP

_NEW = "new study"
"""In the state folder: the place that unsaved studies without a name are kept under."""


@dataclass(frozen=True, slots=True)
class Opened:
    """What the desk works at.

    Attributes:
        left: what earlier sessions of the same file could not save, the newest first.
        notice: what its user is to be told first.
    """

    session: Session
    recovery: Recovery
    left: Sequence[Left] = ()
    notice: str = ""


def open_file(path: FilePath, state: FilePath | None = None) -> Opened:
    """Open a file, and remember it; raises :class:`StudyError`."""
    read = read_file(path)
    remember(path, state)
    recovery = Recovery(path, read.fingerprint, state)
    return Opened(Session(read), recovery, left_behind(path, state))


def open_demo(demo: Demo, state: FilePath | None = None) -> Opened:
    """Open a copy of a demo study; its own file is never written. Raises :class:`StudyError`."""
    read = read_file(demo.path)
    return Opened(
        Session.begun(read.draft, free_name(demo.path.stem), needs_name=True),
        Recovery(demo.path, NO_FILE, state),
        left_behind(demo.path, state),
        DEMO_COPIED,
    )


def begin_study(
    draft: Draft,
    path: FilePath | None = None,
    state: FilePath | None = None,
    *,
    notice: str = "",
    is_work: bool = False,
) -> Opened:
    """Begin a study, at a path where nothing is yet, or where it is named later.

    ``is_work`` tells that the draft itself would be a loss, were it not saved.
    """
    name = path or free_name("study")
    session = Session.begun(draft, name, needs_name=path is None, is_work=is_work)
    recovery = Recovery(path or _unnamed(state), NO_FILE, state)
    # What is left of one without a name is offered by the start screen, not by the next one.
    left = () if path is None else left_behind(path, state)
    return Opened(session, recovery, left, notice)


def take_up(left: Left, state: FilePath | None = None) -> Opened:
    """Go on with a study without a name that an earlier session could not save."""
    opened = begin_study(left.draft, None, state, is_work=True)
    opened.recovery.note(left.draft)
    opened.recovery.flush()
    return replace(opened, notice=TAKEN_UP)


def unnamed(state: FilePath | None = None) -> list[Left]:
    """Studies without a name that earlier sessions could not save, the newest first."""
    return left_behind(_unnamed(state), state)


def empty_study() -> Draft:
    """A study with one scenario and nothing in it."""
    head: Entries[str, Raw] = Entries({"format": 1, "title": "New study", "reference": "today"})
    return Draft(head, (ScenarioDraft("today", Entries({("title",): "Today"})),))


def why_not_new(path: FilePath) -> FileFault | None:
    """Why no study can be begun at a path; None where one can."""
    if path.exists():
        return FileFault(FileFaultKind.STUDY_IS_THERE, path)
    if not path.parent.is_dir():
        return FileFault(FileFaultKind.NO_FOLDER_FOR_STUDY, path)
    return None


def free_name(stem: str) -> FilePath:
    """A name in the present folder that no file has yet."""
    path, numbers = FilePath(f"{stem}.toml"), count(2)
    while path.exists():
        path = FilePath(f"{stem}-{next(numbers)}.toml")
    return path


def _unnamed(state: FilePath | None) -> FilePath:
    return (state_folder() if state is None else state) / _NEW


_PACKAGE = FilePath(whatif.__file__).parent
_PLACES = (_PACKAGE / "demo", _PACKAGE.parent / "scenarios")
"""In an installed copy; beside the package in a checkout."""


@dataclass(frozen=True, slots=True)
class Demo:
    """A demo study; ``about`` is the comment that its file begins with, as running text."""

    path: FilePath
    title: str
    about: str


def demos(places: tuple[FilePath, ...] = _PLACES) -> tuple[Demo, ...]:
    """The demo studies of the first place that has any, by their files' names."""
    for place in places:
        found = []
        with suppress(OSError):
            for path in sorted(place.glob("*.toml")):
                with suppress(StudyError):
                    found.append(_demo(path))
        if found:
            return tuple(found)
    return ()


_HEAD = 20_000
"""Bytes at the beginning of a file among which its title is looked for."""


def study_title(path: FilePath) -> str:
    """The title that a study's file says, "" where none is read; only its beginning is looked at.

    A list of files is drawn before any key is heeded: to read them wholly would take too long.
    """
    import tomllib

    with suppress(OSError, ValueError):
        with path.open("rb") as file:
            head = file.read(_HEAD).decode("utf-8-sig", errors="replace")
        before, _, _ = f"\n{head}".replace("\r\n", "\n").partition("\n[")
        title = tomllib.loads(before).get("title")
        if isinstance(title, str):
            return " ".join(title.split())
    return ""


def _demo(path: FilePath) -> Demo:
    draft = read_draft(path)
    title = draft.head.get("title")
    lines = (line.lstrip("# ").rstrip() for line in draft.preamble.splitlines())
    return Demo(path, title if isinstance(title, str) and title else path.stem, " ".join(lines))
