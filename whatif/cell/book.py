"""The order book: which orders there are, when they may be opened, what is taken and comes off.

What a pallet may take of it stands in :mod:`whatif.cell.orders`.
"""

from __future__ import annotations

from whatif.cell.floor import (
    NOWHERE,
    Endless,
    EndlessOrder,
    Floor,
    Load,
    Order,
    OrderBook,
    Pallet,
    RealProgress,
)
from whatif.cell.model import WEEK, Cell, Part


def new_book(cell: Cell) -> OrderBook:
    """The order book at the begin of a run: nothing is opened, and no fixture held."""
    endless = [_endless(cell, part) if part.weekly > 0 else None for part in cell.parts]
    good = [1 - part.scrap for part in cell.parts]
    feeding = {part.after for part in cell.parts}
    family = _families(cell)
    return OrderBook(
        endless=endless,
        real=[RealProgress(order.pieces) for order in cell.orders],
        real_rank=sorted(range(len(cell.orders)), key=lambda i: (cell.orders[i].due, i)),
        made=[
            [i for i, part in enumerate(cell.parts) if endless[i] and part.making[place]]
            for place in range(len(cell.groups))
        ],
        family=family,
        unopened=[_earliest_unopened(endless, related) for related in family],
        held={},
        most_held=[0] * len(cell.parts),
        good=[share.numerator for share in good],
        whole=[share.denominator for share in good],
        feeds=[i in feeding for i in range(len(cell.parts))],
        stock=[
            part.stock * share.denominator for part, share in zip(cell.parts, good, strict=True)
        ],
    )


def _endless(cell: Cell, part: Part) -> Endless:
    pieces = part.batch
    if cell.to_order:
        # As many more that the scrap is made good, whole pieces, rounded up.
        good = 1 - part.scrap
        pieces = -(-part.batch * good.denominator // good.numerator)
    orders = Endless(
        pieces=pieces,
        numbers=part.numbers,
        at_once=part.at_once,
        seconds=part.batch * WEEK * part.weekly.denominator,
        share=part.weekly.numerator,
        waiting=[],
    )
    orders.look_ahead()
    return orders


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


def _earliest_unopened(endless: list[Endless | None], family: list[int]) -> int:
    """Second at which the earliest unopened order of a family is due; 0 for no family."""
    dues = [orders.unopened().due for i in family if (orders := endless[i]) is not None]
    return min(dues, default=0)


# -- opening -----------------------------------------------------------------------------


def opens_after(floor: Floor, part: int) -> int:
    """An order may be opened whose predecessor is due no later than this (rule `orders.open`)."""
    second = floor.now
    if not floor.cell.to_order:
        second = max(second, floor.book.unopened[part])
    return second + floor.cell.run_ahead


def next_opening(floor: Floor) -> int | None:
    """The next second at which time alone lets a part's order be opened."""
    soonest: int | None = None
    for part, orders in enumerate(floor.book.endless):
        if orders is None:
            continue
        latest = opens_after(floor, part)
        # All orders of one number want one fixture: no later one is taken before the earliest.
        before = (
            orders.unopened().due_before if orders.numbers == 1 else orders.first_due_after(latest)
        )
        if before > latest:
            at = before - floor.cell.run_ahead
            soonest = at if soonest is None else min(soonest, at)
    return soonest


# -- taking ------------------------------------------------------------------------------


def part_of(floor: Floor, order: Order) -> int:
    """The part an order is for."""
    return floor.cell.orders[order[1]].part if order[0] == NOWHERE else order[0]


def fixture_for(floor: Floor, part: int, number: int) -> int:
    """The fixture that an order of a part wants: that of its part number (rule `orders.due`)."""
    return number % floor.cell.parts[part].numbers * len(floor.cell.parts) + part


def fixture_of(floor: Floor, order: Order) -> int:
    """The fixture that an order wants; a real order is of part number 0."""
    part, number = order
    return part_of(floor, order) if part == NOWHERE else fixture_for(floor, part, number)


def waiting(book: OrderBook, order: Order) -> EndlessOrder | None:
    """The endless order, if it has pieces left."""
    orders = book.endless[order[0]]
    if orders is not None:
        for wanted in orders.waiting:
            if wanted.number == order[1]:
                return wanted
    return None


def is_at(pallet: Pallet, order: Order) -> bool:
    """Whether pieces of an order are on a pallet, or coming (rule `orders.at-once`)."""
    load, coming = pallet.load, pallet.coming
    return (load is not None and load.order == order) or (
        coming is not None and coming.order == order
    )


def take(floor: Floor, order: Order, pieces: int, pallet: Pallet) -> None:
    """Book that a visit takes pieces of an order to a pallet."""
    book = floor.book
    book.changes += 1
    before = floor.cell.parts[part_of(floor, order)].after
    if before is not None:
        book.stock[before] -= pieces * book.whole[before]
    comes = not is_at(pallet, order)
    if order[0] == NOWHERE:
        real = book.real[order[1]]
        real.left -= pieces
        real.taken += pieces
        real.at += comes
        return
    orders, wanted = book.endless[order[0]], waiting(book, order)
    assert orders is not None
    assert wanted is not None
    if not wanted.opened:
        book.openings += 1
        wanted.opened = book.openings
        if wanted is orders.waiting[-1]:
            orders.look_ahead()
        if not floor.cell.to_order:
            family = book.family[order[0]]
            earliest = _earliest_unopened(book.endless, family)
            for i in family:
                book.unopened[i] = earliest
    wanted.left -= pieces
    wanted.at += comes
    if not wanted.left:
        orders.waiting.remove(wanted)


def off(floor: Floor, load: Load, coming: Load | None) -> None:
    """Book that a visit has ended which took a load off and put another one on."""
    book = floor.book
    if book.feeds[load.part]:
        book.stock[load.part] += load.pieces * book.good[load.part]
    leaves = coming is None or coming.order != load.order
    if load.order[0] != NOWHERE:
        wanted = waiting(book, load.order)
        if wanted is not None:
            wanted.at -= leaves
        return
    real = book.real[load.order[1]]
    real.at -= leaves
    real.off += load.pieces
    if floor.now <= floor.cell.orders[load.order[1]].due:
        real.in_time += load.pieces
    if real.first_off is None:
        real.first_off = floor.now
    if real.off == floor.cell.orders[load.order[1]].pieces:
        real.last_off = floor.now
