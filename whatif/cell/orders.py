"""What a pallet takes next: orders, fixtures, stock (rule `orders.take`).

The orders themselves stand in :mod:`whatif.cell.book`; what a rush order changes of this stands in
:mod:`whatif.cell.rush`.
"""

from __future__ import annotations

from typing import Final

from whatif.cell.book import (
    is_at,
    opens_after,
    take_endless,
    take_real,
)
from whatif.cell.calendar import FOR_EVER
from whatif.cell.codes import (
    LACKS_FIXTURE,
    LACKS_STOCK,
    LACKS_WORK,
    NOWHERE,
    RESTING,
)
from whatif.cell.floor import Floor
from whatif.cell.loads import Load, Pallet
from whatif.cell.machines import Spindle
from whatif.cell.turns import UNOPENED
from whatif.cell.wanted import EndlessOrder, Order

ANY: Final = 0
FREE: Final = 1
SHARED: Final = 2
"""How fixtures are looked at: not at all, by who holds them, and as shared out with machines that
starve (rule `fixtures.shared`)."""

NO: Final = 0
YES: Final = 1
PERHAPS: Final = 2


# -- fixtures ----------------------------------------------------------------------------


def fixture_free(floor: Floor, fixture: int, pallet: Pallet, look: int = SHARED) -> bool:
    """Whether a fixture is free to the pallet (rule `fixtures.free`, rule `fixtures.shared`)."""
    book = floor.book
    most = book.fixtures[fixture % len(book.fixtures)]
    if most == FOR_EVER or look == ANY:
        return True
    held = book.held.get(fixture)
    if held is None:
        return True
    others = len(floor.spindles) if look == SHARED else 0
    if len(held) + others < most:
        return True
    taken = 0
    for i in held:
        if i != pallet.index and floor.pallets[i].at != RESTING:
            taken += 1
    if taken >= most:
        return False
    if taken + others < most or not _has_another(floor, pallet):
        return True
    for spindle in floor.spindles:
        if _starves_for(floor, spindle, fixture):
            taken += 1
            if taken == most:
                return False
    return True


def _has_another(floor: Floor, pallet: Pallet) -> bool:
    """Whether another pallet of the machine holds a fixture, of any part number."""
    for i in floor.spindles[pallet.machine].pallets:
        other = floor.pallets[i]
        if other is not pallet and (other.fixture != NOWHERE or other.coming is not None):
            return True
    return False


def _starves_for(floor: Floor, spindle: Spindle, fixture: int) -> bool:
    """Whether a machine starves, and might take something but for that fixture."""
    if spindle.pallet != NOWHERE or spindle.ready or spindle.visits or spindle.unreleased:
        # Not all of its pallets ask or rest.
        return False
    for i in spindle.pallets:
        if _could_take_with(floor, floor.pallets[i], fixture):
            break
    else:
        return False
    for i in spindle.pallets:  # noqa: SIM110 - a loop is quicker than a generator
        if something_for(floor, floor.pallets[i], FREE):
            return False
    return True


def _could_take_with(floor: Floor, pallet: Pallet, fixture: int) -> bool:
    """Whether the pallet might take something of a part number, were its fixture free.

    Asked of pallets that may take nothing as it is.
    """
    number, part = divmod(fixture, len(floor.cell.parts))
    if floor.spindles[pallet.machine].makings[part] is None:
        return False
    book = floor.book
    if number == 0:
        for rank in book.at_hand.orders:
            place = book.at_hand.ranked[rank]
            if floor.cell.orders[place].part == part and _real_may(floor, place, pallet, ANY):
                return True
    orders = book.endless[part]
    if orders is None:
        return False
    own = pallet.wanted
    if own is not None and own.fixture == fixture and _going_on(floor, pallet, ANY) is not None:
        return True
    stock = book.after[part] != NOWHERE
    latest = opens_after(floor, part)
    # The last that waits is unopened, and so are all after it: a round of numbers has them all.
    after = orders.waiting[-1].number
    later = after + (number - after) % orders.numbers
    while orders.waiting[-1].number < later and orders.waiting[-1].due <= latest:
        orders.look_ahead()
    for wanted in orders.waiting:
        if not wanted.opened and wanted.due_before > latest:
            continue
        if wanted.at >= orders.at_once and not is_at(pallet, wanted.key):
            continue
        if wanted.fixture == fixture:
            return _covered(floor, wanted, pallet)
        # An earlier order that has a fixture, and waits for stock: the part's turn is with it.
        if stock and fixture_free(floor, wanted.fixture, pallet, FREE):
            return False
    return False


