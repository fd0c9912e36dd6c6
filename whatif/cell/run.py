"""A run of a cell: it can be advanced, stopped, looked at and copied.

One event per load and per visit. Ends of work are foretold when it begins, over breaks and
limits, so that between two events nothing changes; the week's own events (shifts, breaks,
limits) come from the calendar's segments. All times are whole seconds and nothing depends on
the wall clock, so two runs of equal cells are equal.
"""

from __future__ import annotations

import heapq

from mypy_extensions import mypyc_attr

from whatif.cell import book, may_not, people, stops
from whatif.cell import spindle as machine
from whatif.cell.calendar import Calendar, Segment
from whatif.cell.floor import (
    ORDER,
    RELEASE,
    REPAIR,
    SPINDLE,
    WAKE,
    WORK,
    At,
    Doing,
    Floor,
    Pallet,
    Person,
    Spindle,
)
from whatif.cell.model import WEEK, Cell
from whatif.cell.states import state_of
from whatif.cell.tally import Tally, book_time, count_night, nothing_counted, tally_of


# Compiled too it may be derived from: what watches a run is told in a subclass.
@mypyc_attr(allow_interpreted_subclasses=True)
class Run:
    """The cell in motion; ``floor`` is how it stands at second ``now``.

    Args:
        floor: to go on from; by default the run begins.
    """

    def __init__(self, cell: Cell, floor: Floor | None = None) -> None:
        self.cell = cell
        self._some_only_load = any(
            "load" in shift.does and "setup" not in shift.does for shift in cell.shifts
        )
        self._some_may_not = may_not.some_may_not(cell)
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
        for place, order in enumerate(self.cell.orders):
            if order.arrives is not None:
                floor.foretell(order.arrives, ORDER, place)
        for pallet in floor.pallets:
            floor.ask_visit(pallet)
        self._enter_segment()
        self._instant()

    # -- advancing and copying ---------------------------------------------------------

    def advance(self, until: int) -> None:
        """Let the cell work up to, and not including, second ``until`` of the run."""
        floor = self.floor
        while (at := self.next_event()) < until:
            floor.now = at
            self._instant()
        floor.now = until
        if self._some_may_not:
            may_not.count(floor)
        for spindle in floor.spindles:
            self.account(spindle)

    def arrive(self, place: int) -> None:
        """Let a rush order that has waited so far arrive now (rule `rush.trial`)."""
        self.floor.foretell(self.now, ORDER, place)

    def copy(self) -> Run:
        """A second run that goes on from here by itself; the frozen cell is shared."""
        return Run(self.cell, self.floor.copy())

    def tally(self) -> Tally:
        """What has been counted up to now; differences of two tallies measure a window."""
        return tally_of(self.floor)

    def account(self, spindle: Spindle) -> int:
        """Book the time since the last booking; see :func:`whatif.cell.tally.book_time`."""
        return book_time(self.floor, spindle)

    # -- one instant -------------------------------------------------------------------

    def next_event(self) -> int:
        """Second at which something may happen next; nothing changes before it."""
        floor = self.floor
        border = floor.week + floor.segment.end
        return min(border, floor.events[0][0]) if floor.events else border

    def _instant(self) -> None:
        """All that happens at ``now`` (rule `people.instant`)."""
        floor = self.floor
        if self._some_may_not:
            may_not.count(floor)
        if floor.night >= 0 and floor.now >= floor.week + floor.segment.end:
            self._night_ends()
        self._things_end()
        while floor.now >= floor.week + floor.segment.end:
            self._next_segment()
        while True:
            # A spindle that is at work neither asks nor begins, and at most instants most machines
            # are as they were.
            for spindle in floor.spindles:
                if spindle.stirred and spindle.doing is Doing.STANDING:
                    machine.machine_asks(floor, spindle)
            people.serve(floor)
            for spindle in floor.spindles:
                if spindle.stirred and spindle.doing is Doing.STANDING:
                    machine.begin(floor, spindle)
            if not (floor.events and floor.events[0][0] == floor.now):
                break
            self._things_end()
        self._set_wake()
        for spindle in floor.spindles:
            if not spindle.stirred:
                continue
            spindle.stirred = False
            state, visit = state_of(floor, spindle)
            if state != spindle.state or visit is not spindle.shown_visit:
                self.account(spindle)
                spindle.state, spindle.shown_visit = state, visit
        if self._some_may_not:
            may_not.look(floor)

    def _things_end(self) -> None:
        floor = self.floor
        while floor.events and floor.events[0][0] == floor.now:
            _, what, index, stamp = heapq.heappop(floor.events)
            if what == WORK:
                person = floor.persons[index]
                if person.stamp == stamp:
                    assert person.work is not None
                    self._stir(person.work.machine)
                    people.work_ends(floor, person)
            elif what == SPINDLE:
                self._stir(index)
                machine.spindle_ends(floor, floor.spindles[index])
            elif what == RELEASE:
                machine.released(floor, floor.pallets[index])
            elif what == REPAIR:
                self._stir(index)
                stops.goes(floor, floor.spindles[index])
            elif what == ORDER:
                floor.book.real[index].here = True
                floor.book.changes += 1
            elif what == WAKE:
                floor.wake = -1
                floor.book.changes += 1

    def _stir(self, place: int) -> None:
        """Something happens to a machine: its time up to now is booked first."""
        spindle = self.floor.spindles[place]
        self.account(spindle)
        spindle.stirred = True

    def _night_ends(self) -> None:
        """Count the night where a shift starts, as all stands just before it."""
        floor = self.floor
        if self._following().shift_runs:
            count_night(floor)
            floor.night = -1

    def _next_segment(self) -> None:
        floor = self.floor
        for spindle in floor.spindles:
            self._stir(spindle.index)
        ran = floor.segment.shift_runs
        if ran and not self._following().shift_runs:
            # Before visits are broken off: what is being loaded was not left.
            for spindle in floor.spindles:
                spindle.left_waiting = any(floor.pallets[i].in_line for i in spindle.pallets)
        for shift in self._following().ends:
            people.shift_ends(floor, shift)
        floor.place += 1
        if floor.place == len(floor.calendar.segments):
            floor.place = 0
            floor.week += WEEK
        floor.segment = floor.calendar.segments[floor.place]
        now = floor.segment
        if ran and not now.shift_runs:
            floor.night = floor.week + now.start
            floor.allowed = floor.week + (now.until if now.begins else now.start)
        self._enter_segment()

    def _following(self) -> Segment:
        segments = self.floor.calendar.segments
        return segments[(self.floor.place + 1) % len(segments)]

    def _enter_segment(self) -> None:
        floor = self.floor
        for shift in floor.segment.starts:
            people.shift_starts(floor, shift)
        people.duty_changes(floor, floor.segment.on_duty)

    def _set_wake(self) -> None:
        """Time alone may let a resting pallet take something: be there (rule `pallets.rest`).

        It may also let a visit take what needs no setup, so that those who only load may do it.
        """
        floor = self.floor
        passed_over = self._some_only_load and bool(floor.line)
        if floor.book.woken_at == floor.book.changes and not passed_over:
            return
        floor.book.woken_at = floor.book.changes
        for pallet in floor.pallets:
            if pallet.at is At.RESTING and not pallet.in_line:
                break
        else:
            if not passed_over:
                return
        opening = book.next_opening(floor)
        if opening is not None and not floor.now < floor.wake <= opening:
            floor.wake = opening
            floor.foretell(opening, WAKE, 0)


