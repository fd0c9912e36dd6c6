"""Plans run and valued: figures of a scenario, means over seeded runs, the band of their hours.

The runs themselves are asked for through ``simulate``, so that a session can remember, stop
and spread them, and the command line can simply run them.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from typing import Any

from whatif.answers.figures import Figures, figures_of, saleable_of
from whatif.answers.orders.orders import Ordered, ordered
from whatif.answers.ranks import range_of
from whatif.answers.simulate import Simulate, WindowAsked, again, ahead, is_made
from whatif.cell.tally import Tally
from whatif.plan.model import Plan, Worth, in_money, worth
from whatif.records import dataclass

ALL_RUNS = 1000
"""As many seeded runs as a study may ask for (rule `keys.study`)."""


@dataclass(frozen=True, slots=True)
class Simulated:
    """What the runs of one plan found.

    Attributes:
        held: fixtures at most held at once, by part.
        halves: the figures over either half of the weeks, a middle week left out; None of one
            week (rule `results.settled`).
    """

    figures: Figures
    spindle_by_run: tuple[float, ...]
    band: tuple[float, float] | None
    held: Mapping[str, int]
    orders: Mapping[str, Ordered]
    halves: tuple[Figures, Figures] | None


def run_all(
    plans: Mapping[str, Plan],
    reference: str,
    simulate: Simulate,
    wanted: Collection[str] | None = None,
) -> dict[str, Simulated | None]:
    """Every plan run, or those wanted, its pieces worth what they are beside the reference."""
    run = [id_ for id_ in plans if wanted is None or id_ in wanted]
    paid = in_money(plans)
    values = {id_: worth(plans, id_, reference, paid=paid) for id_ in run}
    # Of many scenarios few are other than they were, and only these are run.
    new = [
        plans[id_]
        for id_ in run
        if not is_made(simulate, _kind(plans[id_]), (plans[id_], values[id_]))
    ]
    ahead(simulate, (window for plan in new for window in windows(plan)))
    return {id_: run_plan(plans[id_], simulate, values[id_]) for id_ in run}


def windows(plan: Plan) -> Iterator[WindowAsked]:
    """All runs that :func:`run_plan` asks for."""
    if plan.cell is None:
        return
    for luck in range(1, plan.runs + 1):
        cell = replace(plan.cell, luck=luck)
        for each in (*_halves(plan), plan):
            yield cell, each.warm_up, each.weeks


def run_plan(plan: Plan, simulate: Simulate, value: Worth) -> Simulated | None:
    """What all runs of a plan come to; None where it has nothing to run."""
    return again(simulate, _kind(plan), (plan, value), lambda: _run_plan(plan, simulate, value))


def _kind(plan: Plan) -> Hashable:
    """By which what the runs of a plan come to is known."""
    return "runs", plan.scenario, plan.runs, plan.weeks


def _run_plan(plan: Plan, simulate: Simulate, value: Worth) -> Simulated | None:
    cell = plan.cell
    if cell is None:
        return None
    # The first half is asked for first, so that one run that goes on gives all of them.
    halves = tuple(mean_figures(half, simulate, value) for half in _halves(plan))
    tallies = _tallies(plan, simulate)
    found = [figures_of(plan, tally, value) for tally in tallies]
    by_run = tuple(figures.spindle.total for figures in found)
    return Simulated(
        figures=_mean_of(found),
        spindle_by_run=by_run,
        band=range_of(by_run)[::2] if cell.stops else None,
        held={
            part.id: max(tally.most_held[place] for tally in tallies)
            for place, part in enumerate(cell.parts)
        },
        orders=ordered(plan, tallies),
        halves=(halves[0], halves[1]) if halves else None,
    )


def mean_figures(plan: Plan, simulate: Simulate, value: Worth) -> Figures:
    """The figures of a plan that has a cell, their mean over its runs."""
    assert plan.cell is not None
    if plan.runs > 1:
        ahead(simulate, runs_of(plan))
    tallies = _tallies(plan, simulate)
    figures: Figures = _mean_of([figures_of(plan, tally, value) for tally in tallies])
    return figures


def mean_saleable(plan: Plan, simulate: Simulate, value: Worth) -> float:
    """The saleable output a week alone of a plan that has a cell, its mean over its runs."""
    found = [saleable_of(plan, tally, value) for tally in _tallies(plan, simulate)]
    mean: float = _mean_of(found)
    return mean


def figures_once(plan: Plan, simulate: Simulate, value: Worth) -> Figures:
    """The figures of one run of a plan that has a cell, with the luck that stands there."""
    return figures_of(plan, simulate(*run_once(plan)), value)


def saleable_once(plan: Plan, simulate: Simulate, value: Worth) -> float:
    """The saleable output a week alone of that run."""
    return saleable_of(plan, simulate(*run_once(plan)), value)


def run_once(plan: Plan) -> WindowAsked:
    """One run of a plan that has a cell, with the luck that stands there: that of a draw."""
    assert plan.cell is not None
    return plan.cell, plan.warm_up, plan.weeks


def powered(plan: Plan, simulate: Simulate) -> float | None:
    """In-cut share of powered hours of the run to order, as hour meters are held against."""
    found = plain_figures(as_powered(plan), simulate)
    return None if found is None else found.utilization.of_powered


def as_powered(plan: Plan) -> Plan:
    """The plan as hour meters are held against: run to order."""
    if plan.cell is None or plan.cell.to_order:
        return plan
    return replace(plan, cell=replace(plan.cell, to_order=True))


def plain_figures(plan: Plan, simulate: Simulate) -> Figures | None:
    """Figures in which no worth of pieces counts; None where the plan has nothing to run."""
    if plan.cell is None:
        return None
    return mean_figures(plan, simulate, {part.id: Fraction(0) for part in plan.parts})


def pairs_of(
    plans: Mapping[str, Plan],
    reference: str,
    simulate: Simulate,
    wanted: Collection[str] | None = None,
) -> dict[str, tuple[Figures, Figures]]:
    """Figures of every scenario and of the reference; none of scenarios that are not simulated.

    Of ``wanted`` scenarios alone where these are given, the reference among them.
    """
    results = run_all(plans, reference, simulate, wanted)
    base = results[reference]
    return {
        id_: (result.figures, base.figures)
        for id_, result in results.items()
        if result is not None and base is not None
    }


def _tallies(plan: Plan, simulate: Simulate) -> list[Tally]:
    return [simulate(*run) for run in runs_of(plan)]


def runs_of(plan: Plan) -> Iterator[WindowAsked]:
    """The seeded runs of a plan over the weeks measured; none where it has nothing to run."""
    if plan.cell is None:
        return
    for luck in range(1, plan.runs + 1):
        yield replace(plan.cell, luck=luck), plan.warm_up, plan.weeks


def _halves(plan: Plan) -> tuple[Plan, ...]:
    """The same over either half of the weeks alone."""
    half = plan.weeks // 2
    if not half:
        return ()
    later = plan.warm_up + plan.weeks - half
    return replace(plan, weeks=half), replace(plan, weeks=half, warm_up=later)


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
