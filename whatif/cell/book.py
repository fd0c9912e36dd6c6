"""The order book: which orders there are, when they may be opened, what is taken and comes off.

What a pallet may take of it stands in :mod:`whatif.cell.orders`.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Sequence

from whatif.cell.at_hand import AtHand
from whatif.cell.calendar import FOR_EVER
from whatif.cell.codes import NOWHERE, ORDER_ARRIVES
from whatif.cell.floor import Floor
from whatif.cell.loads import Load, Pallet
from whatif.cell.model import WEEK, Cell
from whatif.cell.turns import UNOPENED, Mix, PartFamily
from whatif.cell.wanted import Endless, EndlessOrder, Order, OrderBook, RealProgress


def new_book(cell: Cell) -> OrderBook:
    """The order book at the begin of a run: nothing is opened, and no fixture held."""
    endless = [
        _endless(cell, place) if part.weekly > 0 else None for place, part in enumerate(cell.parts)
    ]
    good = [1 - part.scrap for part in cell.parts]
    feeding = {part.after for part in cell.parts}
    due = [0 if orders is None else orders.waiting[0].due for orders in endless]
    turns = [(second, UNOPENED, i) for i, second in enumerate(due)]
    families, made = _families(cell), _made(cell)
    mixes = list(dict.fromkeys(made))
    return OrderBook(
        endless=endless,
        real=[RealProgress(order.pieces) for order in cell.orders],
        family=[places[0] if places else NOWHERE for places in _among(families, len(cell.parts))],
        mix=[mixes.index(parts) for parts in made],
        mixes_of=_among(mixes, len(cell.parts)),
        held={},
        most_held=[0] * len(cell.parts),
        good=[share.numerator for share in good],
        whole=[share.denominator for share in good],
        feeds=[i in feeding for i in range(len(cell.parts))],
        stock=[
            part.stock * share.denominator for part, share in zip(cell.parts, good, strict=True)
        ],
        turn=turns,
        opens=[0] * len(cell.parts),
        waits=[0] * len(cell.parts),
        unopened=due,
        families=[
            PartFamily(
                parts,
                waits=[(0, i) for i in parts],
                dues=[] if cell.to_order else sorted([(due[i], i) for i in parts]),
            )
            for parts in families
        ],
        mixes=[
            Mix(list(parts), may=sorted([turns[i] for i in parts]), later=[]) for parts in mixes
        ],
        at_hand=_none_at_hand(cell),
        fixtures=[FOR_EVER if part.fixtures is None else part.fixtures for part in cell.parts],
        after=[NOWHERE if part.after is None else part.after for part in cell.parts],
        wears=any(part.tool_life is not None for part in cell.parts),
        shares=sum(group.count for group in cell.groups) > 1
        and any(part.fixtures is not None for part in cell.parts),
    )


def _endless(cell: Cell, place: int) -> Endless:
    part = cell.parts[place]
    pieces = part.batch
    if cell.to_order:
        # As many more that the scrap is made good, whole pieces, rounded up.
        good = 1 - part.scrap
        pieces = -(-part.batch * good.denominator // good.numerator)
    orders = Endless(
        part=place,
        parts=len(cell.parts),
        pieces=pieces,
        numbers=part.numbers,
        at_once=part.at_once,
        seconds=part.batch * WEEK * part.weekly.denominator,
        share=part.weekly.numerator,
        waiting=[],
    )
    orders.look_ahead()
    orders.look()
    return orders


def _made(cell: Cell) -> list[tuple[int, ...]]:
    """Per group, the parts with endless orders that are made there."""
    return [
        tuple(
            [
                i
                for i, part in enumerate(cell.parts)
                if part.weekly.numerator > 0 and part.making[place] is not None
            ]
        )
        for place in range(len(cell.groups))
    ]


def _families(cell: Cell) -> list[list[int]]:
    """Parts with endless orders that share a machine, directly or not."""
    families: dict[int, list[int]] = {}
    for i, lead in enumerate(_leads(cell)):
        if cell.parts[i].weekly.numerator > 0:
            families.setdefault(lead, []).append(i)
    return list(families.values())


def _among(lists: Sequence[Sequence[int]], parts: int) -> list[list[int]]:
    """Per part, the places of the lists that it is in."""
    found: list[list[int]] = [[] for _ in range(parts)]
    for place, listed in enumerate(lists):
        for part in listed:
            found[part].append(place)
    return found


def _none_at_hand(cell: Cell) -> AtHand:
    """Real orders before any has arrived."""
    rank = [0] * len(cell.orders)
    # A sort leaves those that are due at once in the file's order.
    dues = [order.due for order in cell.orders]
    ranked = sorted(range(len(dues)), key=dues.__getitem__)
    for i, place in enumerate(ranked):
        rank[place] = i
    makers = [
        [group for group, making in enumerate(part.making) if making is not None]
        for part in cell.parts
    ]
    return AtHand(
        rank=rank,
        ranked=ranked,
        made=[makers[order.part] for order in cell.orders],
        orders=[],
        room=[[] for _ in cell.groups],
        has_room=[False] * len(cell.orders),
        rushes=[],
        rushing=[],
    )


def _leads(cell: Cell) -> list[int]:
    """Per part, the first part of its family, itself where it shares no machine."""
    lead_of = list(range(len(cell.parts)))
    # Whole numbers: a part's weekly pieces as a fraction are slow to compare.
    wanted = [i for i, part in enumerate(cell.parts) if part.weekly.numerator > 0]
    changed = True
    while changed:
        changed = False
        for place, group in enumerate(cell.groups):
            if not group.count:
                continue
            here = [i for i in wanted if cell.parts[i].making[place] is not None]
            low = min([lead_of[i] for i in here], default=0)
            for i in here:
                if lead_of[i] != low:
                    lead_of[i] = low
                    changed = True
    return lead_of


# -- opening -----------------------------------------------------------------------------


def opens_after(floor: Floor, part: int) -> int:
    """An order may be opened whose predecessor is due no later than this (rule `orders.open`)."""
    second = floor.now
    if not floor.cell.to_order:
        book = floor.book
        second = max(second, book.families[book.family[part]].dues[0][0])
    return second + floor.cell.run_ahead


def next_opening(floor: Floor) -> int | None:
    """The next second at which time alone lets a part's order be opened."""
    book = floor.book
    soonest = FOR_EVER
    for family in book.families:
        latest = opens_after(floor, family.parts[0])
        waits = family.waits
        while waits and waits[0][0] <= latest:
            # All orders of one number want one fixture: no later one is taken before the earliest.
            part = waits.pop(0)[1]
            orders = book.endless[part]
            if orders is not None and orders.numbers > 1:
                insort(waits, (orders.first_due_after(latest), part))
        if waits and waits[0][0] < soonest:
            soonest = waits[0][0]
    return None if soonest == FOR_EVER else soonest - floor.cell.run_ahead


