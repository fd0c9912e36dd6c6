"""Which part comes to its turn: kept as orders change, so that nobody looks through all parts.

Of each part one endless order counts: the earliest that has room for another pallet (rule
`orders.take`), or the earliest unopened one (rule `orders.open`).
"""

from __future__ import annotations

from bisect import bisect_left, insort
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

UNOPENED: Final = 1 << 60

Turn: TypeAlias = tuple[int, int, int]
"""When an order is taken: its due second, the rank of its opening, UNOPENED where it is not opened
yet, and its part. The least goes ahead (6 of rule `orders.take`)."""

Wait: TypeAlias = tuple[int, int]
"""A second that an order waits for, and its part."""


@dataclass(slots=True)
class Mix:
    """The parts with endless orders that are made on one machine group.

    Attributes:
        parts: in the file's order.
        may: turns of those whose order may be opened, or has been, in order.
        later: the others, which wait for the second at which the order before is due.
        latest: up to which they were last told apart (:func:`whatif.cell.book.opens_after`, which
            only grows).
    """

    parts: list[int]
    may: list[Turn]
    later: list[Wait]
    latest: int = 0

    def in_turn(self, latest: int, turns: list[Turn]) -> list[Turn]:
        """The turns of the parts whose orders may be opened by now, or have been.

        Args:
            turns: [part] of its order.
        """
        later = self.later
        while later and later[0][0] <= latest:
            insort(self.may, turns[later.pop(0)[1]])
        self.latest = latest
        return self.may

    def changes(self, opens: int, turn: Turn, opened: int, before: Turn) -> None:
        """A part has another order that has room.

        Args:
            opens: second at which the order before it is due.
            opened, before: the same, and the turn, of the order that had room before.
        """
        part = turn[2]
        if opened <= self.latest:
            del self.may[bisect_left(self.may, before)]
        else:
            del self.later[bisect_left(self.later, (opened, part))]
        if opens <= self.latest:
            insort(self.may, turn)
        else:
            insort(self.later, (opens, part))

    def copy(self) -> Mix:
        """The same turns, to be changed separately; the parts never change."""
        return replace(self, may=list(self.may), later=list(self.later))


@dataclass(slots=True)
class PartFamily:
    """Parts with endless orders that share a machine, directly or not.

    Attributes:
        parts: in the file's order.
        waits: those whose earliest unopened order may not be opened yet, which wait for the second
            at which the order before it is due.
        dues: of all of them, the second at which the earliest unopened order is due; only where a
            cell is run flat out.
    """

    parts: list[int]
    waits: list[Wait]
    dues: list[Wait]

    def waits_until(self, part: int, second: int, before: int) -> None:
        """A part's earliest unopened order is another one, and waits for another second."""
        wait = (before, part)
        place = bisect_left(self.waits, wait)
        if place < len(self.waits) and self.waits[place] == wait:
            del self.waits[place]
        insort(self.waits, (second, part))

    def is_due(self, part: int, second: int, before: int) -> None:
        """A part's earliest unopened order is another one, and due at another second."""
        if self.dues:
            del self.dues[bisect_left(self.dues, (before, part))]
            insort(self.dues, (second, part))

    def copy(self) -> PartFamily:
        """The same, to be changed separately; the parts never change."""
        return replace(self, waits=list(self.waits), dues=list(self.dues))
