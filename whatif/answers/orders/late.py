"""Why a real order is late that goes in many loads (rule `promises.loads`).

From its arrival an order is taken first at each visit (rule `orders.real`), but visits are served
in the order asked for (rule `people.line`), so that its pallet waits for the others at each load.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from whatif.answers.figures import Figures
from whatif.answers.orders.orders import Ordered
from whatif.plan.model import OrderPlan, Plan
from whatif.records import dataclass

FULL: Final = 0.8
"""Share of their hours on duty that people are busy, from which on visits wait for them."""


@dataclass(frozen=True, slots=True)
class LateOrder:
    """An order that is late, and goes in several loads.

    Attributes:
        late_hours: of the middle run; None where it is not off by the end of the weeks.
        loads: into which it goes at least.
        at_once: pallets and tables that may be at it at one time.
        bound_by: keys of its part that allow no more of them; none where there are no more.
        places: pallets and tables of the cell, all of whose visits are in one line.
        waits: whether people are so busy that each load waits for its visit.
        has_pallets: whether any machine of the cell has more than its table.
        has_first_piece: whether a load of it is its first piece alone, which others wait for.
    """

    id: str
    pieces: int
    late_hours: float | None
    loads: int
    at_once: int
    places: int
    waits: bool
    bound_by: tuple[str, ...]
    has_pallets: bool
    has_first_piece: bool


def late_orders(
    plan: Plan, figures: Figures | None, orders: Mapping[str, Ordered]
) -> Iterator[LateOrder]:
    """The orders that are late in the middle run and take more loads than go at once."""
    people = None if figures is None else figures.people
    waits = people is not None and people.busy >= FULL * people.on_duty > 0
    for order in plan.orders:
        found = orders.get(order.id)
        if found is None or found.late < 1 / 2:
            continue
        late = _in_loads(plan, order, found.late_hours, waits=waits)
        if late is not None and late.loads > late.at_once:
            yield late


def _in_loads(
    plan: Plan, order: OrderPlan, late_hours: float | None, *, waits: bool
) -> LateOrder | None:
    """None where the order's part is not made."""
    if plan.cell is None or order.place is None:
        return None
    part = plan.cell.parts[plan.cell.orders[order.place].part]
    made = [
        (making.per_pallet, group.count * group.pallets)
        for making, group in zip(part.making, plan.cell.groups, strict=True)
        if making is not None
    ]
    largest = max(per_pallet for per_pallet, _ in made)
    alone = 1 if part.first_piece and order.pieces else 0
    bounds = {"at_once": part.at_once, "fixtures": part.fixtures}
    known = {key: bound for key, bound in bounds.items() if bound is not None}
    places = sum(places for _, places in made)
    at_once = min(*known.values(), places)
    return LateOrder(
        id=order.id,
        pieces=order.pieces,
        late_hours=late_hours,
        loads=alone + -(-(order.pieces - alone) // largest),
        at_once=at_once,
        places=sum(group.count * group.pallets for group in plan.cell.groups),
        waits=waits,
        bound_by=tuple(key for key, bound in known.items() if bound == at_once < places),
        has_pallets=any(group.pallets > 1 for group in plan.cell.groups),
        has_first_piece=bool(alone) and largest > 1 < order.pieces,
    )