# -- taking ------------------------------------------------------------------------------


def part_of(floor: Floor, order: Order) -> int:
    """The part an order is for."""
    return floor.cell.orders[order[1]].part if order[0] == NOWHERE else order[0]


def fixture_of(floor: Floor, order: Order) -> int:
    """The fixture that an order wants: that of its part number (rule `orders.due`).

    A real order is of part number 0.
    """
    part, number = order
    if part == NOWHERE:
        return floor.cell.orders[number].part
    return number % floor.cell.parts[part].numbers * len(floor.cell.parts) + part


def _place(orders: Endless, number: int) -> int:
    place = 0
    while orders.waiting[place].number != number:
        place += 1
    return place


def foretell_next(floor: Floor) -> None:
    """Foretell which real order arrives next."""
    if floor.arrivals:
        place = floor.arrivals[-1]
        at = floor.cell.orders[place].arrives
        assert at is not None
        floor.foretell(at, ORDER_ARRIVES, place)


def arrives(floor: Floor, place: int) -> None:
    """A real order arrives; the next one is foretold."""
    book = floor.book
    # A rush order that is let arrive is not among them.
    if floor.arrivals and floor.arrivals[-1] == place:
        floor.arrivals.pop()
        foretell_next(floor)
    book.real[place].here = True
    book.at_hand.arrives(place, rush=floor.cell.orders[place].rush)
    _notes_room(floor, place)
    book.changes += 1