def take_fixture(floor: Floor, fixture: int, pallet: Pallet) -> None:
    """Give the pallet a fixture, if need be a resting pallet's (rule `fixtures.take`)."""
    book = floor.book
    part = fixture % len(book.fixtures)
    held = book.held.get(fixture)
    if held is None:
        held = book.held[fixture] = []
    elif pallet.index in held:
        return
    if len(held) >= book.fixtures[part]:
        robbed: Pallet | None = None
        for i in held:
            other = floor.pallets[i]
            if other.at == RESTING and (
                robbed is None
                or other.since < robbed.since
                or (other.since == robbed.since and i < robbed.index)
            ):
                robbed = other
        assert robbed is not None
        robbed.fixture = NOWHERE
        held.remove(robbed.index)
    held.append(pallet.index)
    if len(held) > book.most_held[part]:
        book.most_held[part] = len(held)


def give_back(floor: Floor, fixture: int, pallet: Pallet) -> None:
    """Put a fixture back that the pallet no longer holds."""
    held = floor.book.held[fixture]
    held.remove(pallet.index)
    floor.book.changes += 1
    if not held:
        del floor.book.held[fixture]


# -- what may be taken -------------------------------------------------------------------


def _is_first(floor: Floor, part: int, fixture: int, pallet: Pallet, *, begun: bool) -> bool:
    """Whether the next load would be a first piece (rule `loads.first-piece`)."""
    made = floor.cell.parts[part]
    return made.first_piece > 0 and (
        pallet.fixture != fixture or (made.first_piece_each_order and not begun)
    )


def _stocked(
    floor: Floor, part: int, fixture: int, left: int, pallet: Pallet, *, begun: bool
) -> bool:
    """Whether stock of the operation before covers the load (rule `loads.stock`).

    A load is one piece where it is a first piece, else what its pallet holds and the order has
    (rule `loads.size`).
    """
    book = floor.book
    before = book.after[part]
    if before == NOWHERE:
        return True
    there, whole = book.stock[before], book.whole[before]
    if there < whole:
        return False
    making = floor.spindles[pallet.machine].makings[part]
    assert making is not None
    pieces = making.per_pallet if making.per_pallet < left else left
    return there >= pieces * whole or _is_first(floor, part, fixture, pallet, begun=begun)


def _covered(floor: Floor, wanted: EndlessOrder, pallet: Pallet) -> bool:
    """Whether stock covers the next load of an endless order."""
    part = wanted.key[0]
    return floor.book.after[part] == NOWHERE or _stocked(
        floor, part, wanted.fixture, wanted.left, pallet, begun=wanted.opened > 0
    )


def _real_may(floor: Floor, place: int, pallet: Pallet, look: int = SHARED) -> bool:
    """Whether a real order at hand may be taken on the pallet; of a rush order any pallet may."""
    book = floor.book
    order, real = floor.cell.orders[place], book.real[place]
    if not (real.here and real.left) or floor.spindles[pallet.machine].makings[order.part] is None:
        return False
    at_once = floor.cell.parts[order.part].at_once
    return (
        (order.rush or real.at < at_once or is_at(pallet, (NOWHERE, place)))
        and (book.fixtures[order.part] == FOR_EVER or fixture_free(floor, order.part, pallet, look))
        and _stocked(floor, order.part, order.part, real.left, pallet, begun=real.taken > 0)
    )


