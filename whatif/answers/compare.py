"""A whole study answered: every scenario's figures, gains, limits, fit and cautions.

The runs themselves are asked for through ``simulate``, so that a session can remember, stop
and spread them, and the command line can simply run them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass, replace
from fractions import Fraction
from statistics import quantiles
from typing import Any

from whatif.answers.cautions import Caution, cautions_of
from whatif.answers.figures import BandPerWeek, Figures, figures_of
from whatif.answers.gains import NO_GAIN, Gains, Likely, gains, grain_of, percent
from whatif.answers.limits import HeldBack, what_holds_back
from whatif.answers.meters.reading import Reading, find_reading, gaps_read, with_readings
from whatif.answers.money import MoneyFigures, MoneyGap, money_gaps, money_of
from whatif.answers.orders.orders import Ordered, ordered
from whatif.answers.orders.rush import AnyHour, RushArrival, try_rush
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.plan.model import Plan, Worth, in_money, worth
from whatif.plan.nudge import nudged
from whatif.study.check.check import Checked

Simulate = Callable[[Cell, int, int], Tally]
"""Runs a cell: (cell, weeks to run before measuring, weeks to measure) -> what was counted."""

ALL_RUNS = 1000
"""As many seeded runs as a study may ask for (rule `keys.study`)."""

READINGS = ("people", "machine")
"""How the gap of hour meters may be read (rule `meters.gap`)."""

NUDGES = (1, -1)
"""Seconds by which people's times are moved to find the grain (rule `likely.range`)."""


@dataclass(frozen=True, slots=True)
class ClaimedHours:
    """What is claimed (rule `said.hours`, rule `said.gain`), kept apart from what is simulated.

    Attributes:
        found_per_day: spindle hours that the simulation finds; None where nothing is simulated,
            or no shift starts on any day.
    """

    hours_per_day: float
    gain: float | None
    found_per_day: float | None

    @property
    def differs(self) -> bool:
        """Whether claim and simulation differ by more than a tenth of the claim."""
        if self.found_per_day is None:
            return False
        # A billionth of an hour is no difference but what floats make of an exact tenth.
        return abs(self.found_per_day - self.hours_per_day) > self.hours_per_day / 10 + 1e-9


@dataclass(frozen=True, slots=True)
class GapAsRead:
    """Saleable output a week with the hour meters' gap read one way, here and in the reference.

    ``seconds`` is what each visit, or each load, then takes longer; None where there is no gap.
    """

    kind: str
    seconds: int | None
    saleable: float
    reference: float
    gain: float


@dataclass(frozen=True, slots=True)
class Answer:
    """One scenario answered.

    Attributes:
        figures: None where the scenario has no parts.
        grain: None while it has not been found yet.
        likely: the likely ranges of the gains; None while they have not been found yet.
        settled: whether the saleable gain over the second half of the weeks measured differs by
            no more than two points from that over the first half.
        could_make: what the cell could make at most, in percent of what is wanted; None where not
            all that is wanted is made, and until it is found.
        band: of spindle hours, 10th and 90th of a hundred seeded runs; None without stops.
        orders, rush: real and rush orders by id; rush is empty until it has been tried out.
        money: None where no part of any scenario has a contribution.
        money_gaps: what is not entered, or not alike, so that the money misleads.
        held: fixtures at most held at once, by part.
        spindle_by_run: spindle hours a week of each seeded run.
        nudged: the gains with people's times a second longer and a second shorter.
        gap_read: the saleable output with the hour meters' gap read as people's and as machines';
            none where it is read as either already, without meters, or until it is found.
    """

    plan: Plan
    claimed: ClaimedHours | None
    figures: Figures | None
    cautions: tuple[Caution, ...]
    gains: Gains = NO_GAIN
    grain: Gains | None = None
    likely: Likely | None = None
    settled: bool = True
    could_make: float | None = None
    held_back: HeldBack | None = None
    band: BandPerWeek = None
    money: MoneyFigures | None = None
    money_gaps: tuple[MoneyGap, ...] = ()
    orders: Mapping[str, Ordered] = field(default_factory=dict)
    rush: Mapping[str, RushArrival | AnyHour | None] = field(default_factory=dict)
    held: Mapping[str, int] = field(default_factory=dict)
    spindle_by_run: tuple[float, ...] = ()
    nudged: tuple[Gains, ...] = ()
    gap_read: tuple[GapAsRead, ...] = ()

    @property
    def gain_range(self) -> tuple[float, float] | None:
        """The least and the most saleable gain, however the gap is read; None without a gap."""
        found = [reading.gain for reading in self.gap_read]
        return (min(found), max(found)) if found else None


