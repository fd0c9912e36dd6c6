"""What a pallet takes next: orders, fixtures, stock (rule `orders.take`).

The orders themselves stand in :mod:`whatif.cell.book`; what a rush order changes of this stands in
:mod:`whatif.cell.rush`.
"""

from __future__ import annotations

from whatif.cell.book import (
    fixture_for,
    fixture_of,
    is_at,
    opens_after,
    part_of,
    take,
    waiting,
)
from whatif.cell.floor import (
    NOWHERE,
    At,
    EndlessOrder,
    Floor,
    Lacks,
    Load,
    Order,
    Pallet,
    Spindle,
)
from whatif.cell.model import Making

ANY, FREE, SHARED = range(3)
"""How fixtures are looked at: not at all, by who holds them, and as shared out with machines that
starve (rule `fixtures.shared`)."""


# -- fixtures ----------------------------------------------------------------------------


def fixture_free(floor: Floor, fixture: int, pallet: Pallet, look: int = SHARED) -> bool:
    """Whether a fixture is free to the pallet (rule `fixtures.free`, rule `fixtures.shared`)."""
    most = floor.cell.parts[fixture % len(floor.cell.parts)].fixtures
    if most is None or look == ANY:
        return True
    held = floor.book.held.get(fixture)
    if not held:
        return True
    taken = 0
    for i in held:
        taken += i != pallet.index and floor.pallets[i].at is not At.RESTING
    if taken >= most:
        return False
    if look == FREE or taken + len(floor.spindles) - 1 < most or not _has_another(floor, pallet):
        return True
    for spindle in floor.spindles:
        if spindle.index != pallet.machine and _starves_for(floor, spindle, fixture):
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
    pallets = [floor.pallets[i] for i in spindle.pallets]
    return (
        all(pallet.at in (At.ASKING, At.RESTING) for pallet in pallets)
        and any(_could_take_with(floor, pallet, fixture) for pallet in pallets)
        and not any(something_for(floor, pallet, FREE) for pallet in pallets)
    )


def _could_take_with(floor: Floor, pallet: Pallet, fixture: int) -> bool:
    """Whether the pallet might take something of a part number, were its fixture free."""
    number, part = divmod(fixture, len(floor.cell.parts))
    if making_on(floor, part, pallet) is None:
        return False
    if number == 0 and any(
        order.part == part and _real_may(floor, i, pallet, ANY)
        for i, order in enumerate(floor.cell.orders)
    ):
        return True
    orders = floor.book.endless[part]
    if orders is None:
        return False
    latest = opens_after(floor, part)
    # The last that waits is unopened, and so are all after it: a round of numbers has them all.
    after = orders.waiting[-1].number
    later = after + (number - after) % orders.numbers
    while orders.waiting[-1].number < later and orders.waiting[-1].due <= latest:
        orders.look_ahead()
    return any(
        (wanted.opened or wanted.due_before <= latest)
        and wanted.number % orders.numbers == number
        and (wanted.at < orders.at_once or is_at(pallet, (part, wanted.number)))
        and _stocked(floor, part, fixture, wanted.left, pallet, begun=wanted.opened > 0)
        for wanted in orders.waiting
    )


def take_fixture(floor: Floor, fixture: int, pallet: Pallet) -> None:
    """Give the pallet a fixture, if need be a resting pallet's (rule `fixtures.take`)."""
    part = fixture % len(floor.cell.parts)
    held = floor.book.held.setdefault(fixture, [])
    if pallet.index in held:
        return
    most = floor.cell.parts[part].fixtures
    if most is not None and len(held) >= most:
        robbed = min(
            (floor.pallets[i] for i in held if floor.pallets[i].at is At.RESTING),
            key=lambda p: (p.since, p.index),
        )
        robbed.fixture = NOWHERE
        held.remove(robbed.index)
    held.append(pallet.index)
    floor.book.most_held[part] = max(floor.book.most_held[part], len(held))


def give_back(floor: Floor, fixture: int, pallet: Pallet) -> None:
    """Put a fixture back that the pallet no longer holds."""
    held = floor.book.held[fixture]
    held.remove(pallet.index)
    if not held:
        del floor.book.held[fixture]


# -- what may be taken -------------------------------------------------------------------


def making_on(floor: Floor, part: int, pallet: Pallet) -> Making | None:
    """How the part is made on the pallet's machine, None where it is not."""
    return floor.cell.parts[part].making[floor.spindles[pallet.machine].group]


