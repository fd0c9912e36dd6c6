"""Pallets and the loads on them, as records."""

from __future__ import annotations

from dataclasses import dataclass, replace

from whatif.cell.codes import ASKING, LACKS_WORK, NOWHERE
from whatif.cell.luck import Scatter
from whatif.cell.model import Making
from whatif.cell.wanted import EndlessOrder, Order


class Load:
    """Pieces of one order on a pallet.

    Attributes:
        first: a first piece, to be released after its cut.
        unproved: the first cut of the setup still needs its prove-out (rule `machines.prove-out`).
        attended_only: is begun only when somebody is on duty, beyond the prove-out: so is a first
            piece, or its part or machine.
        rush: of a rush order.
        fixture: that they are held by (:class:`OrderBook`).
        cut: True once the last piece is cut.
        wanted: cache: the endless order that it is of.
    """

    __slots__ = (
        "attended_only",
        "cut",
        "first",
        "fixture",
        "making",
        "order",
        "part",
        "pieces",
        "rush",
        "unproved",
        "wanted",
    )

    def __init__(
        self,
        part: int,
        making: Making,
        pieces: int,
        order: Order,
        fixture: int,
        first: bool = False,
        unproved: bool = False,
        attended_only: bool = False,
        rush: bool = False,
        cut: bool = False,
        wanted: EndlessOrder | None = None,
    ) -> None:
        self.part = part
        self.making = making
        self.pieces = pieces
        self.order = order
        self.fixture = fixture
        self.first = first
        self.unproved = unproved
        self.attended_only = attended_only
        self.rush = rush
        self.cut = cut
        self.wanted = wanted

    def copy(self) -> Load:
        """The same load, to be cut separately."""
        return Load(
            self.part,
            self.making,
            self.pieces,
            self.order,
            self.fixture,
            self.first,
            self.unproved,
            self.attended_only,
            self.rush,
            self.cut,
            self.wanted,
        )


@dataclass(slots=True)
class Pallet:
    """A pallet, or a machine's own table where it has only that.

    Attributes:
        machine, group: its machine's index, and that of the machine's group.
        at: where it stands in its round.
        fixture: that it holds (:class:`OrderBook`), NOWHERE for none.
        load: on it, also while a visit takes it off.
        coming: what the visit that is going on puts on it.
        order: which it has been working on.
        wanted: cache: the same where it is an endless one.
        after_rush: its last load was a rush order's.
        since: second since which it has been ready, or has rested.
        in_line: its call for a visit waits in the line.
        lacks: what alone keeps it at rest, as last found.
        scatter: of its visits, None where they do not scatter.
    """

    index: int
    machine: int
    group: int
    at: int = ASKING
    fixture: int = NOWHERE
    load: Load | None = None
    coming: Load | None = None
    order: Order | None = None
    wanted: EndlessOrder | None = None
    after_rush: bool = False
    since: int = 0
    in_line: bool = False
    lacks: int = LACKS_WORK
    scatter: Scatter | None = None

    def copy(self) -> Pallet:
        """The same pallet with loads of its own."""
        load, coming = self.load, self.coming
        return replace(
            self,
            load=None if load is None else load.copy(),
            coming=None if coming is None else coming.copy(),
            scatter=None if self.scatter is None else self.scatter.copy(),
        )
