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

from collections.abc import Callable, Generator, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple, TypeAlias

from typing_extensions import override

from whatif.answers.progress import Told
from whatif.answers.running import powered
from whatif.answers.simulate import Pause, Simulate, Task, done, tasks_ahead
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


Search: TypeAlias = Generator[Sequence[int], Sequence[float | None], Reading]
"""Asks for the shares under some constants, and ends with the one that was looked for."""


def find_reading(plan: Plan, kind: str, powered: Powered) -> Reading:
    """The constant for a scenario with hour meters of its own (rule `meters.constant`)."""
    search = _searching(plan, kind)
    shares: list[float | None] | None = None
    while True:
        try:
            wanted = next(search) if shares is None else search.send(shares)
        except StopIteration as end:
            found: Reading = end.value
            return found
        shares = [powered(with_reading(plan, Reading(kind, seconds))) for seconds in wanted]


def _searching(plan: Plan, kind: str) -> Search:
    if plan.meters is None or plan.cell is None:
        return Reading(kind, None)
    measured = 100 * float(plan.meters.measured)

    def is_enough(share: float | None) -> bool:
        return share is None or share <= measured

    (nothing,) = yield (0,)
    if is_enough(nothing):
        return Reading(kind, None)
    low, high = 0, 1
    while not is_enough((yield (high,))[0]):
        if high >= MOST:
            return Reading(kind, None)
        low, high = high, min(MOST, 2 * high)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if is_enough((yield (middle,))[0]) else (middle, high)
    tries = _tries(plan)
    tried_from = 1 if high <= tries else max(1, high - tries)
    shares = yield range(tried_from, high)
    found = (seconds for seconds, share in enumerate(shares, tried_from) if is_enough(share))
    return Reading(kind, next(found, high), tried_from)


def _tries(plan: Plan) -> int:
    """How many constants below one that is enough are tried."""
    return CHEAP // max(1, plan.machines * plan.runs * (plan.warm_up + plan.weeks))


@dataclass(frozen=True, slots=True)
class ShareUnder(Task[float | None]):
    """The simulated in-cut share of powered hours under a constant."""

    plan: Plan
    kind: str
    seconds: int

    @property
    @override
    def key(self) -> Hashable:
        plan = self.plan
        return (
            plan.cell,
            plan.runs,
            plan.warm_up,
            plan.weeks,
            plan.machines,
            self.kind,
            self.seconds,
        )

    @property
    @override
    def made_of(self) -> tuple[type, ...]:
        return (float,)

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> float | None:
        """The share, in percent."""
        return powered(with_reading(self.plan, Reading(self.kind, self.seconds)), simulate)


class _Under(NamedTuple):
    """One search of several: who it is of, and what it asks for."""

    scenario: str
    kind: str
    search: Search
    plan: Plan
    asked: Sequence[int]
    done: int = 0

    @property
    def tasks(self) -> list[ShareUnder]:
        return [ShareUnder(self.plan, self.kind, seconds) for seconds in self.asked]

    @property
    def of(self) -> int:
        """How many shares it takes in all, rather too many: what is done is to grow."""
        return max(self.done + len(self.asked), _HALVINGS + _tries(self.plan))


_HALVINGS = 24
"""Shares that are asked for at most until a constant of up to half an hour is enough."""


def told_to_nobody(done: int, of: int) -> None:
    """Nobody waits."""


def readings(
    plans: Mapping[str, Plan],
    wanted: Iterable[tuple[str, str]],
    simulate: Simulate,
    told: Told = told_to_nobody,
) -> dict[tuple[str, str], Reading]:
    """The constants for scenarios with hour meters of their own, each read in a way, all abreast.

    Args:
        wanted: scenario and kind.
    """
    found: dict[tuple[str, str], Reading] = {}
    under: list[_Under] = []
    done_before = 0

    def go_on(of: _Under, shares: Sequence[float | None] | None) -> Iterator[_Under]:
        try:
            asked = next(of.search) if shares is None else of.search.send(shares)
        except StopIteration as end:
            found[of.scenario, of.kind] = end.value
        else:
            yield of._replace(asked=asked, done=of.done + len(of.asked))

    for id_, kind in wanted:
        begun = _Under(id_, kind, _searching(plans[id_], kind), plans[id_], ())
        under += go_on(begun, None)
    while under:
        of = done_before + sum(each.of for each in under)
        at = done_before + sum(each.done for each in under)
        told(at, of)
        tasks_ahead(simulate, (task for each in under for task in each.tasks))
        after: list[_Under] = []
        for each in under:
            shares = []
            for task in each.tasks:
                shares.append(done(simulate, task, lambda: None))
                at += 1
                told(min(at, of - 1), of)
            still = list(go_on(each, shares))
            after += still
            if not still:
                done_before += each.done + len(each.asked)
        under = after
    return found


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
    found = readings(plans, laid.items(), simulate)
    return with_readings(plans, {id_: reading for (id_, _), reading in found.items()})


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
