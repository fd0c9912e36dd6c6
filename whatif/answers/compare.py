"""A whole study answered: every scenario's figures, gains, limits, fit and cautions."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace

from whatif.answers.cautions import Caution, cautions_of
from whatif.answers.caveats import Caveat
from whatif.answers.could_make import could_make, flat_out, is_demand_met
from whatif.answers.figures import BandPerWeek, Figures
from whatif.answers.gains import (
    NO_GAIN,
    Gains,
    Likely,
    gains,
    is_clear,
    is_nothing,
    likely_of,
    percent,
)
from whatif.answers.likely import Draws, weeks_of_draws
from whatif.answers.limits import HeldBack, what_holds_back
from whatif.answers.meters.held import HeldAgainst, LaidGap, as_held, held_against
from whatif.answers.meters.reading import (
    FindingReading,
    Reading,
    gaps_read,
    readings,
    seconds_laid,
    with_readings,
    without_reading,
)
from whatif.answers.money.capital import Costed
from whatif.answers.money.missing import MoneyGap, money_gaps
from whatif.answers.money.money import MoneyFigures, money_of
from whatif.answers.money.returns import LikelyReturns
from whatif.answers.orders.orders import Ordered
from whatif.answers.orders.rush import (
    AnyHour,
    RushArrival,
    likely_rush,
    trials_of,
    try_rush,
    trying,
)
from whatif.answers.progress import Begins, Stage, Told
from whatif.answers.running import Simulated, pairs_of, plain_figures, run_all, runs_of
from whatif.answers.settling import drift, gains_of_halves, is_apart, is_to_settle, settled
from whatif.answers.simulate import Pause, Simulate, again, ahead, run_anew, tasks_ahead
from whatif.plan.build import plans_of
from whatif.plan.model import Plan, in_money, worth
from whatif.records import dataclass
from whatif.study.check.check import Checked

ALL_RUNS = 1000
"""As many seeded runs as a study may ask for (rule `keys.study`)."""

READINGS = ("people", "machine")
"""How the gap of hour meters may be read (rule `meters.gap`)."""


@dataclass(frozen=True, slots=True)
class HoursSaid:
    """What is said in a meeting, kept apart from what is simulated.

    See rule `said.hours` and rule `said.gain`.

    Attributes:
        found_per_day: spindle hours that the simulation finds; None where nothing is simulated,
            or no shift starts on any day.
    """

    hours_per_day: float
    gain: float | None
    found_per_day: float | None

    @property
    def differs(self) -> bool:
        """Whether it and the simulation differ by more than a tenth of what is said."""
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
        likely: the likely ranges of the gains; None while they have not been found yet.
        settled: whether the saleable gain over the second half of the weeks measured differs by
            no more than two points from that over the first half.
        could_make: what the cell could make at most, in percent of what is wanted; None where not
            all that is wanted is made, and until it is found.
        band: of spindle hours, 10th and 90th of a hundred seeded runs; None without stops.
        orders, rush: real and rush orders by id; rush is empty until it has been tried out.
        money: None where no part of any scenario has a contribution.
        money_gaps: what is not entered, or not alike, so that the money misleads.
        held: fixtures of one number at most held at once, by part.
        spindle_by_run: spindle hours a week of each seeded run.
        drawn: the gains of each draw, from the first on.
        halves: the gains over either half of the weeks measured; none of one week.
        drift: percent by which its own saleable output differs between them; None where it does
            not (rule `results.drift`).
        gap_read: the saleable output with the hour meters' gap read as people's and as machines';
            none without meters, or until it is found.
        metered: of the hour meters that hold for it, what they say beside the model.
    """

    plan: Plan
    said: HoursSaid | None
    figures: Figures | None
    cautions: tuple[Caution, ...] = ()
    gains: Gains = NO_GAIN
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
    drawn: tuple[Gains, ...] = ()
    halves: tuple[Gains, ...] = ()
    drift: float | None = None
    gap_read: tuple[GapAsRead, ...] = ()
    metered: HeldAgainst | None = None

    @property
    def likely_money(self) -> LikelyReturns | None:
        """What its money lies between; None without money, for the reference, and until found."""
        if self.money is None or self.likely is None:
            return None
        return self.money.likely(self.gains.saleable, self.likely.saleable)

    @property
    def laid_gap(self) -> LaidGap | None:
        """The gap that is laid to people or machines here; None where none is."""
        meters, seconds = self.plan.meters, seconds_laid(self.plan)
        if meters is None or self.metered is None or not seconds:
            return None
        gap = self.metered.gap
        return LaidGap(meters.scenario, meters.gap, seconds, gap, self.gain_range)

    @property
    def caveats(self) -> tuple[Caveat, ...]:
        """What its gain rests on that is not so yet."""
        money = self.money
        holds = {
            Caveat.NOT_MADE: any(part.unmade is not None for part in self.plan.parts),
            Caveat.NOT_PRICED: money is not None and money.is_compared and bool(money.not_priced),
            # Also where nobody asked what the meters say, as of what is tried.
            Caveat.GAP_LAID: bool(seconds_laid(self.plan)),
        }
        return tuple(caveat for caveat, is_so in holds.items() if is_so)

    @property
    def guessed_demand(self) -> tuple[str, ...]:
        """Parts of which nobody has said how many are wanted, where that blurs the saleable gain.

        All that is wanted is made, so that the gain grows and shrinks with it, and its likely range
        does not tell it from none (rule `likely.difference`).
        """
        plan, held = self.plan, self.held_back
        likely = None if self.likely is None else self.likely.saleable
        is_blurred = likely is not None and not (is_clear(likely) or is_nothing(likely))
        if not is_blurred or held is None or not held.is_demand_met or not plan.guess_accuracy:
            return ()
        wanted = ((part.id, plan.stated.get(("part", part.id, "weekly"))) for part in plan.parts)
        return tuple(id_ for id_, said in wanted if said and said.value and said.is_assumed)

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
        today: the scenario that stands in the shop.
    """

    title: str
    reference: str
    answers: Mapping[str, Answer]
    units: str = "metric"
    today: str = ""

    @property
    def plans(self) -> dict[str, Plan]:
        """Every scenario's plan."""
        return {id_: answer.plan for id_, answer in self.answers.items()}

    def of(self, scenarios: Collection[str]) -> Comparison:
        """The same with the answers of some scenarios alone."""
        answers = {id_: answer for id_, answer in self.answers.items() if id_ in scenarios}
        return replace(self, answers=answers)

    def having(self, scenario: str, answer: Answer) -> Comparison:
        """The same with the answer of one scenario."""
        return replace(self, answers={**self.answers, scenario: answer})

    def with_each(self, change: Callable[[str, Answer], Answer]) -> Comparison:
        """The same with every answer, by the scenario's id, changed."""
        answers = {id_: change(id_, answer) for id_, answer in self.answers.items()}
        return replace(self, answers=answers)


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
    weeks = found[study.reference].weeks
    longer = {id_: replace(plan, weeks=weeks) for id_, plan in entered.items()}
    return gaps_read(longer, simulate)


