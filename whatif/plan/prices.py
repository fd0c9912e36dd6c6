"""Prices and rates of a scenario, from the study to plain numbers."""

from __future__ import annotations

from whatif.plan.model import FloorNotEntered, GroupPrices, Prices
from whatif.study.schema.models import Scenario


def prices(scenario: Scenario) -> Prices:
    """All that money is worked out from (rule `keys.money`)."""
    money = scenario.money
    return Prices(
        currency=money.currency,
        wage=money.wage,
        is_wage_given="wage" in money.model_fields_set,
        weeks_per_year=money.weeks_per_year,
        rate=money.rate.value,
        years=money.years,
        floor_price=money.floor_price,
        one_off=money.one_off,
        groups={
            id_: GroupPrices(
                count=one.count,
                pallets=one.pallets,
                price=one.price,
                resale=one.resale,
                pallet_price=one.pallet_price,
                pallet_system_price=one.pallet_system_price,
                owned=one.owned,
                entered=frozenset(one.model_fields_set),
            )
            for id_, one in scenario.machine.items()
            if one.count
        },
        fixtures={id_: one.fixture_price for id_, one in scenario.part.items()},
        fixtures_entered=frozenset(
            id_ for id_, one in scenario.part.items() if "fixture_price" in one.model_fields_set
        ),
    )


def unpriced(scenario: Scenario) -> tuple[FloorNotEntered, ...]:
    """A warning where floor has a price and a machine in use has no floor."""
    if not scenario.money.floor_price:
        return ()
    machines = scenario.machine.items()
    without = tuple(id_ for id_, group in machines if group.count and group.floor is None)
    return (FloorNotEntered(without),) if without else ()
