"""The endless orders of the mix: how large they are, when they are opened (rule `orders.open`)."""

from __future__ import annotations

from bisect import insort
from fractions import Fraction

from .things import Book, Cell, Order, Part


def pieces_to_order(part: Part, to_order: bool) -> int:
    """What an order of the mix is of: its batch, scrap made good where it is made to order."""
    batch = Fraction(part.value("batch"))
    if to_order:
        batch /= 1 - Fraction(part.value("scrap"), 100)
    return -int(-batch // 1)


def set_up_books(cell: Cell) -> None:
    """Who shares a machine with whom, among the parts of the mix."""
    mix = [book.part for book in cell.books.values()]
    for book in cell.books.values():
        book.family = family(book.part, mix)


def family(part: Part, mix: list[Part]) -> list[Part]:
    """The parts that share a machine with this one, directly or through others; itself too."""
    found = [part]
    for known in found:  # grows while it is walked
        for other in mix:
            if other not in found and set(other.groups) & set(known.groups):
                found.append(other)
    return found


def run_ahead_to(cell: Cell, book: Book) -> int:
    """An order is opened if the one before it is due no later than this (rule `orders.open`)."""
    from_when = cell.now
    if not cell.to_order:
        others = [cell.books[part.id] for part in book.family]
        from_when = max(from_when, min(other.unopened[0].due for other in others))
    return from_when + cell.run_ahead


def set_alarms(cell: Cell) -> bool:
    """Look at the cell when time alone lets the next order of a part be opened.

    Whether it now does.
    """
    passed = False
    for book in cell.books.values():
        while book.alarm <= cell.now:
            book.alarms_set += 1
            book.alarm = book.due(book.alarms_set) - cell.run_ahead
            cell.clock.alarm(book.alarm)
            passed = True
    return passed


def orders_of(cell: Cell, book: Book) -> list[Order]:
    """The part's orders with pieces left, open or to be opened now, by number.

    Of those to be opened, the first of each part number.
    """
    part = book.part.id
    if part not in cell.orders:
        latest = run_ahead_to(cell, book)
        opens = [order for order in book.unopened if book.due(order.number - 1) <= latest]
        cell.orders[part] = sorted(book.open + opens, key=by_number)
    return cell.orders[part]


def by_number(order: Order) -> int:
    """Orders of one part are told, and taken, by their number."""
    return order.number


def open_order(cell: Cell, order: Order) -> None:
    """Open an order of the mix, if it is not yet."""
    if order.turn is not None:
        return
    order.turn = cell.opened
    cell.opened += 1
    book = cell.books[order.part.id]
    book.open.append(order)
    book.unopened.remove(order)
    insort(book.unopened, book.order(order.number + book.part.value("numbers")), key=by_number)
    cell.tell(f"order {order.number} of {order.part.id} is opened, due {order.due}")


def allot(cell: Cell, order: Order, pieces: int) -> None:
    """So many pieces of the order are put on; of the operation before as many are taken."""
    order.left -= pieces
    before = order.part.value("after")
    if before is not None:
        cell.stock[before] -= pieces
    if order.kind == "mix" and order.left == 0:
        cell.books[order.part.id].open.remove(order)