def of_fewer_runs(plans: Mapping[str, Plan], most: int) -> dict[str, Plan]:
    """The plans with no more than so many seeded runs each."""
    return {id_: replace(plan, runs=min(plan.runs, most)) for id_, plan in plans.items()}


def compare(
    checked: Checked, simulate: Simulate, entered: Mapping[str, Plan] | None = None
) -> Comparison:
    """Answer a study without problems as typed: without likely ranges and what it could make."""
    return _compared(checked, plans_as_read(checked, simulate, entered), simulate)


def compare_quickly(
    checked: Checked,
    simulate: Simulate,
    entered: Mapping[str, Plan] | None = None,
    only: Collection[str] | None = None,
) -> Comparison:
    """A first answer, of one run of each scenario over the weeks that settling begins with.

    Of the scenarios ``only`` where they are given, and of those that they are measured against.
    """
    study = checked.study
    assert study is not None  # it has no problems
    plans = of_fewer_runs(plans_of(checked) if entered is None else entered, 1)
    wanted = {study.reference, study.today, *(plans if only is None else only)}
    metered = {meters.scenario for id_ in wanted if (meters := plans[id_].meters) is not None}
    needed = {id_: plan for id_, plan in plans.items() if id_ in wanted | metered}
    plans |= gaps_read(needed, simulate)
    return _compared(checked, plans, simulate, wanted)