def real_for(floor: Floor, pallet: Pallet, look: int = SHARED) -> int:
    """The first real order that may be taken on the pallet."""
    at_hand, found = floor.book.at_hand, NOWHERE
    for rank in at_hand.room[pallet.group]:
        place = at_hand.ranked[rank]
        if _real_may(floor, place, pallet, look):
            found = place
            break
    # One that has no room for another pallet goes on with those that are at it.
    for load in (pallet.load, pallet.coming):
        place = _real_on(load)
        if (
            place != NOWHERE
            and not at_hand.has_room[place]
            and (found == NOWHERE or at_hand.rank[place] < at_hand.rank[found])
            and _real_may(floor, place, pallet, look)
        ):
            found = place
    return found


def rush_order_for(floor: Floor, pallet: Pallet) -> int:
    """The first rush order that may be taken on the pallet."""
    at_hand = floor.book.at_hand
    for rank in at_hand.rushes:
        place = at_hand.ranked[rank]
        if _real_may(floor, place, pallet):
            return place
    return NOWHERE


def _real_on(load: Load | None) -> int:
    """The real order that a load is of, NOWHERE for none."""
    return NOWHERE if load is None or load.order[0] != NOWHERE else load.order[1]


def _earliest(
    floor: Floor, part: int, pallet: Pallet, latest: int, look: int = SHARED, *, stock: bool = True
) -> EndlessOrder | None:
    """The part's earliest order that has a place and a fixture for the pallet.

    None where that one may not be opened yet (``latest`` as of :func:`opens_after`), or stock does
    not cover its load.
    """
    orders = floor.book.endless[part]
    assert orders is not None
    several, unlimited = orders.numbers > 1, floor.book.fixtures[part] == FOR_EVER
    load, coming = pallet.load, pallet.coming
    here = (load is not None and load.part == part) or (coming is not None and coming.part == part)
    # Those before have no room for a pallet that is not at them.
    place = 0 if here else orders.room
    passed_over, before = 0, NOWHERE
    while passed_over < orders.numbers:
        if place == len(orders.waiting):
            orders.look_ahead()
        wanted = orders.waiting[place]
        if not wanted.opened and wanted.due_before > latest:
            return None
        place += 1
        # Orders that follow each other are of different numbers: once so many unopened ones have
        # been tried in vain as there are numbers, no later order has a fixture either.
        if wanted.opened or wanted.number != before + 1:
            passed_over = 0
        before = wanted.number
        if wanted.at >= orders.at_once and not is_at(pallet, wanted.key):
            continue
        if look == ANY or unlimited or fixture_free(floor, wanted.fixture, pallet, look):
            if stock and floor.book.after[part] != NOWHERE and not _covered(floor, wanted, pallet):
                return None
            return wanted
        if not several:
            # All of its orders want that one fixture.
            return None
        passed_over += not wanted.opened
    return None


def _going_on(floor: Floor, pallet: Pallet, look: int = SHARED) -> EndlessOrder | None:
    """The endless order that the pallet has been working on, if pieces of it may be taken."""
    wanted = pallet.wanted
    if wanted is None or not wanted.left:
        return None
    part = wanted.key[0]
    book = floor.book
    orders = book.endless[part]
    assert orders is not None
    if wanted.at >= orders.at_once and not is_at(pallet, wanted.key):
        return None
    if book.fixtures[part] != FOR_EVER and not fixture_free(floor, wanted.fixture, pallet, look):
        return None
    return wanted if book.after[part] == NOWHERE or _covered(floor, wanted, pallet) else None


