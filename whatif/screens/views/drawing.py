"""What a view draws: rows of spans of text, each in a tone; no widget and no colour yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Literal, get_args

from rich.cells import cell_len

from whatif.answers.states import IN_CYCLE, STATE_ROWS, StateFamily
from whatif.screens.widgets.columns import cut, right, wrapped
from whatif.telling.week.lanes import Of
from whatif.telling.week.signs import CUTS, CUTS_MOST

Tone = Literal[
    "plain", "title", "dim", "gain", "loss", "chosen", "accent", "caution",
    # Kinds of time, for bars: cutting, people's work, waiting, and nobody there.
    "cutting", "serving", "waiting", "resting",
]  # fmt: skip
"""How a span is coloured; whatever a tone tells, a sign or a word beside it tells too."""


@dataclass(frozen=True, slots=True)
class Span:
    """A text in a tone; a click on it touches its ``spot``, if it has one."""

    text: str
    tone: Tone = "plain"
    spot: str = ""


SpanRow = tuple[Span, ...]


def row(*spans: Span | str) -> SpanRow:
    """A row of spans; plain texts may stand as they are."""
    return tuple(Span(span) if isinstance(span, str) else span for span in spans)


def left_in(text: str, width: int, tone: Tone = "plain", spot: str = "") -> Span:
    """A text at the left of exactly ``width`` cells, its end marked where it is cut."""
    return Span(cut(text, max(0, width)), tone, spot)


def right_in(text: str, width: int, tone: Tone = "plain", spot: str = "") -> Span:
    """A text at the right of exactly ``width`` cells."""
    return Span(right(text, max(0, width)), tone, spot)


def beside(column: Sequence[Span], width: int, gap: str, rows: Sequence[SpanRow]) -> list[SpanRow]:
    """A column of ``width`` cells, a gap, and rows on its right."""
    pairs = zip_longest(column, rows)
    return [row(here or left_in("", width), gap, *(there or ())) for here, there in pairs]


def paragraph(text: str, width: int, tone: Tone = "plain", indent: int = 0) -> list[SpanRow]:
    """A text in as many rows as it needs, broken between words."""
    room = max(8, width - indent)
    rows: list[SpanRow] = []
    for part in text.split("\n"):
        lines = max(1, -(-2 * cell_len(part) // room) + 1)
        found = [line for line in wrapped(part, room, lines) if line]
        rows += [row(Span(" " * indent), Span(line, tone)) for line in found or [""]]
    return rows


_BLOCKS = {CUTS: "█", CUTS_MOST: "▒"}
"""What stands out on a screen in place of a sign that is drawn as text elsewhere."""

_FAMILIES: tuple[StateFamily, ...] = get_args(StateFamily)

_TONES: dict[Of, dict[Tone, str]] = {
    Of.PEOPLE: {"serving": "0123456789*", "resting": "b>."},
    Of.PERSON: {"serving": "lap!", "waiting": "_", "resting": "b."},
    Of.MACHINE: {
        family: "".join(row.letter for row in STATE_ROWS.values() if row.family == family)
        + (CUTS_MOST if family == STATE_ROWS[IN_CYCLE].family else "")
        for family in _FAMILIES
    },
    Of.LOADED: {"cutting": "123456789*", "resting": "."},
    Of.PALLET: {"cutting": "#", "serving": "lcir", "waiting": "fhwe_", "resting": "b."},
}


def block(sign: str) -> str:
    """The sign as a screen draws it."""
    return _BLOCKS.get(sign, sign)


def tone_of(of: Of, sign: str) -> Tone:
    """The tone of a sign in a lane of that sort."""
    return next(tone for tone, signs in _TONES[of].items() if sign in signs)
