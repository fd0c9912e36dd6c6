"""Fixtures: who holds how many of them, and who may have one (rule `fixtures.free`)."""

from __future__ import annotations

from .things import Cell, Fixture, Order, Pallet


def holders(cell: Cell, fixture: Fixture) -> list[Pallet]:
    """The pallets and tables that hold one for this part number, or that it is on its way to."""
    return [pallet for pallet in cell.pallets if fixture in (pallet.fixture, pallet.incoming)]


def resting_with(cell: Cell, fixture: Fixture, but: Pallet) -> list[Pallet]:
    """Resting pallets that hold such a fixture, the longest-resting first."""
    found = [p for p in holders(cell, fixture) if p.resting_since is not None and p is not but]
    return sorted(found, key=lambda p: (p.resting_since or 0, p.machine.number, p.number))


def free_for(cell: Cell, order: Order, pallet: Pallet) -> int:
    """How many fixtures of the order's number this pallet may have its pick of.

    Its own is free to itself, a resting pallet's to all.
    """
    kept = [other for other in kept_by(cell, order.fixture) if other is not pallet]
    return order.part.fixtures - len(kept)


def kept_by(cell: Cell, fixture: Fixture) -> list[Pallet]:
    """The pallets and tables that hold one and do not rest."""
    if fixture not in cell.kept_by:
        found = holders(cell, fixture)
        cell.kept_by[fixture] = [pallet for pallet in found if pallet.resting_since is None]
    return cell.kept_by[fixture]


def take_fixture(cell: Cell, order: Order, pallet: Pallet) -> None:
    """Take the new fixture for a visit that begins; the old one is given back at its end."""
    if len(holders(cell, order.fixture)) >= order.part.fixtures:
        loser = resting_with(cell, order.fixture, but=pallet)[0]
        loser.fixture = None
        cell.tell(f"{loser.name}: its fixture for {told(order)} is taken by {pallet.name}")
    pallet.incoming = order.fixture
    part, held = order.part.id, len(holders(cell, order.fixture))
    cell.most_held[part] = max(cell.most_held.get(part, 0), held)


def told(order: Order) -> str:
    """A part number for the trace."""
    part, number = order.fixture
    return part if order.part.value("numbers") == 1 else f"{part} number {number}"
