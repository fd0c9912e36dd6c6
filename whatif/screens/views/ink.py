"""What a view draws: rows of pieces of text, each in a tone; no widget and no colour yet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rich.cells import cell_len

from whatif.screens.widgets.columns import cut, right, wrapped

Tone = Literal[
    "plain", "title", "dim", "gain", "loss", "chosen", "accent", "caution",
    # Kinds of time, for bars: cutting, people's work, waiting, and nobody there.
    "cutting", "serving", "waiting", "resting",
]  # fmt: skip
"""How a piece is coloured; whatever a tone tells, a sign or a word beside it tells too."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A text in a tone; a click on it touches its ``spot``, if it has one."""

    text: str
    tone: Tone = "plain"
    spot: str = ""


Row = tuple[Piece, ...]


def row(*pieces: Piece | str) -> Row:
    """A row of pieces; plain texts may stand as they are."""
    return tuple(Piece(one) if isinstance(one, str) else one for one in pieces)


def left_in(text: str, width: int, tone: Tone = "plain", spot: str = "") -> Piece:
    """A text at the left of exactly ``width`` cells, its end marked where it is cut."""
    return Piece(cut(text, max(0, width)), tone, spot)


def right_in(text: str, width: int, tone: Tone = "plain", spot: str = "") -> Piece:
    """A text at the right of exactly ``width`` cells."""
    return Piece(right(text, max(0, width)), tone, spot)


def paragraph(text: str, width: int, tone: Tone = "plain", indent: int = 0) -> list[Row]:
    """A text in as many rows as it needs, broken between words."""
    room = max(8, width - indent)
    rows: list[Row] = []
    for part in text.split("\n"):
        lines = max(1, -(-2 * cell_len(part) // room) + 1)
        found = [line for line in wrapped(part, room, lines) if line]
        rows += [row(Piece(" " * indent), Piece(line, tone)) for line in found or [""]]
    return rows


def text_of(rows: list[Row]) -> str:
    """The rows as plain text."""
    return "\n".join("".join(piece.text for piece in one).rstrip() for one in rows)
