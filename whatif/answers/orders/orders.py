"""Real orders with due dates: when they come off, and how late.

Pieces are off when the visit that takes them off has ended (rule `promises.off`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from whatif.cell.model import HOUR, WEEK
from whatif.cell.tally import Tally
from whatif.plan.model import Plan


@dataclass(frozen=True, slots=True)
class Ordered:
    """One real order; hours from the begin of the first week measured.

    Attributes:
        first_off, last_off: None where those pieces are not off by the end of the weeks measured.
        late_hours: 0 where it is on time; None where it is not off, so that nobody knows.
        late: 1 where it is late, or was due and is still not off, else 0; with seeded runs the
            share of them.
    """

    pieces: int
    first_off: float | None
    last_off: float | None
    late_hours: float | None
    late: float


@dataclass(frozen=True, slots=True)
class Promises:
    """All real orders together; None where there is no order, or not all are off.

    Attributes:
        on_time: percent of the orders.
        mean_late, most_late: hours.
        pieces_late: of late orders, per day on which a shift starts.
    """

    on_time: float | None
    mean_late: float | None
    most_late: float | None
    pieces_late: float | None


def ordered(plan: Plan, tally: Tally) -> Mapping[str, Ordered]:
    """Every real order of a scenario."""
    end = plan.weeks * WEEK
    found = {}
    for order in plan.orders:
        seconds: tuple[int | None, int | None] = (None, None)
        if order.place is not None:
            seconds = tally.orders[order.place]
        first, last = (_measured(second, plan) for second in seconds)
        late = None if last is None else max(0, last - order.due)
        found[order.id] = Ordered(
            pieces=order.pieces,
            first_off=None if first is None else first / HOUR,
            last_off=None if last is None else last / HOUR,
            late_hours=None if late is None else late / HOUR,
            late=float(order.due < end if late is None else late > 0),
        )
    return found


def _measured(second: int | None, plan: Plan) -> int | None:
    return None if second is None else second - plan.warm_up * WEEK


def promises(plan: Plan, orders: Sequence[Ordered]) -> Promises:
    """The orders taken together (rule `promises.all`)."""
    if not orders:
        return Promises(None, None, None, None)
    late = [order.late_hours for order in orders if order.late_hours is not None]
    days = plan.weeks * plan.shift_days
    pieces = sum(order.pieces * order.late for order in orders)
    all_off = len(late) == len(orders)
    return Promises(
        on_time=100 * sum(1 - order.late for order in orders) / len(orders),
        mean_late=sum(late) / len(late) if all_off else None,
        most_late=max(late) if all_off else None,
        pieces_late=pieces / days if days else None,
    )
