"""Real and rush orders of a scenario (rule `keys.order`, rule `keys.rush`)."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.cell.model import WEEK, RealOrder
from whatif.plan.model import OrderPlan, RushPlan
from whatif.study.schema.models import Scenario


def asked_parts(scenario: Scenario) -> set[str]:
    """Parts that a real or rush order asks for, whatever is wanted of them by the week."""
    real = {one.part for one in scenario.order.values() if one.pieces}
    return real | {one.part for one in scenario.rush.values() if one.pieces}


def real_orders(scenario: Scenario, made: Sequence[str], warm_up: int) -> tuple[RealOrder, ...]:
    """The real orders whose parts are made, in seconds of the run."""
    return tuple(
        RealOrder(
            id=id_,
            part=made.index(one.part),
            pieces=one.pieces,
            arrives=one.arrives + warm_up * WEEK,
            due=one.due + warm_up * WEEK,
        )
        for id_, one in scenario.order.items()
        if one.pieces and one.part in made
    )


def order_plans(scenario: Scenario, made: Sequence[str]) -> tuple[OrderPlan, ...]:
    """What answers need to know of the real orders, those that cannot be made among them."""
    place = 0
    plans = []
    for id_, one in scenario.order.items():
        if not one.pieces:
            continue
        is_made = one.part in made
        plans.append(OrderPlan(id_, place if is_made else None, one.pieces, one.due))
        place += is_made
    return tuple(plans)


def rush_plans(scenario: Scenario, made: Sequence[str]) -> tuple[RushPlan, ...]:
    """The rush orders to be tried out."""
    return tuple(
        RushPlan(
            id=id_,
            part=made.index(one.part) if one.part in made else None,
            pieces=one.pieces,
            arrives=one.arrives if isinstance(one.arrives, int) else None,
            price=one.price,
        )
        for id_, one in scenario.rush.items()
        if one.pieces
    )
