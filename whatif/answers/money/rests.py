"""What a payback rests on (rule `money.rests`)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from whatif.answers.money.capital import Costed
from whatif.answers.money.year import prices_of
from whatif.plan.model import Plan


@dataclass(frozen=True, slots=True)
class PartSold:
    """Pieces of a part a week that are to be sold, and those wanted in the shop today."""

    part: str
    sold: float
    wanted: float


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
    """

    today: str
    sold: tuple[PartSold, ...]
    gap: Literal["none", "show", "people", "machine"]
    gap_seconds: int
    runs: int
    ramp: float

    @property
    def pieces(self) -> float:
        """Pieces a week to be sold, all parts together."""
        return sum(part.sold for part in self.sold)

    @property
    def wanted(self) -> float:
        """Pieces a week wanted today, all parts together."""
        return sum(part.wanted for part in self.sold)


def rests_on(here: Costed, today: Costed) -> RestsOn:
    """What a scenario's payback rests on."""
    plan, cell, meters = here.plan, here.plan.cell, here.plan.meters
    sold = {} if here.figures is None else here.figures.counted.saleable
    wanted = {part.id: float(part.weekly) for part in today.plan.parts}
    before = _before(plan) | _before(today.plan)
    gap = 0
    if cell is not None and meters is not None:
        gap = cell.visit_extra if meters.gap == "people" else cell.load_extra
    return RestsOn(
        today=today.plan.title,
        sold=tuple(
            PartSold(part, sold.get(part, 0.0), wanted.get(part, 0.0))
            for part in dict.fromkeys((*sold, *wanted))
            if part not in before and (sold.get(part) or wanted.get(part))
        ),
        gap=_gap(meters.gap) if meters is not None else "none",
        gap_seconds=gap,
        runs=plan.runs if cell is not None and cell.stops else 0,
        ramp=float(prices_of(plan).ramp),
    )


def _gap(said: str) -> Literal["show", "people", "machine"]:
    return "people" if said == "people" else "machine" if said == "machine" else "show"


def _before(plan: Plan) -> set[str]:
    """Parts after which another one comes: nobody buys them."""
    if plan.cell is None:
        return set()
    parts = plan.cell.parts
    return {parts[part.after].id for part in parts if part.after is not None}
