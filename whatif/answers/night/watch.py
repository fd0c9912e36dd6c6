"""A run followed through its nights: what each machine did, and what waits in the morning.

A night begins where a shift ends and no other runs, and ends where the next shift starts (rule
`nights.night`); a break is no night. The run is only advanced and looked at, never moved.
"""

from __future__ import annotations

from collections.abc import Sequence

from typing_extensions import override

from whatif.answers.simulate import Pause, Simulate, Task
from whatif.cell.calendar import Calendar, Segment
from whatif.cell.codes import NOT_BEGUN
from whatif.cell.look import (
    OnPallets,
    Why,
    is_over,
    on_pallets,
    pieces_waiting,
    turned_until,
    visits_asked_for,
    why,
)
from whatif.cell.model import ALL_DAYS, DAY, WEEK, Cell
from whatif.cell.run import Run
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class Gap:
    """A night of the repeating week: seconds of the week, and the shifts whose end begins it.

    Attributes:
        length: seconds until the next shift starts.
        day: on which the shift that ends started, 0 for Monday.
        shifts: their places in :attr:`Cell.shifts`.
        begins: whether pieces may be begun after them at all (`unattended.nights`).
    """

    start: int
    length: int
    day: int
    shifts: tuple[int, ...]
    begins: bool = True