def _notes_room(floor: Floor, place: int) -> None:
    """Note whether another pallet may be at a real order; to be done when it changes."""
    order, real = floor.cell.orders[place], floor.book.real[place]
    room = order.rush or real.at < floor.cell.parts[order.part].at_once
    floor.book.at_hand.notes_room(place, room=real.here and real.left > 0 and room)


def is_at(pallet: Pallet, order: Order) -> bool:
    """Whether pieces of an order are on a pallet, or coming (rule `orders.at-once`)."""
    load, coming = pallet.load, pallet.coming
    return (load is not None and load.order == order) or (
        coming is not None and coming.order == order
    )


def take_endless(floor: Floor, wanted: EndlessOrder, pieces: int, pallet: Pallet) -> None:
    """Book that a visit takes pieces of an endless order to a pallet."""
    book = floor.book
    part = wanted.key[0]
    orders = book.endless[part]
    assert orders is not None
    before = book.after[part]
    if before != NOWHERE:
        book.stock[before] -= pieces * book.whole[before]
        book.changes += 1
    load = pallet.load
    comes = load is None or load.order != wanted.key
    if comes:
        wanted.at += 1
    wanted.left -= pieces
    if wanted.opened and wanted.left and not comes:
        # Which orders have room and are unopened is as it was.
        book.goes_on()
        return
    book.changes += 1
    if not wanted.opened:
        _open(book, orders, wanted)
    if not wanted.left:
        del orders.waiting[_place(orders, wanted.number)]
    book.look_at(part)


def _open(book: OrderBook, orders: Endless, wanted: EndlessOrder) -> None:
    book.openings += 1
    wanted.opened = book.openings
    if wanted is orders.waiting[-1]:
        orders.look_ahead()


def take_real(floor: Floor, place: int, pieces: int, pallet: Pallet) -> None:
    """Book that a visit takes pieces of a real order to a pallet."""
    book = floor.book
    before = book.after[floor.cell.orders[place].part]
    if before != NOWHERE:
        book.stock[before] -= pieces * book.whole[before]
        book.changes += 1
    real = book.real[place]
    real.left -= pieces
    real.taken += pieces
    if is_at(pallet, (NOWHERE, place)):
        if real.left:
            # Which orders are at hand and have room is as it was.
            book.goes_on()
            return
    else:
        real.at += 1
    book.changes += 1
    if not real.left:
        book.at_hand.is_loaded(place, rush=floor.cell.orders[place].rush)
    _notes_room(floor, place)


def off(floor: Floor, load: Load, coming: Load | None) -> None:
    """Book that a visit has ended which took a load off and put another one on."""
    book = floor.book
    if book.feeds[load.part]:
        book.stock[load.part] += load.pieces * book.good[load.part]
        book.changes += 1
    leaves = coming is None or coming.order != load.order
    book.changes += leaves
    part, number = load.order
    if part != NOWHERE:
        if leaves:
            wanted = load.wanted
            if wanted is not None and wanted.left:
                wanted.at -= 1
                book.look_at(part)
        return
    real = book.real[number]
    if leaves:
        real.at -= 1
        _notes_room(floor, number)
        if load.rush and not real.left and not real.at:
            book.at_hand.rushing.remove(number)
    real.off += load.pieces
    if floor.now <= floor.cell.orders[number].due:
        real.in_time += load.pieces
    if real.first_off is None:
        real.first_off = floor.now
    if real.off == floor.cell.orders[number].pieces:
        real.last_off = floor.now
