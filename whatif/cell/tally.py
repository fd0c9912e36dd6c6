"""What a run has counted, frozen; the difference of two tallies measures a window."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from whatif.cell.floor import NEVER, Job
from whatif.cell.people import FREE_STRETCH

if TYPE_CHECKING:
    from whatif.cell.run import Run

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Tally:
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

    def since(self, before: Tally) -> Tally:
        """What was counted between an earlier tally of the same run and this one."""
        return Tally(
            self.seconds - before.seconds,
            tuple(
                tuple(_less(a, b) for a, b in zip(mine, theirs, strict=True))
                for mine, theirs in zip(self.spent, before.spent, strict=True)
            ),
            tuple(_less(a, b) for a, b in zip(self.cycle, before.cycle, strict=True)),
            _less(self.cut, before.cut),
            _less(self.busy, before.busy),
            tuple(_less(a, b) for a, b in zip(self.busy_by_job, before.busy_by_job, strict=True)),
            _less(self.free_stretches, before.free_stretches),
            self.most_held,
            _less(self.cut_for_orders, before.cut_for_orders),
            self.orders,
        )


def _less(mine: Counts, theirs: Counts) -> Counts:
    return tuple(a - b for a, b in zip(mine, theirs, strict=True))


def tally_of(run: Run) -> Tally:
    """The counts of a run up to its present second, work in hand included."""
    busy, by_job, free = [], [], []
    for person in run.persons:
        jobs = list(person.busy_by_job)
        worked = 0
        if person.work is not None:
            worked = person.worked(run.now)
            jobs[Job(person.work.job)] += worked
        stretch = run.now - person.free_since if person.free_since != NEVER else 0
        busy.append(person.busy + worked)
        by_job.append(tuple(jobs))
        free.append(person.free_stretches + (stretch if stretch >= FREE_STRETCH else 0))
    return Tally(
        seconds=run.now,
        spent=tuple(tuple(tuple(mode) for mode in one) for one in run.spent),
        cycle=tuple(tuple(one) for one in run.cycle),
        cut=tuple(run.cut),
        busy=tuple(busy),
        busy_by_job=tuple(by_job),
        free_stretches=tuple(free),
        most_held=tuple(run.orders.most_held),
        cut_for_orders=tuple(run.cut_for_orders),
        orders=tuple((asked.first_off, asked.last_off) for asked in run.orders.real),
    )
