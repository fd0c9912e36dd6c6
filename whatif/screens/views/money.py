"""Money: a year, what has to be laid out, and when it comes back."""

from __future__ import annotations

from typing import ClassVar

from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.answers.compare import Answer
from whatif.screens.views.view import Look, View, ViewHost, caution_rows, no_answer
from whatif.screens.widgets.drawing import Span, SpanRow, Tone, left_in, paragraph, right_in, row
from whatif.telling.amounts import grouped
from whatif.telling.money import (
    BACK,
    NO_MONEY,
    CashRow,
    MoneyBlock,
    cash_curve,
    money_blocks,
    money_sentences,
)
from whatif.telling.orders import PromisedRow, Sense
from whatif.telling.warnings import gap_sentence

_TONES: dict[Sense, Tone] = {"plain": "plain", "good": "gain", "bad": "loss", "none": "dim"}

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

    name: ClassVar[str] = "money"
    title: ClassVar[str] = "Money"
    asks: ClassVar[str] = "what a year brings, what has to be laid out"
    reads: ClassVar[str] = """\
First what a year brings in each scenario, then what has to be laid out against the reference,
then when it comes back. A year is counted on what is sold: pieces that nobody asked for bring
nothing. The curve adds up the chosen scenario's years; where it crosses the line the money is
back."""
    keys: ClassVar[str] = """\
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
    def touch(self, spot: str, look: Look, host: ViewHost) -> bool:
        """A key's word, or a column to choose its scenario."""
        if spot in ("b", "g", "v"):
            return self.press(spot, look, host)
        host.choose(spot)
        return True

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
        reference, answer = look.answers.get(look.reference or ""), look.answer
        if reference is None or answer is None:
            return no_answer(look, width)
        if all(other.money is None for other in look.answers.values()):
            return [row(Span(" Money   ", "title"), Span("g a contribution", "dim", "g")),
                    *paragraph(NO_MONEY, width, "plain", indent=1)]  # fmt: skip
        warned = [
            line
            for gap in answer.money_gaps
            for line in paragraph(f"! {gap_sentence(gap)}", width - 1, "loss", indent=1)
        ]
        head, *rest = self._body(look, answer, reference, width, height - len(warned))
        return [head, *warned, *rest]

    def _body(
        self, look: Look, answer: Answer, reference: Answer, width: int, height: int
    ) -> list[SpanRow]:
        """Its head, and what stands below it."""
        said = money_sentences(answer, reference, look.title_of(look.reference or ""))
        words = [
            line for sentence in said for line in paragraph(sentence, width, "accent", indent=1)
        ]
        table = self._table(look, reference)
        rest = height - 2 - len(table) - len(words)
        if rest >= _CURVE_LEAST:
            years = self._curve(look, width, min(_CURVE_MOST, rest))
            rows = [self._head(""), *table, row(""), *words, *years]
            return rows + caution_rows(look, (Danger.MACHINES,), width, height - len(rows))
        if self._years:
            first = paragraph(said[0], width, "accent", indent=1)
            more = words[len(first) :]
            low = height < _LOW
            years = self._curve(look, width, height - 2 - len(first if low else words))
            above, below = (first, more) if low else (words, [])
            rows = [self._head("b the table"), *above, *years, *below]
            return rows + caution_rows(look, (Danger.MACHINES,), width, height - len(rows))
        # In few lines the table itself is the answer; what it means stands with the years.
        shown = words if rest >= 0 else []
        rows = [self._head("b over the years"), *table, *shown]
        return rows + caution_rows(look, (Danger.MACHINES,), width, height - len(rows))

    def _head(self, other: str) -> SpanRow:
        return row(
            Span(" Money   ", "title"),
            Span(f"{other}  " if other else "", "accent", "b"),
            Span("g a contribution  ", "dim", "g"),
            Span("v the wage", "dim", "v"),
        )

    def _table(self, look: Look, reference: Answer) -> list[SpanRow]:
        answers = [look.answers.get(look.ids[i]) for i in look.columns.visible]
        rows: list[SpanRow] = []
        for block in money_blocks(answers, reference):
            rows += self._block(look, block)
        return rows

    def _block(self, look: Look, block: MoneyBlock) -> list[SpanRow]:
        if not block.rows:
            return []
        title = row(Span(f" {block.title}", "title"))
        return [title, *(self._row(look, line) for line in block.rows)]

    def _row(self, look: Look, line: PromisedRow) -> SpanRow:
        cells = [
            right_in(said.text, look.columns.width, _TONES[said.sense], look.ids[i])
            for i, said in zip(look.columns.visible, line.cells, strict=True)
        ]
        return row(left_in(f"   {line.label}", look.columns.label), *cells)

    def _curve(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The chosen scenario's cash over the years; a word where there is none to draw."""
        answer = look.answer
        prices = None if answer is None else answer.plan.prices
        money = None if answer is None else answer.money
        if money is None or prices is None:
            return []
        if look.chosen == look.reference:
            text = "The curve is of what another scenario brings: < and > choose one."
            return paragraph(text, width, "dim", indent=1)
        years = float(prices.years)
        if years <= 0:
            text = "No years are counted: 'years' under 'money' says how many."
            return paragraph(text, width, indent=1)
        curve = cash_curve(
            money.capital, money.year_gain, years, money.payback_years,
            width - _LABEL - 4, height - 3,
        )  # fmt: skip
        title = f" Come in less laid out; a row is {money.currency} {grouped(curve.row_stands_for)}"
        if curve.has_back:
            title += f"; {BACK} back after {money.payback_years:.1f} years"
        without = row(Span(title, "title"), Span(_WITHOUT if width >= _WIDE else "", "dim"))
        return [without, *(self._bar(year) for year in curve.rows)]

    def _bar(self, year: CashRow) -> SpanRow:
        tone = _TONES[year.sense]
        return row(right_in(year.label, _LABEL, "dim"), " ", Span(year.cells, tone))
