"""An account in rows, and the rows in pages that fill the room there is."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len

from whatif.answers.account.origins import See
from whatif.screens.widgets.drawing import Span, SpanRow, Tone, paragraph, row
from whatif.telling.account.pages import ReadLine, Section

_TONES: dict[str, Tone] = {"plain": "plain", "dim": "dim", "wrong": "loss"}

_VALUE = 26
"""Cells that the column of values is at most wide; a longer one pushes its label."""

_WORTH_BEGINNING = 4
"""Rows that must be left on a page for a section to begin there that does not end there."""

_ROOMY = 10
"""Rows of a page from which sections are set apart by an empty row."""

SEES = "sees:"
"""What the spot of a number that leads on to another figure begins with."""


def leads(found: Sequence[Section]) -> list[See]:
    """Where the numbers of an account lead on to, in reading order."""
    return [line.sees for section in found for line in section.lines if line.sees is not None]


def section_rows(found: Sequence[Section], width: int, marked: int) -> list[list[SpanRow]]:
    """Each section as rows; numbers that lead on have spots, the marked one its sign."""
    laid: list[list[SpanRow]] = []
    count = 0
    for section in found:
        rows = [row(Span(section.title, "title"))] if section.title else []
        values = [cell_len(line.value) for line in section.lines]
        room = max((long for long in values if long <= _VALUE), default=0)
        for line in section.lines:
            if line.value:
                rows += _number(line, room, width, count, marked)
            else:
                rows += _text(line, width)
            count += line.sees is not None
        laid.append(rows)
    return laid


def _text(line: ReadLine, width: int) -> list[SpanRow]:
    indent = 2 * line.depth
    # What goes over to a next row stands behind its dash or equals sign.
    hang = 2 if line.text[:2] in ("- ", "= ") else 0
    rows = paragraph(line.text, width - hang, _TONES[line.tone], indent)
    return rows[:1] + [row(" " * hang, *spans) for spans in rows[1:]]


def _number(line: ReadLine, room: int, width: int, count: int, marked: int) -> list[SpanRow]:
    indent = 2 * line.depth
    if line.sees is None:
        head = Span(f"{' ' * indent}{line.value:>{room}}  ")
        spot, tone = "", "plain"
    else:
        spot, tone = f"{SEES}{count}", "chosen" if count == marked else "accent"
        sign = "> " if count == marked else "  "
        head = Span(f"{' ' * (indent - 2)}{sign}{line.value:>{room}}  ", "plain", spot)
    taken = cell_len(head.text)
    rows = paragraph(line.text, width, "plain", taken)
    toned: Tone = "chosen" if tone == "chosen" else "accent" if spot else "plain"
    first = row(head, *(Span(span.text, toned, spot) for span in rows[0][1:]))
    return [first, *rows[1:]]


def pages(laid: Sequence[Sequence[SpanRow]], height: int) -> list[list[SpanRow]]:
    """Rows in pages of at most ``height``; a section may go on on the next."""
    tight = height < _ROOMY
    found: list[list[SpanRow]] = [[]]
    for rows in laid:
        gap = bool(found[-1]) and not tight
        left = height - len(found[-1]) - gap
        if len(rows) > left and left < (2 if tight else _WORTH_BEGINNING):
            found.append([])
            gap = False
        if gap:
            found[-1].append(row(""))
        for spans in rows:
            if len(found[-1]) == height:
                found.append([])
            found[-1].append(spans)
    return found


def page_of(found: Sequence[Sequence[SpanRow]], spot: str) -> int | None:
    """The page on which a spot stands."""
    for i, page in enumerate(found):
        if any(piece.spot == spot for spans in page for piece in spans):
            return i
    return None
