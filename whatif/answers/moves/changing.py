"""One scenario with other values in it, against the reference (rule `moves.change`).

A changed value changes the scenario as an edit would, and the reference too where that inherits
from it; the gain is then against the changed reference. The reference itself is held against
itself as it stands: what is tried is a scenario below it in which only the new value is entered.
Prices stand beside the physics, so a changed price simulates nothing again where ``simulate``
remembers by content.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from whatif.answers.compare import ALL_RUNS, Answer, answers_of, of_fewer_runs
from whatif.answers.gains import NO_GAIN, Gains, differs, likely_of, tolerance_of
from whatif.answers.likely import Draws
from whatif.answers.limits import HeldBack
from whatif.answers.meters.reading import gaps_read
from whatif.answers.money.money import MoneyFigures
from whatif.answers.moves.inputs import Unanswerable, Value, resolved_of
from whatif.answers.running import Simulate, powered
from whatif.answers.settling import settled
from whatif.plan.build import plans_of
from whatif.plan.model import Plan, in_money
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits import SetValue
from whatif.study.problem import Problem
from whatif.study.raw import Path, Raw
from whatif.study.refused import HasProblem

MOST_WEEKS = 6_000
"""Weeks that one question may simulate before it makes do with fewer seeded runs.

A minute or so of work on a common machine. Told by a number of weeks and never by time, so that the
same question has the same answer everywhere.
"""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one try brought; figures are a week's.

    Attributes:
        problem: why the value is not allowed, None where it is; then there are no figures.
        gains: percent against the reference; of the reference itself, against it as it stands.
        tolerance: points by which gains have to differ to be told apart.
        saleable: output that is wanted, in money or in the reference's cycle minutes.
        least_met: percent of the demand met of the part furthest behind; None where none is due.
        held_back: what holds it back; more pallets without more fixtures show here.
    """

    problem: Problem | None = None
    gains: Gains = NO_GAIN
    tolerance: Gains = NO_GAIN
    saleable: float | None = None
    spindle_hours: float | None = None
    pieces: Mapping[str, float] = field(default_factory=dict)
    demand_met: Mapping[str, float | None] = field(default_factory=dict)
    least_met: float | None = None
    money: MoneyFigures | None = None
    held_back: HeldBack | None = None


@dataclass(frozen=True, slots=True)
class Point:
    """A value and what it brought."""

    value: Value
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class AskedAbout:
    """Which scenario was asked about, and how it was answered.

    Attributes:
        against: title of what it is held against.
        is_reference: whether that is the scenario itself as it stands.
        runs, of_runs: seeded runs used, and those of the study; both 1 without stops.
        in_money: whether output is in money rather than in cycle minutes.
    """

    scenario: str
    title: str
    against: str
    is_reference: bool
    runs: int
    of_runs: int
    in_money: bool


Figure = Callable[[Answer], float | None]


@dataclass(frozen=True, slots=True)
class Trial:
    """The scenario answered with other values in it.

    Attributes:
        answer: None where there is a problem.
        known: how to find half the likely range of the scenario's gains as they stand.
    """

    problem: Problem | None
    answer: Answer | None = None
    known: Callable[[], Gains] = lambda: NO_GAIN

    @property
    def tolerance(self) -> Gains:
        """Half the likely range of the scenario's gains as they stand, in points."""
        return self.known()

    def figure(self, of: Figure) -> float | None:
        """One figure of the answer."""
        return None if self.answer is None else of(self.answer)

    @property
    def outcome(self) -> Outcome:
        """The figures, and how far gains have to differ."""
        answer = self.answer
        if answer is None:
            return Outcome(self.problem)
        found = answer.figures
        return Outcome(
            gains=answer.gains,
            tolerance=self.tolerance,
            saleable=None if found is None else found.saleable,
            spindle_hours=None if found is None else found.spindle.total,
            pieces={} if found is None else found.pieces,
            demand_met={} if found is None else found.demand_met,
            least_met=None if found is None else found.least_met,
            money=answer.money,
            held_back=answer.held_back,
        )


def saleable(answer: Answer) -> float | None:
    """Saleable output of an answer."""
    return None if answer.figures is None else answer.figures.saleable


def difference(here: Trial, there: Trial, of: Figure = saleable) -> float | None:
    """How much more of a figure one try has than another; None where a side is missing."""
    figure, other = here.figure(of), there.figure(of)
    return None if figure is None or other is None else figure - other


def saleable_gain(answer: Answer) -> float | None:
    """Saleable gain of an answer."""
    return answer.gains.saleable


