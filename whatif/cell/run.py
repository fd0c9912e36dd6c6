"""A run of a cell: it can be advanced, stopped, looked at and copied.

One event per load and per visit. Ends of work are foretold when it begins, over breaks and
limits, so that between two events nothing changes; the week's own events (shifts, breaks,
limits) come from the calendar's segments. All times are whole seconds and nothing depends on
the wall clock, so two runs of equal cells are equal.
"""

from __future__ import annotations

from whatif.cell import book, may_not, people, stops
from whatif.cell.calendar import MODES, Calendar
from whatif.cell.codes import (
    NOWHERE,
    ORDER_ARRIVES,
    SPINDLE_ENDS,
    STATE_COUNT,
    of_whom,
)
from whatif.cell.floor import Floor
from whatif.cell.instant import account, enter_segment, live, next_event
from whatif.cell.loads import Pallet
from whatif.cell.machines import Spindle
from whatif.cell.model import WEEK, Cell, Making, Pace
from whatif.cell.tally import Tally, nothing_counted, tally_of


class Run:
    """The cell in motion; ``floor`` is how it stands at second ``now``.

    Who wants to look on says so to the floor (:attr:`Floor.seen`, :attr:`Floor.booked`).

    Args:
        floor: to go on from; by default the run begins.
    """

    def __init__(self, cell: Cell, floor: Floor | None = None) -> None:
        self.cell = cell
        if floor is None:
            self.floor = _empty_floor(cell)
            self._open()
        else:
            self.floor = floor

    @property
    def now(self) -> int:
        """Second of the run, from Monday 00:00 of its first week."""
        return self.floor.now

    @property
    def calendar(self) -> Calendar:
        """The week that repeats."""
        return self.floor.calendar

    def _open(self) -> None:
        """The first instant: who is there, every empty pallet asks (rule `people.start`)."""
        floor = self.floor
        for place, shift in enumerate(self.cell.shifts):
            for start in floor.calendar.occurrences(place):
                since = WEEK - start
                if since < shift.length:
                    for person in floor.persons:
                        if person.shift == place:
                            person.here, person.base = True, -since
        to_come = [
            (order.arrives, place)
            for place, order in enumerate(self.cell.orders)
            if order.arrives is not None
        ]
        floor.arrivals = [place for _, place in sorted(to_come, reverse=True)]
        book.foretell_next(floor)
        for spindle in floor.spindles:
            floor.stir(spindle)
        for pallet in floor.pallets:
            floor.ask_visit(pallet)
        enter_segment(floor)
        live(floor, 0, 1)

    def advance(self, until: int) -> None:
        """Let the cell work up to, and not including, second ``until`` of the run."""
        floor = self.floor
        live(floor, next_event(floor), until)
        floor.now = until
        may_not.count(floor)
        for spindle in floor.spindles:
            account(floor, spindle)

    def arrive(self, place: int) -> None:
        """Let a rush order that has waited so far arrive now (rule `rush.trial`)."""
        self.floor.foretell(self.now, ORDER_ARRIVES, place)

    def copy(self) -> Run:
        """A second run that goes on from here by itself; the frozen cell is shared."""
        return Run(self.cell, self.floor.copy())

    def tally(self) -> Tally:
        """What has been counted up to now; differences of two tallies measure a window."""
        return tally_of(self.floor)

    def next_event(self) -> int:
        """Second at which something may happen next; nothing changes before it."""
        return next_event(self.floor)


def _empty_floor(cell: Cell) -> Floor:
    """The floor before anything has happened."""
    calendar = Calendar(cell)
    pallets: list[Pallet] = []
    spindles: list[Spindle] = []
    for group, kind in enumerate(cell.groups):
        makings: list[Making | None] = [part.making[group] for part in cell.parts]
        for _ in range(kind.count):
            index, first = len(spindles), len(pallets)
            own = list(range(first, first + kind.pallets))
            pallets += [
                Pallet(i, index, group, scatter=people.scatter_of(cell, index, i - first))
                for i in own
            ]
            luck = stops.luck_of(cell, index)
            spindles.append(
                Spindle(
                    index=index,
                    group=group,
                    kind=kind,
                    pallets=own,
                    event=of_whom(SPINDLE_ENDS, index),
                    is_table=kind.pallets == 1,
                    makings=makings,
                    used=[0] * len(cell.parts),
                    luck=luck,
                    to_stop=[kind_of_stop.deal() for kind_of_stop in luck],
                    spent=[0] * (len(MODES) * STATE_COUNT),
                    cycle=[0] * len(cell.parts),
                )
            )
    shifts = [place for place, shift in enumerate(cell.shifts) for _ in range(shift.people)]
    return Floor(
        cell=cell,
        pace=Pace.of(cell),
        calendar=calendar,
        segment=calendar.segments[0],
        pallets=pallets,
        spindles=spindles,
        persons=[
            people.new_person(cell, index, place, calendar.patterns[place])
            for index, place in enumerate(shifts)
        ],
        book=book.new_book(cell),
        counted=nothing_counted(cell),
        resting=[[] for _ in cell.groups],
        found=[NOWHERE] * len(cell.groups),
        some_only_load=any(
            "load" in shift.does and "setup" not in shift.does for shift in cell.shifts
        ),
        some_may_not=may_not.some_may_not(cell),
    )