def gaps(calendar: Calendar, nights: Sequence[int] = ALL_DAYS) -> tuple[Gap, ...]:
    """The nights of a week; none where some shift always runs, or none ever does."""
    segments = calendar.segments
    before = [segments[-1], *segments[:-1]]
    pairs = list(zip(before, segments, strict=True))
    opens = [here.start for last, here in pairs if here.shift_runs and not last.shift_runs]
    found = []
    for last, here in pairs:
        if last.shift_runs and not here.shift_runs:
            began = (here.start - calendar.shifts[here.ends[0]].length) % WEEK
            length = min((start - here.start) % WEEK for start in opens)
            found.append(
                Gap(here.start, length, began // DAY, here.ends, _begins(calendar, here, nights))
            )
    return tuple(found)


def _begins(calendar: Calendar, after: Segment, nights: Sequence[int]) -> bool:
    """Whether one of the shifts that end there began on a day of ``nights``."""
    return any(
        (after.start - calendar.shifts[place].length) % WEEK // DAY in nights
        for place in after.ends
    )


@dataclass(frozen=True, slots=True)
class MachineSeen:
    """One machine in one night.

    Attributes:
        cycle: in-cycle seconds.
        turned: seconds from the shift's end until its spindle last turned.
        why: why it stands when the next shift starts.
        pallets: what its pallets carried when the people went.
    """

    cycle: int
    turned: int
    why: Why
    pallets: OnPallets


@dataclass(frozen=True, slots=True)
class NightSeen:
    """One night and the morning after it.

    Attributes:
        gap: its place among the week's nights.
        machines: in the cell's order.
        pieces: cut ones that wait on pallets when the next shift starts.
        visits: that are asked for then.
        visit_seconds: of people's time that those visits take.
        clearing: seconds from the shift's start until the last of them has ended; None where that
            is not before the people go again.
    """

    gap: int
    machines: tuple[MachineSeen, ...]
    pieces: int
    visits: int
    visit_seconds: int
    clearing: int | None


def follow_nights(cell: Cell, warm_up: int, weeks: int, pause: Pause) -> list[NightSeen]:
    """Follow one run through the nights that begin in the weeks measured.

    ``pause`` is called before every night and every week run before measuring. The last of them is
    followed to its end, and its morning too.
    """
    run = Run(cell)
    nights = gaps(run.calendar, cell.nights)
    if not nights:
        return []
    for week in range(1, warm_up + 1):
        pause()
        run.advance(week * WEEK)
    watcher = _Watcher(run)
    for week in range(warm_up, warm_up + weeks):
        for place, gap in enumerate(nights):
            pause()
            watcher.night(place, gap, week * WEEK + gap.start)
    after = nights[0].start + (warm_up + weeks) * WEEK
    return watcher.finish(after)


@dataclass(frozen=True, slots=True)
class Following(Task[list[NightSeen]]):
    """:func:`follow_nights` of one run."""

    cell: Cell
    warm_up: int
    weeks: int

    @property
    @override
    def made_of(self) -> tuple[type, ...]:
        return NightSeen, MachineSeen, OnPallets, Why

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> list[NightSeen]:
        """The nights seen."""
        return follow_nights(self.cell, self.warm_up, self.weeks, pause)


class _Morning:
    """Visits asked for when a shift starts, watched until all of them have ended.

    A visit's time is known only once it is begun; ``cut_off`` are the seconds that one which a
    shift's end cut off still has to go.
    """

    def __init__(self, run: Run) -> None:
        self.start = run.now
        self.visits = visits_asked_for(run.floor)
        self.cut_off = [visit.left for visit in self.visits]
        self.open = list(self.visits)
        self.clearing: int | None = None if self.open else 0

    def look(self, run: Run, second: int) -> None:
        """Note what has ended by an instant that the run has just been through."""
        self.open = [visit for visit in self.open if not is_over(run.floor, visit)]
        if not self.open and self.clearing is None:
            self.clearing = second - self.start

    @property
    def seconds(self) -> int:
        """People's time that the visits take, or what was left of it."""
        pairs = zip(self.visits, self.cut_off, strict=True)
        return sum(visit.total if left == NOT_BEGUN else left for visit, left in pairs)

    @property
    def unknown(self) -> bool:
        """Whether some visit has not been begun yet, so that nobody knows how long it takes."""
        return any(visit.left == NOT_BEGUN for visit in self.open)


class _Watcher:
    def __init__(self, run: Run) -> None:
        self.run = run
        self._seen: list[tuple[int, tuple[MachineSeen, ...], int, _Morning]] = []

    def night(self, place: int, gap: Gap, start: int) -> None:
        run = self.run
        self._day_until(start)
        before = [_cycle(run, machine) for machine in range(len(run.floor.spindles))]
        # The instant in which the people go belongs to the night; afterwards they are gone.
        run.advance(start + 1)
        self._look(start)
        carried = [on_pallets(run.floor, spindle) for spindle in run.floor.spindles]
        run.advance(start + gap.length)
        machines = tuple(
            MachineSeen(
                cycle=_cycle(run, spindle.index) - cycle,
                turned=max(0, turned_until(run.floor, spindle) - start),
                why=why(run.floor, spindle),
                pallets=pallets,
            )
            for spindle, cycle, pallets in zip(run.floor.spindles, before, carried, strict=True)
        )
        self._seen.append((place, machines, pieces_waiting(run.floor), _Morning(run)))

    def _day_until(self, until: int) -> None:
        """Go through the day, and watch the morning's visits as long as any of them is open."""
        run = self.run
        while self._seen and self._seen[-1][-1].open and (at := run.next_event()) < until:
            run.advance(at + 1)
            self._look(at)
        run.advance(until)

    def _look(self, second: int) -> None:
        if self._seen:
            self._seen[-1][-1].look(self.run, second)

    def finish(self, until: int) -> list[NightSeen]:
        """What was seen, after the morning that follows the last night."""
        run = self.run
        self._day_until(until)
        run.advance(until + 1)
        self._look(until)
        # Visits that the last day did not come to; after a week more nobody will.
        deadline = until + WEEK
        while any(seen[-1].unknown for seen in self._seen) and run.next_event() < deadline:
            run.advance(run.next_event() + 1)
            self._refresh()
        return [
            NightSeen(place, machines, pieces, len(m.visits), m.seconds, m.clearing)
            for place, machines, pieces, m in self._seen
        ]

    def _refresh(self) -> None:
        for *_, morning in self._seen:
            morning.open = [visit for visit in morning.open if not is_over(self.run.floor, visit)]


def _cycle(run: Run, machine: int) -> int:
    """In-cycle seconds of a machine so far."""
    return sum(run.floor.spindles[machine].cycle)
