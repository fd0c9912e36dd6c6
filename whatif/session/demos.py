"""The demo studies, wherever this copy of the program keeps them."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path as FilePath

import whatif
from whatif.study.file.reading import StudyError, read_file

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


def _demo(path: FilePath) -> Demo:
    draft = read_file(path).draft
    title = draft.head.get("title")
    lines = (line.lstrip("# ").rstrip() for line in draft.preamble.splitlines())
    return Demo(path, title if isinstance(title, str) and title else path.stem, " ".join(lines))
