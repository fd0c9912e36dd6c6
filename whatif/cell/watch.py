"""One week of a run written down: what each machine, pallet and person does, second by second.

A :class:`WatchedRun` is a :class:`~whatif.cell.run.Run` that looks at itself whenever an instant
is over and wherever a state is booked. A run that nobody watches knows nothing of it, so that
watching costs nothing elsewhere. The record is frozen plain data: seconds of the week, ids and
words of our own.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, Literal, TypeVar

from whatif.cell.floor import NOWHERE, At, Doing, Job, Load, Pallet, Person, Request, Spindle
from whatif.cell.model import WEEK, Cell
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

_DOES: dict[Job, PersonDoes] = {
    Job.REPAIR: "repair",
    Job.PROVE_OUT: "prove_out",
    Job.TOOL_CHANGE: "tool_change",
    Job.VISIT: "visit",
    Job.BENCH: "bench",
}


@dataclass(frozen=True, slots=True)
class MachineSpan:
    """One state of a machine from a second of the week to another; ``part`` while it cuts one."""

    since: int
    until: int
    state: str
    part: str | None = None


@dataclass(frozen=True, slots=True)
class PalletSpan:
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
class LoadedSpan:
    """How many pallets of a machine have pieces to be cut, the spindle's included."""

    since: int
    until: int
    pallets: int


@dataclass(frozen=True, slots=True)
class PersonSpan:
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
class MachineWeek:
    """A machine's week; ``number`` within its group of ``count``, from 1."""

    group: str
    number: int
    count: int
    states: tuple[MachineSpan, ...]
    loaded: tuple[LoadedSpan, ...]
    pallets: tuple[tuple[PalletSpan, ...], ...]


@dataclass(frozen=True, slots=True)
class PersonWeek:
    """A person's week; ``number`` among the ``count`` people of the shift, from 1."""

    shift: str
    number: int
    count: int
    does: tuple[PersonSpan, ...]


@dataclass(frozen=True, slots=True)
class WeekRecord:
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


class WatchedRun(Run):
    """A run that is written down from :meth:`begin` on; to be called on a border of weeks."""

    # The run's own first instant comes before anything else, hence none of __init__.
    _notes: _Notes | None = None

    def begin(self) -> None:
        """Write down from now."""
        self._notes = _Notes(self)
        # A run's first instant is over when it is made; that of any later week is still to come,
        # and its look takes the place of this one.
        self._notes.look(self)

    def record(self) -> WeekRecord:
        """What has been written down up to now."""
        assert self._notes is not None
        return self._notes.record(self)

    def _instant(self) -> None:
        super()._instant()
        if self._notes is not None:
            self._notes.look(self)

    def account(self, spindle: Spindle) -> None:
        """Book the time since the last booking, and write down under what it was booked."""
        if self._notes is None or spindle.state_since == self.now:
            super().account(spindle)
            return
        state, visit, since = State(spindle.state), spindle.shown_visit, spindle.state_since
        part = self.load_in(spindle).part if state is State.IN_CYCLE else NOWHERE
        booked = self.spent[spindle.index][self.segment.mode]
        setup = booked[State.SETUP]
        super().account(spindle)
        setup = booked[State.SETUP] - setup
        self._notes.booked(spindle.index, _Booking(since, self.now, state, part, visit, setup))


# -- taking notes ------------------------------------------------------------------------

T = TypeVar("T")
_Pallet = tuple[PalletDoes, int, int, int, int]  # part and pieces, next part and pieces
_Person = tuple[PersonDoes, int, int]  # machine, pallet


class _Track(Generic[T]):
    """Values over time, each noted when it begins."""

    def __init__(self) -> None:
        self._marks: list[tuple[int, T]] = []

    def note(self, at: int, value: T) -> None:
        if self._marks and self._marks[-1][0] == at:
            self._marks.pop()
        if not self._marks or self._marks[-1][1] != value:
            self._marks.append((at, value))

    def spans(self, start: int, end: int) -> list[tuple[int, int, T]]:
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
    part: int
    visit: Request | None
    setup: int

    def goes_on(self, other: _Booking) -> bool:
        """Whether the other is more of the same."""
        same = self.state is other.state and self.part == other.part
        return same and self.visit is other.visit and self.until == other.since


