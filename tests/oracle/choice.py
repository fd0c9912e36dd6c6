"""Which order a visit takes, and which it could take but for something (rule `orders.take`).

A rush order goes ahead of all, real orders go ahead of the endless mix.
"""

from __future__ import annotations

from collections.abc import Hashable
from itertools import islice

from .fixtures import free_for
from .orders import orders_of
from .things import Book, Cell, Fixture, Machine, Order, Pallet

# --- what an order needs ----------------------------------------------------------------


def needs_setup(order: Order, pallet: Pallet) -> bool:
    """Whether the pallet does not hold the order's fixture."""
    return pallet.fixture != order.fixture


def is_first_piece(order: Order, pallet: Pallet) -> bool:
    """The load after a setup, or of an order, is one piece (rule `loads.first-piece`)."""
    part = order.part
    if part.value("first_piece") == 0:
        return False
    opens_order = order.left == order.pieces and part.value("first_piece_every") == "order"
    return needs_setup(order, pallet) or opens_order


def pieces_of_load(order: Order, pallet: Pallet) -> int:
    """`per_pallet` pieces, or what is left of the order; a first piece alone."""
    if is_first_piece(order, pallet):
        return 1
    return int(min(order.part.value("per_pallet", pallet.machine.group), order.left))


def stock_covers(cell: Cell, order: Order, pallet: Pallet) -> bool:
    """Whether there are pieces of the operation before for a whole load."""
    before = order.part.value("after")
    return before is None or cell.stock[before] >= pieces_of_load(order, pallet)


def bound_elsewhere(cell: Cell, order: Order, pallet: Pallet) -> bool:
    """Whether as many pallets as may be are at the order, this one not among them."""
    if order.kind == "rush" or order.off + order.left == order.pieces:
        return False
    at_it = pallets_at(cell, order)
    return pallet not in at_it and len(at_it) >= int(order.part.value("at_once"))


def pallets_at(cell: Cell, order: Order) -> list[Pallet]:
    """The pallets and tables that are at the order."""
    if order not in cell.at_it:
        cell.at_it[order] = [pallet for pallet in cell.pallets if pallet.is_at(order)]
    return cell.at_it[order]


def allowed_here(cell: Cell, order: Order, pallet: Pallet) -> bool:
    """Whether there are pieces left of it that this pallet may be at, fixture and stock apart."""
    fits = pallet.machine.group in order.part.groups
    return fits and order.left > 0 and not bound_elsewhere(cell, order, pallet)


def arrived(cell: Cell) -> list[Order]:
    """What goes ahead of the mix: the rush order, then real orders (rule `orders.real`).

    Ties in the file's order.
    """
    there = [cell.rush] if cell.rush is not None else []
    there += cell.real
    return [order for order in there if order.left > 0 and order.arrives <= cell.now]


def all_orders(cell: Cell, pallet: Pallet) -> list[Order]:
    """Every order that this pallet could be at, fixture and stock apart."""
    found = arrived(cell)
    for book in cell.books.values():
        found += orders_of(cell, book)
    return [order for order in found if allowed_here(cell, order, pallet)]


# --- fixtures are shared out ------------------------------------------------------------


def fixture_free(cell: Cell, order: Order, pallet: Pallet) -> bool:
    """Whether it may have a fixture, those apart that starving machines want.

    Their wants count for the pallets of a machine that holds a fixture, of whatever number, on
    another pallet: it has something to go on with.
    """
    free = free_for(cell, order, pallet)
    others = [p for p in pallet.machine.pallets if p is not pallet]
    if 0 < free <= len(cell.machines) and any(p.fixture or p.incoming for p in others):
        free -= sum(order.fixture in wants_while_starving(cell, m) for m in cell.machines)
    return free > 0


def wants_while_starving(cell: Cell, machine: Machine) -> set[Fixture]:
    """What `starving` says of a machine."""
    if machine.number not in cell.wants:
        cell.wants[machine.number] = starving(cell, machine)
    return cell.wants[machine.number]


def starving(cell: Cell, machine: Machine) -> set[Fixture]:
    """The part numbers that the machine could take but for a fixture; none unless it starves.

    It starves where nothing is on it or done to it, and nothing may be taken, but could be were
    one more fixture free: its own order, one that has arrived, or the earliest of a part.
    """
    if not all(waits_for_work(pallet) for pallet in machine.pallets):
        return set()
    kinds = {alike(pallet): pallet for pallet in machine.pallets}
    if any(takes_with(cell, pallet, None) for pallet in kinds.values()):
        return set()
    lacking = {
        order.fixture
        for pallet in kinds.values()
        for order in all_orders(cell, pallet)
        if free_for(cell, order, pallet) <= 0
    }
    return {f for f in lacking if any(takes_with(cell, pallet, f) for pallet in kinds.values())}


def takes_with(cell: Cell, pallet: Pallet, more: Fixture | None) -> bool:
    """Whether something may be taken where a fixture more of one number is free."""
    first: list[Order] = []
    if pallet.order is not None:
        first.append(pallet.order)
    first += arrived(cell)
    found = [order for order in first if has_a_fixture(cell, order, pallet, more)]
    for book in cell.books.values():
        e = (o for o in orders_of(cell, book) if has_a_fixture(cell, o, pallet, more))
        found += [order for order in [next(e, None)] if order is not None]
    return any(stock_covers(cell, order, pallet) for order in found)