def something_for(floor: Floor, pallet: Pallet, look: int = SHARED) -> bool:
    """Whether the pallet might take something; fixtures as ``look`` says."""
    book = floor.book
    if book.at_hand.orders and real_for(floor, pallet, look) != NOWHERE:
        return True
    if pallet.wanted is not None and _going_on(floor, pallet, look) is not None:
        return True
    mix = book.mixes[book.mix[pallet.group]]
    if not mix.parts:
        return False
    # All that is made on one machine is of one family.
    latest = opens_after(floor, mix.parts[0])
    for _, _, part in mix.in_turn(latest, book.turn):
        if _earliest(floor, part, pallet, latest, look) is not None:
            return True
    if pallet.coming is not None:
        # Where no order that has room may be opened, only one that is coming to it is left.
        for part in mix.parts:
            if _earliest(floor, part, pallet, latest, look) is not None:
                return True
    return False


def all_lack(floor: Floor, pallet: Pallet) -> int:
    """What every pallet at rest of a group lacks, NOWHERE if that has to be seen one by one.

    Args:
        pallet: any of them. Nothing is on them, and they are alike but for the order they have
            been working on, the fixture they hold and the machine they are of.
    """
    book = floor.book
    if book.at_hand.room[pallet.group]:
        return NOWHERE
    mix = book.mixes[book.mix[pallet.group]]
    if not mix.parts:
        return LACKS_WORK
    lacks, unclear = LACKS_WORK, False
    latest = opens_after(floor, mix.parts[0])
    for _, _, part in mix.in_turn(latest, book.turn):
        stocked = _all_stocked(floor, part, pallet)
        if stocked == NO:
            if lacks == LACKS_WORK:
                lacks = LACKS_STOCK
        elif _earliest(floor, part, pallet, latest, FREE, stock=False) is not None:
            return NOWHERE
        else:
            lacks = LACKS_FIXTURE
            unclear = unclear or stocked == PERHAPS
    return NOWHERE if unclear else lacks


def _all_stocked(floor: Floor, part: int, pallet: Pallet) -> int:
    """Whether stock covers a part's next load on any pallet at rest of a group."""
    book = floor.book
    before = book.after[part]
    if before == NOWHERE:
        return YES
    there, whole = book.stock[before], book.whole[before]
    if there < whole:
        return NO
    orders = book.endless[part]
    making = floor.spindles[pallet.machine].makings[part]
    assert orders is not None
    assert making is not None
    following = orders.room + 1
    several = following < len(orders.waiting) and orders.waiting[following].opened
    if several or orders.numbers > 1 or floor.cell.parts[part].first_piece:
        # A pallet may go on with another order, or with a first piece.
        return PERHAPS
    return YES if there >= min(making.per_pallet, orders.waiting[orders.room].left) * whole else NO


def lack_of(floor: Floor, pallet: Pallet) -> int:
    """What a resting pallet lacks, NOWHERE if it may take something.

    There is something for its group, fixtures and stock aside.
    """
    if something_for(floor, pallet):
        return NOWHERE
    # What lacks both lacks stock: a fixture more would be of no use yet.
    return LACKS_FIXTURE if something_for(floor, pallet, ANY) else LACKS_STOCK


def lacks_only_fixture(floor: Floor, spindle: Spindle) -> bool:
    """Whether a pallet of the machine rests only for want of a fixture (rule `states`)."""
    return _lacks(floor, spindle, LACKS_FIXTURE)


def lacks_stock(floor: Floor, spindle: Spindle) -> bool:
    """Whether a pallet of the machine rests for want of stock of the operation before."""
    return _lacks(floor, spindle, LACKS_STOCK)


def _lacks(floor: Floor, spindle: Spindle, what: int) -> bool:
    for i in spindle.pallets:
        pallet = floor.pallets[i]
        if pallet.lacks == what and pallet.at == RESTING:
            return True
    return False


# -- choosing ----------------------------------------------------------------------------


