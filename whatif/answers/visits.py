"""What visits to machines are made of: how much of each is a change of the work holding.

A watched run tells how long a visit takes and what it puts on, but not whether it sets up: order
follows order of one part, each set up anew. The calls of the floor know it, so they are looked at
at every instant of the week that is written down.
"""

from __future__ import annotations

from collections.abc import Callable

from whatif.cell.calls import Call
from whatif.cell.floor import Floor
from whatif.cell.model import WEEK, Cell
from whatif.cell.watch import WatchedRun, WeekRecord
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class Visit:
    """A visit to a pallet, or to a machine's own table, by its stated times.

    Attributes:
        since: second of the week at which it is first seen; 0 for one that began before.
        setup, unload, load: seconds of it that change the work holding, take off and put on.
    """

    since: int
    setup: int
    unload: int
    load: int

    @property
    def mostly_sets_up(self) -> bool:
        """Whether the change of the work holding takes most of its time."""
        return self.setup > 0 and self.setup >= max(self.unload, self.load)


Visits = tuple[tuple[tuple[Visit, ...], ...], ...]
"""Machine by machine, and pallet by pallet, the visits of a week in their order."""


def watch_visits(
    cell: Cell, weeks_before: int, told: Callable[[int, int], None]
) -> tuple[WeekRecord, Visits]:
    """The week that follows ``weeks_before`` others, as :func:`whatif.cell.watch.watch` has it.

    And the visits of it, in the same order of machines and pallets.
    """
    watched = WatchedRun(cell)
    for week in range(1, weeks_before + 1):
        watched.advance(week * WEEK)
        told(week, weeks_before + 1)
    watched.begin()
    floor = watched.run.floor
    look, seen = floor.seen, _Seen(floor)
    assert look is not None

    def look_and_see() -> None:
        look()
        seen.look()

    floor.seen = look_and_see
    seen.look()
    watched.advance((weeks_before + 1) * WEEK)
    told(weeks_before + 1, weeks_before + 1)
    return watched.record(), seen.visits()


class _Seen:
    """The visits seen since a second of the run, by the calls that they are."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._start = floor.now
        self._calls: list[list[tuple[Call, Visit]]] = [[] for _ in floor.pallets]

    def look(self) -> None:
        for spindle in self._floor.spindles:
            for call in spindle.visits:
                known = self._calls[call.pallet]
                if not known or known[-1][0] is not call:
                    known.append((call, self._visit(call)))

    def _visit(self, call: Call) -> Visit:
        pallet = self._floor.pallets[call.pallet]
        off, on = pallet.load, pallet.coming
        return Visit(
            since=self._floor.now - self._start,
            setup=call.setup,
            unload=0 if off is None else off.making.unload * off.pieces,
            load=0 if on is None else on.making.load * on.pieces,
        )

    def visits(self) -> Visits:
        return tuple(
            tuple(tuple(visit for _, visit in self._calls[i]) for i in spindle.pallets)
            for spindle in self._floor.spindles
        )