def betters(here: Trial, there: Trial) -> bool:
    """Whether one try has more saleable output than another, by no less than what is tolerated.

    It is the gains that are told apart; where the reference makes nothing there are none, and
    the output itself is.
    """
    gain = difference(here, there, saleable_gain)
    if gain is not None:
        return gain > 0 and differs(gain, here.tolerance.saleable or 0.0)
    output = difference(here, there)
    return output is not None and output > 0


class Trials:
    """Tries values of a scenario; raises :class:`Unanswerable` where there is nothing to try."""

    def __init__(self, draft: Draft, scenario: str, simulate: Simulate) -> None:
        self._draft, self._scenario, self._simulate = draft, scenario, simulate
        checked = check(draft)
        study = checked.study
        if study is None:
            raise Unanswerable(HasProblem(checked.problems[0]))
        resolved_of(draft, scenario)
        plans = plans_of(checked)
        plan, self._reference, self._today = plans[scenario], study.reference, study.today
        if plan.cell is None:
            raise Unanswerable("no parts", plan.title)
        base = plans[self._reference]
        self._most_runs = ALL_RUNS
        # What is tried is measured as long as the study as it stands.
        read = gaps_read(plans, lambda of: powered(of, simulate))
        self._weeks = settled(read, self._reference, simulate)[scenario].weeks
        self._warm_up = plan.warm_up
        self.asked = AskedAbout(
            scenario=scenario,
            title=plan.title,
            against=base.title,
            is_reference=scenario == self._reference,
            runs=plan.runs,
            of_runs=plan.runs,
            in_money=in_money(plans),
        )

    def expect(self, tries: int) -> None:
        """Tell how many tries there will be: so many seeded runs fewer are used where needed."""
        weeks_a_run = max(1, tries) * (self._warm_up + self._weeks)
        self._most_runs = max(1, MOST_WEEKS // weeks_a_run)
        runs = min(self.asked.of_runs, self._most_runs)
        self.asked = replace(self.asked, runs=runs)

    def attempt(self, changes: Mapping[Path, Raw]) -> Trial:
        """The scenario with other values."""
        draft, id_ = changed(self._draft, self._scenario, changes)
        checked = check(draft)
        if checked.study is None:
            return Trial(_of_any(checked.problems[0], id_))
        answer = answers_of(self._pair(checked, id_), self._reference, self._simulate)[id_]
        return Trial(None, answer, lambda: self.tolerance)

    @cached_property
    def tolerance(self) -> Gains:
        """Half the likely range of the scenario's gains as they stand, in points."""
        draft, id_ = changed(self._draft, self._scenario, {})
        draws = Draws(self._pair(check(draft), id_), self._reference, self._simulate)
        return tolerance_of(likely_of(draws.gains(id_)))

    def _pair(self, checked: Checked, id_: str) -> dict[str, Plan]:
        """The plans of the scenario, the reference and today, hour meters' gaps worked in."""
        plans = of_fewer_runs(plans_of(checked), self._most_runs)
        pair = {self._reference, id_, self._today}
        needed = pair | {
            meters.scenario for name in pair if (meters := plans[name].meters) is not None
        }
        read = {name: plan for name, plan in plans.items() if name in needed}
        read = gaps_read(read, lambda plan: powered(plan, self._simulate))
        # Worth is money where any scenario has a contribution, also one that is not answered.
        paid = in_money(plans)
        return {
            name: replace(read[name], contributes=paid, weeks=self._weeks)
            for name in read
            if name in pair
        }


def changed(draft: Draft, scenario: str, changes: Mapping[Path, Raw]) -> tuple[Draft, str]:
    """The draft with other values, and the id of the scenario that has them.

    For the reference that is a new scenario below it. Raises
    :class:`~whatif.study.edits.EditError` where a value's place does not exist.
    """
    if scenario == draft.reference_id:
        draft, scenario = _below_reference(draft, scenario, changes)
    for path, raw in changes.items():
        draft = SetValue(scenario, path, raw).apply(draft)
    return draft, scenario


def _below_reference(
    draft: Draft, reference: str, changes: Mapping[Path, Raw]
) -> tuple[Draft, str]:
    id_ = f"{reference}_tried"
    while draft.has(id_):
        id_ += "_"
    entered: dict[Path, Raw] = {("parent",): reference}
    if any(path[0] == "hour_meters" for path in changes):
        # Meters are not inherited, and what is asked is what other readings would mean.
        entered |= {
            path: raw
            for path, raw in draft.scenario(reference).entered.items()
            if path[0] == "hour_meters"
        }
    tried = ScenarioDraft(id_, entered)
    return replace(draft, scenarios=(*draft.scenarios, tried)), id_


def _of_any(problem: Problem, scenario: str) -> Problem:
    """A problem of the scenario in which values are tried has no other place than these."""
    return replace(problem, scenario=None) if problem.scenario == scenario else problem
