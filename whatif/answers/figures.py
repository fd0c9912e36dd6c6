"""Figures of one scenario from what its run counted (rule `results.window`).

All hours and pieces are per week measured. Nothing here runs a cell.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from itertools import repeat
from typing import Annotated, Final

from whatif.answers.states import IN_CYCLE, STATE_ROWS, TURNING
from whatif.cell.calendar import AFTER_HOURS, ATTENDED, ON_BREAK
from whatif.cell.codes import Job
from whatif.cell.look import Why
from whatif.cell.may_not import ASKED
from whatif.cell.model import HOUR, WEEK
from whatif.cell.tally import Tally
from whatif.plan.model import PartPlan, Plan, Worth
from whatif.records import dataclass

NIL_HOURS: Final = 0.005
"""Hours a week below which a state is not worth a word: they would be shown as 0.00."""

A_WEEK: Final = "so much a week"
"""What a figure's type says of it where a day, a month, a year has more or less of it."""

PerWeek = Annotated[float, A_WEEK]
EachPerWeek = Annotated[Mapping[str, float], A_WEEK]
BandPerWeek = Annotated[tuple[float, float] | None, A_WEEK]
"""Figures of a week, by part, state or work. All others are the same for every time: shares in
percent, what is there (floor), how much was measured."""


@dataclass(frozen=True, slots=True)
class SpindleHours:
    """Hours in cycle a week, all machines together (rule `results.hours`)."""

    total: PerWeek
    attended: PerWeek
    breaks: PerWeek
    after_hours: PerWeek

    @property
    def unattended(self) -> float:
        """Hours in cycle with nobody on duty: on breaks and after hours."""
        return self.breaks + self.after_hours


@dataclass(frozen=True, slots=True)
class People:
    """People's hours a week (rule `results.people`).

    Attributes:
        free_stretches: free time on duty that comes in stretches of half an hour and more.
    """

    paid: PerWeek
    on_duty: PerWeek
    busy: PerWeek
    free_stretches: PerWeek

    @property
    def free(self) -> float:
        """Hours on duty with nothing to do at the cell, however short the stretches."""
        return self.on_duty - self.busy


@dataclass(frozen=True, slots=True)
class PeopleByShift:
    """The same by shift, so that it is seen which of them are how full."""

    paid: EachPerWeek
    on_duty: EachPerWeek
    busy: EachPerWeek

    def share(self, *shifts: str) -> float:
        """Share, of one, of their time on duty for which people of these shifts are busy."""
        on_duty = sum(self.on_duty[shift] for shift in shifts)
        return sum(self.busy[shift] for shift in shifts) / on_duty if on_duty else 0.0


@dataclass(frozen=True, slots=True)
class Utilization:
    """In-cut hours over three bases, in percent; None where the base is no time at all."""

    of_shift: float | None
    of_powered: float | None
    of_week: float | None


@dataclass(frozen=True, slots=True)
class CountedPerWeek:
    """What figures are worked out from, a week, so that each can be accounted for.

    Attributes:
        in_cycle: hours in cycle by part, all machines together.
        good, for_orders, saleable: good pieces by part: all, those made for real orders, and
            those that somebody buys.
        busy_by_job: people's hours at work by kind of work.
        may_not: machine hours waited for a person while those who were free, or all on duty, might
            not do what was asked for, by kind of work; ``nobody_may`` those of them in which nobody
            on duty might (rule `people.may-not`).
    """

    in_cycle: EachPerWeek
    good: EachPerWeek
    for_orders: EachPerWeek
    saleable: EachPerWeek
    busy_by_job: EachPerWeek
    may_not: EachPerWeek
    nobody_may: EachPerWeek


@dataclass(frozen=True, slots=True)
class NightsPerWeek:
    """Nights, machine by machine, by what ends them (rule `nights.end`).

    Attributes:
        ended: nights that each :class:`whatif.cell.look.Why` ends, all machines together.
        on_tables: those among them of machines with nothing but their own table.
        stood: machine hours that then stand while pieces might be begun.
        closed: machine hours that stand at the end of all nights while none may be begun.
    """

    ended: EachPerWeek
    on_tables: EachPerWeek
    stood: EachPerWeek
    closed: PerWeek