def has_a_fixture(cell: Cell, order: Order, pallet: Pallet, more: Fixture | None) -> bool:
    """Whether it is allowed here and has a fixture, whatever starving machines want."""
    there = order.fixture == more or free_for(cell, order, pallet) > 0
    return there and allowed_here(cell, order, pallet)


def waits_for_work(pallet: Pallet) -> bool:
    """Whether it has asked for a visit that has not begun, or rests."""
    return pallet.resting_since is not None or (pallet.visit is not None and not pallet.visited)


# --- what is taken ----------------------------------------------------------------------


def may_be_taken(cell: Cell, order: Order, pallet: Pallet) -> bool:
    """Whether nothing stands against putting this order's pieces on now."""
    return (
        allowed_here(cell, order, pallet)
        and fixture_free(cell, order, pallet)
        and stock_covers(cell, order, pallet)
    )


def earliest(cell: Cell, book: Book, pallet: Pallet) -> Order | None:
    """e(Q): the earliest order that may be taken here and of whose number a fixture is free."""
    for order in orders_of(cell, book):
        if allowed_here(cell, order, pallet) and fixture_free(cell, order, pallet):
            return order
    return None


def of_the_mix(cell: Cell, pallet: Pallet) -> list[Order]:
    """e(Q) of every part Q that may be taken."""
    found = [earliest(cell, book, pallet) for book in cell.books.values()]
    return [e for e in found if e is not None and stock_covers(cell, e, pallet)]


def choose(cell: Cell, pallet: Pallet) -> Order | None:
    """What a visit to this pallet takes, if anything."""
    kind = alike(pallet)
    if kind not in cell.choices:
        cell.choices[kind] = choose_anew(cell, pallet)
    return cell.choices[kind]


def alike(pallet: Pallet) -> Hashable:
    """Pallets of one machine that rest in the same state have the same choice."""
    order = pallet.order
    if pallet.resting_since is None:
        return pallet.name
    last = None if order is None else order if order.left > 0 else order.kind
    return (pallet.machine.number, pallet.fixture, last)


def choose_anew(cell: Cell, pallet: Pallet) -> Order | None:
    """What a visit to this pallet takes: a rush order, a real one, or one of the mix."""
    ahead = [order for order in arrived(cell) if may_be_taken(cell, order, pallet)]
    own = pallet.order
    if own is not None and not may_be_taken(cell, own, pallet):
        own = None
    if ahead and ahead[0].kind == "rush":
        return ahead[0]
    if own is not None and own.kind == "real":  # rule `orders.take`, 2
        return own
    if ahead:
        return ahead[0]
    return own if own is not None else choose_of_the_mix(cell, pallet)


def choose_of_the_mix(cell: Cell, pallet: Pallet) -> Order | None:
    """Where the pallet has no order to go on with (rule `orders.take`)."""
    found = of_the_mix(cell, pallet)
    if not found:
        return None
    first_due = min(e.due for e in found)
    held = [e for e in found if e.fixture == pallet.fixture]
    after_rush = pallet.order is not None and pallet.order.kind == "rush"
    if cell.rule == "keep_setup" and held and not after_rush:  # rule `orders.take`, 5
        before = cell.books[held[0].part.id].due(held[0].number - 1)
        if before <= first_due:
            return held[0]
    return min(found, key=lambda e: rank(cell, e))  # rule `orders.take`, 6


def rank(cell: Cell, e: Order) -> tuple[int, float, int]:
    """Due first (rule `orders.take`, 6); ties: the order opened first, then the file's order."""
    turn = float("inf") if e.turn is None else e.turn
    return (e.due, turn, cell.parts.index(e.part))


# --- what a resting pallet lacks --------------------------------------------------------


def next_up(cell: Cell, pallet: Pallet) -> list[Order]:
    """What might be taken first of each part, and what has arrived, fixture and stock apart."""
    kind = alike(pallet)
    if kind not in cell.next_up:
        cell.next_up[kind] = next_up_anew(cell, pallet)
    return cell.next_up[kind]


def next_up_anew(cell: Cell, pallet: Pallet) -> list[Order]:
    """The same, looked up."""
    found = arrived(cell)
    if pallet.order is not None:
        found.append(pallet.order)
    for book in cell.books.values():
        found += islice((o for o in orders_of(cell, book) if allowed_here(cell, o, pallet)), 1)
    return [order for order in found if allowed_here(cell, order, pallet)]


def lacks_only_a_fixture(cell: Cell, pallet: Pallet) -> bool:
    """Whether nothing may be taken, yet something could be if its fixture were free."""
    if choose(cell, pallet) is not None:
        return False
    return any(stock_covers(cell, order, pallet) for order in next_up(cell, pallet))


def lacks_stock(cell: Cell, pallet: Pallet) -> bool:
    """Whether nothing may be taken, yet something could be if stock, and fixtures, allowed it."""
    return bool(next_up(cell, pallet)) and choose(cell, pallet) is None
