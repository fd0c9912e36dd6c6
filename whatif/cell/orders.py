"""What a pallet takes next: orders, fixtures, run-ahead (rule `orders.take`)."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.cell.floor import NOWHERE, At, Load, Pallet
from whatif.cell.model import WEEK, Cell, Part


@dataclass(slots=True)
class Endless:
    """The endless orders of one part (rule `orders.due`).

    Only the earliest with pieces left can be taken from.

    Attributes:
        number: of that order, from 1.
        left: its pieces that are not yet loaded.
        opened: rank of its opening among all openings, 0 while it is unopened.
        due, due_before: seconds at which it and the order before it are due.
    """

    part: Part
    number: int = 0
    left: int = 0
    opened: int = 0
    due: int = 0
    due_before: int = 0
    due_next: int = 0

    def __post_init__(self) -> None:
        self.due_next = self._due(1)
        self.next()

    def _due(self, number: int) -> int:
        share = self.part.weekly
        return number * self.part.batch * WEEK * share.denominator // share.numerator

    def next(self) -> None:
        """Turn to the next order, all pieces of this one being loaded."""
        self.number += 1
        self.left = self.part.batch
        self.opened = 0
        self.due_before, self.due = self.due, self.due_next
        self.due_next = self._due(self.number + 1)

    @property
    def earliest_unopened(self) -> int:
        """Second at which the earliest unopened order is due."""
        return self.due_next if self.opened else self.due


@dataclass(slots=True)
class Asked:
    """A real order in a run: its pieces not yet loaded, and when pieces came off."""

    left: int
    here: bool = False
    taken: int = 0
    off: int = 0
    first_off: int | None = None
    last_off: int | None = None


class Orders:
    """The order book and the fixtures.

    An order is named by two numbers: ``(part, number)`` for the endless ones and
    ``(-1, place)`` for real ones, ``place`` being the place in :attr:`Cell.orders`.
    """

    def __init__(self, cell: Cell) -> None:
        self.cell = cell
        self.endless: list[Endless | None] = [
            Endless(part) if part.weekly > 0 else None for part in cell.parts
        ]
        self.real = [Asked(order.pieces) for order in cell.orders]
        # Earliest due date first, rush orders before all; ties in the file's order.
        self.real_rank = sorted(
            range(len(cell.orders)),
            key=lambda i: (not cell.orders[i].rush, cell.orders[i].due, i),
        )
        self.holders: list[set[int]] = [set() for _ in cell.parts]
        self.most_held = [0] * len(cell.parts)
        self.openings = 0
        self.family = _families(cell)
        self._made = [
            [i for i, part in enumerate(cell.parts) if self.endless[i] and part.making[place]]
            for place in range(len(cell.groups))
        ]
        self._opens: list[int | None] | None = None
        """What ``opens`` says, until an order is opened or goes on to the next."""

    # -- fixtures ----------------------------------------------------------------------

    def fixture_free(self, part: int, pallet: Pallet, pallets: list[Pallet]) -> bool:
        """Whether a fixture of the part is free to the pallet (rule `fixtures.free`)."""
        most = self.cell.parts[part].fixtures
        if most is None or pallet.fixture == part:
            return True
        held = self.holders[part]
        return len(held) < most or any(pallets[i].at == At.RESTING for i in held)

    def take_fixture(self, part: int, pallet: Pallet, pallets: list[Pallet]) -> None:
        """Give the pallet a fixture, if need be a resting pallet's (rule `fixtures.take`)."""
        held = self.holders[part]
        if pallet.index in held:
            return
        most = self.cell.parts[part].fixtures
        if most is not None and len(held) >= most:
            robbed = min(
                (pallets[i] for i in held if pallets[i].at == At.RESTING),
                key=lambda p: (p.since, p.index),
            )
            robbed.fixture = NOWHERE
            held.discard(robbed.index)
        held.add(pallet.index)
        self.most_held[part] = max(self.most_held[part], len(held))

    def give_back(self, part: int, pallet: Pallet) -> None:
        """Put a fixture back that the pallet no longer holds."""
        self.holders[part].discard(pallet.index)

    # -- what may be taken -------------------------------------------------------------

    def opens(self) -> list[int | None]:
        """Earliest second at which each part's order may be taken from (rule `orders.open`).

        Time alone moves the clock towards it; openings of other parts may bring it nearer. None
        for a part without endless orders.
        """
        if self._opens is None:
            self._opens = [
                None if book is None else self._opens_at(book, self.family[i])
                for i, book in enumerate(self.endless)
            ]
        return self._opens

    def _opens_at(self, book: Endless, family: list[int]) -> int:
        if book.opened:
            return 0
        others = min(
            other.earliest_unopened for i in family if (other := self.endless[i]) is not None
        )
        if book.due_before <= others + self.cell.run_ahead:
            return 0
        return book.due_before - self.cell.run_ahead

    def due_now(self, group: int, now: int) -> list[int]:
        """Parts of endless orders that are made on a group and are open or may be opened."""
        opens = self.opens()
        return [i for i in self._made[group] if (at := opens[i]) is not None and at <= now]

    def next_opening(self, now: int) -> int | None:
        """The next second at which time alone lets a part's order be opened."""
        return min((at for at in self.opens() if at is not None and at > now), default=None)

    def real_for(self, group: int) -> list[int]:
        """Real orders at hand with pieces left that are made on a group, first come first."""
        return [
            i
            for i in self.real_rank
            if self.real[i].here
            and self.real[i].left
            and self.cell.parts[self.cell.orders[i].part].making[group] is not None
        ]

    def something_for(
        self, pallet: Pallet, group: int, now: int, pallets: list[Pallet], *, free: bool = True
    ) -> bool:
        """Whether the pallet might take something; with ``free=False`` fixtures are ignored."""
        parts = [self.cell.orders[i].part for i in self.real_for(group)]
        parts += self.due_now(group, now)
        return any(not free or self.fixture_free(part, pallet, pallets) for part in parts)

    def choose(
        self, pallet: Pallet, group: int, now: int, pallets: list[Pallet]
    ) -> tuple[int, int] | None:
        """The order that a visit begun now takes (rule `orders.take`); None if nothing may be.

        Rush orders go ahead of all; other real ones ahead of the endless mix (rule `orders.real`).
        """
        real = [
            i
            for i in self.real_for(group)
            if self.fixture_free(self.cell.orders[i].part, pallet, pallets)
        ]
        if real and self.cell.orders[real[0]].rush:
            return (NOWHERE, real[0])
        going_on = self._going_on(pallet, pallets)
        if going_on is not None and going_on[0] == NOWHERE:
            return going_on
        if real:
            return (NOWHERE, real[0])
        if going_on is not None:
            return going_on
        may = [
            (book, i)
            for i in self.due_now(group, now)
            if (book := self.endless[i]) is not None and self.fixture_free(i, pallet, pallets)
        ]
        if not may:
            return None
        earliest = min(book.due for book, _ in may)
        if self.cell.keep_setup and not pallet.after_rush:
            for book, i in may:
                if i == pallet.fixture and book.due_before <= earliest:
                    return (i, book.number)
        book, i = min(may, key=lambda one: (one[0].due, one[0].opened or self.openings + 1, one[1]))
        return (i, book.number)

    def _going_on(self, pallet: Pallet, pallets: list[Pallet]) -> tuple[int, int] | None:
        """The order that the pallet has been working on, if it has pieces left."""
        order = pallet.order
        if order is None or not self._left(order):
            return None
        return order if self.fixture_free(self.part_of(order), pallet, pallets) else None

    def _left(self, order: tuple[int, int]) -> int:
        part, number = order
        if part == NOWHERE:
            return self.real[number].left
        book = self.endless[part]
        return book.left if book is not None and book.number == number else 0

    def part_of(self, order: tuple[int, int]) -> int:
        """The part an order is for."""
        return self.cell.orders[order[1]].part if order[0] == NOWHERE else order[0]

    # -- taking ------------------------------------------------------------------------

    def take(self, order: tuple[int, int], group: int, *, setup: bool) -> Load:
        """Allot the pieces of a load (rule `loads.size`) and book them."""
        place = self.part_of(order)
        part = self.cell.parts[place]
        making = part.making[group]
        assert making is not None
        begins = self._begins(order)
        first = bool(part.first_piece) and (setup or (part.first_piece_each_order and begins))
        pieces = 1 if first else min(making.per_pallet, self._left(order))
        self._book(order, pieces)
        return Load(
            part=place,
            making=making,
            pieces=pieces,
            order=order,
            first=first,
            unproved=setup and making.prove_out > 0,
            attended_only=first or not part.unattended,
            rush=order[0] == NOWHERE and self.cell.orders[order[1]].rush,
        )

    def _begins(self, order: tuple[int, int]) -> bool:
        if order[0] == NOWHERE:
            return self.real[order[1]].taken == 0
        book = self.endless[order[0]]
        return book is not None and not book.opened

    def _book(self, order: tuple[int, int], pieces: int) -> None:
        if order[0] == NOWHERE:
            asked = self.real[order[1]]
            asked.left -= pieces
            asked.taken += pieces
            return
        book = self.endless[order[0]]
        assert book is not None
        if not book.opened:
            self.openings += 1
            book.opened = self.openings
            self._opens = None
        book.left -= pieces
        if not book.left:
            book.next()
            self._opens = None

    def off(self, load: Load, now: int) -> None:
        """Note pieces of a real order that have been taken off."""
        if load.order[0] != NOWHERE:
            return
        asked = self.real[load.order[1]]
        asked.off += load.pieces
        if asked.first_off is None:
            asked.first_off = now
        if asked.off == self.cell.orders[load.order[1]].pieces:
            asked.last_off = now


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
