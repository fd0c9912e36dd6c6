"""What stands beside the physics: prices, real and rush orders (rule `keys.order`, `keys.rush`)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from whatif.cell.model import WEEK, RealOrder
from whatif.plan.model import FloorNotEntered, GroupPrices, OrderPlan, Prices, RushPlan
from whatif.study.schema.models import Scenario


def prices(scenario: Scenario) -> Prices:
    """All that money is worked out from (rule `keys.money`)."""
    money = scenario.money
    return Prices(
        currency=money.currency,
        wage=money.wage or Fraction(0),
        is_wage_given="wage" in money.model_fields_set,
        weeks_per_year=money.weeks_per_year,
        rate=money.rate.value,
        years=money.years,
        floor_price=money.floor_price,
        one_off=money.one_off,
        groups={
            id_: GroupPrices(
                count=group.count,
                pallets=group.pallets,
                price=group.price or Fraction(0),
                resale=group.resale or Fraction(0),
                pallet_price=group.pallet_price or Fraction(0),
                pallet_system_price=group.pallet_system_price or Fraction(0),
                owned=group.owned,
                entered=frozenset(group.model_fields_set),
            )
            for id_, group in scenario.machine.items()
            if group.count
        },
        fixtures={id_: part.fixture_price or Fraction(0) for id_, part in scenario.part.items()},
        fixtures_entered=frozenset(
            id_ for id_, part in scenario.part.items() if "fixture_price" in part.model_fields_set
        ),
    )


def unpriced(scenario: Scenario) -> tuple[FloorNotEntered, ...]:
    """A warning where floor has a price and a machine in use has no floor."""
    if not scenario.money.floor_price:
        return ()
    machines = scenario.machine.items()
    without = tuple(id_ for id_, group in machines if group.count and group.floor is None)
    return (FloorNotEntered(without),) if without else ()


def real_orders(scenario: Scenario, made: Sequence[str], warm_up: int) -> tuple[RealOrder, ...]:
    """The real orders whose parts are made, in seconds of the run."""
    return tuple(
        RealOrder(
            id=id_,
            part=made.index(order.part),
            pieces=order.pieces,
            arrives=order.arrives + warm_up * WEEK,
            due=order.due + warm_up * WEEK,
        )
        for id_, order in scenario.order.items()
        if order.pieces and order.part in made
    )


def order_plans(scenario: Scenario, made: Sequence[str]) -> tuple[OrderPlan, ...]:
    """What answers need to know of the real orders, those that cannot be made among them."""
    place = 0
    plans = []
    for id_, order in scenario.order.items():
        if not order.pieces:
            continue
        is_made = order.part in made
        plans.append(OrderPlan(id_, place if is_made else None, order.pieces, order.due))
        place += is_made
    return tuple(plans)


def rush_plans(scenario: Scenario, made: Sequence[str]) -> tuple[RushPlan, ...]:
    """The rush orders to be tried out."""
    return tuple(
        RushPlan(
            id=id_,
            part=made.index(rush.part) if rush.part in made else None,
            pieces=rush.pieces,
            arrives=rush.arrives if isinstance(rush.arrives, int) else None,
            price=rush.price,
        )
        for id_, rush in scenario.rush.items()
        if rush.pieces
    )
