"""A run of a cell: it can be advanced, stopped, looked at and copied.

One event per load and per visit. Ends of work are foretold when it begins, over breaks and
limits, so that between two events nothing changes; the week's own events (shifts, breaks,
limits) come from the calendar's segments. All times are whole seconds and nothing depends on
the wall clock, so two runs of equal cells are equal.
"""

from __future__ import annotations

import copy
import heapq
import random
from collections.abc import Iterator

from whatif.cell import people
from whatif.cell import spindle as machine
from whatif.cell.calendar import Calendar, Segment
from whatif.cell.floor import At, Doing, Load, Pallet, Person, Request, Spindle
from whatif.cell.model import WEEK, Cell
from whatif.cell.orders import Orders
from whatif.cell.states import State, state_of
from whatif.cell.tally import Tally, tally_of

# What an event in the heap is about. At one instant the lower are turned to first.
_WORK, _SPINDLE, _RELEASE, _REPAIR, _ORDER, _WAKE = range(6)


class Run:
    """The cell in motion.

    Attributes:
        now: second of the run, from Monday 00:00 of its first week.
        week: second at which the present week began.
        segment: the stretch of the week that ``now`` lies in.
        line: requests that wait for a person.
        coming: per pallet that is being visited, the load that it gets.
        spent: per machine, mode and state, seconds so far.
        cycle: per machine and part, in-cycle seconds so far.
        cut: per part, pieces cut so far; ``cut_for_orders`` those of real orders among them, and
            ``cut_for_rush`` those of rush orders among these.
        rush_cycle: in-cycle seconds on rush orders so far.
    """

    def __init__(self, cell: Cell) -> None:
        self.cell = cell
        self.calendar = Calendar(cell)
        self.now = self.week = 0
        self._place = 0
        self.segment: Segment = self.calendar.segments[0]
        self.line: list[Request] = []
        self.coming: dict[int, Load] = {}
        self._heap: list[tuple[int, int, int, int]] = []
        self._wake = -1
        self.orders = Orders(cell)
        self.pallets: list[Pallet] = []
        self.spindles: list[Spindle] = []
        for group, kind in enumerate(cell.groups):
            for _ in range(kind.count):
                self._add_machine(group)
        self.persons = [
            Person(0, place, self.calendar.patterns[place])
            for place, shift in enumerate(cell.shifts)
            for _ in range(shift.people)
        ]
        for index, person in enumerate(self.persons):
            person.index = index
        self.spent = [[[0] * len(State) for _ in range(3)] for _ in self.spindles]
        self.cycle = [[0] * len(cell.parts) for _ in self.spindles]
        self.cut = [0] * len(cell.parts)
        self.cut_for_orders = [0] * len(cell.parts)
        self.cut_for_rush = [0] * len(cell.parts)
        self.rush_cycle = 0
        self._draws = self._luck()
        for one in self.spindles:
            one.to_stop = [self.draw(one, kind) for kind in range(len(cell.stops))]
        self._open()

    def _add_machine(self, group: int) -> None:
        kind = self.cell.groups[group]
        index = len(self.spindles)
        first = len(self.pallets)
        self.pallets += [Pallet(first + i, index) for i in range(kind.pallets)]
        self.spindles.append(
            Spindle(
                index,
                group,
                kind,
                list(range(first, first + kind.pallets)),
                [0] * len(self.cell.parts),
            )
        )

    def _open(self) -> None:
        """The first instant: who is there, every empty pallet asks (rule `people.start`)."""
        for place, shift in enumerate(self.cell.shifts):
            for start in self.calendar.occurrences(place):
                since = WEEK - start
                if since < shift.length:
                    for person in self.persons:
                        if person.shift == place:
                            person.here, person.base = True, -since
        for place, order in enumerate(self.cell.orders):
            if order.arrives is not None:
                heapq.heappush(self._heap, (order.arrives, _ORDER, place, 0))
        for pallet in self.pallets:
            people.ask_visit(self, pallet)
        self._enter_segment()
        self._instant()

    # -- advancing and copying ---------------------------------------------------------

    def advance(self, until: int) -> None:
        """Let the cell work up to, and not including, second ``until`` of the run."""
        while (at := self.next_event()) < until:
            self.now = at
            self._instant()
        self.now = until
        for one in self.spindles:
            self.account(one)

    def arrive(self, place: int) -> None:
        """Let a rush order that has waited so far arrive now (rule `rush.trial`)."""
        heapq.heappush(self._heap, (self.now, _ORDER, place, 0))

    def copy(self) -> Run:
        """A second run that goes on from here by itself; the frozen cell is shared."""
        memo: dict[int, object] = {id(self.cell): self.cell, id(self.calendar): self.calendar}
        return copy.deepcopy(self, memo)

    def tally(self) -> Tally:
        """What has been counted up to now; differences of two tallies measure a window."""
        return tally_of(self)

    # -- one instant -------------------------------------------------------------------

    def next_event(self) -> int:
        """Second at which something may happen next; nothing changes before it."""
        border = self.week + self.segment.end
        return min(border, self._heap[0][0]) if self._heap else border

    def _instant(self) -> None:
        """All that happens at ``now`` (rule `people.instant`)."""
        self._things_end()
        while self.now >= self.week + self.segment.end:
            self._next_segment()
        while True:
            # A spindle that is at work neither asks nor begins; most are at most instants.
            for one in self.spindles:
                if one.doing is Doing.STANDING:
                    machine.machine_asks(self, one)
            people.serve(self)
            for one in self.spindles:
                if one.doing is Doing.STANDING:
                    machine.begin(self, one)
            if not (self._heap and self._heap[0][0] == self.now):
                break
            self._things_end()
        self._set_wake()
        for one in self.spindles:
            state, visit = state_of(self, one)
            if state != one.state or visit is not one.shown_visit:
                self.account(one)
                one.state, one.shown_visit = state, visit

    def _things_end(self) -> None:
        while self._heap and self._heap[0][0] == self.now:
            _, what, index, stamp = heapq.heappop(self._heap)
            if what == _WORK:
                person = self.persons[index]
                if person.stamp == stamp:
                    people.work_ends(self, person)
            elif what == _SPINDLE:
                machine.spindle_ends(self, self.spindles[index])
            elif what == _RELEASE:
                machine.released(self, self.pallets[index])
            elif what == _REPAIR:
                self.stop_goes(self.spindles[index])
            elif what == _ORDER:
                self.orders.real[index].here = True
            elif what == _WAKE:
                self._wake = -1

    def _next_segment(self) -> None:
        for one in self.spindles:
            self.account(one)
        for shift in self._following().ends:
            people.shift_ends(self, shift)
        self._place += 1
        if self._place == len(self.calendar.segments):
            self._place = 0
            self.week += WEEK
        self.segment = self.calendar.segments[self._place]
        self._enter_segment()

    def _following(self) -> Segment:
        return self.calendar.segments[(self._place + 1) % len(self.calendar.segments)]

    def _enter_segment(self) -> None:
        for shift in self.segment.starts:
            people.shift_starts(self, shift)
        people.duty_changes(self, self.segment.on_duty)

    def _set_wake(self) -> None:
        """Time alone may let a resting pallet take something: be there (rule `pallets.rest`)."""
        if not any(p.at is At.RESTING and not p.in_line for p in self.pallets):
            return
        opening = self.orders.next_opening(self.now)
        if opening is not None and not self.now < self._wake <= opening:
            self._wake = opening
            heapq.heappush(self._heap, (opening, _WAKE, 0, 0))

    # -- what the rules ask for --------------------------------------------------------

    def work_ends(self, at: int, person: Person) -> None:
        """Foretell the end of a person's work in hand."""
        heapq.heappush(self._heap, (at, _WORK, person.index, person.stamp))

    def spindle_ends(self, at: int, spindle: Spindle) -> None:
        """Foretell the end, or the limit, of what a spindle does."""
        heapq.heappush(self._heap, (at, _SPINDLE, spindle.index, 0))

    def release_comes(self, at: int, pallet: Pallet) -> None:
        """Foretell the release of a first piece."""
        heapq.heappush(self._heap, (at, _RELEASE, pallet.index, 0))

    def repair_ends(self, at: int, spindle: Spindle) -> None:
        """Foretell the end of a stop that needs nobody."""
        heapq.heappush(self._heap, (at, _REPAIR, spindle.index, 0))

    def stop_goes(self, spindle: Spindle) -> None:
        """A stop of a machine has been put right."""
        self.account(spindle)
        machine.stop_goes(self, spindle)

    def load_in(self, spindle: Spindle) -> Load:
        """The load of the pallet in the spindle, or on its way in."""
        load = self.pallets[spindle.pallet].load
        assert load is not None
        return load

    def loaded(self, index: int) -> int:
        """Pallets of a machine with pieces not yet cut, the spindle's included."""
        return sum(
            (pallet := self.pallets[i]).at in (At.READY, At.SPINDLE)
            and pallet.load is not None
            and not pallet.load.cut
            for i in self.spindles[index].pallets
        )

    # -- rush orders (rule `orders.rush`) ----------------------------------------------

    def _rushes(self) -> list[int]:
        return [
            order.part
            for order, asked in zip(self.cell.orders, self.orders.real, strict=True)
            if order.rush and asked.here and asked.left
        ]

    def serves_rush(self, request: Request) -> bool:
        """Whether a visit puts a rush order's pieces on or takes them off."""
        if not self.cell.orders:
            return False
        pallet = self.pallets[request.pallet]
        coming = self.coming.get(pallet.index)
        if (pallet.load is not None and pallet.load.rush) or (coming and coming.rush):
            return True
        if request.left is not None:
            return False
        group = self.spindles[request.machine].group
        return any(
            self.cell.parts[part].making[group] is not None
            and self.orders.fixture_free(part, pallet, self.pallets)
            for part in self._rushes()
        )

    def is_on_rush(self, request: Request) -> bool:
        """Whether a prove-out or a tool change is for a rush order's load."""
        load = self.pallets[request.pallet].load
        return load is not None and load.rush

    def cuts_first(self, pallet: Pallet, load: Load) -> bool:
        """Whether a ready load is a rush order's, or holds a fixture that one waits for."""
        if not self.cell.orders:
            return False
        if load.rush:
            return True
        return any(pallet.fixture == part and self._all_loaded(part) for part in self._rushes())

    def _all_loaded(self, part: int) -> bool:
        most = self.cell.parts[part].fixtures
        held = self.orders.holders[part]
        return (
            most is not None
            and len(held) >= most
            and all(self.pallets[i].at in (At.READY, At.SPINDLE) for i in held)
        )

    # -- luck --------------------------------------------------------------------------

    def _luck(self) -> list[list[Iterator[int]]]:
        return [
            [_draws(self.cell.luck, one.index + 1, stop.id, stop.every) for stop in self.cell.stops]
            for one in self.spindles
        ]

    def draw(self, spindle: Spindle, kind: int) -> int:
        """In-cycle seconds of a machine until the next stop of a kind (rule `stops.come`)."""
        return next(self._draws[spindle.index][kind])

    # -- accounts ----------------------------------------------------------------------

    def account(self, spindle: Spindle) -> None:
        """Book the time since the last booking under its state (rule `states.sum`)."""
        took = self.now - spindle.state_since
        if not took:
            return
        begun, spindle.state_since = spindle.state_since, self.now
        spent = self.spent[spindle.index][self.segment.mode]
        state = spindle.state
        if state == State.LOAD and spindle.shown_visit is not None:
            setup = self._setup_share(spindle.shown_visit, begun)
            spent[State.SETUP] += setup
            spent[State.LOAD] += took - setup
            return
        spent[state] += took
        if state == State.IN_CYCLE:
            load = self.load_in(spindle)
            self.cycle[spindle.index][load.part] += took
            self.rush_cycle += took if load.rush else 0

    def _setup_share(self, visit: Request, begun: int) -> int:
        """Setup's seconds of a visit from ``begun`` until now (rule `states.setup`)."""
        if not visit.minutes or not visit.setup:
            return 0
        assert visit.left is not None
        person = self.persons[visit.person]
        done = visit.total - visit.left + person.worked(self.now)
        before = done - (self.now - begun)
        return done * visit.setup // visit.minutes - before * visit.setup // visit.minutes


class _Draws:
    """Whole seconds between stops, by the run, machine and stop (rule `stops.luck`).

    A class and not a generator, so that a run can be copied in the middle of its luck.
    """

    def __init__(self, seed: str, mean: int) -> None:
        self._random = random.Random(seed)
        self._mean = mean

    def __iter__(self) -> Iterator[int]:
        return self

    def __next__(self) -> int:
        return max(1, int(self._random.expovariate(1 / self._mean) + 0.5))


def _draws(luck: int, number: int, stop: str, mean: int) -> Iterator[int]:
    return _Draws(f"{luck}/{number}/{stop}", mean)
