"""Real orders that have arrived, as pallets look for them (rule `orders.real`).

Each list is in the order in which they are taken: the earliest due date first, ties in the file's
order. They are kept as orders change, so that nobody looks through those of which all is loaded,
that have no room for another pallet, or that are made elsewhere.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from dataclasses import dataclass, replace


@dataclass(slots=True)
class AtHand:
    """Real orders that have arrived and have pieces left, and rush orders that are on pallets.

    Attributes:
        rank: [real order] its place in that order among all of them.
        made: [real order] the groups that make its part.
        orders: those that have arrived and have pieces left.
        room: [group] those of them that are made there and that another pallet may be at.
        has_room: [real order] whether it is among those.
        rushes: rush orders among ``orders``.
        rushing: rush orders that have arrived and are not off all pallets yet, in any order.
    """

    rank: list[int]
    made: list[list[int]]
    orders: list[int]
    room: list[list[int]]
    has_room: list[bool]
    rushes: list[int]
    rushing: list[int]

    def arrives(self, place: int, *, rush: bool) -> None:
        """An order arrives."""
        self._put(self.orders, place)
        if rush:
            self._put(self.rushes, place)
            self.rushing.append(place)

    def is_loaded(self, place: int, *, rush: bool) -> None:
        """The last pieces of an order are taken."""
        self._drop(self.orders, place)
        if rush:
            self._drop(self.rushes, place)

    def notes_room(self, place: int, *, room: bool) -> None:
        """An order has room for another pallet, or has none."""
        if room != self.has_room[place]:
            self.has_room[place] = room
            for group in self.made[place]:
                if room:
                    self._put(self.room[group], place)
                else:
                    self._drop(self.room[group], place)

    def _put(self, places: list[int], place: int) -> None:
        insort(places, place, key=self.rank.__getitem__)

    def _drop(self, places: list[int], place: int) -> None:
        del places[bisect_left(places, self.rank[place], key=self.rank.__getitem__)]

    def copy(self) -> AtHand:
        """The same orders, to be changed separately; what never changes is shared."""
        return replace(
            self,
            orders=list(self.orders),
            room=[list(places) for places in self.room],
            has_room=list(self.has_room),
            rushes=list(self.rushes),
            rushing=list(self.rushing),
        )
