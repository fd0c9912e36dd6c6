"""A study that is open: its session, what keeps it safe, and what an earlier one left of it."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from itertools import count
from pathlib import Path as FilePath

import whatif
from whatif.records import dataclass
from whatif.session.kept.left import Left, all_left, left_behind, throw_away
from whatif.session.kept.recovery import Recovery
from whatif.session.kept.state import StateLost, remember, state_folder
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
    return Opened(Session(read), recovery, _still_unsaved(path, read.draft, state))


def open_demo(demo: Demo, state: FilePath | None = None) -> Opened:
    """Open a copy of a demo study; its own file is never written. Raises :class:`StudyError`."""
    read = read_file(demo.path)
    return Opened(
        Session.begun(read.draft, free_name(demo.path.stem), needs_name=True),
        Recovery(demo.path, NO_FILE, state, beside=False),
        _still_unsaved(demo.path, read.draft, state),
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
    is_named = path is not None
    recovery = Recovery(path or _unnamed(state), NO_FILE, state, is_named=is_named)
    # What is left of one without a name is offered by the start screen, not by the next one.
    left = () if path is None else left_behind(path, state)
    return Opened(session, recovery, left, notice)


def take_up(left: Left, state: FilePath | None = None) -> Opened:
    """Go on with a study without a name that an earlier session could not save."""
    opened = begin_study(left.draft, None, state, is_work=True)
    # What is left goes only when it is safe in this session's own.
    opened.recovery.note(left.draft, instead_of=left.path)
    opened.recovery.flush()
    return replace(opened, notice=TAKEN_UP)


def open_unsaved(left: Left, state: FilePath | None = None) -> Opened:
    """Open the study that something is left of, so that it is offered; raises :class:`StudyError`.

    Where its file is gone it is begun anew, and a copy of a demo is a copy again.
    """
    study = left.study
    assert study is not None
    demo = next((each for each in demos() if os.path.realpath(each.path) == str(study)), None)
    if demo is not None:
        return open_demo(demo, state)
    return open_file(study, state) if study.exists() else begin_study(empty_study(), study, state)


def unnamed(state: FilePath | None = None) -> list[Left]:
    """Studies without a name that earlier sessions could not save, the newest first."""
    return left_behind(_unnamed(state), state)


def unsaved_studies(state: FilePath | None = None) -> list[Left]:
    """What earlier sessions could not save of studies that have a place, each study's newest."""
    newest: dict[FilePath, Left] = {}
    for left in all_left(state):
        if left.study is not None:
            newest.setdefault(left.study, left)
    return [left for left in newest.values() if not _holds(left)]


def _holds(left: Left) -> bool:
    """Whether the file has what was left of it: it was saved at the very end."""
    with suppress(StudyError):
        return left.study is not None and read_draft(left.study) == left.draft
    return False


def _still_unsaved(path: FilePath, draft: Draft, state: FilePath | None) -> list[Left]:
    """What earlier sessions left of a study that its file does not hold; the rest goes."""
    unsaved = []
    for left in left_behind(path, state):
        if left.draft == draft:
            throw_away(left)
        else:
            unsaved.append(left)
    return unsaved


def empty_study() -> Draft:
    """A study with one scenario and nothing in it."""
    head: Entries[str, Raw] = Entries({"format": 1, "title": "New study", "reference": "today"})
    return Draft(head, (ScenarioDraft("today", Entries({("title",): "Today"})),))


def why_not_new(path: FilePath) -> FileFault | None:
    """Why no study can be begun at a path; None where one can."""
    try:
        if path.exists():
            return FileFault(FileFaultKind.STUDY_IS_THERE, path)
        if not path.parent.is_dir():
            return FileFault(FileFaultKind.NO_FOLDER_FOR_STUDY, path)
    except OSError as fault:
        return FileFault(FileFaultKind.NO_PLACE, path, cause=fault)
    return None


def free_name(stem: str) -> FilePath:
    """A name in the present folder that no file has yet."""
    path, numbers = FilePath(f"{stem}.toml"), count(2)
    while path.exists():
        path = FilePath(f"{stem}-{next(numbers)}.toml")
    return path


def _unnamed(state: FilePath | None) -> FilePath:
    if state is None:
        try:
            state = state_folder()
        except StateLost:
            state = FilePath("/")
    return state / _NEW


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
