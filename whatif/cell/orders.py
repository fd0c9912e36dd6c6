"""What a pallet takes next: orders, fixtures, run-ahead (rule `orders.take`).

What a rush order changes of it stands in :mod:`whatif.cell.rush`.
"""

from __future__ import annotations

from whatif.cell.floor import (
    NOWHERE,
    At,
    Endless,
    Floor,
    Load,
    Order,
    OrderBook,
    Pallet,
    RealProgress,
)
from whatif.cell.model import Cell


def new_book(cell: Cell) -> OrderBook:
    """The order book at the begin of a run: nothing is opened, and no fixture held."""
    endless = [Endless(part) if part.weekly > 0 else None for part in cell.parts]
    return OrderBook(
        endless=endless,
        real=[RealProgress(order.pieces) for order in cell.orders],
        real_rank=sorted(range(len(cell.orders)), key=lambda i: (cell.orders[i].due, i)),
        made=[
            [i for i, part in enumerate(cell.parts) if endless[i] and part.making[place]]
            for place in range(len(cell.groups))
        ],
        family=_families(cell),
        holders=[set() for _ in cell.parts],
        most_held=[0] * len(cell.parts),
    )


def _families(cell: Cell) -> list[list[int]]:
    """Per part, the parts with endless orders that share a machine with it, directly or not."""
    group_of = list(range(len(cell.parts)))
    changed = True
    while changed:
        changed = False
        for place in range(len(cell.groups)):
            here = [
                i
                for i, part in enumerate(cell.parts)
                if part.making[place] is not None and part.weekly > 0
            ]
            if not cell.groups[place].count or not here:
                continue
            low = min(group_of[i] for i in here)
            for i in here:
                if group_of[i] != low:
                    group_of[i] = low
                    changed = True
    return [
        [j for j, part in enumerate(cell.parts) if part.weekly > 0 and group_of[j] == group_of[i]]
        for i in range(len(cell.parts))
    ]


# -- fixtures ----------------------------------------------------------------------------


def fixture_free(floor: Floor, part: int, pallet: Pallet) -> bool:
    """Whether a fixture of the part is free to the pallet (rule `fixtures.free`)."""
    most = floor.cell.parts[part].fixtures
    if most is None or pallet.fixture == part:
        return True
    held = floor.book.holders[part]
    return len(held) < most or any(floor.pallets[i].at == At.RESTING for i in held)


def take_fixture(floor: Floor, part: int, pallet: Pallet) -> None:
    """Give the pallet a fixture, if need be a resting pallet's (rule `fixtures.take`)."""
    held = floor.book.holders[part]
    if pallet.index in held:
        return
    most = floor.cell.parts[part].fixtures
    if most is not None and len(held) >= most:
        robbed = min(
            (floor.pallets[i] for i in held if floor.pallets[i].at == At.RESTING),
            key=lambda p: (p.since, p.index),
        )
        robbed.fixture = NOWHERE
        held.discard(robbed.index)
    held.add(pallet.index)
    floor.book.most_held[part] = max(floor.book.most_held[part], len(held))


def give_back(floor: Floor, part: int, pallet: Pallet) -> None:
    """Put a fixture back that the pallet no longer holds."""
    floor.book.holders[part].discard(pallet.index)


# -- what may be taken -------------------------------------------------------------------


def opens(floor: Floor) -> list[int | None]:
    """Earliest second at which each part's order may be taken from (rule `orders.open`).

    Time alone moves the clock towards it; openings of other parts may bring it nearer. None
    for a part without endless orders.
    """
    book = floor.book
    if book.opens is None:
        book.opens = [
            None if orders is None else _opens_at(floor, orders, book.family[i])
            for i, orders in enumerate(book.endless)
        ]
    return book.opens


def _opens_at(floor: Floor, orders: Endless, family: list[int]) -> int:
    if orders.opened:
        return 0
    others = min(
        other.earliest_unopened for i in family if (other := floor.book.endless[i]) is not None
    )
    run_ahead = floor.cell.run_ahead
    return 0 if orders.due_before <= others + run_ahead else orders.due_before - run_ahead


def due_now(floor: Floor, group: int) -> list[int]:
    """Parts of endless orders that are made on a group and are open or may be opened."""
    seconds = opens(floor)
    return [i for i in floor.book.made[group] if (at := seconds[i]) is not None and at <= floor.now]


def next_opening(floor: Floor) -> int | None:
    """The next second at which time alone lets a part's order be opened."""
    return min((at for at in opens(floor) if at is not None and at > floor.now), default=None)


