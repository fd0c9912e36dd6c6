"""Orders: when they are due, opened, and which is taken (rule `orders.take`).

A rush order goes ahead of all, real orders go ahead of the endless mix.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from .hours import WEEK
from .things import Cell, Machine, Order, Pallet, Part


def allowed(part: Part, group: str) -> bool:
    """Whether the part may go on the machines of this group."""
    machines = part.value("machines")
    return machines is None or group in machines


def can_be_made(part: Part, groups: list[str], some_shift_inspects: bool) -> bool:
    """Allowed on a machine that is there, and not without a release (rule `orders.made`)."""
    released = part.value("first_piece") == 0 or some_shift_inspects
    return released and any(allowed(part, g) for g in groups)


def due(part: Part, number: int) -> int:
    """Order k is due at k x batch / weekly weeks, whole seconds, rounded down."""
    return due_second(number * part.entry["batch"], part.entry["weekly"])


@cache
def due_second(pieces: int, weekly: float) -> int:
    """When so many pieces are wanted; a weekly number is meant as written: 0.1 is 1 in 10."""
    return int(pieces * WEEK // Fraction(str(weekly)))


@dataclass(frozen=True)
class Wanted:
    """An order with pieces left that could be taken, opened (`order`) or not yet (None)."""

    part: Part
    number: int
    due: int
    order: Order | None


def wanted(order: Order) -> Wanted:
    """An order that is there already."""
    return Wanted(order.part, order.number, order.due, order)


def arrived(cell: Cell, machine: Machine) -> list[Order]:
    """What goes ahead of the mix here: the rush order, then real orders (rule `orders.real`).

    Ties in the file's order.
    """
    there = [cell.rush] if cell.rush is not None else []
    there += sorted(cell.real, key=lambda order: (order.due, order.turn))
    return [
        order
        for order in there
        if order.arrives <= cell.now and order.left > 0 and allowed(order.part, machine.group)
    ]


def earliest(cell: Cell, part: Part) -> Wanted:
    """e(Q): the earliest order of the mix with pieces left."""
    opened = cell.opened[part.id]
    for order in opened[-1:]:  # the next one is opened only when the last has no pieces left
        if order.left > 0:
            return wanted(order)
    number = len(opened) + 1
    return Wanted(part, number, due(part, number), None)


def family(part: Part, made: list[Part], groups: list[str]) -> list[Part]:
    """The parts that share a machine with this one, directly or through others; itself too."""
    found = [part]
    for known in found:  # grows while it is walked
        shared = {group for group in groups if allowed(known, group)}
        for other in made:
            if other not in found and any(allowed(other, group) for group in shared):
                found.append(other)
    return found


def opens_by_time_at(cell: Cell, part: Part) -> int:
    """When time alone lets the part's next order be opened."""
    number = len(cell.opened[part.id]) + 1
    return due(part, number - 1) - cell.run_ahead


def may_be_opened(cell: Cell, part: Part) -> bool:
    """Not where the order before is due more than run_ahead later (rule `orders.open`)."""
    unopened = [due(p, len(cell.opened[p.id]) + 1) for p in cell.families[part.id]]
    return opens_by_time_at(cell, part) <= max(cell.now, min(unopened))


def holders(cell: Cell, part: str) -> int:
    """How many pallets and tables hold a fixture of this part, new ones of visits included."""
    return sum((p.fixture == part) + (p.incoming == part) for p in cell.pallets)


def resting_with(cell: Cell, part: str, but: Pallet) -> list[Pallet]:
    """Resting pallets that hold this part's fixture, the longest-resting first."""
    found = [
        p for p in cell.pallets if p.resting_since is not None and p.fixture == part and p != but
    ]
    return sorted(found, key=lambda p: (p.resting_since or 0, p.machine.number, p.number))


def fixture_free(cell: Cell, part: Part, pallet: Pallet) -> bool:
    """Fewer held than there are, its own, or a resting pallet's (rule `fixtures.free`)."""
    limit = part.value("fixtures")
    if limit is None or pallet.fixture == part.id or holders(cell, part.id) < limit:
        return True
    return bool(resting_with(cell, part.id, but=pallet))


def open_to(cell: Cell, machine: Machine) -> list[Wanted]:
    """e(Q) of the parts allowed on this machine that are open or may be opened."""
    found = [earliest(cell, part) for part in cell.mix if allowed(part, machine.group)]
    return [e for e in found if e.order is not None or may_be_opened(cell, e.part)]


def may_be_taken(cell: Cell, pallet: Pallet) -> list[Wanted]:
    """e(Q) of every part Q that may be taken for this pallet."""
    found = open_to(cell, pallet.machine)
    return [e for e in found if fixture_free(cell, e.part, pallet)]


def wants_only_a_fixture(cell: Cell, pallet: Pallet) -> bool:
    """Whether something could be taken if its fixture were free."""
    something = arrived(cell, pallet.machine) or open_to(cell, pallet.machine)
    return bool(something) and choose(cell, pallet) is None


def choose(cell: Cell, pallet: Pallet) -> Wanted | None:
    """What a visit to this pallet takes: a rush order, a real one, or one of the mix."""
    ahead = [o for o in arrived(cell, pallet.machine) if fixture_free(cell, o.part, pallet)]
    own = pallet.order if pallet.order is not None and pallet.order.left > 0 else None
    if ahead and ahead[0].kind == "rush":
        return wanted(ahead[0])
    if own is not None and own.kind == "real":  # rule `orders.take`, 2
        return wanted(own)
    if ahead:
        return wanted(ahead[0])
    return wanted(own) if own is not None else choose_of_the_mix(cell, pallet)


def choose_of_the_mix(cell: Cell, pallet: Pallet) -> Wanted | None:
    """Where the pallet has no order to go on with (rule `orders.take`)."""
    found = may_be_taken(cell, pallet)
    if not found:
        return None
    first_due = min(e.due for e in found)
    held = [e for e in found if e.part.id == pallet.fixture]
    after_rush = pallet.order is not None and pallet.order.kind == "rush"
    if cell.rule == "keep_setup" and held and not after_rush:  # rule `orders.take`, 5
        before = due(held[0].part, held[0].number - 1)
        if before <= first_due:
            return held[0]
    return min(found, key=lambda e: rank(cell, e))  # rule `orders.take`, 6


def rank(cell: Cell, e: Wanted) -> tuple[int, float, int]:
    """Due first (rule `orders.take`, 6); ties: the order opened first, then the file's order."""
    turn = float("inf") if e.order is None else e.order.turn
    return (e.due, turn, cell.parts.index(e.part))


def opened_order(cell: Cell, e: Wanted) -> Order:
    """The order itself, opened now where it was not yet."""
    if e.order is not None:
        return e.order
    turn = sum(len(orders) for orders in cell.opened.values())
    order = Order("mix", e.part, e.part.value("batch"), e.due, turn, e.number)
    cell.opened[e.part.id].append(order)
    cell.tell(f"order {e.number} of {e.part.id} is opened, due {e.due}")
    return order


def take_fixture(cell: Cell, part: Part, pallet: Pallet) -> None:
    """Take the new fixture for a visit that begins; the old one is given back at its end."""
    limit = part.value("fixtures")
    if limit is not None and holders(cell, part.id) >= limit:
        loser = resting_with(cell, part.id, but=pallet)[0]
        loser.fixture = None
        cell.tell(f"{loser.name}: its fixture for {part.id} is taken by {pallet.name}")
    pallet.incoming = part.id
