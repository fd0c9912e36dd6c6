"""Orders of the cell model, section 4: when they are due, opened, and which is taken."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from .hours import WEEK
from .things import Cell, Machine, Order, Pallet, Part


def allowed(part: Part, group: str) -> bool:
    """Whether the part may go on the machines of this group."""
    machines = part.value("machines")
    return machines is None or group in machines


def is_made(part: Part, groups: list[str], some_shift_inspects: bool) -> bool:
    """Section 4: wanted, allowed on a machine that is there, and not waiting for ever."""
    released = part.value("first_piece") == 0 or some_shift_inspects
    return part.value("weekly") > 0 and released and any(allowed(part, g) for g in groups)


def due(part: Part, number: int) -> int:
    """Order k is due at k x batch / weekly weeks, whole seconds, rounded down."""
    pieces, weeks = ratio(part.value("weekly"))
    return int(number * part.value("batch") * weeks * WEEK // pieces)


@lru_cache
def ratio(weekly: float) -> tuple[int, int]:
    """A weekly number as written, as whole pieces in whole weeks: 0.1 is 1 in 10."""
    return Fraction(str(weekly)).as_integer_ratio()


@dataclass(frozen=True)
class Wanted:
    """e(Q): part Q's earliest order with pieces left, opened (`order`) or not (None)."""

    part: Part
    number: int
    due: int
    order: Order | None


def earliest(cell: Cell, part: Part) -> Wanted:
    """The part's earliest order with pieces left."""
    opened = cell.opened[part.id]
    for order in opened[-1:]:  # the next one is opened only when the last has no pieces left
        if order.left > 0:
            return Wanted(part, order.number, order.due, order)
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
    """Section 4: not where the order before is due more than run_ahead after the later of ..."""
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
    """Section 4: fewer held than there are, or its own, or one on a resting pallet."""
    limit = part.value("fixtures")
    if limit is None or pallet.fixture == part.id or holders(cell, part.id) < limit:
        return True
    return bool(resting_with(cell, part.id, but=pallet))


def open_to(cell: Cell, machine: Machine) -> list[Wanted]:
    """e(Q) of the parts allowed on this machine that are open or may be opened."""
    found = [earliest(cell, part) for part in cell.parts if allowed(part, machine.group)]
    return [e for e in found if e.order is not None or may_be_opened(cell, e.part)]


def may_be_taken(cell: Cell, pallet: Pallet) -> list[Wanted]:
    """e(Q) of every part Q that may be taken for this pallet."""
    found = open_to(cell, pallet.machine)
    return [e for e in found if fixture_free(cell, e.part, pallet)]


def wants_only_a_fixture(cell: Cell, pallet: Pallet) -> bool:
    """Whether something could be taken if its fixture were free."""
    return bool(open_to(cell, pallet.machine)) and not may_be_taken(cell, pallet)


def choose(cell: Cell, pallet: Pallet) -> Wanted | None:
    """Section 4: what a visit to this pallet takes, in the order of rules 1 to 3."""
    own = pallet.order
    if own is not None and own.left > 0:  # rule 1
        return Wanted(own.part, own.number, own.due, own)
    found = may_be_taken(cell, pallet)
    if not found:
        return None
    first_due = min(e.due for e in found)
    held = [e for e in found if e.part.id == pallet.fixture]
    if cell.rule == "keep_setup" and held:  # rule 2
        before = due(held[0].part, held[0].number - 1)
        if before <= first_due:
            return held[0]
    return min(found, key=lambda e: rank(cell, e))  # rule 3


def rank(cell: Cell, e: Wanted) -> tuple[int, float, int]:
    """Rule 3: due first; ties: the order opened first, then the file's order."""
    turn = float("inf") if e.order is None else e.order.turn
    return (e.due, turn, cell.parts.index(e.part))


def opened_order(cell: Cell, e: Wanted) -> Order:
    """The order itself, opened now where it was not yet."""
    if e.order is not None:
        return e.order
    turn = sum(len(orders) for orders in cell.opened.values())
    order = Order(e.part, e.number, e.due, e.part.value("batch"), turn)
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