class _Notes:
    """Everything seen since a second of the run."""

    def __init__(self, run: Run) -> None:
        self._start = run.now
        self._booked: list[list[_Booking]] = [[] for _ in run.spindles]
        self._loaded: list[_Track[int]] = [_Track() for _ in run.spindles]
        self._pallets: list[_Track[_Pallet]] = [_Track() for _ in run.pallets]
        self._persons: list[_Track[_Person]] = [_Track() for _ in run.persons]

    def look(self, run: Run) -> None:
        for one in run.spindles:
            self._loaded[one.index].note(run.now, run.loaded(one.index))
        for pallet in run.pallets:
            self._pallets[pallet.index].note(run.now, _of_pallet(run, pallet))
        for person in run.persons:
            self._persons[person.index].note(run.now, _of_person(run, person))

    def booked(self, machine: int, one: _Booking) -> None:
        known = self._booked[machine]
        if known and known[-1].goes_on(one):
            known[-1].until = one.until
            known[-1].setup += one.setup
        else:
            known.append(one)

    def record(self, run: Run) -> WeekRecord:
        cell = run.cell
        machines, persons = run.spindles, run.persons
        return WeekRecord(
            machines=tuple(
                MachineWeek(
                    group=one.kind.id,
                    number=number,
                    count=one.kind.count,
                    states=_states(cell, self._booked[one.index], self._start),
                    loaded=tuple(
                        LoadedSpan(*span)
                        for span in self._loaded[one.index].spans(self._start, run.now)
                    ),
                    pallets=tuple(self._pallet_week(run, i) for i in one.pallets),
                )
                for one, number in zip(
                    machines, _numbers([one.group for one in machines]), strict=True
                )
            ),
            persons=tuple(
                PersonWeek(
                    shift=cell.shifts[one.shift].id,
                    number=number,
                    count=cell.shifts[one.shift].people,
                    does=self._person_week(run, one.index),
                )
                for one, number in zip(
                    persons, _numbers([one.shift for one in persons]), strict=True
                )
            ),
        )

    def _pallet_week(self, run: Run, pallet: int) -> tuple[PalletSpan, ...]:
        def name(part: int) -> str | None:
            return None if part == NOWHERE else run.cell.parts[part].id

        return tuple(
            PalletSpan(since, until, does, name(part), pieces, name(coming), more)
            for since, until, (does, part, pieces, coming, more) in self._pallets[pallet].spans(
                self._start, run.now
            )
        )

    def _person_week(self, run: Run, person: int) -> tuple[PersonSpan, ...]:
        return tuple(
            PersonSpan(
                since,
                until,
                does,
                None if machine == NOWHERE else machine,
                None if pallet == NOWHERE else pallet - run.spindles[machine].pallets[0] + 1,
            )
            for since, until, (does, machine, pallet) in self._persons[person].spans(
                self._start, run.now
            )
        )


def _numbers(kinds: Sequence[int]) -> list[int]:
    """For each the how manieth of its kind it is, from 1."""
    return [kinds[: place + 1].count(kind) for place, kind in enumerate(kinds)]


def _states(cell: Cell, booked: Sequence[_Booking], start: int) -> tuple[MachineSpan, ...]:
    """Bookings as spans; visits are split in setup and load, setup first."""
    spans: list[MachineSpan] = []
    for one in booked:
        part = None if one.part == NOWHERE else cell.parts[one.part].id
        middle = one.since + one.setup
        for since, until, state in (
            (one.since, middle, State.SETUP),
            (middle, one.until, one.state),
        ):
            if since == until:
                continue
            begin, name = since - start, STATES[state]
            if spans and (spans[-1].state, spans[-1].part) == (name, part):
                begin = spans.pop().since
            spans.append(MachineSpan(begin, until - start, name, part))
    return tuple(spans)


# -- one look ----------------------------------------------------------------------------


def _of_pallet(run: Run, pallet: Pallet) -> _Pallet:
    on, coming = pallet.load, run.coming.get(pallet.index)
    return (_pallet_does(run, pallet), *_pieces(on), *_pieces(coming))


def _pieces(load: Load | None) -> tuple[int, int]:
    return (NOWHERE, 0) if load is None else (load.part, load.pieces)


def _pallet_does(run: Run, pallet: Pallet) -> PalletDoes:
    spindle = run.spindles[pallet.machine]
    match pallet.at:
        case At.RESTING:
            return "waits" if pallet.in_line else "rests"
        case At.ASKING:
            return "waits"
        case At.READY:
            return "ready"
        case At.RELEASE:
            return "release"
        case At.SPINDLE:
            if spindle.doing is Doing.CUTTING:
                return "cut"
            return "goes_in" if spindle.doing is Doing.CHANGING else "stands_in"
        case At.VISIT:
            visit = next(one for one in spindle.visits if one.pallet == pallet.index)
            if visit.person == NOWHERE:
                return "put_down"
            return "served" if run.persons[visit.person].on_duty else "paused"


def _of_person(run: Run, person: Person) -> _Person:
    if not person.here:
        return ("off_duty", NOWHERE, NOWHERE)
    if not person.on_duty:
        return ("on_break", NOWHERE, NOWHERE)
    work = person.work
    if work is None:
        return ("free", NOWHERE, NOWHERE)
    if work.job is Job.BENCH and work.pallet == NOWHERE:
        # Bench work left over from an earlier shift belongs to no machine any more.
        return ("bench", NOWHERE, NOWHERE)
    return (_DOES[work.job], work.machine, work.pallet)