def _is_first(floor: Floor, part: int, fixture: int, pallet: Pallet, *, begun: bool) -> bool:
    """Whether the next load would be a first piece (rule `loads.first-piece`)."""
    made = floor.cell.parts[part]
    return made.first_piece > 0 and (
        pallet.fixture != fixture or (made.first_piece_each_order and not begun)
    )


def _load_of(
    floor: Floor, part: int, fixture: int, left: int, pallet: Pallet, *, begun: bool
) -> int:
    """Pieces that the pallet takes of an order with so many left (rule `loads.size`)."""
    if _is_first(floor, part, fixture, pallet, begun=begun):
        return 1
    making = making_on(floor, part, pallet)
    assert making is not None
    return min(making.per_pallet, left)


def _stocked(
    floor: Floor, part: int, fixture: int, left: int, pallet: Pallet, *, begun: bool
) -> bool:
    """Whether stock of the operation before covers the load (rule `loads.stock`)."""
    before = floor.cell.parts[part].after
    if before is None:
        return True
    pieces = _load_of(floor, part, fixture, left, pallet, begun=begun)
    return floor.book.stock[before] >= pieces * floor.book.whole[before]


def _real_may(
    floor: Floor, place: int, pallet: Pallet, look: int = SHARED, *, stock: bool = True
) -> bool:
    """Whether a real order may be taken on the pallet; a rush order is bound by no `at_once`."""
    order, real = floor.cell.orders[place], floor.book.real[place]
    if not (real.here and real.left and making_on(floor, order.part, pallet)):
        return False
    at_once = floor.cell.parts[order.part].at_once
    return (
        (order.rush or real.at < at_once or is_at(pallet, (NOWHERE, place)))
        and fixture_free(floor, order.part, pallet, look)
        and (
            not stock
            or _stocked(floor, order.part, order.part, real.left, pallet, begun=real.taken > 0)
        )
    )


def real_for(floor: Floor, pallet: Pallet, *, rush: bool = False) -> int | None:
    """The first real order, or only rush order, that may be taken on the pallet."""
    for place in floor.book.real_rank:
        if (floor.cell.orders[place].rush or not rush) and _real_may(floor, place, pallet):
            return place
    return None


def _earliest(
    floor: Floor, part: int, pallet: Pallet, look: int = SHARED, *, stock: bool = True
) -> EndlessOrder | None:
    """The part's earliest order that has a place and a fixture for the pallet.

    None where that one may not be opened yet, or stock does not cover its load.
    """
    orders = floor.book.endless[part]
    assert orders is not None
    latest = opens_after(floor, part)
    place, passed_over, before = 0, 0, NOWHERE
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
        if wanted.at >= orders.at_once and not is_at(pallet, (part, wanted.number)):
            continue
        fixture = part if orders.numbers == 1 else fixture_for(floor, part, wanted.number)
        if look == ANY or fixture_free(floor, fixture, pallet, look):
            covered = not stock or _stocked(
                floor, part, fixture, wanted.left, pallet, begun=wanted.opened > 0
            )
            return wanted if covered else None
        passed_over += not wanted.opened
    return None


def _going_on(
    floor: Floor, pallet: Pallet, look: int = SHARED, *, stock: bool = True
) -> Order | None:
    """The order that the pallet has been working on, if pieces of it may be taken."""
    order = pallet.order
    if order is None:
        return None
    if order[0] == NOWHERE:
        return order if _real_may(floor, order[1], pallet, look, stock=stock) else None
    part, wanted = order[0], waiting(floor.book, order)
    if wanted is None or (wanted.at >= floor.cell.parts[part].at_once and not is_at(pallet, order)):
        return None
    fixture = fixture_of(floor, order)
    if not fixture_free(floor, fixture, pallet, look):
        return None
    if stock and not _stocked(floor, part, fixture, wanted.left, pallet, begun=True):
        return None
    return order


def something_for(floor: Floor, pallet: Pallet, look: int = SHARED, *, stock: bool = True) -> bool:
    """Whether the pallet might take something; fixtures as ``look`` says, stock if asked for."""
    for place in range(len(floor.cell.orders)):
        if _real_may(floor, place, pallet, look, stock=stock):
            return True
    if _going_on(floor, pallet, look, stock=stock) is not None:
        return True
    for part in floor.book.made[floor.spindles[pallet.machine].group]:
        if _earliest(floor, part, pallet, look, stock=stock) is not None:
            return True
    return False


