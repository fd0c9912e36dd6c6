"""Hour meters against the model, and the gap between them (rule `meters.share`).

What the model finds more than the meters is a gap that nothing entered explains. Read as people
who are away, every visit takes longer by one constant; read as machines that are tied up, every
load holds its spindle longer by one. The constant is the smallest number of whole seconds at
which the simulated share of the powered hours is not above the measured one.

A queue of whole pieces is jumpy, so that the share does not only fall where the constant grows: a
smaller one may be enough where a larger one is not. So a constant that is enough is found first, by
doubling and halving, and then every smaller one is tried, from 1 s on, where so many runs are
cheap. Where they are not, as many seconds right below it are tried as are, which is as far as the
share's jumps reach as a rule; a :class:`Reading` says from which second on all have been.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import replace

from typing_extensions import override

from whatif.answers.running import as_powered, powered, runs_of
from whatif.answers.simulate import Pause, Simulate, Task, ahead, done, tasks_ahead
from whatif.cell.model import DAY
from whatif.plan.model import Plan
from whatif.records import dataclass

Powered = Callable[[Plan], float | None]
"""The simulated in-cut share of a plan's powered hours (rule `results.utilization`)."""

MOST = DAY
"""Seconds beyond which no constant is looked for: nobody loses a day at every visit."""


CHEAP = 400
"""Weeks of single machines that are simulated at most to try the constants below one that is
enough, for each way to read the gap."""


@dataclass(frozen=True, slots=True)
class Reading:
    """The gap read one way.

    Attributes:
        seconds: the constant, None where there is no gap to lay.
        tried_from: every smaller constant from this one on has been tried and is not enough; 1
            where the constant is proved to be the smallest.
    """

    kind: str
    seconds: int | None
    tried_from: int = 1

    @property
    def is_proved(self) -> bool:
        """Whether every smaller constant has been tried."""
        return self.tried_from <= 1


def with_reading(plan: Plan, reading: Reading) -> Plan:
    """A plan whose cell loses the constant; the plan itself where there is none."""
    cell, seconds = plan.cell, reading.seconds
    if cell is None or not seconds:
        return plan
    if reading.kind == "people":
        return replace(plan, cell=replace(cell, visit_extra=seconds))
    return replace(plan, cell=replace(cell, load_extra=seconds))


def without_reading(plan: Plan) -> Plan:
    """A plan as it was entered, with no gap laid to anything."""
    if plan.cell is None:
        return plan
    return replace(plan, cell=replace(plan.cell, visit_extra=0, load_extra=0))


def find_reading(
    plan: Plan,
    kind: str,
    powered: Powered,
    say_ahead: Callable[[Iterable[Plan]], None] = lambda plans: None,
) -> Reading:
    """The constant for a scenario with hour meters of its own (rule `meters.constant`).

    ``say_ahead`` takes plans that ``powered`` will be asked for.
    """
    if plan.meters is None or plan.cell is None:
        return Reading(kind, None)
    measured = 100 * float(plan.meters.measured)

    def is_enough(seconds: int) -> bool:
        found = powered(with_reading(plan, Reading(kind, seconds)))
        return found is None or found <= measured

    if is_enough(0):
        return Reading(kind, None)
    high = 1
    while not is_enough(high):
        if high >= MOST:
            return Reading(kind, None)
        high = min(MOST, 2 * high)
    low = high // 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if is_enough(middle) else (middle, high)
    tries = CHEAP // max(1, plan.machines * plan.runs * (plan.warm_up + plan.weeks))
    tried_from = 1 if high <= tries else max(1, high - tries)
    say_ahead(with_reading(plan, Reading(kind, s)) for s in range(tried_from, high))
    return Reading(kind, next(s for s in range(tried_from, high + 1) if is_enough(s)), tried_from)


@dataclass(frozen=True, slots=True)
class FindingReading(Task[Reading]):
    """:func:`find_reading`, the share being simulated."""

    plan: Plan
    kind: str

    @property
    @override
    def key(self) -> Hashable:
        plan = self.plan
        measured = None if plan.meters is None else plan.meters.measured
        return plan.cell, plan.runs, plan.warm_up, plan.weeks, plan.machines, measured, self.kind

    @property
    @override
    def made_of(self) -> tuple[type, ...]:
        return (Reading,)

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> Reading:
        """The constant."""
        return find_reading(
            self.plan,
            self.kind,
            lambda plan: powered(plan, simulate),
            lambda plans: ahead(
                simulate, (run for plan in plans for run in runs_of(as_powered(plan)))
            ),
        )


def readings(
    plans: Mapping[str, Plan], kinds: Mapping[str, str], simulate: Simulate
) -> dict[str, Reading]:
    """The constants for some scenarios with hour meters of their own, each read one way."""
    tasks = [FindingReading(plans[id_], kind) for id_, kind in kinds.items()]
    if len(tasks) > 1:
        tasks_ahead(simulate, tasks)
    found = (done(simulate, task, lambda: None) for task in tasks)
    return dict(zip(kinds, found, strict=True))


def gaps_read(plans: Mapping[str, Plan], simulate: Simulate) -> dict[str, Plan]:
    """The plans with every gap that is to be laid to people or machines worked in.

    It is found in the scenario that has the meters, and holds there and in all below it that
    have none of their own.
    """
    laid = {
        id_: plan.meters.gap
        for id_, plan in plans.items()
        if plan.meters is not None and plan.meters.own and plan.meters.gap != "show"
    }
    return with_readings(plans, readings(plans, laid, simulate))


def with_readings(plans: Mapping[str, Plan], found: Mapping[str, Reading]) -> dict[str, Plan]:
    """The plans, each with the reading of the scenario whose meters hold for it, if it has one."""
    return {
        id_: with_reading(plan, found[plan.meters.scenario])
        if plan.meters is not None and plan.meters.scenario in found
        else plan
        for id_, plan in plans.items()
    }


def leaves_no_gap(plan: Plan) -> bool:
    """Whether a gap was to be laid to people or machines and there is none.

    True only of plans that :func:`gaps_read` has been through, and have hour meters of their own.
    """
    meters = plan.meters
    return meters is not None and meters.own and meters.gap != "show" and not seconds_laid(plan)


def seconds_laid(plan: Plan) -> int:
    """Seconds by which every visit, or every load, is longer; 0 where none are."""
    return 0 if plan.cell is None else plan.cell.visit_extra or plan.cell.load_extra
