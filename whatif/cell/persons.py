"""A person of a shift, as a record; what people do stands in :mod:`whatif.cell.people`."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from whatif.cell.calendar import Pattern
from whatif.cell.calls import Call, CopiedCalls
from whatif.cell.codes import NEVER, NOWHERE, Job
from whatif.cell.model import Work


@dataclass(slots=True)
class Person:
    """One person of a shift.

    Attributes:
        shift: the shift's place in :attr:`Cell.shifts`.
        event: what the ends of its work are told by (:func:`whatif.cell.codes.of_whom`).
        does: what the shift's people may do; ``may`` the same by job, ``sets_up`` for visits that
            set up, ``works_here`` whether that is work of the cell.
        here, on_duty: whether the shift runs, and whether it does outside its breaks.
        base: second of the run at which the present shift began.
        work, work_since: the work in hand, and the second at which it was taken up.
        ends: second at which the work in hand is foretold to end, NEVER where it is not: an end
            foretold for another second was of other work, and is void.
        bench_left: bench seconds that the end of the last shift cut off.
        stays_by: index of the pallet that awaits a prove-out after their visit, NOWHERE for none:
            while they are free they stand by for it (rule `people.stays`).
        busy, busy_by_job: seconds of work that is no longer in hand, in all and by kind.
        free_since: begin of the present free stretch, NEVER while busy or off duty.
        free_stretches: seconds in free stretches that have ended and were long enough to count.
    """

    index: int
    shift: int
    pattern: Pattern
    does: frozenset[Work]
    may: list[bool]
    sets_up: bool
    event: int
    here: bool = False
    on_duty: bool = False
    base: int = 0
    work: Call | None = None
    work_since: int = 0
    ends: int = NEVER
    bench_left: int = 0
    stays_by: int = NOWHERE
    works_here: bool = True
    busy: int = 0
    busy_by_job: list[int] = field(default_factory=lambda: [0] * len(Job))
    free_since: int = NEVER
    free_stretches: int = 0

    def worked(self, until: int) -> int:
        """Duty seconds between the begin of the work in hand and ``until``."""
        pattern, base = self.pattern, self.base
        return pattern.worked(until - base) - pattern.worked(self.work_since - base)

    def copy(self, calls: CopiedCalls) -> Person:
        """The same person with records of their own."""
        return replace(self, work=calls.of(self.work), busy_by_job=list(self.busy_by_job))
