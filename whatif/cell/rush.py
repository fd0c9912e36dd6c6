"""What a rush order goes ahead of, and what it leaves behind (rule `orders.rush`).

The pallets that are free next take it, its visits are served next and its loads are cut next;
where its fixtures are all on loaded pallets, those are cut first. A piece in the cut is finished
with its load. The pallet that carried it keeps no setup afterwards (:func:`orders.choose`).
"""

from __future__ import annotations

from whatif.cell import orders
from whatif.cell.floor import NOWHERE, At, Call, Floor, Job, Load, Order, Pallet


def choose(floor: Floor, pallet: Pallet) -> Order | None:
    """The order that a visit begun now takes: a rush order, or else by the usual rules."""
    if floor.cell.orders and (place := orders.real_for(floor, pallet, rush=True)) is not None:
        return (NOWHERE, place)
    return orders.choose_by_usual_rules(floor, pallet)


def goes_ahead(floor: Floor, call: Call) -> bool:
    """Whether a call is for a rush order: a visit also where it puts its pieces on."""
    if not floor.cell.orders:
        return False
    pallet = floor.pallets[call.pallet]
    if pallet.load is not None and pallet.load.rush:
        return True
    if call.job is not Job.VISIT:
        return pallet.load is not None and cuts_first(floor, pallet, pallet.load)
    if call.left is not None:
        return pallet.coming is not None and pallet.coming.rush
    return orders.real_for(floor, pallet, rush=True) is not None


def cuts_first(floor: Floor, pallet: Pallet, load: Load) -> bool:
    """Whether a ready load is a rush order's, or holds a fixture that one waits for."""
    if not floor.cell.orders:
        return False
    if load.rush:
        return True
    return any(
        pallet.fixture == part and _all_loaded(floor, part) for part in _parts_in_a_rush(floor)
    )


def _parts_in_a_rush(floor: Floor) -> list[int]:
    """The parts of rush orders at hand with pieces not yet loaded."""
    return [
        order.part
        for order, progress in zip(floor.cell.orders, floor.book.real, strict=True)
        if order.rush and progress.here and progress.left
    ]


def _all_loaded(floor: Floor, part: int) -> bool:
    """Whether all fixtures of a part are on loaded pallets, so that none comes free uncut."""
    most = floor.cell.parts[part].fixtures
    held = floor.book.held.get(part, [])  # a rush order is of part number 0
    return (
        most is not None
        and len(held) >= most
        and all(floor.pallets[i].at in (At.READY, At.SPINDLE) for i in held)
    )
