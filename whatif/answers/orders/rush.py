"""What a rush order brings about: how soon it is off, and what is lost (rule `rush.result`).

Each trial is a copy of the run in which the order arrives; the run without it is the measure.
Where stops are given both have the luck of the first seeded run. What one run loses jumps with the
hour at which loads end, so that it is told with its likely range over draws (rule `rush.range`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction
from math import ceil
from statistics import median

from typing_extensions import override

from whatif.answers.ranks import Range, range_of
from whatif.answers.simulate import (
    Pause,
    Simulate,
    Task,
    each_done,
    run_anew,
    shared,
    tasks_ahead,
)
from whatif.cell.calendar import ATTENDED, Calendar
from whatif.cell.model import HOUR, WEEK, Cell, RealOrder
from whatif.cell.run import Run
from whatif.plan.draws import drawn_plan
from whatif.plan.model import PartPlan, Plan, RushPlan
from whatif.records import dataclass

AFTERWARDS = 2 * WEEK
"""Seconds after its arrival over which losses are counted (rule `rush.result`)."""

LONGEST = 52
"""Weeks after its arrival within which a rush order is off, or never."""

_WORTH_A_WORD = 0.05
"""Hours below which a gain would be told as 0.0."""


@dataclass(frozen=True, slots=True)
class RushLikely:
    """Likely ranges of what a rush order brings about; None where a draw lacks it.

    Attributes:
        draws: over how many.
    """

    draws: int
    hours: Range | None
    lost_spindle_hours: Range
    lost_contribution: Range | None


@dataclass(frozen=True, slots=True)
class RushArrival:
    """One arrival; ``hours`` is None where the order is not off within a year.

    Attributes:
        hours: from the arrival to the last piece off.
        lost_spindle_hours: in-cycle hours of other work lost over the two weeks after it.
        lost_contribution: of other pieces that were due by the end of that time and are not made
            then; what the order costs. None where it is not given.
        other_spindle_hours, other_contribution: of other work in those weeks without the order,
            the contribution of what was due alone.
        likely: None for one of many arrivals, and until it is found.
    """

    hours: float | None
    lost_spindle_hours: float
    lost_contribution: float | None
    other_spindle_hours: float = 0.0
    other_contribution: float = 0.0
    likely: RushLikely | None = None

    @property
    def loses(self) -> float:
        """Spindle hours that other work loses; 0 where it gains some."""
        return max(0.0, self.lost_spindle_hours)

    @property
    def gains(self) -> float:
        """Spindle hours that other work gains; 0 where it loses some, or gains hardly any.

        What draws do not agree on is no gain.
        """
        if self.likely is not None and self.likely.lost_spindle_hours[2] >= 0:
            return 0.0
        return -self.lost_spindle_hours if self.lost_spindle_hours <= -_WORTH_A_WORD else 0.0

    @property
    def least_price(self) -> float | None:
        """From which price on it is worth it: any, where other work even gains by it."""
        return None if self.lost_contribution is None else max(0.0, self.lost_contribution)


@dataclass(frozen=True, slots=True)
class AnyHour:
    """A rush order over every attended hour of a week: the median and the worst of each figure.

    ``trials`` has each of those hours, in the week's order.
    """

    median: RushArrival
    worst: RushArrival
    trials: tuple[RushArrival, ...] = ()

    @property
    def gains(self) -> float:
        """The most that other work gains in either; 0 where it gains hardly any."""
        return max(self.median.gains, self.worst.gains)


@dataclass(frozen=True, slots=True)
class Trying(Task[tuple["_Tried", ...]]):
    """A rush order tried at some seconds of a run, in ascending order."""

    cell: Cell
    order: RealOrder
    times: tuple[int, ...]

    @property
    @override
    def made_of(self) -> tuple[type, ...]:
        return _Tried, _Others

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> tuple[_Tried, ...]:
        """One entry a second."""
        place = len(self.cell.orders)
        base = Run(replace(self.cell, orders=(*self.cell.orders, self.order)))
        without: dict[int, _Others] = {}
        trials: dict[int, tuple[_Others, float | None]] = {}
        for second in sorted({*self.times, *(at + AFTERWARDS for at in self.times)}):
            _advance(base, second, pause)
            without[second] = _Others.of(base)
            if second in self.times:
                if second:
                    trial = base.copy()
                    trial.arrive(place)
                else:
                    # A run has done the work of its first instant; things arrive before that.
                    first = replace(self.order, arrives=0)
                    trial = Run(replace(self.cell, orders=(*self.cell.orders, first)))
                trials[second] = _try(trial, place, pause)
        return tuple(
            _Tried(without[at], without[at + AFTERWARDS], *trials[at]) for at in self.times
        )


def trying(plan: Plan, planned: RushPlan, simulate: Simulate) -> list[Trying]:
    """What :func:`try_rush` has done; nothing where the part is not made."""
    if plan.cell is None or planned.part is None:
        return []
    order = RealOrder(planned.id, planned.part, planned.pieces, arrives=None, rush=True)
    times = _arrivals(plan.cell, planned, plan.warm_up * WEEK)
    return [Trying(plan.cell, order, tuple(each)) for each in shared(simulate, times)]


def try_rush(
    plan: Plan,
    planned: RushPlan,
    pause: Pause,
    tried: Callable[[int], None] = lambda trials: None,
    simulate: Simulate = run_anew,
) -> RushArrival | AnyHour | None:
    """Answer a rush order; None where its part is not made.

    Args:
        pause: called now and then; it may raise to give the work up.
        tried: called after some trials, with their number.
    """
    tasks = trying(plan, planned, simulate)
    found: list[RushArrival] = []
    for task, results in zip(tasks, each_done(simulate, tasks, pause), strict=True):
        found += [_compared(plan, each) for each in results]
        tried(len(task.times))
    if planned.arrives is not None:
        return found[0] if found else None
    return AnyHour(_each(found, median), _each(found, max), tuple(found)) if found else None


def likely_rush(
    plan: Plan,
    planned: RushPlan,
    pause: Pause,
    tried: Callable[[int], None],
    simulate: Simulate = run_anew,
) -> RushLikely:
    """What a rush order of a part that is made brings about at its hour, draw by draw.

    In each draw the run with it and the run without it have the same luck.
    """
    drawn = [drawn_plan(plan, draw) for draw in range(1, plan.draws + 1)]
    tasks_ahead(simulate, (task for each in drawn for task in trying(each, planned, simulate)))
    found = []
    for each in drawn:
        arrival = try_rush(each, planned, pause, tried, simulate)
        assert isinstance(arrival, RushArrival)
        found.append(arrival)
    return RushLikely(
        draws=len(found),
        hours=_range([arrival.hours for arrival in found]),
        lost_spindle_hours=range_of([arrival.lost_spindle_hours for arrival in found]),
        lost_contribution=_range([arrival.lost_contribution for arrival in found]),
    )


def _range(values: list[float | None]) -> Range | None:
    known = [value for value in values if value is not None]
    return range_of(known) if known and len(known) == len(values) else None


def trials_of(plan: Plan, planned: RushPlan) -> int:
    """Runs with the rush order that its answer takes: at its hour as typed and in every draw."""
    if plan.cell is None or planned.part is None:
        return 0
    if planned.arrives is not None:
        return 1 + plan.draws
    return len(_attended_hours(Calendar(plan.cell)))


@dataclass(frozen=True, slots=True)
class _Others:
    """What work other than the rush order has come to by a second of the run.

    In-cycle seconds, and pieces by part of the endless mix and of real orders.
    """

    at: int
    cycle: int
    mix: tuple[int, ...]
    ordered: tuple[int, ...]

    @classmethod
    def of(cls, run: Run) -> _Others:
        counted = run.floor.counted
        cut = list(zip(counted.cut, counted.cut_for_orders, counted.cut_for_rush, strict=True))
        return cls(
            run.now,
            sum(sum(spindle.cycle) for spindle in run.floor.spindles) - counted.rush_cycle,
            tuple(every - orders for every, orders, _ in cut),
            tuple(orders - rushed for _, orders, rushed in cut),
        )


@dataclass(frozen=True, slots=True)
class _Tried:
    """Other work when the order arrives and two weeks later, without the order and with it.

    ``hours`` until it is off; None where it is not off within a year.
    """

    before: _Others
    without: _Others
    others: _Others
    hours: float | None


def any_gain(found: Iterable[RushArrival | AnyHour | None]) -> bool:
    """Whether other work gains spindle hours in any of them, so that it is worth a line."""
    return any(answer is not None and answer.gains for answer in found)


def _advance(run: Run, until: int, pause: Callable[[], None]) -> None:
    while run.now < until:
        pause()
        run.advance(min(until, run.now + WEEK))


def _arrivals(cell: Cell, planned: RushPlan, start: int) -> list[int]:
    """Seconds of the run at which the order arrives."""
    if planned.arrives is not None:
        return [start + planned.arrives]
    return [start + hour for hour in _attended_hours(Calendar(cell))]


def _attended_hours(calendar: Calendar) -> list[int]:
    """Full hours of the week at which somebody is on duty, in seconds."""
    return [
        hour
        for hour in range(0, WEEK, HOUR)
        if calendar.segments[calendar.index(hour)].mode == ATTENDED
    ]


def _try(trial: Run, place: int, pause: Callable[[], None]) -> tuple[_Others, float | None]:
    """Other work two weeks after the order arrives now, and the hours until it is off."""
    at = trial.now
    _advance(trial, at + AFTERWARDS, pause)
    others = _Others.of(trial)
    asked = trial.floor.book.real[place]
    while asked.last_off is None and trial.now < at + LONGEST * WEEK:
        _advance(trial, trial.now + WEEK, pause)
    return others, None if asked.last_off is None else (asked.last_off - at) / HOUR


def _compared(plan: Plan, tried: _Tried) -> RushArrival:
    before, without, others = tried.before, tried.without, tried.others
    return RushArrival(
        hours=tried.hours,
        lost_spindle_hours=(without.cycle - others.cycle) / HOUR,
        lost_contribution=_contribution(plan, others, without),
        other_spindle_hours=(without.cycle - before.cycle) / HOUR,
        other_contribution=_contribution(plan, before, without) or 0.0,
    )


def _contribution(plan: Plan, less: _Others, more: _Others) -> float | None:
    """What the pieces that were due and made in ``more``, and not in ``less``, bring.

    None where no part has a contribution, or one of those pieces has none.
    """
    assert plan.cell is not None
    before = {part.after for part in plan.cell.parts}
    total = Fraction(0)
    for part in plan.parts:
        if part.place is None or part.place in before:
            continue
        pieces = _sold(plan, part, more) - _sold(plan, part, less)
        if pieces and not part.is_contribution_given:
            return None
        total += pieces * part.contribution
    return float(total) if plan.contributes else None


def _sold(plan: Plan, part: PartPlan, others: _Others) -> Fraction:
    """Good pieces of a part, no more than were due by then: what is early may as well be later."""
    assert part.place is not None
    assert plan.cell is not None
    good = 1 - part.scrap
    # Order k is due no later than second s where floor(k batch / weekly weeks) < s + 1.
    made_of = part.weekly * (others.at + 1) / (part.batch * WEEK)
    due = max(0, ceil(made_of) - 1) * part.batch
    asked = sum(
        order.pieces
        for order in plan.cell.orders
        if order.part == part.place and order.due <= others.at
    )
    return min(others.mix[part.place] * good, Fraction(due)) + min(
        others.ordered[part.place] * good, Fraction(asked)
    )


def _each(found: list[RushArrival], of: Callable[[list[float]], float]) -> RushArrival:
    """The median or the worst of each figure; None where an order is never off."""
    hours = [trial.hours for trial in found if trial.hours is not None]
    lost = [trial.lost_contribution for trial in found]
    return RushArrival(
        of(hours) if len(hours) == len(found) else None,
        of([trial.lost_spindle_hours for trial in found]),
        None if None in lost else of([each for each in lost if each is not None]),
    )
