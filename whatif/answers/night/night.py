"""The nights of a scenario: how long the spindles go on, what ends it, what waits.

Hours are machine hours where machines are taken together. A machine "lasts" where it is in cycle,
changing pallets or warming up right when the next shift starts. With stops, every seeded run's
nights count alike, so that a share of nights is the odds.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from whatif.answers.night.watch import Following, Gap, MachineSeen, NightSeen, gaps
from whatif.answers.progress import Told
from whatif.answers.simulate import Simulate, each_done, run_anew
from whatif.cell.calendar import Calendar
from whatif.cell.look import Why
from whatif.cell.model import DAY, HOUR, MINUTE, Cell
from whatif.plan.model import Plan
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class Spread:
    """Mean, least and most over the nights seen."""

    mean: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class GroupNight:
    """The machines of one group in like nights.

    Attributes:
        count, pallets: machines, and pallets of each.
        hours: in cycle, all machines of the group together.
        at_work: hours from the shift's end until a machine's spindle last turned, in ascending
            order, one for each machine in each night.
        lasting: percent of the machines' nights that last until the next shift.
        ends: percent of the machines' nights by what ends them (:class:`Why` by its name), the
            most frequent first; those that last are under ``runs``.
        loaded: pallets of a machine with pieces not yet cut when the people go, on average.
        resting: pallets of a machine that lack a fixture or an order then, on average.
    """

    group: str
    count: int
    pallets: int
    hours: Spread
    at_work: tuple[float, ...]
    lasting: float
    ends: Mapping[str, float]
    loaded: float
    resting: float


@dataclass(frozen=True, slots=True)
class Morning:
    """What waits when the next shift starts (rule `nights.morning`).

    Attributes:
        pieces: cut ones that wait on pallets.
        visits: that are asked for.
        minutes: of people's time that those visits take, other duties included.
        clearing: hours from the shift's start until the last of those visits has ended, over the
            mornings on which that is before the people go again; None where there is none.
        not_cleared: percent of the mornings on which it is not.
    """

    pieces: Spread
    visits: Spread
    minutes: Spread
    clearing: Spread | None
    not_cleared: float


@dataclass(frozen=True, slots=True)
class NightsAfter:
    """Nights that follow the same shifts on one weekday, or on several that are alike.

    Attributes:
        shifts, days: ids, and weekdays on which the shifts start, 0 for Monday.
        start: second of the week in which the first of them begins: that of the shift's end.
        length: hours from there to the next shift's start.
        begins: whether pieces may be begun after these shifts at all (`unattended.nights`).
        seen: nights seen, all runs together.
        hours: in cycle until the next shift, all machines together.
        turning: hours from the shift's end until the last spindle stops.
        all_last, some_last: percent of the nights in which all machines last, or at least one.
        groups: by machine group in use.
    """

    shifts: tuple[str, ...]
    days: tuple[int, ...]
    start: int
    length: float
    begins: bool
    seen: int
    hours: Spread
    turning: Spread
    all_last: float
    some_last: float
    groups: tuple[GroupNight, ...]
    morning: Morning

    @property
    def machines(self) -> int:
        """Machines of all groups together."""
        return sum(group.count for group in self.groups)


@dataclass(frozen=True, slots=True)
class Nights:
    """A scenario's nights; none where some shift always runs or nobody ever comes.

    Attributes:
        after: one entry a shift end and weekday.
        alike: the same with weekdays taken together that have the same hours.
        after_shift: hours in which pieces are begun; None for "until done".
        staffed: whether anybody ever comes.
        stops: whether stops are given, so that shares are odds over ``runs`` seeded runs.
    """

    after: tuple[NightsAfter, ...]
    alike: tuple[NightsAfter, ...]
    after_shift: float | None
    staffed: bool
    weeks: int
    runs: int
    stops: bool

    @property
    def runs_on(self) -> bool:
        """Whether any spindle is in cycle in any night."""
        return any(night.hours.most > 0 for night in self.after)


def following(plan: Plan) -> list[Following]:
    """What :func:`nights_of` has done."""
    cell = plan.cell
    if cell is None:
        return []
    return [
        Following(replace(cell, luck=luck), plan.warm_up, plan.weeks)
        for luck in range(1, _runs(plan, cell) + 1)
    ]


def nights_of(plan: Plan, told: Told, simulate: Simulate = run_anew) -> Nights | None:
    """Follow every night that begins in the weeks measured; None where the plan has no cell."""
    cell = plan.cell
    if cell is None:
        return None
    calendar = Calendar(cell)
    week = gaps(calendar, cell.nights)
    runs, of = following(plan), steps(plan)
    done = 0

    def pause() -> None:
        nonlocal done
        told(done, of)
        done += 1

    seen: list[NightSeen] = []
    for run, found in enumerate(each_done(simulate, runs, pause), 1):
        seen += found
        if done * len(runs) < run * of:
            # Somebody else has followed it.
            done = run * of // len(runs)
            told(done, of)
    return Nights(
        after=tuple(nights_after(plan, cell, [gap], week, seen) for gap in week),
        alike=tuple(nights_after(plan, cell, like, week, seen) for like in together(week)),
        after_shift=None if cell.after_shift is None else cell.after_shift / HOUR,
        staffed=bool(cell.shifts),
        weeks=plan.weeks,
        runs=len(runs),
        stops=bool(cell.stops),
    )


def steps(plan: Plan) -> int:
    """How often :func:`nights_of` tells how far it is: before each warm-up week and each night."""
    cell = plan.cell
    if cell is None:
        return 0
    return _runs(plan, cell) * steps_of_a_run(plan, gaps(Calendar(cell), cell.nights))


def steps_of_a_run(plan: Plan, week: Sequence[Gap]) -> int:
    """Pauses of one run that is followed through the nights of its weeks."""
    return plan.warm_up + plan.weeks * len(week) if week else 0


def _runs(plan: Plan, cell: Cell) -> int:
    return plan.runs if cell.stops else 1


def together(week: Sequence[Gap]) -> list[list[Gap]]:
    """Nights after the same shifts, at the same hour, of one length, in which as much is allowed.

    In the week's order.
    """
    like: dict[tuple[object, ...], list[Gap]] = {}
    for gap in sorted(week, key=lambda gap: gap.day):
        like.setdefault((gap.shifts, gap.start % DAY, gap.length, gap.begins), []).append(gap)
    return list(like.values())


def nights_after(
    plan: Plan, cell: Cell, like: Sequence[Gap], week: Sequence[Gap], seen: Sequence[NightSeen]
) -> NightsAfter:
    """The nights among those seen that are one of ``like``, counted."""
    mine = [night for night in seen if week[night.gap] in like]
    first = like[0]
    turning = _spread([max((m.turned for m in night.machines), default=0) / HOUR for night in mine])
    lasting = [[machine.why is Why.RUNS for machine in night.machines] for night in mine]
    shifts = tuple(cell.shifts[place].id for place in first.shifts)
    days = tuple(gap.day for gap in like)
    return NightsAfter(
        shifts=shifts,
        days=days,
        start=first.start,
        length=first.length / HOUR,
        begins=first.begins,
        seen=len(mine),
        hours=_spread([sum(m.cycle for m in night.machines) / HOUR for night in mine]),
        turning=turning,
        all_last=_percent([bool(lasts) and all(lasts) for lasts in lasting]),
        some_last=_percent([any(lasts) for lasts in lasting]),
        groups=_groups(plan, mine),
        morning=_morning(mine),
    )


def _spread(values: Sequence[float]) -> Spread:
    return Spread(sum(values) / len(values), min(values), max(values))


def _percent(holds: Sequence[bool]) -> float:
    return 100 * sum(holds) / len(holds)


def _groups(plan: Plan, mine: Sequence[NightSeen]) -> tuple[GroupNight, ...]:
    found = []
    start = 0
    for group in plan.groups:
        of_group = [night.machines[start : start + group.count] for night in mine]
        start += group.count
        found.append(_group(group.id, group.count, group.pallets, of_group))
    return tuple(found)


def _group(
    id_: str, count: int, pallets: int, mine: Sequence[tuple[MachineSeen, ...]]
) -> GroupNight:
    every = [machine for machines in mine for machine in machines]
    ends = Counter(machine.why for machine in every)
    return GroupNight(
        group=id_,
        count=count,
        pallets=pallets,
        hours=_spread([sum(machine.cycle for machine in machines) / HOUR for machines in mine]),
        at_work=tuple(sorted(machine.turned / HOUR for machine in every)),
        lasting=100 * ends[Why.RUNS] / len(every),
        ends={end.value: 100 * times / len(every) for end, times in ends.most_common()},
        loaded=sum(machine.pallets.loaded for machine in every) / len(every),
        resting=sum(machine.pallets.resting for machine in every) / len(every),
    )


def _morning(mine: Sequence[NightSeen]) -> Morning:
    cleared = [night.clearing / HOUR for night in mine if night.clearing is not None]
    return Morning(
        pieces=_spread([night.pieces for night in mine]),
        visits=_spread([night.visits for night in mine]),
        minutes=_spread([night.visit_seconds / MINUTE for night in mine]),
        clearing=_spread(cleared) if cleared else None,
        not_cleared=_percent([night.clearing is None for night in mine]),
    )