def _compared(
    checked: Checked,
    plans: Mapping[str, Plan],
    simulate: Simulate,
    wanted: Collection[str] | None = None,
) -> Comparison:
    study = checked.study
    assert study is not None
    answers = answers_of(plans, study.reference, simulate, wanted)
    results = {id_: answer.figures for id_, answer in answers.items()}
    cautions = cautions_of({id_: plans[id_] for id_ in answers}, results, study.today)
    answers = {id_: replace(answer, cautions=cautions[id_]) for id_, answer in answers.items()}
    found = Comparison(study.title, study.reference, answers, study.units, study.today)
    return _with_meters(found, plans, simulate)


def _with_meters(found: Comparison, plans: Mapping[str, Plan], simulate: Simulate) -> Comparison:
    """The same comparison with what hour meters say beside the model (rule `meters.share`)."""
    held_in = dict.fromkeys(
        plan.meters.scenario for plan in found.plans.values() if plan.meters is not None
    )
    if not held_in:
        return found
    as_they_are = {id_: as_held(plans[id_]) for id_ in held_in}
    ahead(simulate, (run for plan in as_they_are.values() for run in runs_of(plan)))
    by_own = {
        id_: held_against(plans[id_], plain_figures(plan, simulate))
        for id_, plan in as_they_are.items()
    }

    def held(_: str, answer: Answer) -> Answer:
        meters = answer.plan.meters
        return answer if meters is None else replace(answer, metered=by_own[meters.scenario])

    return found.with_each(held)


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
    answers = {
        id_: _answer(plans[id_], here, plans[reference], measured[reference])
        for id_, here in measured.items()
    }
    return _with_money(answers, reference, simulate) if in_money(plans) else answers


def _with_money(
    answers: Mapping[str, Answer], reference: str, simulate: Simulate
) -> dict[str, Answer]:
    """The same answers with their money, and what misleads in it."""
    sides = {
        id_: Costed(answer.plan, answer.figures, answer.held) for id_, answer in answers.items()
    }
    base = sides[reference]
    if base.figures is None:
        return dict(answers)
    today = sides[base.prices.today]

    def paid(id_: str, answer: Answer) -> Answer:
        side = sides[id_]
        money, money_gaps_ = again(
            simulate,
            ("money", id_, answer.plan.weeks),
            (side, base, today),
            lambda: (money_of(side, base, today), money_gaps(side, base, today)),
        )
        return replace(answer, money=money, money_gaps=money_gaps_)

    return {
        id_: answer if answer.figures is None else paid(id_, answer)
        for id_, answer in answers.items()
    }


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


def with_likely(
    found: Comparison, simulate: Simulate, only: Collection[str] | None = None
) -> Comparison:
    """The same comparison with the likely range of every gain, or of those of some scenarios."""
    for more in likely_one_by_one(found, simulate, only):
        found = more
    return found


def likely_one_by_one(
    found: Comparison, simulate: Simulate, only: Collection[str] | None = None
) -> Iterator[Comparison]:
    """The same comparison with the ranges of one scenario more each time, the reference's first."""
    draws = Draws(found.plans, found.reference, simulate)
    order = tuple(dict.fromkeys((found.reference, *(found.answers if only is None else only))))
    draws.ahead(order)
    for id_ in order:
        found = found.having(id_, likely_answer(found, id_, draws))
        yield found


def likely_answer(found: Comparison, scenario: str, draws: Draws) -> Answer:
    """A scenario's answer with its likely ranges."""
    answer, moved = found.answers[scenario], draws.gains(scenario)
    likely = likely_of(moved, () if answer.settled else answer.halves)
    return replace(answer, likely=likely, drawn=moved)


def with_could_make(
    found: Comparison, simulate: Simulate, only: Collection[str] | None = None
) -> Comparison:
    """The same comparison with what could be made at most where all that is wanted is made."""
    wanted = found.answers if only is None else only
    could_make_ahead(found, wanted, simulate)
    return found.with_each(
        lambda id_, answer: could_make_answer(found, id_, simulate) if id_ in wanted else answer
    )


def could_make_ahead(found: Comparison, scenarios: Iterable[str], simulate: Simulate) -> None:
    """Say of which scenarios :func:`could_make_answer` will be asked for."""
    answers = [found.answers[id_] for id_ in scenarios]
    ahead(
        simulate,
        (
            window
            for answer in answers
            if answer.figures is not None and is_demand_met(answer.plan, answer.figures)
            for window in runs_of(flat_out(answer.plan))
        ),
    )


