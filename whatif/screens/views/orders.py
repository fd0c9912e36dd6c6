"""Promises: real orders against their due dates, and what a rush order does to other work."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from typing_extensions import override

from whatif.screens.views.view import Look, View, across_said, no_answer, nothing_yet
from whatif.screens.widgets.drawing import Span, SpanRow, left_in, paragraph, row
from whatif.telling.orders import late_sentences, order_rows, rush_rows, together_rows

if TYPE_CHECKING:
    from whatif.answers.answer import Answer

_SENTENCE: Final = 101
"""Cells in which sentences are broken, the free one at the left included."""


_NO_ORDERS: Final = (
    "No order is entered. With one stands here, scenario by scenario, when its last piece is off "
    "and by how much it is late."
)
_ORDER_STEPS: Final = (
    ("Esc", "then n, order: which part, how many pieces, from when on, and when due"),
)

_NO_RUSH: Final = (
    "No rush job is entered. With one stands here how soon it is off, and what hours and money "
    "other work loses by it."
)
_RUSH_STEPS: Final = (
    ("Esc", "then n, rush order: which part, how many pieces, and when it arrives"),
)


class OrdersView(View):
    """Two tables below the strip's columns."""

    name = "orders"
    in_columns = True
    reads = """\
Real orders with the hours at which their last piece is off, and by how much they are late. Rush
jobs go ahead of everything: the rows say how soon they are off, what hours other work loses by
it, and what that costs: with the likely range over as many draws as gains have, since one run
alone jumps with the hour at which a load ends. Where 0 lies within, nothing can be told."""

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
        columns = [look.answers.get(id_) for id_ in look.shown]
        answers = [answer for answer in columns if answer is not None]
        if not answers:
            return no_answer(look, width)
        rows = self._orders(look, columns, width)
        rows += [
            row(""),
            row(Span(" Rush jobs: ahead of all other work once they are here", "title")),
        ]
        rushes = rush_rows(columns)
        for line in rushes:
            # What it is has no figures beside it, and so all the room.
            is_head = not any(cell.text for cell in line.cells)
            label = f" {line.label}"
            rows.append(
                row(left_in(label, width)) if is_head else across_said(look, label, line.cells)
            )
        text = ""
        if not rushes and any(answer.plan.rush for answer in answers):
            waiting = f", {look.rush_waiting}" if look.rush_waiting else " ..."
            text = f"They are being tried out{waiting}"
        elif not rushes:
            return [*rows, *nothing_yet(_NO_RUSH, _RUSH_STEPS, width)]
        elif all(answer.money is None for answer in answers):
            text = "What it costs other work in money is told once a part has a contribution."
        return rows + (paragraph(text, min(width, _SENTENCE), "dim") if text else [])

    def _orders(self, look: Look, columns: Sequence[Answer | None], width: int) -> list[SpanRow]:
        rows = [row(Span(" Orders: when the last piece is off, and how late", "title"))]
        orders = order_rows(columns)
        if not orders:
            return [*rows, *nothing_yet(_NO_ORDERS, _ORDER_STEPS, width)]
        for line in orders:
            rows.append(across_said(look, f" {line.label}", line.cells))
        rows.append(row(""))
        rows += [across_said(look, f" {line.label}", line.cells) for line in together_rows(columns)]
        late = [] if look.answer is None else late_sentences(look.answer)
        if late:
            rows += [row(""), row(Span(f" Why they are late in {look.title}", "title"))]
        for text in late:
            rows += paragraph(text, min(width, _SENTENCE))
        return rows
