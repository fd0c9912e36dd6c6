"""What a rush order goes ahead of, and what it leaves behind (rule `orders.rush`).

The pallets that are free next take it, its visits are served next and its loads are cut next;
where its fixtures are all on loaded pallets, those are cut first. A piece in the cut is finished
with its load. The pallet that carried it keeps no setup afterwards (:func:`orders.choose`).
"""

from __future__ import annotations

from whatif.cell import orders
from whatif.cell.calls import Call
from whatif.cell.codes import INSIDE, NOT_BEGUN, NOWHERE, READY, VISIT
from whatif.cell.floor import Floor
from whatif.cell.loads import Load, Pallet


def real_order_for(floor: Floor, pallet: Pallet) -> int:
    """The real order that a visit begun now takes: a rush order, or else by the usual rules."""
    place = orders.rush_order_for(floor, pallet)
    return orders.real_by_usual_rules(floor, pallet) if place == NOWHERE else place


def is_on(floor: Floor) -> bool:
    """Whether a rush order is at hand or on pallets, so that something may go ahead."""
    return bool(floor.book.at_hand.rushing)


def goes_ahead(floor: Floor, call: Call) -> bool:
    """Whether a call is for a rush order: a visit also where it puts its pieces on."""
    pallet = floor.pallets[call.pallet]
    if pallet.load is not None and pallet.load.rush:
        return True
    if call.job != VISIT:
        return pallet.load is not None and cuts_first(floor, pallet, pallet.load)
    if call.left != NOT_BEGUN:
        return pallet.coming is not None and pallet.coming.rush
    return orders.rush_order_for(floor, pallet) != NOWHERE


def cuts_first(floor: Floor, pallet: Pallet, load: Load) -> bool:
    """Whether a ready load is a rush order's, or holds a fixture that one waits for."""
    if load.rush:
        return True
    return any(
        pallet.fixture == part and _all_loaded(floor, part) for part in _parts_in_a_rush(floor)
    )


def _parts_in_a_rush(floor: Floor) -> list[int]:
    """The parts of rush orders at hand with pieces not yet loaded."""
    orders, at_hand = floor.cell.orders, floor.book.at_hand
    return [orders[at_hand.ranked[rank]].part for rank in at_hand.rushes]


def _all_loaded(floor: Floor, part: int) -> bool:
    """Whether all fixtures of a part are on loaded pallets, so that none comes free uncut."""
    held = floor.book.held.get(part, [])  # a rush order is of part number 0
    return len(held) >= floor.book.fixtures[part] and all(
        floor.pallets[i].at in (READY, INSIDE) for i in held
    )
