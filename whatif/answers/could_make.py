"""What a cell that makes all that is wanted could make at most (rule `results.could-make`)."""

from __future__ import annotations

from dataclasses import replace

from whatif.answers.figures import Figures
from whatif.answers.running import mean_figures
from whatif.answers.simulate import Simulate
from whatif.plan.model import Plan, Worth

_SHORT = 0.05
"""Share of what is wanted of a part that may be short beside one order."""


def is_demand_met(plan: Plan, figures: Figures) -> bool:
    """Whether no part is short by more than one order plus 5 % of what is wanted."""
    wanted = [part for part in plan.parts if part.weekly]
    return bool(wanted) and not any(
        part.unmade
        or float(part.weekly) * (1 - _SHORT) * plan.weeks - part.batch
        > (figures.counted.good[part.id] - figures.counted.for_orders[part.id]) * plan.weeks + 1e-9
        for part in wanted
    )


def flat_out(plan: Plan) -> Plan:
    """The plan as if there were always work."""
    return plan if plan.cell is None else replace(plan, cell=replace(plan.cell, to_order=False))


def could_make(plan: Plan, figures: Figures, simulate: Simulate, value: Worth) -> float | None:
    """Output of the run "flat_out" in percent of what is wanted; None where that is not made.

    What real orders had made for them is wanted too.
    """
    if plan.cell is None or not is_demand_met(plan, figures):
        return None
    most = mean_figures(flat_out(plan), simulate, value)
    wanted = sum(
        (float(part.weekly) + figures.counted.for_orders.get(part.id, 0.0)) * float(value[part.id])
        for part in plan.parts
        if part.id not in plan.followed
    )
    return 100 * most.output / wanted if wanted else None
