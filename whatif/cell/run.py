"""A run of a cell: it can be advanced, stopped, looked at and copied.

One event per load and per visit. Ends of work are foretold when it begins, over breaks and
limits, so that between two events nothing changes; the week's own events (shifts, breaks,
limits) come from the calendar's segments. All times are whole seconds and nothing depends on
the wall clock, so two runs of equal cells are equal.
"""

from __future__ import annotations

from heapq import heappop

from mypy_extensions import mypyc_attr

from whatif.cell import book, may_not, people, states, stops
from whatif.cell import spindle as machine
from whatif.cell.calendar import AFTER_HOURS, ATTENDED, Calendar, Segment
from whatif.cell.codes import (
    BENCH,
    CUTTING,
    IN_CYCLE,
    LOAD,
    NOWHERE,
    ORDER_ARRIVES,
    RELEASES,
    SETUP,
    SPINDLE_ENDS,
    STANDING,
    STOPPED,
    TIME_OPENS,
    WORK_ENDS,
)
from whatif.cell.floor import Call, Floor, Pallet, Person, Spindle
from whatif.cell.model import WEEK, Cell, Making, Pace
from whatif.cell.tally import (
    Tally,
    book_stop,
    count_night,
    nothing_counted,
    setup_share,
    tally_of,
)


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
                floor.foretell(order.arrives, ORDER_ARRIVES, place)
        for spindle in floor.spindles:
            floor.stir(spindle)
        for pallet in floor.pallets:
            floor.ask_visit(pallet)
        self._enter_segment()
        self._instant()

    # -- advancing and copying ---------------------------------------------------------

    def advance(self, until: int) -> None:
        """Let the cell work up to, and not including, second ``until`` of the run."""
        floor = self.floor
        events = floor.events
        while True:
            at = floor.border
            if events and events[0][0] < at:
                at = events[0][0]
            if at >= until:
                break
            floor.now = at
            self._instant()
        floor.now = until
        may_not.count(floor)
        for spindle in floor.spindles:
            self.account(spindle)

    def arrive(self, place: int) -> None:
        """Let a rush order that has waited so far arrive now (rule `rush.trial`)."""
        self.floor.foretell(self.now, ORDER_ARRIVES, place)

    def copy(self) -> Run:
        """A second run that goes on from here by itself; the frozen cell is shared."""
        return Run(self.cell, self.floor.copy())

    def tally(self) -> Tally:
        """What has been counted up to now; differences of two tallies measure a window."""
        return tally_of(self.floor)

    def account(self, spindle: Spindle) -> int:
        """Book a machine's time since the last booking under its state (rule `states.sum`).

        To be done before anything that this state or its visit hangs on changes. Returns the
        seconds of a visit that were booked as setup.
        """
        floor = self.floor
        begun, state = spindle.state_since, spindle.state
        took = floor.now - begun
        if not took:
            return 0
        spindle.state_since = floor.now
        if state == LOAD and spindle.shown_visit is not None:
            setup = setup_share(floor, spindle.shown_visit, begun)
            spindle.spent[SETUP] += setup
            spindle.spent[LOAD] += took - setup
            return setup
        spindle.spent[state] += took
        if state == IN_CYCLE:
            load = floor.pallets[spindle.pallet].load
            assert load is not None
            floor.counted.cycle[spindle.index][load.part] += took
            if load.rush:
                floor.counted.rush_cycle += took
        elif state == STOPPED and spindle.stops and floor.segment.mode == AFTER_HOURS:
            book_stop(floor, spindle, begun)
            return 0
        spindle.stopped = 0
        return 0

    # -- one instant -------------------------------------------------------------------

    def next_event(self) -> int:
        """Second at which something may happen next; nothing changes before it."""
        floor = self.floor
        return min(floor.border, floor.events[0][0]) if floor.events else floor.border

    def _instant(self) -> None:
        """All that happens at ``now`` (rule `people.instant`)."""
        floor = self.floor
        now, events, orders = floor.now, floor.events, floor.book
        if floor.lacking:
            may_not.count(floor)
        if floor.night >= 0 and now >= floor.border:
            self._night_ends()
        # At most instants most machines are as they were.
        spindles, stirred = floor.spindles, floor.stirred
        while True:
            while events and events[0][0] == now:
                _, what, index, stamp = heappop(events)
                if what == SPINDLE_ENDS:
                    spindle = spindles[index]
                    self._stir(spindle)
                    machine.spindle_ends(floor, spindle)
                elif what != WORK_ENDS:
                    self._something_else(what, index)
                elif floor.persons[index].stamp == stamp:
                    self._work_ends(floor.persons[index])
            while now >= floor.border:
                self._next_segment()
            if len(stirred) > 1:
                stirred.sort()
            for i in stirred:
                spindle = spindles[i]
                if spindle.doing == STANDING and (spindle.ready or spindle.pallet != NOWHERE):
                    machine.machine_asks(floor, spindle)
            if (floor.line and floor.free) or (floor.at_rest and orders.asked_at != orders.changes):
                people.serve(floor)
                if len(stirred) > 1:
                    stirred.sort()
            for i in stirred:
                spindle = spindles[i]
                if spindle.doing == STANDING and (spindle.ready or spindle.pallet != NOWHERE):
                    machine.begin(floor, spindle)
            if not events or events[0][0] != now:
                break
        orders.asked_at = orders.changes
        if floor.at_rest or (self._some_only_load and floor.line):
            self._set_wake()
        else:
            orders.woken_at = orders.changes
        if stirred:
            for i in stirred:
                self._show(spindles[i])
            stirred.clear()
        if self._some_may_not and (floor.line or floor.lacking):
            may_not.look(floor)

    def _show(self, spindle: Spindle) -> None:
        """Find in which state a machine is after all that has happened (rule `states`)."""
        floor = self.floor
        spindle.stirred = False
        visit: Call | None = None
        if spindle.doing == CUTTING:
            state = IN_CYCLE
        else:
            state = states.state_of(floor, spindle)
            if state == LOAD:
                visit = states.shown_visit(floor, spindle)
        if state != spindle.state or visit is not spindle.shown_visit:
            if spindle.state_since != floor.now:
                self.account(spindle)
            spindle.state, spindle.shown_visit = state, visit

    def _work_ends(self, person: Person) -> None:
        work = person.work
        assert work is not None
        if work.job != BENCH:
            spindle = self.floor.spindles[work.machine]
            if spindle.doing == STANDING:
                self._stir(spindle)
        people.work_ends(self.floor, person, work)

    def _something_else(self, what: int, index: int) -> None:
        floor = self.floor
        if what == RELEASES:
            machine.released(floor, floor.pallets[index])
        elif what == ORDER_ARRIVES:
            book.arrives(floor, index)
        elif what == TIME_OPENS:
            floor.wake = -1
            floor.woken += 1
            floor.book.changes += 1
        else:
            self._stir(floor.spindles[index])
            stops.goes(floor, floor.spindles[index])

    def _stir(self, spindle: Spindle) -> None:
        """Something happens to a machine: its time up to now is booked first."""
        if spindle.state_since != self.floor.now:
            self.account(spindle)
        if not spindle.stirred:
            spindle.stirred = True
            self.floor.stirred.append(spindle.index)

    def _night_ends(self) -> None:
        """Count the night where a shift starts, as all stands just before it."""
        floor = self.floor
        if self._following().shift_runs:
            count_night(floor)
            floor.night = -1

    def _next_segment(self) -> None:
        floor = self.floor
        following = self._following()
        begins_night = floor.segment.shift_runs and not following.shift_runs
        for spindle in floor.spindles:
            if spindle.doing == STANDING:
                self._stir(spindle)
            else:
                # What is at work goes on, in hours of another mode.
                self.account(spindle)
            if begins_night:
                # Before visits are broken off: what is being loaded was not left.
                spindle.left_waiting = any(floor.pallets[i].in_line for i in spindle.pallets)
        for shift in following.ends:
            people.shift_ends(floor, shift)
        floor.place += 1
        if floor.place == len(floor.calendar.segments):
            floor.place = 0
            floor.week += WEEK
        floor.segment = following
        if begins_night:
            floor.night = floor.week + following.start
            limit = following.until if following.begins else following.start
            floor.allowed = floor.week + limit
        self._enter_segment()

    def _following(self) -> Segment:
        segments = self.floor.calendar.segments
        return segments[(self.floor.place + 1) % len(segments)]

    def _enter_segment(self) -> None:
        floor = self.floor
        segment = floor.segment
        floor.border = floor.week + segment.end
        attended = segment.mode == ATTENDED
        floor.may_begin = floor.week + segment.until if segment.begins else -1
        floor.may_begin_attended = floor.week + segment.attended_until if attended else -1
        floor.count_in_mode()
        for shift in segment.starts:
            people.shift_starts(floor, shift)
        people.duty_changes(floor, segment.on_duty)

    def _set_wake(self) -> None:
        """Time alone may let a resting pallet take something: be there (rule `pallets.rest`).

        It may also let a visit take what needs no setup, so that those who only load may do it.
        """
        floor = self.floor
        passed_over = self._some_only_load and bool(floor.line)
        if floor.book.woken_at == floor.book.changes and not passed_over:
            return
        floor.book.woken_at = floor.book.changes
        if not passed_over and not floor.at_rest:
            return
        if floor.book.opening_at == floor.book.changes and not 0 <= floor.wake <= floor.now:
            # The next opening is as it was: it is still to come, or there is none.
            return
        floor.book.opening_at = floor.book.changes
        opening = book.next_opening(floor)
        if opening is not None and not floor.now < floor.wake <= opening:
            floor.wake = opening
            floor.foretell(opening, TIME_OPENS, 0)


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
                    is_table=kind.pallets == 1,
                    makings=makings,
                    used=[0] * len(cell.parts),
                    luck=luck,
                    to_stop=[kind_of_stop.deal() for kind_of_stop in luck],
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
    )