def real_by_usual_rules(floor: Floor, pallet: Pallet) -> int:
    """The real order that a visit begun now takes (rule `orders.real`); NOWHERE if none may be.

    They go ahead of the endless mix. Rush orders are none of its business: where the pallet may
    take one, :func:`whatif.cell.rush.real_order_for` has said so before.
    """
    order = pallet.order
    if order is not None and order[0] == NOWHERE and _real_may(floor, order[1], pallet):
        return order[1]
    return real_for(floor, pallet)


def choose_from_mix(floor: Floor, pallet: Pallet) -> EndlessOrder | None:
    """The endless order that a visit begun now takes: 4 to 6 of rule `orders.take`."""
    book = floor.book
    going_on = _going_on(floor, pallet)
    if going_on is not None:
        return going_on
    mix = book.mixes[book.mix[pallet.group]]
    if not mix.parts:
        return None
    latest = opens_after(floor, mix.parts[0])
    first: EndlessOrder | None = None
    for due, opened, part in mix.in_turn(latest, book.turn):
        # What the pallet itself is at has just been found wanting: of each part no order goes
        # ahead of the one that has room.
        if first is not None and due > first.due:
            break
        wanted = _earliest(floor, part, pallet, latest)
        if wanted is None:
            continue
        if first is None or _before(wanted, first):
            first = wanted
        if wanted.due == due and (wanted.opened or UNOPENED) == opened:
            # It is the one that has room, and all others come after it.
            break
    if first is None:
        return None
    keep_setup = floor.cell.keep_setup
    if pallet.fixture != NOWHERE and not pallet.after_rush and (keep_setup or not book.rules_part):
        part = pallet.fixture % len(book.fixtures)
        # The earliest of its own part has been found already.
        if part != first.key[0] and book.endless[part] is not None and book.opens[part] <= latest:
            held = _earliest(floor, part, pallet, latest)
            if held is not None and held.fixture == pallet.fixture and held.due_before <= first.due:
                book.rules_part = True
                return held if keep_setup else first
    return first


def _before(order: EndlessOrder, other: EndlessOrder) -> bool:
    """Whether an order goes ahead of one of another part (6 of rule `orders.take`)."""
    if order.due != other.due:
        return order.due < other.due
    # Of two that are due at once the one opened first, unopened ones last, in the file's order.
    if order.opened and other.opened:
        return order.opened < other.opened
    return order.opened > other.opened or (not other.opened and order.key < other.key)


# -- loading -----------------------------------------------------------------------------


def load_of_mix(floor: Floor, wanted: EndlessOrder, pallet: Pallet) -> Load:
    """Allot the pieces of an endless order that a visit puts on, and book them."""
    part, begun = wanted.key[0], wanted.opened > 0
    load = _load(floor, part, wanted.key, wanted.fixture, wanted.left, pallet, begun=begun)
    load.wanted = wanted
    take_endless(floor, wanted, load.pieces, pallet)
    return load


def load_of_real(floor: Floor, place: int, pallet: Pallet) -> Load:
    """Allot the pieces of a real order that a visit puts on, and book them."""
    order, real = floor.cell.orders[place], floor.book.real[place]
    part, key, begun = order.part, (NOWHERE, place), real.taken > 0
    load = _load(floor, part, key, part, real.left, pallet, begun=begun)
    load.rush = order.rush
    take_real(floor, place, load.pieces, pallet)
    return load


def _load(
    floor: Floor, part: int, order: Order, fixture: int, left: int, pallet: Pallet, *, begun: bool
) -> Load:
    """The next load of an order on the pallet (rule `loads.size`)."""
    spindle, made = floor.spindles[pallet.machine], floor.cell.parts[part]
    making = spindle.makings[part]
    assert making is not None
    first = made.first_piece > 0 and _is_first(floor, part, fixture, pallet, begun=begun)
    return Load(
        part,
        making,
        1 if first else making.per_pallet if making.per_pallet < left else left,
        order,
        fixture,
        first,
        making.prove_out > 0 and pallet.fixture != fixture,
        first or not (made.unattended and spindle.kind.unattended),
    )
