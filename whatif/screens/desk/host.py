"""What the desk asks of the program around it."""

from __future__ import annotations

from typing import Protocol

from whatif.session.calculate.requests import Question
from whatif.study.draft import Draft


class Host(Protocol):
    """The program: it has drafts answered, and keeps unsaved ones safe."""

    def ask(self, revision: int, draft: Draft, question: Question | None) -> None:
        """Have a draft and a question on it answered; replies come with the same revision."""

    def saved(self, base: str) -> None:
        """The file has everything; ``base`` is its fingerprint now."""

    def note(self, draft: Draft | None) -> None:
        """Keep an unsaved draft safe; None once the file has everything."""

    def show_start(self) -> None:
        """Close the study and show what can be opened."""
