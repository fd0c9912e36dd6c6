"""Real orders with due dates: when they come off, and how late.

Pieces are off when the visit that takes them off has ended (rule `promises.off`). Where stops make
runs differ nothing is averaged over them: the middle run and the worst one are told, and the share
of the runs in which an order is in time is its odds (rule `promises.runs`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import inf

from whatif.cell.model import HOUR, WEEK
from whatif.cell.tally import Tally
from whatif.plan.model import OrderPlan, Plan
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class OrderRun:
    """One real order in one run; hours from the begin of the first week measured.

    Attributes:
        first_off, last_off: None where those pieces are not off by the end of the weeks measured.
        late_hours: 0 where it is on time; None where it is not off, so that nobody knows.
        is_late: whether it is late, or was due and is still not off.
        pieces_late: its pieces that were not off when it was due.
    """

    first_off: float | None
    last_off: float | None
    late_hours: float | None
    is_late: bool
    pieces_late: int


@dataclass(frozen=True, slots=True)
class Ordered:
    """One real order over the runs; one run where there are no stops.

    Attributes:
        pieces: that are ordered.
    """

    pieces: int
    runs: tuple[OrderRun, ...]

    @property
    def late(self) -> float:
        """Share of the runs in which it is late."""
        return sum(run.is_late for run in self.runs) / len(self.runs)

    @property
    def on_time_percent(self) -> float:
        """Percent of the runs in which it is in time: the odds."""
        return 100 * (1 - self.late)

    @property
    def first_off(self) -> float | None:
        """Of the middle run."""
        return middle([run.first_off for run in self.runs])

    @property
    def last_off(self) -> float | None:
        """Of the middle run."""
        return middle([run.last_off for run in self.runs])

    @property
    def late_hours(self) -> float | None:
        """Of the middle run."""
        return middle([run.late_hours for run in self.runs])

    @property
    def worst_last_off(self) -> float | None:
        """Of the worst run."""
        return worst([run.last_off for run in self.runs])

    @property
    def worst_late_hours(self) -> float | None:
        """Of the worst run."""
        return worst([run.late_hours for run in self.runs])


@dataclass(frozen=True, slots=True)
class Promises:
    """All real orders together; None where there is no order, or not all are off.

    Attributes:
        on_time: percent of the orders, of all runs together.
        all_on_time: percent of the runs in which every order is in time.
        mean_late, most_late: hours, of the middle run.
        pieces_late: that were not off when their order was due, per day on which a shift starts,
            of the middle run.
        worst_mean_late, worst_most_late, worst_pieces_late: of the worst run.
    """

    on_time: float | None = None
    all_on_time: float | None = None
    mean_late: float | None = None
    most_late: float | None = None
    pieces_late: float | None = None
    worst_mean_late: float | None = None
    worst_most_late: float | None = None
    worst_pieces_late: float | None = None


def by_size(values: Sequence[float | None]) -> list[float | None]:
    """Figures of runs, the least first; what is not off by the end is worse than all that is."""
    return sorted(values, key=lambda value: inf if value is None else value)


def middle(values: Sequence[float | None]) -> float | None:
    """The figure of the middle run, of two middle ones the worse: a figure that some run met."""
    return by_size(values)[len(values) // 2]


def worst(values: Sequence[float | None]) -> float | None:
    """The figure of the worst run."""
    return by_size(values)[-1]


def ordered(plan: Plan, tallies: Sequence[Tally]) -> Mapping[str, Ordered]:
    """Every real order of a scenario, over all its runs."""
    return {
        order.id: Ordered(order.pieces, tuple(_in_run(plan, order, tally) for tally in tallies))
        for order in plan.orders
    }


def _in_run(plan: Plan, order: OrderPlan, tally: Tally) -> OrderRun:
    first = last = None
    in_time = 0
    if order.place is not None:
        seconds = tally.orders[order.place]
        first, last = (None if at is None else at - plan.warm_up * WEEK for at in seconds)
        in_time = tally.orders_in_time[order.place]
    late = None if last is None else max(0, last - order.due)
    # What is due in the very second in which the weeks end may still come off in it.
    was_due = order.due < plan.weeks * WEEK
    return OrderRun(
        first_off=None if first is None else first / HOUR,
        last_off=None if last is None else last / HOUR,
        late_hours=None if late is None else late / HOUR,
        is_late=was_due if late is None else late > 0,
        pieces_late=order.pieces - in_time if was_due else 0,
    )


def promises(plan: Plan, orders: Sequence[Ordered]) -> Promises:
    """The orders taken together (rule `promises.all`)."""
    if not orders:
        return Promises()
    days = plan.weeks * plan.shift_days
    runs = list(zip(*(order.runs for order in orders), strict=True))

    def late(of: Callable[[Sequence[float]], float]) -> list[float | None]:
        found = []
        for run in runs:
            hours = [order.late_hours for order in run if order.late_hours is not None]
            found.append(of(hours) if len(hours) == len(run) else None)
        return found

    mean, most = late(lambda hours: sum(hours) / len(hours)), late(max)
    pieces = [sum(order.pieces_late for order in run) / days if days else None for run in runs]
    return Promises(
        on_time=sum(order.on_time_percent for order in orders) / len(orders),
        all_on_time=100 * sum(not any(order.is_late for order in run) for run in runs) / len(runs),
        mean_late=middle(mean),
        most_late=middle(most),
        pieces_late=middle(pieces),
        worst_mean_late=worst(mean),
        worst_most_late=worst(most),
        worst_pieces_late=worst(pieces),
    )
