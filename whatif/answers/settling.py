"""How many weeks are measured until the gains are settled (rule `results.settled`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from whatif.answers.could_make import is_demand_met
from whatif.answers.gains import Gains, gains
from whatif.answers.running import Simulated, run_all
from whatif.answers.simulate import Simulate, again
from whatif.cell.model import WEEK
from whatif.plan.model import Plan

APART = 2.0
"""Points by which the saleable gains over the halves may differ."""

DRIFTS = 2.0
"""Percent by which a scenario's own saleable output may differ between the halves."""

MOST_WEEKS = 96


def settled(plans: Mapping[str, Plan], reference: str, simulate: Simulate) -> dict[str, Plan]:
    """The plans over as many weeks as it takes, where their number is to be found."""
    found = dict(plans)
    while found[reference].settled and found[reference].weeks < MOST_WEEKS:
        measured = run_all(found, reference, simulate)
        base, first = found[reference], measured[reference]
        if not any(
            again(
                simulate,
                ("short", id_, base.weeks),
                (plan, measured[id_], base, first),
                partial(_is_short, plan, measured[id_], base, first),
            )
            for id_, plan in found.items()
        ):
            break
        found = over_weeks(found, 2 * base.weeks, simulate)
    return found


def over_weeks(plans: Mapping[str, Plan], weeks: int, simulate: Simulate) -> dict[str, Plan]:
    """The plans measured over so many weeks; of those that are as before the same objects."""
    return {
        id_: again(simulate, ("over", id_, weeks), (plan,), partial(replace, plan, weeks=weeks))
        for id_, plan in plans.items()
    }


def _is_short(
    here: Plan, measured: Simulated | None, reference: Plan, there: Simulated | None
) -> bool:
    """Whether more weeks are to be measured for the sake of one scenario."""
    if is_to_settle(here, reference):
        return is_apart(gains_of_halves(measured, there))
    return any(order.place is not None and order.due > here.weeks * WEEK for order in here.orders)


def is_to_settle(here: Plan, reference: Plan) -> bool:
    """Whether anything is wanted week by week on either side, so that halves should be alike."""
    return any(part.weekly for plan in (here, reference) for part in plan.parts)


def gains_of_halves(here: Simulated | None, reference: Simulated | None) -> tuple[Gains, ...]:
    """The gains over either half of the weeks; none where there are no halves, or no sides."""
    if here is None or reference is None or here.halves is None or reference.halves is None:
        return ()
    return tuple(gains(*pair) for pair in zip(here.halves, reference.halves, strict=True))


def is_apart(halves: tuple[Gains, ...]) -> bool:
    """Whether the gains over the halves tell different things; one that is lacking does too."""
    if not halves:
        return False
    first, second = (half.saleable for half in halves)
    if first is None or second is None:
        return first is not second
    # A billionth is no more than what floats make of exactly two points.
    return abs(second - first) > APART + 1e-9


def drift(plan: Plan, measured: Simulated) -> float | None:
    """Percent by which the saleable output of the second half differs from that of the first.

    None where it is no more than two percent, or where all that is wanted is made: a shop with
    more work than it can do never comes to rest, since its backlog grows (rule `results.drift`).
    """
    weekly = any(part.weekly for part in plan.parts)
    if measured.halves is None or not weekly or is_demand_met(plan, measured.figures):
        return None
    first, second = (figures.saleable for figures in measured.halves)
    if not first:
        return None
    differs = 100 * (second / first - 1)
    return differs if abs(differs) > DRIFTS + 1e-9 else None
