"""A plot as rows of spans: its inks in tones, each cell with what a click on it does."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import groupby

from whatif.screens.widgets.drawing import Span, SpanRow, Spot, Tone, right_in, row
from whatif.telling.plot import AXIS, LABEL, ZERO, Inked, Placed, Plot

_TONES: Mapping[str, Tone] = {AXIS: "faint", ZERO: "faint", LABEL: "dim", "": "plain"}
"""Tones of what is in every plot."""


def nowhere(_column: int) -> Spot:
    """No click does anything."""
    return ""


def plotted(
    plot: Plot, gutter: int, tones: Mapping[str, Tone], spot: Callable[[int], Spot] = nowhere
) -> list[SpanRow]:
    """The rows of a plot, labels in ``gutter`` cells; ``spot`` is of a column, -1 the axis."""
    inks = {**_TONES, **tones}

    def tone(cell: Inked) -> Tone:
        return "chosen" if cell.lit else inks[cell.ink]

    rows = []
    for label, cells in zip(plot.labels, plot.rows, strict=True):
        looks = [(tone(cell), spot(at - 1)) for at, cell in enumerate(cells)]
        spans = []
        for look, run in groupby(range(len(cells)), looks.__getitem__):
            spans.append(Span("".join(cells[at].sign for at in run), *look))
        rows.append(row(right_in(f"{label} ", gutter, "dim"), *spans))
    return rows


def placed_row(
    begins: Span,
    placed: list[Placed],
    tones: Mapping[str, Tone],
    spot: Callable[[int], Spot] = nowhere,
) -> SpanRow:
    """Texts at their columns, behind what the row begins with and the cell of the axis."""
    inks, spans, at = {**_TONES, **tones}, [begins, Span(" ")], 0
    for text in placed:
        spans.append(Span(" " * (text.begin - at)))
        tone: Tone = "chosen" if text.word.lit else inks[text.word.ink]
        spans.append(Span(text.word.text, tone, spot(text.word.column)))
        at = text.end
    return tuple(spans)
