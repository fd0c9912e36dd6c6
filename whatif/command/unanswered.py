"""What a command says where it has no answer."""

from __future__ import annotations

TYPE_CHECKING = False  # as `typing` has it, which help has no other need of
if TYPE_CHECKING:
    # Not at run time: help is told without what answers are made of.
    from whatif.reports.document import Document


class NotAnswered(Exception):
    """Why there is none, line by line; ``document`` tells it to other programs, where one does."""

    def __init__(self, *lines: str, document: Document | None = None) -> None:
        super().__init__(*lines)
        self.lines = lines
        self.document = document


class Misput(Exception):
    """The command line has too much or too little in it."""
