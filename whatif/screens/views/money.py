"""Money: a year, what has to be laid out, and when it comes back."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.answers.money.flows import brought
from whatif.screens.views.view import Look, View, ViewHost, across_said, caution_rows, no_answer
from whatif.screens.widgets.drawing import (
    SENSES,
    Span,
    SpanRow,
    key_spans,
    paragraph,
    right_in,
    row,
)
from whatif.telling.amounts import grouped, number
from whatif.telling.money.blocks import money_blocks
from whatif.telling.money.curve import BACK, cash_curve
from whatif.telling.money.ranges import leading_returns, money_standing
from whatif.telling.money.sentences import NO_MONEY, money_sentences
from whatif.telling.warnings import gap_sentence

_LABEL = 13
"""Cells for the amounts beside the curve."""

_CURVE_LEAST, _CURVE_MOST = 10, 16
"""Rows that the curve needs with its heading, and those from which more would tell no more."""

_LOW = 16
"""Rows of the view below which most of what is said in words stands below the years."""

_WIDE = 100
_WITHOUT = "   without interest; a year's amount comes in evenly"


class MoneyView(View):
    """A table below the strip's columns; the chosen scenario's cash over the years as bars."""

    name = "money"
    in_columns = True
    reads = """\
First what a year brings in each scenario, then what has to be laid out against the reference,
then when it comes back. A year is counted on what is sold: pieces that nobody asked for bring
nothing. The curve adds up the chosen scenario's years; where it crosses the line the money is
back."""
    keys = """\
b    the table, or the chosen scenario's cash over the years
g    the contribution, part after part, for the whole shop
v    edit the wage, for the whole shop"""

    def __init__(self) -> None:
        self._years = False

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn between table and years, or edit what money begins with."""
        if key == "b":
            self._years = not self._years
        elif key == "v":
            host.edit_for_all(("money", "wage"))
        elif key == "g":
            self._edit_contribution(look, host)
        else:
            return False
        return True

    def _edit_contribution(self, look: Look, host: ViewHost) -> None:
        """Of the part after the one whose contribution is under the cursor, or of the first."""
        parts = () if look.answer is None else look.answer.plan.parts
        if not parts:
            host.tell("There is no part yet: n adds one.")
            return
        made = [part.id for part in parts if part.place is not None]
        paths = [("part", part, "contribution") for part in made or [part.id for part in parts]]
        at = paths.index(look.under) if look.under in paths else -1
        host.edit_for_all(paths[(at + 1) % len(paths)])

    @override
    def figure(self, look: Look) -> str:
        """When the money is back, or where there is no such time, what a year brings."""
        money = None if look.answer is None else look.answer.money
        if money is None:
            return "money"
        if look.chosen == look.reference:
            return "money.year"
        back = money.payback_years
        return "money.year_gain" if back is None else "money.payback_years"

    # -- drawing -------------------------------------------------------------------------

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """Table or years; both where there is room."""
        reference, answer = look.base, look.answer
        if reference is None or answer is None:
            return no_answer(look, width)
        if all(other.money is None for other in look.answers.values()):
            head = row(Span(" Money ", "title"), *key_spans("  g a contribution"))
            return [head, *paragraph(NO_MONEY, width)]
        warned = [
            line
            for gap in answer.money_gaps
            for line in paragraph(f"! {gap_sentence(gap)}", width - 1, "loss")
        ]
        said = money_sentences(answer, look.title_of(look.reference or ""))
        words = paragraph("\n".join(said), width, "accent")
        table = self._table(look)
        room = height - len(warned) - 2
        rest = room - len(table) - len(words)
        if rest >= _CURVE_LEAST:
            years = self._curve(look, width, min(_CURVE_MOST, rest))
            head, body = self._head(), [*table, row(""), *words, *years]
        elif self._years:
            above = len(paragraph(said[0], width)) if room + 2 < _LOW else len(words)
            years = self._curve(look, width, room - above)
            head, body = self._head("  b the table"), [*words[:above], *years, *words[above:]]
        else:
            # In few lines the table itself is the answer; what it means stands with the years.
            meaning = _as_many(said, width, room - len(table))
            head, body = self._head("  b over the years"), [*table, *meaning]
        rows = [head, *warned, *body]
        return rows + caution_rows(look, (Danger.MACHINES, Danger.PALLETS), width)

    def _head(self, *other: str) -> SpanRow:
        return row(
            Span(" Money ", "title"),
            *key_spans(*other, tone="accent"),
            *key_spans("  g a contribution", "  v the wage"),
        )

    def _table(self, look: Look) -> list[SpanRow]:
        rows: list[SpanRow] = []
        for block in money_blocks([look.answers.get(id_) for id_ in look.shown]):
            rows += [row(Span(f" {block.title}", "title"))] if block.rows else []
            rows += [across_said(look, f"   {line.label}", line.cells) for line in block.rows]
        return rows

    def _curve(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The chosen scenario's cash over the years; a word where there is none to draw."""
        answer = look.answer
        prices = None if answer is None else answer.plan.prices
        money = None if answer is None else answer.money
        if answer is None or money is None or prices is None:
            return []
        if look.chosen == look.reference:
            text = "The curve is of what another scenario brings: < and > choose one."
            return paragraph(text, width, "dim")
        years = float(prices.years)
        if years <= 0:
            text = "No years are counted: 'years' under 'money' says how many."
            return paragraph(text, width)
        stands = money_standing(money, answer.likely_money)
        if stands == "unclear":
            return paragraph("What a year brings more is not clear, so there is no curve.", width)
        drawn = leading_returns(money, answer.likely_money)
        come_in = partial(brought, drawn.year_gain, float(prices.ramp))
        curve = cash_curve(
            money.more_capital, come_in, years, drawn.payback_years,
            width - _LABEL - 4, height - 3,
        )  # fmt: skip
        title = f" Come in less laid out; a row is {money.currency} {grouped(curve.row_stands_for)}"
        if curve.has_back:
            title += f"; {BACK} back after {number(drawn.payback_years)} years"
        if stands == "outside":
            title += ", in the middle of the likely range"
        head = row(Span(title, "title"), Span(_WITHOUT if width >= _WIDE else "", "dim"))
        bars = (Span(year.cells, SENSES[year.sense]) for year in curve.rows)
        labels = (right_in(year.label, _LABEL, "dim") for year in curve.rows)
        return [head, *(row(label, " ", bar) for label, bar in zip(labels, bars, strict=True))]


def _as_many(said: Sequence[str], width: int, room: int) -> list[SpanRow]:
    """As many of some sentences, from the first on, as fit."""
    for many in range(len(said), 0, -1):
        rows = paragraph("\n".join(said[:many]), width, "accent")
        if len(rows) <= room:
            return rows
    return []