@dataclass(frozen=True, slots=True)
class Figures:
    """What the simulated scenario does in a week.

    Attributes:
        attended, on_breaks, after_hours: hours by state, all machines together, with somebody on
            duty, while everybody is on a break, and outside of all shifts.
        pieces: good pieces by part.
        made, good: pieces of all parts, scrap included and left out; those that only orders ask
            for too.
        demand_met: percent by part, None where nothing was due and nothing made.
        output, saleable: worth of all good pieces, and of those that are wanted, of parts after
            which no other comes.
        unsold_hours: hours in cycle for good pieces beyond those wanted (rule `results.saleable`).
        floor: square metres, None where a machine in use has none given.
        days: days of the week on which a shift starts; a day's figure is a week's over it.
        counted: what the others are worked out from.
        nights: what ends them.
        stopped_beyond: machine hours stopped after hours beyond the end of the loaded work.
    """

    weeks: int
    attended: EachPerWeek
    on_breaks: EachPerWeek
    after_hours: EachPerWeek
    pieces: EachPerWeek
    made: PerWeek
    good: PerWeek
    demand_met: Mapping[str, float | None]
    people: People
    shifts: PeopleByShift
    utilization: Utilization
    output: PerWeek
    saleable: PerWeek
    unsold_hours: PerWeek
    floor: float | None
    days: int
    counted: CountedPerWeek
    nights: NightsPerWeek
    stopped_beyond: PerWeek = 0.0

    @property
    def by_state(self) -> Mapping[str, float]:
        """Hours by state over the whole week, all machines together."""
        return {
            state: self.attended[state] + self.on_breaks[state] + self.after_hours[state]
            for state in STATE_ROWS
        }

    @property
    def spindle(self) -> SpindleHours:
        """The hours in cycle among them."""
        attended, breaks, after_hours = (
            hours[IN_CYCLE] for hours in (self.attended, self.on_breaks, self.after_hours)
        )
        return SpindleHours(attended + breaks + after_hours, attended, breaks, after_hours)

    @property
    def least_met(self) -> float | None:
        """Demand met of the part that is furthest behind, in percent; None where none is due."""
        return min((met for met in self.demand_met.values() if met is not None), default=None)


def pieces_sold(plan: Plan, figures: Figures) -> float:
    """Pieces a week that somebody buys, of parts after which no other one comes."""
    return sum(
        count for part, count in figures.counted.saleable.items() if part not in plan.followed
    )


def saleable_of(plan: Plan, tally: Tally, worth: Worth) -> float:
    """The saleable output a week alone: :attr:`Figures.saleable`."""
    total = Fraction(0)
    for part in plan.parts:
        if worth[part.id] and part.id not in plan.followed:
            ordered = _good(part, tally.cut_for_orders)
            total += _used(part, _good(part, tally.cut), ordered, plan.weeks) * worth[part.id]
    return float(total / plan.weeks)


def _used(part: PartPlan, good: Fraction, ordered: Fraction, weeks: int) -> Fraction:
    """Good pieces that are wanted, of the endless mix no more than that (`results.saleable`)."""
    return min(good - ordered, part.weekly * weeks) + ordered


def figures_of(plan: Plan, tally: Tally, worth: Worth) -> Figures:
    """Turn a measured window into a scenario's figures."""
    weeks = plan.weeks
    good = {part.id: _good(part, tally.cut) for part in plan.parts}
    ordered = {part.id: _good(part, tally.cut_for_orders) for part in plan.parts}
    endless = {id_: good[id_] - ordered[id_] for id_ in good}
    weekly = [part for part in plan.parts if part.weekly]
    used = {part.id: _used(part, good[part.id], ordered[part.id], weeks) for part in plan.parts}
    # What another operation takes is sold with that one's pieces.
    saleable = {id_: Fraction(0) if id_ in plan.followed else used[id_] for id_ in used}
    # Of each part that is wanted by the week, or made for an order.
    told = [part for part in plan.parts if part.weekly or good[part.id]]
    in_cycle = {
        part.id: 0.0
        if part.place is None
        else sum(machine[part.place] for machine in tally.cycle) / HOUR / weeks
        for part in told
    }

    def each(pieces: Mapping[str, Fraction]) -> dict[str, float]:
        return {part.id: float(pieces[part.id] / weeks) for part in told}

    return Figures(
        weeks=weeks,
        attended=_hours(tally, ATTENDED, weeks),
        on_breaks=_hours(tally, ON_BREAK, weeks),
        after_hours=_hours(tally, AFTER_HOURS, weeks),
        pieces={part.id: float(good[part.id] / weeks) for part in weekly},
        made=sum(tally.cut) / weeks,
        good=float(sum(good.values()) / weeks),
        demand_met={part.id: _met(part, endless[part.id], plan) for part in weekly},
        people=People(
            paid=plan.paid_seconds / HOUR,
            on_duty=plan.duty_seconds / HOUR,
            busy=sum(tally.busy) / HOUR / weeks,
            free_stretches=sum(tally.free_stretches) / HOUR / weeks,
        ),
        shifts=_by_shift(plan, tally),
        utilization=_utilization(plan, tally),
        output=float(sum(good[id_] * worth[id_] for id_ in good) / weeks),
        saleable=saleable_of(plan, tally, worth),
        unsold_hours=sum(
            in_cycle[id_] * float(1 - used[id_] / good[id_]) for id_ in in_cycle if good[id_]
        ),
        floor=None if plan.floor is None else float(plan.floor),
        days=plan.shift_days,
        counted=CountedPerWeek(
            in_cycle=in_cycle,
            good=each(good),
            for_orders=each(ordered),
            saleable=each(saleable),
            busy_by_job={
                job.name.lower(): sum(person[job] for person in tally.busy_by_job) / HOUR / weeks
                for job in Job
            },
            may_not=_by_work(tally.may_not, weeks),
            nobody_may=_by_work(tally.nobody_may, weeks),
        ),
        nights=_nights(plan, tally),
        stopped_beyond=sum(tally.beyond) / HOUR / weeks,
    )