def real_for(floor: Floor, group: int) -> list[int]:
    """Real orders at hand with pieces left that are made on a group, earliest due date first."""
    book, cell = floor.book, floor.cell
    return [
        i
        for i in book.real_rank
        if book.real[i].here
        and book.real[i].left
        and cell.parts[cell.orders[i].part].making[group] is not None
    ]


def something_for(floor: Floor, pallet: Pallet, *, free: bool = True) -> bool:
    """Whether the pallet might take something; with ``free=False`` fixtures are ignored."""
    group = floor.spindles[pallet.machine].group
    parts = [floor.cell.orders[i].part for i in real_for(floor, group)]
    parts += due_now(floor, group)
    return any(not free or fixture_free(floor, part, pallet) for part in parts)


def choose_by_usual_rules(floor: Floor, pallet: Pallet) -> Order | None:
    """The order that a visit begun now takes (rule `orders.take`); None if nothing may be.

    Real orders go ahead of the endless mix (rule `orders.real`). Rush orders are none of its
    business: where the pallet may take one, :func:`whatif.cell.rush.choose` has said so before.
    """
    group = floor.spindles[pallet.machine].group
    going_on = _going_on(floor, pallet)
    if going_on is not None and going_on[0] == NOWHERE:
        return going_on
    for i in real_for(floor, group):
        if fixture_free(floor, floor.cell.orders[i].part, pallet):
            return (NOWHERE, i)
    if going_on is not None:
        return going_on
    may = [
        (orders, i)
        for i in due_now(floor, group)
        if (orders := floor.book.endless[i]) is not None and fixture_free(floor, i, pallet)
    ]
    if not may:
        return None
    earliest = min(orders.due for orders, _ in may)
    if floor.cell.keep_setup and not pallet.after_rush:
        for orders, i in may:
            if i == pallet.fixture and orders.due_before <= earliest:
                return (i, orders.number)
    unopened = floor.book.openings + 1
    orders, i = min(may, key=lambda found: (found[0].due, found[0].opened or unopened, found[1]))
    return (i, orders.number)


def _going_on(floor: Floor, pallet: Pallet) -> Order | None:
    """The order that the pallet has been working on, if it has pieces left."""
    order = pallet.order
    if order is None or not _left(floor.book, order):
        return None
    return order if fixture_free(floor, part_of(floor, order), pallet) else None


def _left(book: OrderBook, order: Order) -> int:
    part, number = order
    if part == NOWHERE:
        return book.real[number].left
    orders = book.endless[part]
    return orders.left if orders is not None and orders.number == number else 0


def part_of(floor: Floor, order: Order) -> int:
    """The part an order is for."""
    return floor.cell.orders[order[1]].part if order[0] == NOWHERE else order[0]


# -- taking ------------------------------------------------------------------------------


def take(floor: Floor, order: Order, group: int, *, setup: bool) -> Load:
    """Allot the pieces of a load (rule `loads.size`) and book them."""
    place = part_of(floor, order)
    part = floor.cell.parts[place]
    making = part.making[group]
    assert making is not None
    begins = _begins(floor.book, order)
    first = bool(part.first_piece) and (setup or (part.first_piece_each_order and begins))
    pieces = 1 if first else min(making.per_pallet, _left(floor.book, order))
    _book(floor.book, order, pieces)
    return Load(
        part=place,
        making=making,
        pieces=pieces,
        order=order,
        first=first,
        unproved=setup and making.prove_out > 0,
        attended_only=first or not part.unattended,
        rush=order[0] == NOWHERE and floor.cell.orders[order[1]].rush,
    )


def _begins(book: OrderBook, order: Order) -> bool:
    if order[0] == NOWHERE:
        return book.real[order[1]].taken == 0
    orders = book.endless[order[0]]
    return orders is not None and not orders.opened


def _book(book: OrderBook, order: Order, pieces: int) -> None:
    if order[0] == NOWHERE:
        real = book.real[order[1]]
        real.left -= pieces
        real.taken += pieces
        return
    orders = book.endless[order[0]]
    assert orders is not None
    if not orders.opened:
        book.openings += 1
        orders.opened = book.openings
        book.opens = None
    orders.left -= pieces
    if not orders.left:
        orders.next()
        book.opens = None


def off(floor: Floor, load: Load) -> None:
    """Note pieces of a real order that are taken off now."""
    if load.order[0] != NOWHERE:
        return
    real = floor.book.real[load.order[1]]
    real.off += load.pieces
    if floor.now <= floor.cell.orders[load.order[1]].due:
        real.in_time += load.pieces
    if real.first_off is None:
        real.first_off = floor.now
    if real.off == floor.cell.orders[load.order[1]].pieces:
        real.last_off = floor.now