def _empty_floor(cell: Cell) -> Floor:
    """The floor before anything has happened."""
    calendar = Calendar(cell)
    pallets: list[Pallet] = []
    spindles: list[Spindle] = []
    for group, kind in enumerate(cell.groups):
        for _ in range(kind.count):
            index, first = len(spindles), len(pallets)
            own = list(range(first, first + kind.pallets))
            pallets += [
                Pallet(i, index, scatter=people.scatter_of(cell, index, i - first)) for i in own
            ]
            luck = stops.luck_of(cell, index)
            spindles.append(
                Spindle(
                    index=index,
                    group=group,
                    kind=kind,
                    pallets=own,
                    used=[0] * len(cell.parts),
                    luck=luck,
                    to_stop=[kind_of_stop.deal() for kind_of_stop in luck],
                )
            )
    shifts = [place for place, shift in enumerate(cell.shifts) for _ in range(shift.people)]
    return Floor(
        cell=cell,
        calendar=calendar,
        segment=calendar.segments[0],
        pallets=pallets,
        spindles=spindles,
        persons=[
            Person(
                index,
                place,
                calendar.patterns[place],
                frozenset(cell.shifts[place].does),
                works_here=may_not.works_here(cell.shifts[place].does),
            )
            for index, place in enumerate(shifts)
        ],
        book=book.new_book(cell),
        counted=nothing_counted(cell),
    )
