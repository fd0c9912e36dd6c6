"""A comparison of which nothing is simulated: it has all the figures, and none of them is right.

Which figures a scenario has hangs on what is entered alone. So their names can be told at once.
"""

from __future__ import annotations

from dataclasses import replace

from whatif.answers.answer import Answer, Comparison
from whatif.answers.compare import compare_quickly
from whatif.answers.gains import Likely
from whatif.answers.orders.rush import AnyHour, RushArrival, trials_of
from whatif.cell.model import WEEK, Cell
from whatif.cell.run import Run
from whatif.cell.tally import Tally
from whatif.plan.model import Plan, RushPlan
from whatif.study.check.check import Checked

_NOTHING = RushArrival(None, 0.0, None)


def unanswered(checked: Checked, scenario: str) -> Comparison:
    """A scenario of a study without problems, with figures that only have their names."""
    found = compare_quickly(checked, _counts_nothing, only=(scenario,))
    return found.with_each(lambda _, answer: _with_ranges_and_rush(answer))


def _with_ranges_and_rush(answer: Answer) -> Answer:
    rush = {order.id: _arrival(answer.plan, order) for order in answer.plan.rush}
    return replace(answer, likely=Likely(), rush=rush)


def _arrival(plan: Plan, order: RushPlan) -> RushArrival | AnyHour | None:
    if not trials_of(plan, order):
        return None
    return AnyHour(_NOTHING, _NOTHING) if order.arrives is None else _NOTHING


def _counts_nothing(cell: Cell, warm_up: int, weeks: int) -> Tally:
    """The tally of weeks in which nothing happens."""
    return replace(Run(cell).tally(), seconds=weeks * WEEK)
