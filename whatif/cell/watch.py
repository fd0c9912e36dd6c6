"""One week of a run written down: what each machine, pallet and person does, second by second.

A :class:`WatchedRun` has its floor tell it whenever an instant is over and wherever a state is
booked. A run that nobody watches knows nothing of it, so that
watching costs nothing elsewhere. The record is frozen plain data: seconds of the week, ids and
words of our own.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, Literal, TypeVar

from whatif.cell.calls import Call
from whatif.cell.codes import (
    ASKING,
    BENCH,
    CHANGING,
    CUTTING,
    NOWHERE,
    READY,
    RESTING,
    UNRELEASED,
    VISITED,
    Job,
)
from whatif.cell.floor import Floor
from whatif.cell.frozen import Frozen
from whatif.cell.loads import Load, Pallet
from whatif.cell.machines import Spindle
from whatif.cell.model import WEEK, Cell
from whatif.cell.persons import Person
from whatif.cell.run import Run
from whatif.cell.states import STATES, State

PalletDoes = Literal[
    "rests",  # empty, since nothing may be taken
    "waits",  # asks for a person, empty or with finished pieces on it
    "served",  # a person is at it
    "paused",  # its visit waits over the person's break
    "put_down",  # its visit waits, since the person's shift has ended
    "ready",  # loaded and waits for the spindle
    "goes_in",  # loaded and on its way into the spindle
    "cut",  # in the spindle, which cuts
    "stands_in",  # in the spindle, which does not cut
    "release",  # its first piece waits to be released
]
PersonDoes = Literal[
    "off_duty", "on_break", "free", "visit", "bench", "prove_out", "tool_change", "repair"
]

_DOES: dict[int, PersonDoes] = {
    Job.REPAIR: "repair",
    Job.PROVE_OUT: "prove_out",
    Job.TOOL_CHANGE: "tool_change",
    Job.VISIT: "visit",
    Job.BENCH: "bench",
}


@dataclass(frozen=True, slots=True)
class MachineSpan(Frozen):
    """One state of a machine from a second of the week to another; ``part`` while it cuts one."""

    since: int
    until: int
    state: str
    part: str | None = None


@dataclass(frozen=True, slots=True)
class PalletSpan(Frozen):
    """What a pallet, or a machine's own table, does from a second of the week to another.

    Attributes:
        part, pieces: what is on it, finished or not; None and 0 where it is empty.
        next_part, next_pieces: what a visit that is in progress puts on it.
    """

    since: int
    until: int
    does: PalletDoes
    part: str | None = None
    pieces: int = 0
    next_part: str | None = None
    next_pieces: int = 0


@dataclass(frozen=True, slots=True)
class LoadedSpan(Frozen):
    """How many pallets of a machine have pieces to be cut, the spindle's included."""

    since: int
    until: int
    pallets: int


@dataclass(frozen=True, slots=True)
class PersonSpan(Frozen):
    """What a person does from a second of the week to another.

    Attributes:
        machine: at which machine, its place in :attr:`WeekRecord.machines`; None for what is
            done at none, or at the bench after a night.
        pallet: number of the pallet there, from 1.
    """

    since: int
    until: int
    does: PersonDoes
    machine: int | None = None
    pallet: int | None = None


@dataclass(frozen=True, slots=True)
class MachineWeek(Frozen):
    """A machine's week; ``number`` within its group of ``count``, from 1."""

    group: str
    number: int
    count: int
    states: tuple[MachineSpan, ...]
    loaded: tuple[LoadedSpan, ...]
    pallets: tuple[tuple[PalletSpan, ...], ...]


@dataclass(frozen=True, slots=True)
class PersonWeek(Frozen):
    """A person's week; ``number`` among the ``count`` people of the shift, from 1."""

    shift: str
    number: int
    count: int
    does: tuple[PersonSpan, ...]


@dataclass(frozen=True, slots=True)
class WeekRecord(Frozen):
    """A week of a cell. The spans of each machine, pallet and person fill it without a gap.

    A machine's spans add up to what the run's tally counts in the same week. Where a visit
    counts as setup and load, its setup is told first; the tally knows their lengths only.
    """

    machines: tuple[MachineWeek, ...]
    persons: tuple[PersonWeek, ...]


