"""What a payback rests on (rule `money.rests`)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from whatif.answers.money.capital import (
    Costed,
    FirstPallets,
    MoreFixtures,
    first_pallets,
    fixtures_entered_there,
    fixtures_taken_as_there,
    unentered_fixtures,
)
from whatif.answers.money.year import prices_of, without_contribution
from whatif.plan.model import Plan, Prices
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class PartSold:
    """Pieces of a part a week that are to be sold, and those wanted in the shop today.

    ``ordered`` are those of its real orders, which are sold beside what is wanted by the week.
    """

    part: str
    sold: float
    wanted: float
    ordered: float = 0.0


@dataclass(frozen=True, slots=True)
class RestsOn:
    """What has to come true for a payback; what has no price stands beside it.

    Attributes:
        today: title of what stands in the shop now.
        sold: each part that is sold here or wanted there.
        gap: what the hour meters' gap is laid to, or left open; "none" without meters.
        gap_seconds: what each visit, or each load, takes longer for it.
        runs: seeded runs with stops; 0 where none are entered.
        ramp: calendar years until the full gain is reached.
        bare: parts that are made and have no contribution.
        unmade: parts that are wanted and not made.
        fixtures: those that are bought, where nobody has entered how many there are.
        as_there: parts of which more fixtures are in use than today, that nobody has entered and
            that are taken as there.
        entered_there: parts of which more fixtures are in use than today, and as many are entered.
        other_loads: parts whose fixtures hold other loads than today's at today's price, and
            whether that price is given.
        first_pallets: what is bought of pallets where today's machines have none.
        runs_free: whether no running costs count: none an hour in cycle, none a year.
    """

    today: str
    sold: tuple[PartSold, ...]
    gap: Literal["none", "show", "people", "machine"]
    gap_seconds: int
    runs: int
    ramp: float
    bare: tuple[str, ...] = ()
    unmade: tuple[str, ...] = ()
    fixtures: tuple[MoreFixtures, ...] = ()
    as_there: tuple[str, ...] = ()
    entered_there: tuple[str, ...] = ()
    other_loads: tuple[tuple[str, bool], ...] = ()
    first_pallets: tuple[FirstPallets, ...] = ()
    runs_free: bool = False

    @property
    def pieces(self) -> float:
        """Pieces a week to be sold, all parts together."""
        return sum(part.sold for part in self.sold)

    @property
    def wanted(self) -> float:
        """Pieces a week wanted today, all parts together."""
        return sum(part.wanted for part in self.sold)

    @property
    def ordered(self) -> float:
        """Pieces a week of today's real orders, all parts together."""
        return sum(part.ordered for part in self.sold)


def rests_on(here: Costed, today: Costed) -> RestsOn:
    """What a scenario's payback rests on."""
    plan, cell, meters = here.plan, here.plan.cell, here.plan.meters
    sold = {} if here.figures is None else here.figures.counted.saleable
    wanted = {part.id: float(part.weekly) for part in today.plan.parts}
    ordered = _ordered(today.plan)
    before = _before(plan) | _before(today.plan)
    gap = 0
    if cell is not None and meters is not None:
        gap = cell.visit_extra if meters.gap == "people" else cell.load_extra
    return RestsOn(
        today=today.plan.title,
        sold=tuple(
            PartSold(part, sold.get(part, 0.0), wanted.get(part, 0.0), ordered.get(part, 0.0))
            for part in dict.fromkeys((*sold, *wanted))
            if part not in before and (sold.get(part) or wanted.get(part))
        ),
        gap=_gap(meters.gap) if meters is not None else "none",
        gap_seconds=gap,
        runs=plan.runs if cell is not None and cell.stops else 0,
        ramp=float(prices_of(plan).ramp),
        bare=without_contribution(plan),
        unmade=tuple(part.id for part in plan.parts if part.unmade is not None),
        fixtures=unentered_fixtures(here, today),
        as_there=fixtures_taken_as_there(here, today),
        entered_there=fixtures_entered_there(here, today),
        other_loads=tuple(_other_loads(here, today)),
        first_pallets=first_pallets(here.prices, today.prices),
        runs_free=_runs_free(prices_of(plan)),
    )


def _runs_free(prices: Prices) -> bool:
    """Whether tools, power, service and whatever else it takes to run count as nothing."""
    yearly = [prices.yearly, *(each.yearly for each in prices.groups.values() if each.count)]
    return not prices.spindle_hour and not any(yearly)


def _ordered(plan: Plan) -> dict[str, float]:
    """Pieces a week of real orders by part."""
    found: dict[str, float] = {}
    if plan.cell is not None:
        for order in plan.cell.orders:
            part = plan.cell.parts[order.part].id
            found[part] = found.get(part, 0.0) + order.pieces / plan.weeks
    return found


def _other_loads(here: Costed, today: Costed) -> Iterator[tuple[str, bool]]:
    """Parts with loads that no machine of today's has, at a fixture price that is today's."""
    loads, there = _loads(here.plan), _loads(today.plan)
    for part, each in loads.items():
        price = here.prices.parts[part].fixture
        known = today.prices.parts.get(part)
        if part in there and not each <= there[part] and known and known.fixture == price:
            yield part, price is not None


def _loads(plan: Plan) -> dict[str, set[int]]:
    """Pieces a load on any machine, by part that is made."""
    if plan.cell is None:
        return {}
    return {
        part.id: {making.per_pallet for making in part.making if making is not None}
        for part in plan.cell.parts
    }


def _gap(said: str) -> Literal["show", "people", "machine"]:
    return "people" if said == "people" else "machine" if said == "machine" else "show"


def _before(plan: Plan) -> set[str]:
    """Parts after which another one comes: nobody buys them."""
    if plan.cell is None:
        return set()
    parts = plan.cell.parts
    return {parts[part.after].id for part in parts if part.after is not None}
