"""What the start screen asks of the program around it."""

from __future__ import annotations

from pathlib import Path as FilePath
from typing import Protocol

from whatif.session.kept.recovery import Left
from whatif.session.opened import Demo


class StartHost(Protocol):
    """The program: it opens and begins studies."""

    def open_path(self, path: FilePath) -> str:
        """Open a file, or offer to begin it; what is wrong, in words."""

    def open_demo(self, demo: Demo) -> str:
        """Open a copy of a demo study; what is wrong, in words."""

    def begin_empty(self, path: FilePath | None = None) -> None:
        """Begin a study with nothing in it."""

    def ask_questions(self, path: FilePath | None = None) -> None:
        """Begin a study with the ten questions."""

    def take_up(self, left: Left) -> None:
        """Go on with what an earlier session could not save."""
