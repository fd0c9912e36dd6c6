"""The shop floor at one second of a run, and what has been counted on it.

All that changes while a cell runs, in plain mutable records: beside the floor itself its pallets
(:mod:`whatif.cell.loads`), machines (:mod:`whatif.cell.machines`), people
(:mod:`whatif.cell.persons`), the calls for them (:mod:`whatif.cell.calls`) and the orders
(:mod:`whatif.cell.wanted`). The rules that change them stand in :mod:`whatif.cell.orders` and
:mod:`whatif.cell.rush` (what is loaded), in :mod:`whatif.cell.people` (who does what next) and in
:mod:`whatif.cell.stops` and :mod:`whatif.cell.spindle` (what is cut); :mod:`whatif.cell.instant`
calls those in the order of one instant.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Final

from whatif.cell.calendar import Calendar, Segment
from whatif.cell.calls import FAR, USUAL, Call, CopiedCalls, by_rank, usual_rank
from whatif.cell.codes import AT, NOWHERE, STANDING, VISIT, of_whom
from whatif.cell.loads import Load, Pallet
from whatif.cell.machines import Spindle
from whatif.cell.model import Cell, Pace
from whatif.cell.persons import Person
from whatif.cell.wanted import OrderBook

_foretell: Final = insort

Booked = Callable[[Spindle, int, int, int, int], None]
"""Told of a machine, its state, from and to which second, and the seconds of it that are setup."""


@dataclass(slots=True)
class Counted:
    """What a run has counted so far, but for what orders, machines and persons keep themselves.

    Attributes:
        rush_cycle: in-cycle seconds on rush orders, in all.
        cut: [part] pieces cut; ``cut_for_orders`` those of real orders among them, and
            ``cut_for_rush`` those of rush orders among these.
        nights: [machine][why] nights that have ended; ``stood`` the seconds that the machine stood
            at the end of them while pieces might be begun. By :class:`whatif.cell.look.Why`, in its
            order.
        closed: [machine] seconds that it stood at the end of nights while none might be begun.
        beyond: [machine] seconds stopped after hours in which it had nothing loaded to cut anyway.
        may_not: [machine][work] seconds waited for a person while those who were free, or all on
            duty, might not do what was asked for; ``nobody_may`` those of them in which nobody on
            duty might. By :data:`whatif.cell.may_not.ASKED`, in its order.
    """

    cut: list[int]
    cut_for_orders: list[int]
    cut_for_rush: list[int]
    nights: list[list[int]]
    stood: list[list[int]]
    closed: list[int]
    beyond: list[int]
    may_not: list[list[int]]
    nobody_may: list[list[int]]
    rush_cycle: int = 0

    def copy(self) -> Counted:
        """The same counts, to be added to separately."""
        return replace(
            self,
            cut=list(self.cut),
            cut_for_orders=list(self.cut_for_orders),
            cut_for_rush=list(self.cut_for_rush),
            nights=[list(whys) for whys in self.nights],
            stood=[list(whys) for whys in self.stood],
            closed=list(self.closed),
            beyond=list(self.beyond),
            may_not=[list(works) for works in self.may_not],
            nobody_may=[list(works) for works in self.nobody_may],
        )


@dataclass(slots=True)
class Floor:
    """All that changes while a cell runs.

    Attributes:
        pace: at which people work.
        segment: the stretch of the week that ``now`` lies in, and ``place`` its place there.
        line: calls that wait for a person, the first to be served first, but for what was asked
            for at one instant, which stands by machine and pallet, and for rush orders.
        now: second of the run, from Monday 00:00 of its first week.
        week: second at which the present week began.
        events: ends that are foretold, the soonest last, each one number
            (:data:`whatif.cell.codes.AT`).
        arrivals: places of real orders that are still to arrive, the next one last; that one alone
            is foretold, so that events are few however many orders there are.
        wake: second of the latest event of its kind that is still to come, -1 for none; ``woken``
            how many have come.
        night: second at which the present night began, -1 by day and in a night that the run has
            not seen begin; ``allowed`` that from which on nothing is begun in it any more.
        lacking: (machine, work, whether nobody on duty may do it) of each machine that waits for
            what free people, or all on duty, may not do; work as in
            :data:`whatif.cell.may_not.ASKED`. ``looked_at``: second up to which it is counted.
        rushed: cache: the ranks of the line say what goes ahead for a rush order.
        stirred: indices of the machines that are stirred.
        just_free: indices of the persons who at this instant came free of a visit, or of its bench
            work, after which they may stay for a prove-out.
        hours: cache: where in :attr:`Spindle.spent` its mode begins.
        begun, border: cache: seconds at which the segment begins and ends.
        may_begin, may_begin_attended: cache: seconds up to which pieces may be begun without a
            gap, and what is begun only while attended; -1 where they may not now.
        free: cache: indices of the persons on duty who have no work in hand, in order.
        resting: cache: [group] indices of the pallets at rest outside the line, in order.
        at_rest: cache: how many those are.
        found: cache: [group] what all of those were last found to lack, NOWHERE where that is to
            be looked at one by one.
        some_only_load: whether some people load and do not set up.
        some_may_not: whether anybody may not do something that machines wait for.
        seen, booked: told of each instant that is over, and of all time that is booked, where
            somebody looks on. A copy has nobody who does.
    """

    cell: Cell
    pace: Pace
    calendar: Calendar
    segment: Segment
    pallets: list[Pallet]
    spindles: list[Spindle]
    persons: list[Person]
    book: OrderBook
    counted: Counted
    line: list[Call] = field(default_factory=list)
    now: int = 0
    week: int = 0
    place: int = 0
    events: list[int] = field(default_factory=list)
    arrivals: list[int] = field(default_factory=list)
    wake: int = -1
    woken: int = 0
    night: int = -1
    allowed: int = -1
    lacking: list[tuple[int, int, bool]] = field(default_factory=list)
    looked_at: int = 0
    rushed: bool = False
    stirred: list[int] = field(default_factory=list)
    just_free: list[int] = field(default_factory=list)
    hours: int = 0
    begun: int = 0
    border: int = 0
    may_begin: int = -1
    may_begin_attended: int = -1
    free: list[int] = field(default_factory=list)
    resting: list[list[int]] = field(default_factory=list)
    at_rest: int = 0
    found: list[int] = field(default_factory=list)
    some_only_load: bool = False
    some_may_not: bool = False
    seen: Callable[[], None] | None = None
    booked: Booked | None = None

    def foretell(self, at: int, what: int, index: int) -> None:
        """Let something end, or arrive, at a second of the run."""
        _foretell(self.events, -((at << AT) + of_whom(what, index)))

    def stir(self, spindle: Spindle) -> None:
        """Something has happened to a machine that may let it ask, begin, or change its state.

        A spindle that is at work does none of these before it ends.
        """
        if spindle.doing == STANDING and not spindle.stirred:
            spindle.stirred = True
            self.stirred.append(spindle.index)

    def ask(self, call: Call) -> None:
        """Put a call in the line (rule `people.line`)."""
        call.rank = usual_rank(call, self.cell.setter_stays)
        self._stand_in_line(call)
        spindle = self.spindles[call.machine]
        spindle.asked.append(call)
        self.stir(spindle)
        if call.job == VISIT:
            self.pallets[call.pallet].in_line = True

    def ask_visit(self, pallet: Pallet) -> None:
        """A pallet asks for a visit now: it comes behind all that was asked for before."""
        machine = pallet.machine
        call = Call(VISIT, machine, pallet.index, self.now)
        call.rank = USUAL * FAR + 2 * self.now + 1
        self._stand_in_line(call)
        pallet.in_line = True
        spindle = self.spindles[machine]
        spindle.asked.append(call)
        if spindle.doing == STANDING and not spindle.stirred:
            spindle.stirred = True
            self.stirred.append(machine)

    def _stand_in_line(self, call: Call) -> None:
        line = self.line
        # Most calls are the latest.
        if not line or line[-1].rank < call.rank:
            line.append(call)
        else:
            insort(line, call, key=by_rank)

    def leave_line(self, call: Call) -> None:
        """Take a call out of the line."""
        self.line.remove(call)
        spindle = self.spindles[call.machine]
        spindle.asked.remove(call)
        if spindle.doing == STANDING and not spindle.stirred:
            spindle.stirred = True
            self.stirred.append(call.machine)
        if call.job == VISIT:
            self.pallets[call.pallet].in_line = False

    def rest(self, pallet: Pallet) -> None:
        """Let a pallet rest outside the line (rule `pallets.rest`)."""
        insort(self.resting[pallet.group], pallet.index)
        self.at_rest += 1
        self.found[pallet.group] = NOWHERE

    def ends_rest(self, pallet: Pallet) -> None:
        """A pallet at rest asks for a visit."""
        self.resting[pallet.group].remove(pallet.index)
        self.at_rest -= 1
        self.ask_visit(pallet)

    def set_free(self, person: Person) -> None:
        """A person on duty has nothing more in hand."""
        person.free_since = self.now
        free, index = self.free, person.index
        if not free or free[-1] < index:
            free.append(index)
        else:
            insort(free, index)

    def load_in(self, spindle: Spindle) -> Load:
        """The load of the pallet in the spindle, or on its way in."""
        load = self.pallets[spindle.pallet].load
        assert load is not None
        return load

    def loaded(self, machine: int) -> int:
        """Pallets of a machine with pieces not yet cut, the spindle's included."""
        spindle = self.spindles[machine]
        found = len(spindle.ready)
        if spindle.pallet != NOWHERE:
            found += not self.load_in(spindle).cut
        return found

    def copy(self) -> Floor:
        """A second floor that goes on from here by itself; what is frozen is shared."""
        calls = CopiedCalls()
        copied = replace(
            self,
            pallets=[pallet.copy() for pallet in self.pallets],
            spindles=[spindle.copy(calls) for spindle in self.spindles],
            persons=[person.copy(calls) for person in self.persons],
            book=self.book.copy(),
            counted=self.counted.copy(),
            line=[calls.copy_of(call) for call in self.line],
            events=list(self.events),
            arrivals=list(self.arrivals),
            lacking=list(self.lacking),
            stirred=list(self.stirred),
            just_free=list(self.just_free),
            free=list(self.free),
            resting=[list(pallets) for pallets in self.resting],
            found=list(self.found),
            seen=None,
            booked=None,
        )
        for pallet in copied.pallets:
            pallet.wanted = copied.book.same(pallet.wanted)
            for load in (pallet.load, pallet.coming):
                if load is not None:
                    load.wanted = copied.book.same(load.wanted)
        return copied
