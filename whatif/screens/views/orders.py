"""Promises: real orders against their due dates, and what a rush order does to other work."""

from __future__ import annotations

from typing import ClassVar

from typing_extensions import override

from whatif.screens.views.view import Look, View, ViewHost, no_answer
from whatif.screens.widgets.drawing import Span, SpanRow, Tone, left_in, paragraph, right_in, row
from whatif.telling.orders import PromisedRow, Sense, order_rows, rush_rows

_TONES: dict[Sense, Tone] = {"plain": "plain", "good": "gain", "bad": "loss", "none": "dim"}


class OrdersView(View):
    """Two tables below the strip's columns."""

    name: ClassVar[str] = "orders"
    title: ClassVar[str] = "Orders and rush jobs"
    asks: ClassVar[str] = "which orders are in time, what a rush costs"
    reads: ClassVar[str] = """\
Real orders with the hours at which their last piece is off, and by how much they are late. Rush
jobs go ahead of everything: the rows say how soon they are off, what hours other work loses by
it, and what the job must at least bring to be worth it."""

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> bool:
        """A click on a column chooses its scenario."""
        host.choose(spot)
        return True

    @override
    def figure(self, look: Look) -> str:
        """How late the first order is; without orders, what the first rush job loses."""
        plan = None if look.answer is None else look.answer.plan
        if plan is not None and plan.orders:
            return f"orders.{plan.orders[0].id}.late_hours"
        if plan is not None and plan.rush:
            return f"rush.{plan.rush[0].id}.lost_spindle_hours"
        return "orders"

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """Real orders, then rush orders; what to do where there are none."""
        answers = [look.answers.get(look.ids[i]) for i in look.columns.visible]
        if not any(answers):
            return no_answer(look, width)
        rows = [row(Span(" Orders with due dates: the last piece is off", "title"))]
        orders = order_rows(answers)
        rows += [self._row(look, line) for line in orders]
        if not orders:
            rows += paragraph(
                "None in this study: n adds an order with its pieces and its due date.",
                width, "dim", indent=1,
            )  # fmt: skip
        rows += [row(""), row(Span(" Rush jobs: ahead of everything from their arrival", "title"))]
        rushes = rush_rows(answers)
        rows += [self._row(look, line) for line in rushes]
        if not rushes:
            text = "None in this study: n adds a rush order."
            if any(answer is not None and answer.plan.rush for answer in answers):
                text = "They are being tried out ..."
            rows += paragraph(text, width, "dim", indent=1)
        elif not any(answer is not None and answer.money is not None for answer in answers):
            rows += paragraph(
                "What it must bring at least is told once a part has a contribution.",
                width, "dim", indent=1,
            )  # fmt: skip
        return rows

    def _row(self, look: Look, line: PromisedRow) -> SpanRow:
        cells = [
            right_in(said.text, look.columns.width, _TONES[said.sense], look.ids[i])
            for i, said in zip(look.columns.visible, line.cells, strict=True)
        ]
        return row(left_in(f" {line.label}", look.columns.label), *cells)