@dataclass(frozen=True, slots=True)
class Comparison:
    """A study answered; scenarios in the file's order.

    Attributes:
        units: "metric" or "inch", what areas are shown in.
    """

    title: str
    reference: str
    answers: Mapping[str, Answer]
    units: str = "metric"

    @property
    def plans(self) -> dict[str, Plan]:
        """Every scenario's plan."""
        return {id_: answer.plan for id_, answer in self.answers.items()}

    def with_each(self, change: Callable[[str, Answer], Answer]) -> Comparison:
        """The same with every answer, by the scenario's id, changed."""
        answers = {id_: change(id_, answer) for id_, answer in self.answers.items()}
        return replace(self, answers=answers)


def plans_as_read(
    checked: Checked, simulate: Simulate, most_runs: int = ALL_RUNS
) -> dict[str, Plan]:
    """The plans of a study without problems, hour meters' gaps worked in (rule `meters.gap`)."""
    plans = of_fewer_runs(plans_of(checked), most_runs)
    return gaps_read(plans, lambda plan: powered(plan, simulate))


def of_fewer_runs(plans: Mapping[str, Plan], most: int) -> dict[str, Plan]:
    """The plans with no more than so many seeded runs each."""
    return {id_: replace(plan, runs=min(plan.runs, most)) for id_, plan in plans.items()}


def compare(checked: Checked, simulate: Simulate, most_runs: int = ALL_RUNS) -> Comparison:
    """Answer a study without problems, yet without the grain of its gains.

    ``most_runs`` below the study's own makes a first answer where stops ask for many runs.
    """
    study = checked.study
    assert study is not None  # it has no problems
    plans = plans_as_read(checked, simulate, most_runs)
    answers = answers_of(plans, study.reference, simulate)
    return Comparison(study.title, study.reference, answers, study.units)


def answers_of(plans: Mapping[str, Plan], reference: str, simulate: Simulate) -> dict[str, Answer]:
    """The same for plans, the reference's among them, with the hour meters' gaps worked in."""
    measured = _results(plans, reference, simulate)
    is_money = in_money(plans)
    return {
        id_: _answer(plan, measured[id_], plans[reference], measured[reference], is_money)
        for id_, plan in plans.items()
    }


def _answer(
    plan: Plan, here: _Simulated | None, reference: Plan, first: _Simulated | None, is_money: bool
) -> Answer:
    figures = None if here is None else here.figures
    answer = Answer(
        plan,
        claimed=_claimed(plan, reference, figures),
        figures=figures,
        cautions=cautions_of(plan, reference, figures),
    )
    if here is None:
        return answer
    answer = replace(
        answer,
        held_back=what_holds_back(plan, here.figures, here.orders),
        band=here.band,
        orders=here.orders,
        held=here.held,
        spindle_by_run=here.spindle_by_run,
    )
    if first is None:
        return answer
    answer = replace(answer, gains=gains(here.figures, first.figures))
    if not is_money:
        return answer
    money = money_of(plan, here.figures, here.held, reference, first.figures, first.held)
    more_paid = here.figures.people.paid - first.figures.people.paid
    misleads = money_gaps(plan, here.held, reference, first.held, money.payback_years, more_paid)
    return replace(answer, money=money, money_gaps=misleads)


def with_grain(found: Comparison, simulate: Simulate) -> Comparison:
    """The same comparison with the grain of every gain (rule `likely.range`)."""
    moved: dict[str, list[Gains]] = {id_: [] for id_ in found.answers}
    for by in NUDGES:
        plans = {id_: nudged_plan(plan, by) for id_, plan in found.plans.items()}
        for id_, pair in pairs_of(plans, found.reference, simulate).items():
            moved[id_].append(gains(*pair))
    return found.with_each(
        lambda id_, answer: replace(
            answer, grain=grain_of(answer.gains, moved[id_]), nudged=tuple(moved[id_])
        )
    )


def with_gain_ranges(found: Comparison, simulate: Simulate) -> Comparison:
    """The same comparison with the gain's range where hour meters leave a gap only shown.

    The saleable gain is worked out with the gap read as people's, and again as machines'.
    """
    shown = [
        id_
        for id_, plan in found.plans.items()
        if plan.meters is not None and plan.meters.own and plan.meters.gap == "show"
    ]
    if not shown:
        return found
    read: dict[str, list[GapAsRead]] = {id_: [] for id_ in found.answers}
    for kind in READINGS:
        pairs, readings = as_read(found.plans, found.reference, shown, kind, simulate)
        for id_, (here, there) in pairs.items():
            meters, gain = found.answers[id_].plan.meters, gains(here, there).saleable
            if gain is not None and meters is not None and meters.scenario in readings:
                seconds = readings[meters.scenario].seconds
                read[id_].append(GapAsRead(kind, seconds, here.saleable, there.saleable, gain))
    return found.with_each(lambda id_, answer: replace(answer, gap_read=tuple(read[id_])))