def could_make_answer(found: Comparison, scenario: str, simulate: Simulate) -> Answer:
    """A scenario's answer with what could be made at most, where all that is wanted is made."""
    answer = found.answers[scenario]
    if answer.figures is None:
        return answer
    value = worth(found.plans, scenario, found.reference)
    return replace(answer, could_make=could_make(answer.plan, answer.figures, simulate, value))


def with_gain_ranges(
    found: Comparison, simulate: Simulate, only: Collection[str] | None = None
) -> Comparison:
    """The same comparison with the gain's range where hour meters hold.

    The saleable gain is worked out with every gap read as people's, and again as machines',
    whatever the study lays it to.
    """
    plans = found.plans
    wanted = set(plans) if only is None else {*only, found.reference}
    own = [
        id_
        for id_ in plans
        if any((of := plans[each].meters) is not None and of.scenario == id_ for each in wanted)
    ]
    if not own:
        return found
    entered = {id_: without_reading(plan) for id_, plan in found.plans.items()}
    read: dict[str, list[GapAsRead]] = {id_: [] for id_ in found.answers}
    readings_ahead(entered, own, simulate)
    for kind in READINGS:
        pairs, constants = as_read(entered, found.reference, own, kind, simulate, wanted)
        for id_, (here, there) in pairs.items():
            meters, gain = found.answers[id_].plan.meters, gains(here, there).saleable
            if gain is not None and meters is not None and meters.scenario in constants:
                seconds = constants[meters.scenario].seconds
                read[id_].append(GapAsRead(kind, seconds, here.saleable, there.saleable, gain))
    return found.with_each(lambda id_, answer: replace(answer, gap_read=tuple(read[id_])))


def readings_ahead(plans: Mapping[str, Plan], shown: Sequence[str], simulate: Simulate) -> None:
    """Say that :func:`as_read` will be asked for each way to read the gaps."""
    tasks_ahead(simulate, (FindingReading(plans[id_], kind) for kind in READINGS for id_ in shown))


def as_read(
    plans: Mapping[str, Plan],
    reference: str,
    shown: Sequence[str],
    kind: str,
    simulate: Simulate,
    wanted: Collection[str] | None = None,
) -> tuple[dict[str, tuple[Figures, Figures]], dict[str, Reading]]:
    """As :func:`pairs_of`, with the gaps of ``shown`` read as ``kind``; and those readings."""
    found = readings(plans, dict.fromkeys(shown, kind), simulate)
    return pairs_of(with_readings(plans, found), reference, simulate, wanted), found


def with_rush(
    found: Comparison,
    pause: Pause,
    simulate: Simulate = run_anew,
    only: Collection[str] | None = None,
) -> Comparison:
    """The same comparison with every rush order tried out (rule `rush.trial`), and its range."""
    for more in rush_one_by_one(found, lambda done, of: pause(), simulate, only):
        found = more
    return found


def rush_one_by_one(
    found: Comparison,
    told: Told,
    simulate: Simulate = run_anew,
    only: Collection[str] | None = None,
) -> Iterator[Comparison]:
    """The same comparison with every rush order as typed, then with one scenario's ranges more.

    Of ``only`` some scenarios where these are given.
    """
    wanted = [plan for id_, plan in found.plans.items() if only is None or id_ in only]
    of = sum(trials_of(plan, order) for plan in wanted for order in plan.rush)
    done = 0

    def tried(trials: int) -> None:
        nonlocal done
        done += trials
        pause()

    def pause() -> None:
        told(done, of)

    def typed(id_: str, answer: Answer) -> Answer:
        plan = answer.plan
        if only is not None and id_ not in only:
            return answer
        return replace(
            answer,
            rush={order.id: try_rush(plan, order, pause, tried, simulate) for order in plan.rush},
        )

    tasks_ahead(
        simulate,
        (task for plan in wanted for order in plan.rush for task in trying(plan, order, simulate)),
    )
    found = found.with_each(typed)
    yield found
    for id_, answer in found.answers.items():
        rush = dict(answer.rush)
        for order in answer.plan.rush:
            arrival = rush.get(order.id)
            if isinstance(arrival, RushArrival):
                likely = likely_rush(answer.plan, order, pause, tried, simulate)
                rush[order.id] = replace(arrival, likely=likely)
        if rush:
            found = replace(found, answers={**found.answers, id_: replace(answer, rush=rush)})
            yield found


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
) -> Comparison:
    """Everything there is to say of a study without problems.

    Args:
        begins: hears of each stage.
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
    return with_rush(found, pause, simulate, only)