def work_for_group(floor: Floor, pallet: Pallet) -> bool:
    """Whether there is something for the pallet, fixtures and stock aside.

    It is the same for all resting pallets of a group: nothing is on them.
    """
    return something_for(floor, pallet, ANY, stock=False)


def ends_rest(floor: Floor, pallet: Pallet, *, work: bool) -> bool:
    """Whether a resting pallet may take something; if not, what it lacks is noted.

    ``work`` is what :func:`work_for_group` says.
    """
    pallet.lacks = Lacks.WORK
    if not work:
        return False
    if something_for(floor, pallet):
        return True
    # What lacks both lacks stock: a fixture more would be of no use yet.
    fixture = something_for(floor, pallet, ANY)
    pallet.lacks = Lacks.FIXTURE if fixture else Lacks.STOCK
    return False


def lacks_only_fixture(floor: Floor, spindle: Spindle) -> bool:
    """Whether a pallet of the machine rests only for want of a fixture (rule `states`)."""
    return _lacks(floor, spindle, Lacks.FIXTURE)


def lacks_stock(floor: Floor, spindle: Spindle) -> bool:
    """Whether a pallet of the machine rests for want of stock of the operation before."""
    return _lacks(floor, spindle, Lacks.STOCK)


def _lacks(floor: Floor, spindle: Spindle, what: Lacks) -> bool:
    return any(
        (pallet := floor.pallets[i]).at is At.RESTING and pallet.lacks is what
        for i in spindle.pallets
    )


# -- choosing ----------------------------------------------------------------------------


def choose_by_usual_rules(floor: Floor, pallet: Pallet) -> Order | None:
    """The order that a visit begun now takes (rule `orders.take`); None if nothing may be.

    Real orders go ahead of the endless mix (rule `orders.real`). Rush orders are none of its
    business: where the pallet may take one, :func:`whatif.cell.rush.choose` has said so before.
    """
    going_on = _going_on(floor, pallet)
    if going_on is not None and going_on[0] == NOWHERE:
        return going_on
    if floor.cell.orders and (place := real_for(floor, pallet)) is not None:
        return (NOWHERE, place)
    if going_on is not None:
        return going_on
    first: EndlessOrder | None = None
    first_part = NOWHERE
    held: EndlessOrder | None = None
    held_part = NOWHERE
    for part in floor.book.made[floor.spindles[pallet.machine].group]:
        wanted = _earliest(floor, part, pallet)
        if wanted is None:
            continue
        if first is None or _before(wanted, first):
            first, first_part = wanted, part
        if pallet.fixture == fixture_for(floor, part, wanted.number):
            held, held_part = wanted, part
    if first is None:
        return None
    if (
        held is not None
        and floor.cell.keep_setup
        and not pallet.after_rush
        and held.due_before <= first.due
    ):
        return (held_part, held.number)
    return (first_part, first.number)


def _before(order: EndlessOrder, other: EndlessOrder) -> bool:
    """Whether an order goes ahead of one of a part that stands before it in the file."""
    if order.due != other.due:
        return order.due < other.due
    # Of two that are due at once the one opened first, unopened ones last.
    return order.opened > 0 and (not other.opened or order.opened < other.opened)


def load_on(floor: Floor, order: Order, pallet: Pallet) -> Load:
    """Allot the pieces of a load that a visit puts on (rule `loads.size`), and book them."""
    part, fixture = part_of(floor, order), fixture_of(floor, order)
    making = making_on(floor, part, pallet)
    assert making is not None
    real = order[0] == NOWHERE
    if real:
        progress = floor.book.real[order[1]]
        left, begun = progress.left, progress.taken > 0
    else:
        wanted = waiting(floor.book, order)
        assert wanted is not None
        left, begun = wanted.left, wanted.opened > 0
    first = _is_first(floor, part, fixture, pallet, begun=begun)
    pieces = _load_of(floor, part, fixture, left, pallet, begun=begun)
    take(floor, order, pieces, pallet)
    return Load(
        part=part,
        making=making,
        pieces=pieces,
        order=order,
        fixture=fixture,
        first=first,
        unproved=pallet.fixture != fixture and making.prove_out > 0,
        attended_only=first or not floor.cell.parts[part].unattended,
        rush=real and floor.cell.orders[order[1]].rush,
    )
