"""Counting: time is booked under states, and what was counted is told frozen.

The difference of two tallies measures a window.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any, Final

from whatif.cell.calendar import ATTENDED, MODES
from whatif.cell.calls import Call
from whatif.cell.codes import NEVER, NOBODY_ON_DUTY, NOWHERE, STATE_COUNT, WAITING_FOR_PERSON
from whatif.cell.floor import Counted, Floor
from whatif.cell.frozen import Frozen
from whatif.cell.look import Why, turned_until, why
from whatif.cell.machines import Spindle
from whatif.cell.may_not import ASKED
from whatif.cell.model import WEEK, Cell
from whatif.cell.people import FREE_STRETCH
from whatif.cell.spindle import load_of, ready_with_tools

Counts = tuple[int, ...]

_PLACE: Final = {reason: place for place, reason in enumerate(Why)}


@dataclass(frozen=True, slots=True)
class Tally(Frozen):
    """Whole seconds and pieces since the begin of a run, or within a window.

    Attributes:
        seconds: of the run, or the window.
        spent: [machine][mode][state] seconds; modes as in :data:`whatif.cell.calendar.MODES`,
            states as in :data:`whatif.cell.states.STATES`.
        cycle: [machine][part] in-cycle seconds.
        cut: [part] pieces cut.
        busy: [person] seconds at work; ``busy_by_job``: [person][job] the same by kind of work.
        free_stretches: [person] free seconds that came in stretches of half an hour and more.
        most_held: [part] fixtures at most held at once since the begin of the run.
        cut_for_orders: [part] pieces cut for real orders, also counted in ``cut``.
        orders: [real order] second of the run at which its first and its last pieces came off,
            None where they have not.
        orders_in_time: [real order] pieces that were off no later than it was due.
        nights: [machine][why] nights that have ended (:class:`whatif.cell.look.Why`, in its order);
            ``stood`` the seconds that the machine stood at the end of them while pieces might be
            begun.
        closed: [machine] seconds that it stood at the end of all nights while none might be begun.
        beyond: [machine] seconds stopped after hours in which it had nothing loaded to cut anyway.
        may_not: [machine][work] seconds waited for a person while those who were free, or all on
            duty, might not do what was asked for (:data:`whatif.cell.may_not.ASKED`, in its order);
            ``nobody_may`` those of them in which nobody on duty might.
    """

    seconds: int
    spent: tuple[tuple[Counts, ...], ...]
    cycle: tuple[Counts, ...]
    cut: Counts
    busy: Counts
    busy_by_job: tuple[Counts, ...]
    free_stretches: Counts
    most_held: Counts
    cut_for_orders: Counts = ()
    orders: tuple[tuple[int | None, int | None], ...] = ()
    orders_in_time: Counts = ()
    nights: tuple[Counts, ...] = ()
    stood: tuple[Counts, ...] = ()
    closed: Counts = ()
    beyond: Counts = ()
    may_not: tuple[Counts, ...] = ()
    nobody_may: tuple[Counts, ...] = ()

    def since(self, before: Tally) -> Tally:
        """What was counted between an earlier tally of the same run and this one."""
        counted = (field.name for field in fields(self) if field.name not in _NOT_ADDED)
        less = {name: _less(getattr(self, name), getattr(before, name)) for name in counted}
        return replace(self, **less)

    def and_again(self, window: Tally, times: int) -> Tally:
        """The same and so many times what was counted in a window that repeats."""
        counted = (field.name for field in fields(self) if field.name not in _NOT_ADDED)
        more = {
            name: _and_again(getattr(self, name), getattr(window, name), times) for name in counted
        }
        held = tuple(map(max, self.most_held, window.most_held))
        return replace(self, most_held=held, **more)


_NOT_ADDED: Final = {"most_held", "orders", "orders_in_time"}
"""What a window has as the run has it: what it has come to at its end."""


def _less(mine: Any, theirs: Any) -> Any:
    """A count less an earlier one, or each of many."""
    if isinstance(mine, int):
        return mine - theirs
    return tuple(map(_less, mine, theirs))


def _and_again(mine: Any, theirs: Any, times: int) -> Any:
    """A count and so many times another one, or each of many."""
    if isinstance(mine, int):
        return mine + times * theirs
    return tuple(_and_again(*counts, times) for counts in zip(mine, theirs, strict=True))


def nothing_counted(cell: Cell) -> Counted:
    """The counts at the begin of a run."""
    machines, parts = sum(group.count for group in cell.groups), len(cell.parts)
    return Counted(
        cut=[0] * parts,
        cut_for_orders=[0] * parts,
        cut_for_rush=[0] * parts,
        nights=[[0] * len(Why) for _ in range(machines)],
        stood=[[0] * len(Why) for _ in range(machines)],
        closed=[0] * machines,
        beyond=[0] * machines,
        may_not=[[0] * len(ASKED) for _ in range(machines)],
        nobody_may=[[0] * len(ASKED) for _ in range(machines)],
    )


def count_night(floor: Floor) -> None:
    """Count what ends the night of every machine that may begin alone (rule `nights.counted`).

    And the hours in which nothing may be begun, of all machines and nights.

    To be done when the next shift starts, before anything that happens at this instant.
    """
    is_counted = floor.calendar.night_follows(floor.night % WEEK)
    for spindle in floor.spindles:
        turned = max(floor.night, turned_until(floor, spindle))
        allowed = min(floor.allowed, floor.now) if spindle.kind.unattended else floor.night
        floor.counted.closed[spindle.index] += floor.now - max(turned, allowed)
        if not is_counted or not spindle.kind.unattended:
            continue
        place = _PLACE[why(floor, spindle)]
        floor.counted.nights[spindle.index][place] += 1
        floor.counted.stood[spindle.index][place] += max(0, allowed - turned)


def book_stop(floor: Floor, spindle: Spindle, begun: int) -> None:
    """Of a stop after hours, count what the machine had nothing loaded to cut in anyway."""
    took = floor.now - begun
    room = _loaded_work(floor, spindle, begun - spindle.stopped) - spindle.stopped
    floor.counted.beyond[spindle.index] += took - max(0, min(took, room))
    spindle.stopped += took


def _loaded_work(floor: Floor, spindle: Spindle, since: int) -> int:
    """Seconds for which a stopped machine would have gone on after hours from ``since``.

    What is loaded and may be begun with nobody there, as far as the hours allowed go; a piece that
    is begun is finished, or held.
    """
    if not spindle.kind.unattended:
        return 0
    work = piece = 0
    if spindle.pallet != NOWHERE:
        load = load_of(floor, spindle.pallet)
        if not load.attended_only and not load.unproved:
            work = load.making.cycle * load.pieces - spindle.done + floor.cell.load_extra
            piece = 0 if floor.cell.hold else -spindle.done % load.making.cycle
    for pallet in ready_with_tools(floor, spindle):
        load = load_of(floor, pallet.index)
        if not load.attended_only and not load.unproved:
            cut = load.making.cycle * load.pieces
            work += spindle.kind.pallet_change + cut + floor.cell.load_extra
    segment = floor.segment
    allowed = floor.week + segment.until - since if segment.begins else 0
    return min(work, max(allowed, piece))


def setup_share(floor: Floor, visit: Call, begun: int) -> int:
    """Setup's seconds of a visit from ``begun`` until now (rule `states.setup`)."""
    if not visit.minutes or not visit.setup:
        return 0
    person = floor.persons[visit.person]
    worked = floor.now - person.work_since
    if person.work_since < floor.week + floor.segment.start:
        # Breaks may have come between.
        worked = person.worked(floor.now)
    done = visit.total - visit.left + worked
    before = done - (floor.now - begun)
    return done * visit.setup // visit.minutes - before * visit.setup // visit.minutes


