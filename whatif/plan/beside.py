"""What stands beside the physics: prices, real and rush orders (rule `keys.order`, `keys.rush`)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from whatif.cell.model import DAY, WEEK, RealOrder
from whatif.plan.model import (
    FloorNotEntered,
    GroupPrices,
    OrderPlan,
    PartPrices,
    Prices,
    RushPlan,
    ShiftPaid,
)
from whatif.study.schema.models import Machine, Scenario
from whatif.units import Quantity

_YEAR = Fraction(1461, 4) * DAY
"""Seconds of a calendar year."""

_BUILD = ("pallets", "table", "travel", "work_height", "faces", "pockets")
"""Keys of a machine that make it another one where they differ (rule `money.owned`)."""


def prices(
    scenario: Scenario,
    today: str,
    paid: Mapping[str, int],
    *,
    is_open: bool = False,
    one_off_of: str = "",
) -> Prices:
    """All that money is worked out from (rule `keys.money`).

    Args:
        today: id of the scenario that stands in the shop now.
        paid: seconds a week by shift.
        is_open: whether nobody has said what it costs once, though it costs something.
        one_off_of: id of the scenario that says it; "" where none does.
    """
    money = scenario.money
    return Prices(
        currency=money.currency,
        today=today,
        weeks_per_year=money.weeks_per_year,
        rate=money.rate.value,
        years=money.years,
        ramp=money.ramp.seconds / _YEAR,
        floor_price=money.floor_price,
        one_off=money.one_off,
        is_open=is_open,
        one_off_of=one_off_of,
        yearly=money.yearly,
        spindle_hour=money.spindle_hour,
        groups={id_: _group_prices(group) for id_, group in scenario.machine.items()},
        parts={
            id_: PartPrices(part.fixture_price, part.fixtures, part.numbers, part.material)
            for id_, part in scenario.part.items()
        },
        shifts=tuple(
            ShiftPaid(id_, seconds, _or(scenario.shift[id_].wage, money.wage))
            for id_, seconds in paid.items()
        ),
    )


def _group_prices(group: Machine) -> GroupPrices:
    return GroupPrices(
        count=group.count,
        pallets=group.pallets,
        price=group.price,
        resale=group.resale,
        pallet_price=group.pallet_price,
        pallet_system_price=group.pallet_system_price,
        yearly=group.yearly,
        owned=group.owned,
        build=tuple(_plain(getattr(group, key)) for key in _BUILD),
    )


def _plain(value: object) -> object:
    """A value whose unit does not count: 27 in and 685.8 mm are alike."""
    if isinstance(value, Quantity):
        return value.value
    return tuple(map(_plain, value)) if isinstance(value, tuple) else value


def _or(wage: Fraction | None, otherwise: Fraction | None) -> Fraction | None:
    return otherwise if wage is None else wage


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