def watch(
    cell: Cell, weeks_before: int, told: Callable[[int, int], None] = lambda done, of: None
) -> WeekRecord:
    """Run a cell and write down the week that follows ``weeks_before`` others.

    Args:
        told: called as told(done, of) after each week; it may raise to give the work up.
    """
    run = WatchedRun(cell)
    for week in range(1, weeks_before + 1):
        run.advance(week * WEEK)
        told(week, weeks_before + 1)
    run.begin()
    run.advance((weeks_before + 1) * WEEK)
    told(weeks_before + 1, weeks_before + 1)
    return run.record()


class WatchedRun:
    """A run that is written down from :meth:`begin` on; to be called on a border of weeks."""

    def __init__(self, cell: Cell) -> None:
        self.run = Run(cell)
        self._notes: _Notes | None = None

    def advance(self, until: int) -> None:
        """As :meth:`whatif.cell.run.Run.advance`."""
        self.run.advance(until)

    def begin(self) -> None:
        """Write down from now."""
        floor = self.run.floor
        notes = self._notes = _Notes(floor)
        # A run's first instant is over when it is made; that of any later week is still to come,
        # and its look takes the place of this one.
        notes.look()
        floor.seen, floor.booked = notes.look, notes.booked

    def record(self) -> WeekRecord:
        """What has been written down up to now."""
        assert self._notes is not None
        return self._notes.record(self.run.floor)


# -- taking notes ------------------------------------------------------------------------

T = TypeVar("T")
_Pallet = tuple[PalletDoes, str | None, int, str | None, int]
"""As in :class:`PalletSpan`."""
_Person = tuple[PersonDoes, int | None, int | None]
"""As in :class:`PersonSpan`."""


class _Track(Generic[T]):
    """Values over time, each noted at the second at which it begins."""

    def __init__(self) -> None:
        self._marks: list[tuple[int, T]] = []

    def note(self, at: int, value: T) -> None:
        if self._marks and self._marks[-1][0] == at:
            self._marks.pop()
        if not self._marks or self._marks[-1][1] != value:
            self._marks.append((at, value))

    def spans(self, start: int, end: int) -> list[tuple[int, int, T]]:
        """(since, until, value), in seconds after ``start``."""
        ends = [at for at, _ in self._marks[1:]] + [end]
        return [
            (at - start, until - start, value)
            for (at, value), until in zip(self._marks, ends, strict=True)
        ]


@dataclass(slots=True)
class _Booking:
    """Time booked to a machine under one state; ``setup`` of its seconds as setup."""

    since: int
    until: int
    state: State
    part: str | None
    visit: Call | None
    setup: int

    def goes_on(self, other: _Booking) -> bool:
        """Whether the other is more of the same."""
        same = self.state is other.state and self.part == other.part
        return same and self.visit is other.visit and self.until == other.since