def _by_mode(spent: list[int]) -> tuple[tuple[int, ...], ...]:
    """A machine's seconds by mode and state; who waits while nobody is on duty waits for that."""
    modes = []
    for mode in range(len(MODES)):
        states = spent[mode * STATE_COUNT : (mode + 1) * STATE_COUNT]
        if mode != ATTENDED:
            states[NOBODY_ON_DUTY] += states[WAITING_FOR_PERSON]
            states[WAITING_FOR_PERSON] = 0
        modes.append(tuple(states))
    return tuple(modes)


def tally_of(floor: Floor) -> Tally:
    """The counts of a run up to its present second, work in hand included."""
    busy, by_job, free = [], [], []
    for person in floor.persons:
        jobs = list(person.busy_by_job)
        worked = 0
        if person.work is not None:
            worked = person.worked(floor.now)
            jobs[person.work.job] += worked
        stretch = floor.now - person.free_since if person.free_since != NEVER else 0
        busy.append(person.busy + worked)
        by_job.append(tuple(jobs))
        free.append(person.free_stretches + (stretch if stretch >= FREE_STRETCH else 0))
    counted = floor.counted
    return Tally(
        seconds=floor.now,
        spent=tuple([_by_mode(spindle.spent) for spindle in floor.spindles]),
        cycle=tuple([tuple(spindle.cycle) for spindle in floor.spindles]),
        cut=tuple(counted.cut),
        busy=tuple(busy),
        busy_by_job=tuple(by_job),
        free_stretches=tuple(free),
        most_held=tuple(floor.book.most_held),
        cut_for_orders=tuple(counted.cut_for_orders),
        orders=tuple((order.first_off, order.last_off) for order in floor.book.real),
        orders_in_time=tuple(order.in_time for order in floor.book.real),
        nights=tuple(map(tuple, counted.nights)),
        stood=tuple(map(tuple, counted.stood)),
        closed=tuple(counted.closed),
        beyond=tuple(counted.beyond),
        may_not=tuple(map(tuple, counted.may_not)),
        nobody_may=tuple(map(tuple, counted.nobody_may)),
    )
