"""A whole study answered: as typed, at first of one run, or wholly."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from functools import partial

from whatif.answers.answer import Answer, Comparison, HoursSaid
from whatif.answers.cautions import cautions_of
from whatif.answers.figures import Figures
from whatif.answers.gains import gains, percent
from whatif.answers.likely import weeks_of_draws
from whatif.answers.limits import what_holds_back
from whatif.answers.meters.gap_read import with_gain_ranges, with_meters
from whatif.answers.meters.reading import gaps_read
from whatif.answers.money.capital import Costed
from whatif.answers.money.missing import money_gaps
from whatif.answers.money.money import money_of
from whatif.answers.orders.rush_tried import with_rush
from whatif.answers.progress import Begins, Stage, Told
from whatif.answers.ranged import with_could_make, with_likely
from whatif.answers.running import Simulated, run_all
from whatif.answers.settling import (
    drift,
    gains_of_halves,
    is_apart,
    is_to_settle,
    over_weeks,
    settled,
)
from whatif.answers.simulate import Pause, Simulate, again
from whatif.plan.build import plans_of
from whatif.plan.model import Plan, in_money
from whatif.study.check.check import Checked
from whatif.study.schema.models import Study


def plans_as_read(
    checked: Checked, simulate: Simulate, entered: Mapping[str, Plan] | None = None
) -> dict[str, Plan]:
    """The plans of a study without problems as they are measured.

    Hour meters' gaps are worked in (rule `meters.gap`), and the weeks are as many as the gains
    need (rule `results.settled`). ``entered`` are its plans where they have been made already.
    """
    study = checked.study
    assert study is not None  # it has no problems
    entered = plans_of(checked) if entered is None else entered
    plans = gaps_read(entered, simulate)
    found = settled(plans, study.reference, simulate)
    if found == plans:
        return plans
    # Meters are held against what is measured, and that is over more weeks now.
    return gaps_read(over_weeks(entered, found[study.reference].weeks, simulate), simulate)


def of_fewer_runs(plans: Mapping[str, Plan], most: int) -> dict[str, Plan]:
    """The plans with no more than so many seeded runs each."""
    return {
        id_: plan if plan.runs <= most else replace(plan, runs=most) for id_, plan in plans.items()
    }


def compare(
    checked: Checked, simulate: Simulate, entered: Mapping[str, Plan] | None = None
) -> Comparison:
    """Answer a study without problems as typed: without likely ranges and what it could make."""
    study = checked.study
    assert study is not None  # it has no problems
    return _compared(study, plans_as_read(checked, simulate, entered), simulate)


def compare_quickly(
    checked: Checked,
    simulate: Simulate,
    entered: Mapping[str, Plan] | None = None,
    only: Collection[str] | None = None,
) -> Comparison:
    """A first answer, of one run of each scenario over the weeks that settling begins with.

    Of the scenarios ``only`` where they are given, and of those that they are measured against;
    these may be all that ``entered`` has.
    """
    entered = plans_of(checked) if entered is None else entered
    study = checked.study_of(entered)
    assert study is not None  # it has no problems
    plans = of_fewer_runs(entered, 1)
    wanted = {study.reference, study.today, *(plans if only is None else only)}
    metered = {meters.scenario for id_ in wanted if (meters := plans[id_].meters) is not None}
    needed = {id_: plan for id_, plan in plans.items() if id_ in wanted | metered}
    plans |= gaps_read(needed, simulate)
    return _compared(study, plans, simulate, wanted)


def _compared(
    study: Study,
    plans: Mapping[str, Plan],
    simulate: Simulate,
    wanted: Collection[str] | None = None,
) -> Comparison:
    answers = answers_of(plans, study.reference, simulate, wanted)
    answers = _with_cautions(answers, answers[study.today], simulate)
    paid = in_money(plans)
    found = Comparison(study.title, study.reference, answers, study.units, study.today, paid)
    return with_meters(found, plans, simulate)


def _with_cautions(
    answers: Mapping[str, Answer], today: Answer, simulate: Simulate
) -> dict[str, Answer]:
    """The same answers with the cautions that they call for."""
    standing = cautions_of(today.plan, today.figures, today.plan, ())

    def warned(answer: Answer) -> Answer:
        cautions = cautions_of(answer.plan, answer.figures, today.plan, standing)
        return replace(answer, cautions=cautions)

    return _each(answers, "cautions", (today.plan, standing), warned, simulate)


def _each(
    answers: Mapping[str, Answer],
    kind: str,
    beside: tuple[object, ...],
    change: Callable[[Answer], Answer],
    simulate: Simulate,
) -> dict[str, Answer]:
    """Every answer changed, by what stands beside it; the same object as before where that is so.

    An edit touches few of many scenarios: the answers of the others are taken as they were.
    """
    return {
        id_: again(
            simulate,
            (kind, id_, answer.plan.runs, answer.plan.weeks),
            (answer, *beside),
            partial(change, answer),
        )
        for id_, answer in answers.items()
    }


def answers_of(
    plans: Mapping[str, Plan],
    reference: str,
    simulate: Simulate,
    wanted: Collection[str] | None = None,
) -> dict[str, Answer]:
    """The same for plans as they are measured, the reference's among them.

    Of ``wanted`` scenarios alone where these are given, the reference and today's among them.
    """
    measured = run_all(plans, reference, simulate, wanted)
    base, first = plans[reference], measured[reference]
    answers = {}
    for id_, here in measured.items():
        plan = plans[id_]
        answers[id_] = again(
            simulate,
            ("answer", id_, plan.runs, plan.weeks),
            (plan, here, base, first),
            partial(_answer, plan, here, base, first),
        )
    return _with_money(answers, reference, simulate) if in_money(plans) else answers


def _with_money(
    answers: Mapping[str, Answer], reference: str, simulate: Simulate
) -> dict[str, Answer]:
    """The same answers with their money, and what misleads in it."""
    base = _costed(answers[reference])
    if base.figures is None:
        return dict(answers)
    today = _costed(answers[base.prices.today])

    def paid(answer: Answer) -> Answer:
        """An answer with what it costs and brings beside the reference."""
        if answer.figures is None:
            return answer
        side = _costed(answer)
        return replace(
            answer,
            money=money_of(side, base, today),
            money_gaps=money_gaps(side, base, today),
        )

    return _each(answers, "money", (base, today), paid, simulate)


def _costed(answer: Answer) -> Costed:
    return Costed(answer.plan, answer.figures, answer.held)


def _answer(plan: Plan, here: Simulated | None, reference: Plan, first: Simulated | None) -> Answer:
    figures = None if here is None else here.figures
    answer = Answer(
        plan,
        said=_said(plan, reference, figures),
        figures=figures,
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
        drift=drift(plan, here),
    )
    if first is None:
        return answer
    halves = gains_of_halves(here, first)
    return replace(
        answer,
        gains=gains(here.figures, first.figures),
        halves=halves,
        settled=not (is_to_settle(plan, reference) and is_apart(halves)),
    )


def _said(plan: Plan, reference: Plan, result: Figures | None) -> HoursSaid | None:
    if plan.said is None:
        return None
    hours = float(plan.said.hours_per_day)
    base = None if reference.said is None else float(reference.said.hours_per_day)
    days = 0 if result is None else result.days
    found = None if result is None or not days else result.spindle.total / days
    return HoursSaid(hours, percent(hours, base), found)


def compare_wholly(
    checked: Checked,
    simulate: Simulate,
    pause: Pause,
    begins: Begins = lambda stage, weeks: None,
    only: Collection[str] | None = None,
    told: Told = lambda done, of: None,
) -> Comparison:
    """Everything there is to say of a study without problems.

    Args:
        begins: hears of each stage.
        told: hears how many rush orders have been tried, in the last one.
        only: scenarios of which what takes longer is wanted, beside those that they are measured
            against; of others the answer as typed is all there is.
    """
    begins(Stage.AS_TYPED, 0)
    found = compare(checked, simulate)
    if only is not None:
        only = {*only, found.reference, found.today}
    begins(Stage.COULD_MAKE, 0)
    found = with_could_make(found, simulate, only)
    drawn = {id_: plan for id_, plan in found.plans.items() if only is None or id_ in only}
    begins(Stage.LIKELY, weeks_of_draws(drawn))
    found = with_likely(found, simulate, only)
    begins(Stage.METERS, 0)
    found = with_gain_ranges(found, simulate, only)
    begins(Stage.RUSH, 0)
    return with_rush(found, pause, simulate, only, told)