class _Notes:
    """Everything seen since a second of the run."""

    def __init__(self, floor: Floor) -> None:
        self._floor = floor
        self._start = floor.now
        self._booked: list[list[_Booking]] = [[] for _ in floor.spindles]
        self._loaded: list[_Track[int]] = [_Track() for _ in floor.spindles]
        self._pallets: list[_Track[_Pallet]] = [_Track() for _ in floor.pallets]
        self._persons: list[_Track[_Person]] = [_Track() for _ in floor.persons]

    def look(self) -> None:
        floor = self._floor
        for spindle in floor.spindles:
            self._loaded[spindle.index].note(floor.now, floor.loaded(spindle.index))
        for pallet in floor.pallets:
            self._pallets[pallet.index].note(floor.now, _of_pallet(floor, pallet))
        for person in floor.persons:
            self._persons[person.index].note(floor.now, _of_person(floor, person))

    def booked(self, spindle: Spindle, state: int, since: int, until: int, setup: int) -> None:
        part = None
        if state == State.IN_CYCLE:
            part = self._floor.cell.parts[self._floor.load_in(spindle).part].id
        booking = _Booking(since, until, State(state), part, spindle.shown_visit, setup)
        known = self._booked[spindle.index]
        if known and known[-1].goes_on(booking):
            known[-1].until = booking.until
            known[-1].setup += booking.setup
        else:
            known.append(booking)

    def record(self, floor: Floor) -> WeekRecord:
        return WeekRecord(
            machines=tuple(
                self._machine(floor, spindle, number)
                for spindle, number in _numbered(floor.spindles, [s.group for s in floor.spindles])
            ),
            persons=tuple(
                self._person(floor, person, number)
                for person, number in _numbered(floor.persons, [p.shift for p in floor.persons])
            ),
        )

    def _machine(self, floor: Floor, spindle: Spindle, number: int) -> MachineWeek:
        loaded = self._loaded[spindle.index].spans(self._start, floor.now)
        pallets = (self._pallets[i].spans(self._start, floor.now) for i in spindle.pallets)
        return MachineWeek(
            group=spindle.kind.id,
            number=number,
            count=spindle.kind.count,
            states=_states(self._booked[spindle.index], self._start),
            loaded=tuple(LoadedSpan(*span) for span in loaded),
            pallets=tuple(
                tuple(PalletSpan(since, until, *seen) for since, until, seen in spans)
                for spans in pallets
            ),
        )

    def _person(self, floor: Floor, person: Person, number: int) -> PersonWeek:
        shift = floor.cell.shifts[person.shift]
        spans = self._persons[person.index].spans(self._start, floor.now)
        return PersonWeek(
            shift=shift.id,
            number=number,
            count=shift.people,
            does=tuple(PersonSpan(since, until, *seen) for since, until, seen in spans),
        )


def _numbered(things: Sequence[T], kinds: Sequence[int]) -> list[tuple[T, int]]:
    """Each thing with the how manieth of its kind it is, from 1."""
    return [(thing, kinds[: place + 1].count(kinds[place])) for place, thing in enumerate(things)]


def _states(booked: Sequence[_Booking], start: int) -> tuple[MachineSpan, ...]:
    """Bookings as spans; visits are split in setup and load, setup first."""
    spans: list[MachineSpan] = []
    for booking in booked:
        middle = booking.since + booking.setup
        for since, until, state in (
            (booking.since, middle, State.SETUP),
            (middle, booking.until, booking.state),
        ):
            if since == until:
                continue
            begin, name = since - start, STATES[state]
            if spans and (spans[-1].state, spans[-1].part) == (name, booking.part):
                begin = spans.pop().since
            spans.append(MachineSpan(begin, until - start, name, booking.part))
    return tuple(spans)


# -- one look ----------------------------------------------------------------------------


def _of_pallet(floor: Floor, pallet: Pallet) -> _Pallet:
    on, coming = _pieces(floor, pallet.load), _pieces(floor, pallet.coming)
    return (_pallet_does(floor, pallet), *on, *coming)


def _pieces(floor: Floor, load: Load | None) -> tuple[str | None, int]:
    return (None, 0) if load is None else (floor.cell.parts[load.part].id, load.pieces)


def _pallet_does(floor: Floor, pallet: Pallet) -> PalletDoes:
    spindle = floor.spindles[pallet.machine]
    if pallet.at == RESTING:
        return "waits" if pallet.in_line else "rests"
    if pallet.at == ASKING:
        return "waits"
    if pallet.at == READY:
        return "ready"
    if pallet.at == UNRELEASED:
        return "release"
    if pallet.at == VISITED:
        visit = next(visit for visit in spindle.visits if visit.pallet == pallet.index)
        if visit.person == NOWHERE:
            return "put_down"
        return "served" if floor.persons[visit.person].on_duty else "paused"
    if spindle.doing == CUTTING:
        return "cut"
    return "goes_in" if spindle.doing == CHANGING else "stands_in"


def _of_person(floor: Floor, person: Person) -> _Person:
    if not person.here:
        return ("off_duty", None, None)
    if not person.on_duty:
        return ("on_break", None, None)
    work = person.work
    if work is None:
        return ("free", None, None)
    if work.job == BENCH and work.pallet == NOWHERE:
        # Bench work left over from an earlier shift belongs to no machine any more.
        return ("bench", None, None)
    first = floor.spindles[work.machine].pallets[0]
    number = None if work.pallet == NOWHERE else work.pallet - first + 1
    return (_DOES[work.job], work.machine, number)
