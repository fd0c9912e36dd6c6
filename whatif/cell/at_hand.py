"""Real orders that have arrived, as pallets look for them (rule `orders.real`).

The earliest due date goes first, ties in the file's order. An order's rank says where it comes in
that, and the lists are of ranks: plain numbers, kept in order without a call for each comparison.
They are kept as orders change, so that nobody looks through those of which all is loaded, that have
no room for another pallet, or that are made elsewhere.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from dataclasses import dataclass, replace


@dataclass(slots=True)
class AtHand:
    """Real orders that have arrived and have pieces left, and rush orders that are on pallets.

    Attributes:
        rank: [real order] its rank among all of them; ``ranked``: [rank] the real order.
        made: [real order] the groups that make its part.
        orders: ranks of those that have arrived and have pieces left.
        room: [group] ranks of those of them that are made there and that another pallet may be at.
        has_room: [real order] whether it is among those.
        rushes: ranks of rush orders among ``orders``.
        rushing: rush orders that have arrived and are not off all pallets yet, in any order.
    """

    rank: list[int]
    ranked: list[int]
    made: list[list[int]]
    orders: list[int]
    room: list[list[int]]
    has_room: list[bool]
    rushes: list[int]
    rushing: list[int]

    def arrives(self, place: int, *, rush: bool) -> None:
        """An order arrives."""
        rank = self.rank[place]
        _put(self.orders, rank)
        if rush:
            _put(self.rushes, rank)
            self.rushing.append(place)

    def is_loaded(self, place: int, *, rush: bool) -> None:
        """The last pieces of an order are taken."""
        rank = self.rank[place]
        _drop(self.orders, rank)
        if rush:
            _drop(self.rushes, rank)

    def notes_room(self, place: int, *, room: bool) -> None:
        """An order has room for another pallet, or has none."""
        if room != self.has_room[place]:
            self.has_room[place] = room
            for group in self.made[place]:
                if room:
                    _put(self.room[group], self.rank[place])
                else:
                    _drop(self.room[group], self.rank[place])

    def copy(self) -> AtHand:
        """The same orders, to be changed separately; what never changes is shared."""
        return replace(
            self,
            orders=list(self.orders),
            room=[list(ranks) for ranks in self.room],
            has_room=list(self.has_room),
            rushes=list(self.rushes),
            rushing=list(self.rushing),
        )


def _put(ranks: list[int], rank: int) -> None:
    # What arrives is mostly due last.
    if not ranks or ranks[-1] < rank:
        ranks.append(rank)
    else:
        insort(ranks, rank)


def _drop(ranks: list[int], rank: int) -> None:
    del ranks[bisect_left(ranks, rank)]
