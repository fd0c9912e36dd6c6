"""What is wanted: the record of orders, of who holds which fixture, and of stock.

How orders are opened and taken stands in :mod:`whatif.cell.book`, what a pallet takes of them in
:mod:`whatif.cell.orders`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from whatif.cell.at_hand import AtHand
from whatif.cell.codes import NEVER
from whatif.cell.turns import UNOPENED, Mix, PartFamily, Turn

Order = tuple[int, int]
"""Which order: ``(part, number)`` of the endless ones, the number from 1, and ``(NOWHERE, place)``
of the real ones, by their place in :attr:`Cell.orders`."""


class EndlessOrder:
    """One endless order with pieces not yet loaded.

    Attributes:
        number: from 1.
        left: its pieces that are not yet loaded.
        due_before, due: seconds at which the order before and it itself are due.
        key: as which it is known; fixture: that it wants (:class:`OrderBook`).
        opened: rank of its opening among all openings, 0 while it is unopened.
        at: pallets that are at it (rule `orders.at-once`).
    """

    __slots__ = (
        "at",
        "due",
        "due_before",
        "fixture",
        "key",
        "left",
        "number",
        "opened",
    )

    def __init__(
        self,
        number: int,
        left: int,
        due_before: int,
        due: int,
        key: Order,
        fixture: int,
        opened: int = 0,
        at: int = 0,
    ) -> None:
        self.number = number
        self.left = left
        self.due_before = due_before
        self.due = due
        self.key = key
        self.fixture = fixture
        self.opened = opened
        self.at = at

    def copy(self) -> EndlessOrder:
        """The same order, to be taken from separately."""
        return EndlessOrder(
            self.number,
            self.left,
            self.due_before,
            self.due,
            self.key,
            self.fixture,
            self.opened,
            self.at,
        )


@dataclass(slots=True)
class Endless:
    """The endless orders of one part (rule `orders.due`).

    Attributes:
        part: the part; parts: how many there are.
        pieces: of each order.
        numbers, at_once: as of the part.
        seconds, share: order k is due at k x ``seconds`` / ``share``, rounded down.
        waiting: those with pieces left, the earliest first; all before the last one are opened or
            were passed over, and the last one is neither opened nor empty.
        room, unopened: cache: places in ``waiting`` of the earliest order that another pallet may
            be at, and of the earliest unopened one.
    """

    part: int
    parts: int
    pieces: int
    numbers: int
    at_once: int
    seconds: int
    share: int
    waiting: list[EndlessOrder]
    room: int = 0
    unopened: int = 0

    def look_ahead(self) -> None:
        """Let the order after the last one wait too."""
        number = self.waiting[-1].number + 1 if self.waiting else 1
        due_before = (number - 1) * self.seconds // self.share
        due = number * self.seconds // self.share
        fixture = number % self.numbers * self.parts + self.part
        key = (self.part, number)
        self.waiting.append(EndlessOrder(number, self.pieces, due_before, due, key, fixture))

    def look(self) -> None:
        """Find which orders have room and are unopened: the last one is both."""
        place = 0
        for order in self.waiting:
            if order.at < self.at_once:
                break
            place += 1
        self.room = place
        while self.waiting[place].opened:
            place += 1
        self.unopened = place

    def first_due_after(self, second: int) -> int:
        """Due second of the earliest order that is due after a second."""
        number = -(-(second + 1) * self.share // self.seconds)
        return number * self.seconds // self.share

    def copy(self) -> Endless:
        """The same orders, to be written on separately."""
        return replace(self, waiting=[order.copy() for order in self.waiting])


class RealProgress:
    """How far a real order is.

    Attributes:
        left: its pieces not yet loaded, ``taken`` those that are, ``off`` those that are off.
        here: whether it has arrived.
        at: pallets that are at it (rule `orders.at-once`).
        in_time: pieces that were off no later than it was due.
        first_off, last_off: seconds at which its first and its last pieces came off.
    """

    # Written out, as many are made whenever a run begins or is copied.
    __slots__ = ("at", "first_off", "here", "in_time", "last_off", "left", "off", "taken")

    def __init__(
        self,
        left: int,
        here: bool = False,
        at: int = 0,
        taken: int = 0,
        off: int = 0,
        in_time: int = 0,
        first_off: int | None = None,
        last_off: int | None = None,
    ) -> None:
        self.left = left
        self.here = here
        self.at = at
        self.taken = taken
        self.off = off
        self.in_time = in_time
        self.first_off = first_off
        self.last_off = last_off

    def copy(self) -> RealProgress:
        """The same progress, to be written on separately."""
        return RealProgress(
            self.left,
            self.here,
            self.at,
            self.taken,
            self.off,
            self.in_time,
            self.first_off,
            self.last_off,
        )


@dataclass(slots=True)
class OrderBook:
    """The orders, who holds the fixtures, and the stock between operations.

    A fixture is for one part number and is told by ``number * parts + part``.

    Attributes:
        endless: [part] its endless orders, None where none are wanted.
        real: [real order] how far it is.
        family: [part] that it is of, by its place in ``families``, NOWHERE for a part without
            endless orders.
        mix: [group] what is made there, by its place in ``mixes``; groups that make the same have
            one mix. ``mixes_of``: [part] those that it is in.
        held: [fixture] indices of the pallets that hold one, in the order in which they took it.
        most_held: [part] fixtures of one number at most held at once.
        good, whole: [part] a piece cut is ``good`` parts of a good one that has ``whole``.
        feeds: [part] whether another part is made of it.
        stock: [part] good pieces that lie there for the operation after it, in those parts.
        turn, opens: cache: [part] of its earliest order that has room the turn, and the second by
            which the one before it is due, NEVER where it has been opened.
        waits, unopened: cache: [part] of its earliest unopened order the second by which the one
            before it is due, and its own due second.
        families, mixes: cache: which of their parts comes to its turn.
        at_hand: cache: real orders that have arrived.
        fixtures: [part] that may be held at one time, FOR_EVER for no limit.
        after: [part] the operation before, NOWHERE for none.
        wears: whether any part's tools wear.
        shares: whether fixtures may have to be shared out with machines that starve.
        openings: endless orders opened so far.
        rules_part: whether keeping a setup has been another choice than the earliest due date, so
            that what is counted may hang on the rule from then on (rule `orders.take`).
        changes: counts what may let a pallet take something, but time alone.
        asked_at, woken_at: ``changes`` when resting pallets were last told, and when the next
            opening was last foretold.
        opening_at: cache: ``changes`` when the next opening was last looked for.
    """

    endless: list[Endless | None]
    real: list[RealProgress]
    family: list[int]
    mix: list[int]
    mixes_of: list[list[int]]
    held: dict[int, list[int]]
    most_held: list[int]
    good: list[int]
    whole: list[int]
    feeds: list[bool]
    stock: list[int]
    turn: list[Turn]
    opens: list[int]
    waits: list[int]
    unopened: list[int]
    families: list[PartFamily]
    mixes: list[Mix]
    at_hand: AtHand
    fixtures: list[int]
    after: list[int]
    wears: bool
    shares: bool
    openings: int = 0
    rules_part: bool = False
    changes: int = 1
    asked_at: int = 0
    woken_at: int = 0
    opening_at: int = 0

    def copy(self) -> OrderBook:
        """The same book, to be written on separately; what never changes is shared."""
        return replace(
            self,
            endless=[None if orders is None else orders.copy() for orders in self.endless],
            real=[order.copy() for order in self.real],
            held={fixture: list(pallets) for fixture, pallets in self.held.items()},
            most_held=list(self.most_held),
            stock=list(self.stock),
            turn=list(self.turn),
            opens=list(self.opens),
            waits=list(self.waits),
            unopened=list(self.unopened),
            families=[family.copy() for family in self.families],
            mixes=[mix.copy() for mix in self.mixes],
            at_hand=self.at_hand.copy(),
        )

    def same(self, order: EndlessOrder | None) -> EndlessOrder | None:
        """What another book's endless order is here, if there are pieces of it left."""
        if order is not None and order.left:
            orders = self.endless[order.key[0]]
            if orders is not None:
                for wanted in orders.waiting:
                    if wanted.number == order.number:
                        return wanted
        return None

    def goes_on(self) -> None:
        """A visit begins or ends that leaves all as it was for others, but for who starves."""
        self.changes += self.shares

    def look_at(self, part: int) -> None:
        """Note how a part's endless orders stand; to be done when one of them changes."""
        orders = self.endless[part]
        if orders is None:
            return
        orders.look()
        order = orders.waiting[orders.room]
        before, opened = self.turn[part], self.opens[part]
        turn = (order.due, order.opened or UNOPENED, part)
        opens = NEVER if order.opened else order.due_before
        if turn != before or opens != opened:
            for i in self.mixes_of[part]:
                self.mixes[i].changes(opens, turn, opened, before)
            self.turn[part], self.opens[part] = turn, opens
        order = orders.waiting[orders.unopened]
        waits, unopened = order.due_before, order.due
        if unopened != self.unopened[part] or waits != self.waits[part]:
            family = self.families[self.family[part]]
            family.is_due(part, unopened, self.unopened[part])
            if orders.numbers == 1:
                family.waits_until(part, waits, self.waits[part])
            self.unopened[part], self.waits[part] = unopened, waits