def as_read(
    plans: Mapping[str, Plan],
    reference: str,
    shown: Sequence[str],
    kind: str,
    simulate: Simulate,
) -> tuple[dict[str, tuple[Figures, Figures]], dict[str, Reading]]:
    """As :func:`pairs_of`, with the gaps of ``shown`` read as ``kind``; and those readings."""
    readings = {
        id_: find_reading(plans[id_], kind, lambda plan: powered(plan, simulate)) for id_ in shown
    }
    return pairs_of(with_readings(plans, readings), reference, simulate), readings


def pairs_of(
    plans: Mapping[str, Plan], reference: str, simulate: Simulate
) -> dict[str, tuple[Figures, Figures]]:
    """Figures of every scenario and of the reference; none of scenarios that are not simulated."""
    results = _results(plans, reference, simulate)
    base = results[reference]
    return {
        id_: (result.figures, base.figures)
        for id_, result in results.items()
        if result is not None and base is not None
    }


def powered(plan: Plan, simulate: Simulate) -> float | None:
    """In-cut share of powered hours, which no worth of pieces changes."""
    nothing = {part.id: Fraction(0) for part in plan.parts}
    found = _measure(plan, simulate, nothing)
    return None if found is None else found.figures.utilization.of_powered


def with_rush(found: Comparison, pause: Callable[[], None]) -> Comparison:
    """The same comparison with every rush order tried out (rule `rush.trial`)."""

    def tried(_: str, answer: Answer) -> Answer:
        found = {order.id: try_rush(answer.plan, order, pause) for order in answer.plan.rush}
        return replace(answer, rush=found)

    return found.with_each(tried)


def nudged_plan(plan: Plan, by: int) -> Plan:
    """The plan with people's times moved by so many seconds (rule `likely.range`)."""
    return plan if plan.cell is None else replace(plan, cell=nudged(plan.cell, by))


@dataclass(frozen=True, slots=True)
class _Simulated:
    """What the runs of one plan found; ``held``: fixtures at most held at once, by part."""

    figures: Figures
    spindle_by_run: tuple[float, ...]
    band: tuple[float, float] | None
    held: Mapping[str, int]
    orders: Mapping[str, Ordered]


def _results(
    plans: Mapping[str, Plan], reference: str, simulate: Simulate
) -> dict[str, _Simulated | None]:
    return {
        id_: _measure(plan, simulate, worth(plans, id_, reference)) for id_, plan in plans.items()
    }


def _measure(plan: Plan, simulate: Simulate, value: Worth) -> _Simulated | None:
    """What all runs of a plan come to; None where it has nothing to run."""
    cell = plan.cell
    if cell is None:
        return None
    tallies = [
        simulate(replace(cell, luck=luck), plan.warm_up, plan.weeks)
        for luck in range(1, plan.runs + 1)
    ]
    found = [figures_of(plan, tally, value) for tally in tallies]
    by_run = tuple(figures.spindle.total for figures in found)
    return _Simulated(
        figures=_mean_of(found),
        spindle_by_run=by_run,
        band=_band_of(by_run) if cell.stops else None,
        held={
            part.id: max(tally.most_held[place] for tally in tallies)
            for place, part in enumerate(cell.parts)
        },
        orders=ordered(plan, tallies),
    )


def _claimed(plan: Plan, reference: Plan, result: Figures | None) -> ClaimedHours | None:
    if plan.said is None:
        return None
    hours = float(plan.said.hours_per_day)
    base = None if reference.said is None else float(reference.said.hours_per_day)
    days = 0 if result is None else result.days
    found = None if result is None or not days else result.spindle.total / days
    return ClaimedHours(hours, percent(hours, base), found)


def compare_wholly(checked: Checked, simulate: Simulate, pause: Callable[[], None]) -> Comparison:
    """Everything there is to say of a study without problems."""
    found = with_grain(compare(checked, simulate), simulate)
    return with_rush(with_gain_ranges(found, simulate), pause)


# -- means over seeded runs, where stops are given (rule `results.runs`) ----------------------


def _mean_of(values: Sequence[Any]) -> Any:
    """The mean of numbers, or the record or mapping whose every number is the mean of theirs.

    A number that is None in some run is None, and whole numbers (weeks, days) are the same in all.
    """
    first = values[0]
    if len(values) == 1:
        return first
    if is_dataclass(first) and not isinstance(first, type):
        means = {
            field.name: _mean_of([getattr(value, field.name) for value in values])
            for field in fields(first)
        }
        return replace(first, **means)
    if isinstance(first, Mapping):
        return {key: _mean_of([value[key] for value in values]) for key in first}
    if any(value is None for value in values):
        return None
    return sum(values) / len(values) if isinstance(first, float) else first


def _band_of(values: Sequence[float]) -> tuple[float, float]:
    """The 10th and 90th of a hundred, interpolated between the runs' own values."""
    if len(values) == 1:
        return values[0], values[0]
    tenths = quantiles(values, n=10, method="inclusive")
    return tenths[0], tenths[-1]
