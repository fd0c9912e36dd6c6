"""When to walk through the shop: random moments of the attended hours of a week."""

from __future__ import annotations

from random import Random
from typing import Final

from whatif.cell.calendar import ATTENDED, Calendar
from whatif.cell.model import MINUTE
from whatif.plan.model import Plan
from whatif.records import dataclass

TOURS: Final = 40
"""Tours of a week where nobody says how many: eight a day, common practice, no source."""


@dataclass(frozen=True, slots=True)
class WalkSheet:
    """What is taken along.

    Attributes:
        moments: seconds of the week at which a tour begins, whole minutes.
        machines: group and number of each, in file order.
        seed: the same one makes the same moments.
    """

    scenario: str
    title: str
    seed: int
    moments: tuple[int, ...]
    machines: tuple[tuple[str, int | None], ...]


def walk_sheet(plan: Plan, title: str, tours: int, seed: int) -> WalkSheet:
    """So many moments, each minute with somebody on duty as likely as any other.

    Fewer where the week has not so many such minutes.
    """
    minutes: list[int] = []
    if plan.cell is not None:
        for segment in Calendar(plan.cell).segments:
            if segment.mode == ATTENDED:
                minutes += range(-(-segment.start // MINUTE) * MINUTE, segment.end, MINUTE)
    chosen = Random(f"walk {seed}").sample(minutes, min(tours, len(minutes)))
    machines = tuple(
        (group.id, number + 1 if group.count > 1 else None)
        for group in plan.groups
        for number in range(group.count)
    )
    return WalkSheet(plan.scenario, title, seed, tuple(sorted(chosen)), machines)
