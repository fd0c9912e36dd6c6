"""What a machine shop has, in frozen plain numbers: seconds, pieces and exact fractions.

A :class:`Cell` is all that the engine is told. It holds no texts of units, no prices and no
lengths: who fits where has been decided before (see :mod:`whatif.cell.fit.fit`), and what a piece
is worth is asked afterwards. Two equal cells behave equally, so a cell is also the key under
which its run may be remembered.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from whatif.cell.frozen import Frozen

MINUTE: Final = 60
HOUR: Final = 3600
DAY: Final = 86400
WEEK: Final = 7 * DAY

Work: TypeAlias = Literal["load", "setup", "prove_out", "tools", "repair", "release"]
"""What the people of a shift may do; "release" is done in its hours, by nobody of the cell."""

ALL_WORK: Final[tuple[Work, ...]] = ("load", "setup", "prove_out", "tools", "repair", "release")
ALL_DAYS: Final = (0, 1, 2, 3, 4, 5, 6)


@dataclass(frozen=True, slots=True)
class Shift(Frozen):
    """A shift and its people (rule `calendar.shift`).

    Attributes:
        days: on which it starts, 0 for Monday to 6 for Sunday.
        start: second of the day.
        length: seconds, up to 24 h.
        people: persons with these hours.
        breaks: (from, to) in seconds after the start, in order, paid and unpaid ones.
        does: what its people may do, in the order of :data:`ALL_WORK` (rule `people.persons`).
    """

    id: str
    days: tuple[int, ...]
    start: int
    length: int
    people: int = 1
    breaks: tuple[tuple[int, int], ...] = ()
    does: tuple[Work, ...] = ALL_WORK


@dataclass(frozen=True, slots=True)
class MachineGroup(Frozen):
    """Identical machines; times in seconds (rule `keys.machine`).

    Attributes:
        unattended: whether its pieces may be begun while nobody is on duty.
    """

    id: str
    count: int = 1
    pallets: int = 1
    load_stations: int = 1
    pallet_change: int = 30
    warm_up: int = 0
    unattended: bool = True


@dataclass(frozen=True, slots=True)
class Making(Frozen):
    """How a part is made on one machine group; times in seconds, ``per_pallet`` in pieces."""

    cycle: int
    load: int = 120
    unload: int = 60
    setup: int = 0
    prove_out: int = 0
    per_pallet: int = 1


@dataclass(frozen=True, slots=True)
class Part(Frozen):
    """A part that is made; times in seconds (rule `keys.part`).

    Attributes:
        making: one entry per machine group, None where the part is not made there.
        weekly: pieces wanted a week; 0 means no endless orders, real ones may still ask for it.
        numbers: part numbers that it stands for; order k is of number k mod ``numbers``.
        at_once: pallets and tables that may be at one order at one time.
        after: place in :attr:`Cell.parts` of the operation before, None for none.
        stock: good pieces of it that lie there at the start, for the operation after it.
        fixtures: pallets and tables that may hold one number of it at one time, None for no
            limit.
        tool_life: pieces until its shortest-lived tool is worn, None for no limit.
        in_cut, scrap: shares of one.
    """

    id: str
    making: tuple[Making | None, ...]
    weekly: Fraction
    batch: int = 20
    bench: int = 0
    first_piece: int = 0
    first_piece_each_order: bool = False
    unattended: bool = True
    numbers: int = 1
    at_once: int = 1
    after: int | None = None
    stock: int = 0
    fixtures: int | None = None
    tool_life: int | None = None
    sister_tools: int = 0
    tool_change: int = 300
    in_cut: Fraction = Fraction(1)
    scrap: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class StopKind(Frozen):
    """A random stop: mean in-cycle seconds between two of them, and the repair in seconds."""

    id: str
    every: int
    repair: int
    needs_person: bool = True


@dataclass(frozen=True, slots=True)
class RealOrder(Frozen):
    """An order that exists: so many pieces of a part, at hand from a second of the run.

    ``part`` is the part's place in :attr:`Cell.parts`; ``due`` in seconds of the run ranks it
    among real orders. A ``rush`` order goes ahead of everything (rule `orders.rush`); with
    ``arrives`` None it waits until :meth:`whatif.cell.run.Run.arrive` calls it.
    """

    id: str
    part: int
    pieces: int
    arrives: int | None
    due: int = 0
    rush: bool = False


@dataclass(frozen=True, slots=True)
class Cell(Frozen):
    """One scenario as the engine sees it.

    Attributes:
        other_duties: share of people's time taken by other things.
        after_shift: seconds after a shift's end in which pieces are begun; None: until the next.
        hold: True for "hold", False for "finish_piece".
        nights: days (0 to 6) after whose shifts' ends ``after_shift`` counts.
        setter_stays: whether who sets up stays for the prove-out (rule `people.stays`).
        keep_setup: True for the rule "keep_setup", False for "earliest_due_date".
        to_order: True for "to_order", False for "flat_out" (rule `orders.open`).
        visit_extra: seconds added to each visit before ``other_duties``; the meters' gap read as
            people away (rule `meters.people`).
        load_extra: seconds each load holds the spindle after its last piece, as stopped; the
            gap read as machines tied up (rule `meters.machine`).
        luck: the number of the seeded run, where there are stops or visits scatter.
        scatter: coefficient of variation of visits, 0 for none (rule `people.visit`).
    """

    shifts: tuple[Shift, ...]
    groups: tuple[MachineGroup, ...]
    parts: tuple[Part, ...]
    stops: tuple[StopKind, ...] = ()
    orders: tuple[RealOrder, ...] = ()
    walk: int = 60
    other_duties: Fraction = Fraction(0)
    setter_stays: bool = False
    through_breaks: bool = True
    after_shift: int | None = 0
    nights: tuple[int, ...] = ALL_DAYS
    hold: bool = False
    keep_setup: bool = True
    to_order: bool = True
    run_ahead: int = WEEK
    visit_extra: int = 0
    load_extra: int = 0
    luck: int = 0
    scatter: float = 0.0


@dataclass(frozen=True, slots=True)
class Pace(Frozen):
    """How long stated work of people takes beside other duties (rule `people.other-duties`).

    Attributes:
        whole, left: it takes ``whole`` / ``left`` times as long; ``share`` is ``left`` / ``whole``.
    """

    whole: int
    left: int
    share: float

    @staticmethod
    def of(cell: Cell) -> Pace:
        """The pace of a cell's people."""
        whole = cell.other_duties.denominator
        share = 1 - float(cell.other_duties)
        return Pace(whole, whole - cell.other_duties.numerator, share)

    def work(self, seconds: int, factor: float = 1.0) -> int:
        """Seconds that stated work takes, halves rounded up.

        Args:
            factor: by which it scatters (rule `people.scatter`).
        """
        if factor != 1.0:
            return math.floor(seconds * factor / self.share + 0.5)
        left = self.left
        return (2 * seconds * self.whole + left) // (2 * left)
