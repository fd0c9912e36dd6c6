"""One week of a scenario, second by second.

The cell runs its warm-up and the weeks before, and the week asked for is written down (see
:mod:`whatif.cell.watch`). The hours of shifts, breaks and limits stand beside it as bands.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Protocol, TypeVar

from whatif.answers.progress import Told
from whatif.answers.visits import Visit, Visits, watch_visits
from whatif.cell.calendar import MODES, Calendar
from whatif.cell.model import WEEK, Shift
from whatif.cell.watch import MachineWeek, PersonWeek
from whatif.plan.model import Plan
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch of the week, in seconds from Monday 00:00."""

    since: int
    until: int


@dataclass(frozen=True, slots=True)
class HoursBand:
    """A stretch in which the hours are of one sort (rule `calendar.attended`).

    Attributes:
        mode: "attended", "breaks" or "after_hours".
        begins: whether pieces may be begun in it.
    """

    since: int
    until: int
    mode: str
    begins: bool


@dataclass(frozen=True, slots=True)
class ShiftBands:
    """When a shift runs, and its breaks within; one over Sunday midnight is two stretches."""

    shift: str
    people: int
    runs: tuple[Band, ...]
    breaks: tuple[Band, ...]


@dataclass(frozen=True, slots=True)
class Week:
    """A week of a scenario; all spans in seconds of the week, each list without a gap.

    Attributes:
        number: which of the ``weeks`` measured, from 1.
        runs: seeded runs over which the scenario's results are averaged, of which this is the
            first; 1 where there are no stops.
        visits: by machine and pallet what each visit is made of.
        hours: the week cut where people come, pause and go, and where limits begin and end.
        may_be_more: whether it has not been found how many weeks are measured; at least ``weeks``.
    """

    scenario: str
    title: str
    number: int
    weeks: int
    runs: int
    stops: bool
    machines: tuple[MachineWeek, ...]
    persons: tuple[PersonWeek, ...]
    visits: Visits
    shifts: tuple[ShiftBands, ...]
    hours: tuple[HoursBand, ...]
    may_be_more: bool = False


def week(plan: Plan, number: int, told: Told = lambda done, of: None) -> Week | None:
    """Week ``number`` of those measured; None where the scenario has no parts.

    Args:
        told: called as told(done, of) after each week run; it may raise to give the work up.

    Raises:
        ValueError: where ``number`` is not one of the weeks measured.
    """
    if plan.cell is None:
        return None
    if not 1 <= number <= plan.weeks:
        raise ValueError(f"week {number} is not measured; weeks 1 to {plan.weeks} are")
    cell = replace(plan.cell, luck=1)
    record, visits = watch_visits(cell, plan.warm_up + number - 1, told)
    calendar = Calendar(cell)
    return Week(
        scenario=plan.scenario,
        title=plan.title,
        number=number,
        weeks=plan.weeks,
        runs=plan.runs,
        stops=bool(cell.stops),
        machines=record.machines,
        persons=record.persons,
        visits=visits,
        shifts=tuple(
            _bands(shift, calendar.occurrences(place)) for place, shift in enumerate(cell.shifts)
        ),
        hours=_hours(calendar),
    )


# -- bands -------------------------------------------------------------------------------


def _bands(shift: Shift, starts: Sequence[int]) -> ShiftBands:
    return ShiftBands(
        shift.id,
        shift.people,
        runs=_in_week((start, start + shift.length) for start in starts),
        breaks=_in_week((start + a, start + b) for start in starts for a, b in shift.breaks),
    )


def _in_week(stretches: Iterable[tuple[int, int]]) -> tuple[Band, ...]:
    """Stretches by their begin; what goes beyond Sunday is the week's first."""
    found = []
    for since, until in stretches:
        back = WEEK if since >= WEEK else 0
        found.append(Band(since - back, min(until - back, WEEK)))
        if until - back > WEEK:
            found.append(Band(0, until - back - WEEK))
    return tuple(sorted(found, key=lambda band: band.since))


def _hours(calendar: Calendar) -> tuple[HoursBand, ...]:
    bands: list[HoursBand] = []
    for segment in calendar.segments:
        mode = MODES[segment.mode]
        since = segment.start
        if bands and (bands[-1].mode, bands[-1].begins) == (mode, segment.begins):
            since = bands.pop().since
        bands.append(HoursBand(since, segment.end, mode, segment.begins))
    return tuple(bands)


# -- finding -----------------------------------------------------------------------------


class Spanning(Protocol):
    """Anything that lasts from a second of the week to another."""

    @property
    def since(self) -> int:
        """Its first second."""

    @property
    def until(self) -> int:
        """The second after its last."""


S = TypeVar("S", bound=Spanning)


def span_at(spans: Sequence[S], second: int) -> S:
    """The span that holds a second of the week (0 to 604799)."""
    if not 0 <= second < WEEK:
        raise ValueError(f"second {second} is not in a week")
    return spans[bisect_right(spans, second, key=lambda span: span.since) - 1]


def visit_at(week: Week, place: int, pallet: int, second: int) -> Visit | None:
    """The last visit begun by a second of the week to pallet ``pallet`` (from 1) of a machine."""
    visits = week.visits[place][pallet - 1]
    at = bisect_right(visits, second, key=lambda visit: visit.since)
    return visits[at - 1] if at else None