def _by_shift(plan: Plan, tally: Tally) -> PeopleByShift:
    """Persons are counted shift by shift, in the order of the shifts."""
    assert plan.cell is not None
    busy = dict.fromkeys(plan.duty_by_shift, 0.0)
    shifts = (shift.id for shift in plan.cell.shifts for _ in repeat(None, shift.people))
    for shift, seconds in zip(shifts, tally.busy, strict=False):
        busy[shift] += seconds / HOUR / plan.weeks
    return PeopleByShift(
        paid={shift: seconds / HOUR for shift, seconds in plan.paid_by_shift.items()},
        on_duty={shift: seconds / HOUR for shift, seconds in plan.duty_by_shift.items()},
        busy=busy,
    )


def _by_work(machines: Sequence[Sequence[int]], weeks: int) -> dict[str, float]:
    return {
        work: sum(waited[place] for waited in machines) / HOUR / weeks
        for place, work in enumerate(ASKED)
    }


def _nights(plan: Plan, tally: Tally) -> NightsPerWeek:
    has_pallets = [group.pallets > 1 for group in plan.groups for _ in range(group.count)]

    def each(counts: Iterable[Sequence[int]], unit: int = 1) -> dict[str, float]:
        machines = list(counts)
        return {
            why.value: sum(of[place] for of in machines) / unit / plan.weeks
            for place, why in enumerate(Why)
        }

    tables = (ended for ended, more in zip(tally.nights, has_pallets, strict=False) if not more)
    closed = sum(tally.closed) / HOUR / plan.weeks
    return NightsPerWeek(each(tally.nights), each(tables), each(tally.stood, HOUR), closed)


def _hours(tally: Tally, mode: int, weeks: int) -> dict[str, float]:
    return {
        name: sum(machine[mode][state] for machine in tally.spent) / HOUR / weeks
        for state, name in enumerate(STATE_ROWS)
    }


def _good(part: PartPlan, cut: Sequence[int]) -> Fraction:
    """Good pieces (rule `results.pieces`); a cell without real orders counts none for them."""
    if part.place is None or not cut:
        return Fraction(0)
    return cut[part.place] * (1 - part.scrap)


def _met(part: PartPlan, good: Fraction, plan: Plan) -> float | None:
    """Good pieces over pieces wanted, in percent (rule `results.demand`)."""
    if not good and not _falls_due(part, plan) and not part.unmade:
        return None
    return float(100 * good / (part.weekly * plan.weeks))


def _falls_due(part: PartPlan, plan: Plan) -> bool:
    """Whether an order of the part is due within the weeks measured."""

    def due_before(second: int) -> int:
        """Orders due before a second: those k with floor(k batch / weekly weeks) < second."""
        # floor(x) < n is x < n for whole n.
        return -(-second * part.weekly.numerator // (part.weekly.denominator * part.batch * WEEK))

    start = plan.warm_up * WEEK
    return due_before(start + plan.weeks * WEEK) > max(1, due_before(start))


def _utilization(plan: Plan, tally: Tally) -> Utilization:
    in_cut = sum(
        machine[part.place] * part.in_cut
        for part in plan.parts
        if part.place is not None
        for machine in tally.cycle
    )
    on_shift = plan.machines * plan.shift_seconds * plan.weeks
    spun = [place for place, state in enumerate(STATE_ROWS) if state in TURNING]
    after = sum(machine[AFTER_HOURS][place] for machine in tally.spent for place in spun)

    def share(of: int) -> float | None:
        return float(100 * in_cut / of) if of else None

    return Utilization(
        of_shift=share(on_shift),
        of_powered=share(on_shift + after),
        of_week=share(plan.machines * WEEK * plan.weeks),
    )
