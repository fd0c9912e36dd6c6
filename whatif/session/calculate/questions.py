"""What views ask beside the comparison: each is worked out in the calculating process."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.records import dataclass
from whatif.session.calculate.requests import AtOnce, Material, Question

if TYPE_CHECKING:
    from whatif.answers.doubts import Tried
    from whatif.answers.meters.afterwards import Afterwards
    from whatif.answers.meters.metered import Metered
    from whatif.answers.moves.break_even import BreakEven, Target
    from whatif.answers.moves.sensitivity import Ranking
    from whatif.answers.moves.vary import Curve, Grid
    from whatif.answers.night.of_study import StudyNights
    from whatif.answers.night.pallets import Fewest
    from whatif.answers.on_table import OnTable
    from whatif.answers.search.search import NextSteps
    from whatif.answers.week import Week
    from whatif.readings.understood import Understood
    from whatif.study.raw import Path


@dataclass(frozen=True, slots=True)
class WeekOf(Question):
    """A week of a scenario, from 1; one beyond those measured is taken to be the last of them."""

    scenario: str
    number: int

    @override
    def at_once(self, material: Material) -> AtOnce | None:
        """The week itself, where it hangs on no other scenario but how many are measured does."""
        from whatif.answers.week_of_study import has_gap_laid, week_of_study

        answer = material.found.answers.get(self.scenario)
        if answer is None:
            return None  # it is known in a moment, as nothing of it has changed
        plan = answer.plan
        if not plan.groups or (plan.settled and (self.number > plan.weeks or has_gap_laid(plan))):
            return None
        number = min(self.number, plan.weeks)
        checked, simulate, told = material.checked, material.simulate, material.told
        found = week_of_study(checked, self.scenario, number, simulate, told)
        return None if found is None else AtOnce(found, is_whole=not found.may_be_more)

    @override
    def work_out(self, material: Material) -> Week:
        """The week as it is compared, with what hour meters say of people or machines."""
        from whatif.answers.moves.inputs import Unanswerable
        from whatif.answers.week import Week, week

        plan = material.found.answers[self.scenario].plan
        if isinstance(material.at_once, Week):
            return replace(material.at_once, weeks=plan.weeks, may_be_more=False)
        found = week(plan, min(self.number, plan.weeks), material.told) if plan.groups else None
        if found is None:
            raise Unanswerable("no part wanted here" if plan.groups else "no machine here")
        return found


@dataclass(frozen=True, slots=True)
class NightsOf(Question):
    """The nights of some scenarios, without the search for pallets."""

    scenarios: tuple[str, ...]

    def work_out(self, material: Material) -> StudyNights:
        """Nights by scenario, in the order asked."""
        from whatif.answers.night.night import following, steps
        from whatif.answers.night.of_study import StudyNights, nights_alone
        from whatif.answers.simulate import tasks_ahead

        study = material.checked.study
        assert study is not None  # a question is asked of studies without problems only
        plans = {id_: material.found.answers[id_].plan for id_ in self.scenarios}
        of = sum(steps(plan) for plan in plans.values())
        before = 0

        def told(done: int, _of: int) -> None:
            material.told(before + done, of)

        found = {}
        tasks_ahead(material.simulate, (run for plan in plans.values() for run in following(plan)))
        for id_, plan in plans.items():
            found[id_] = nights_alone(plan, told, material.simulate)
            before += steps(plan)
        return StudyNights(study.title, found)


@dataclass(frozen=True, slots=True)
class PalletsThatLast(Question):
    """The fewest pallets with which each machine group of a scenario lasts the night."""

    scenario: str

    def work_out(self, material: Material) -> tuple[Fewest, ...]:
        """One entry a machine group and like nights; none where there are no nights."""
        from whatif.answers.night.pallets import fewest

        plan = material.found.answers[self.scenario].plan
        return fewest(plan, material.told, material.simulate, filling=True)


@dataclass(frozen=True, slots=True)
class CurveFound:
    """A curve, and where it is level with the reference; None where that was not looked for.

    Attributes:
        wanted: where the gain is reached that was asked for; None where none was, or not yet.
    """

    curve: Curve
    level: BreakEven | None
    wanted: BreakEven | None = None


@dataclass(frozen=True, slots=True)
class RankingOf(Question):
    """The inputs of a scenario by what they do to its gain; what is known so far is told."""

    scenario: str

    def work_out(self, material: Material) -> Ranking:
        """All inputs ranked."""
        from whatif.answers.moves.sensitivity import sensitivity

        return sensitivity(
            material.draft, self.scenario, material.simulate, material.told, material.partly
        )


@dataclass(frozen=True, slots=True)
class NextStepsFrom(Question):
    """The best next step from a scenario on; ``goal`` as it is typed, "" for what is lacking."""

    scenario: str
    goal: str = ""

    def work_out(self, material: Material) -> NextSteps:
        """What nothing that was tried beats; the front of each stage is told before."""
        from whatif.answers.search.goal import read_goal
        from whatif.answers.search.search import Wish, search

        wish = Wish(read_goal(self.goal) if self.goal else None)
        return search(
            material.draft, self.scenario, material.simulate, material.told, wish, material.partly
        )


@dataclass(frozen=True, slots=True)
class CurveOf(Question):
    """A scenario over the values of one input, given as texts.

    Attributes:
        wanted: a gain in percent whose values are looked for too; 0 for none.
        is_typed: whether the range was typed, beyond which nothing is looked for then.
    """

    scenario: str
    path: Path
    values: tuple[str, ...]
    wanted: float = 0.0
    is_typed: bool = False

    def work_out(self, material: Material) -> CurveFound:
        """The curve first, since the search for the break-even finds its runs remembered."""
        from whatif.answers.moves.break_even import LEVEL, Target
        from whatif.answers.moves.vary import vary

        curve = vary(
            material.draft,
            self.scenario,
            self.path,
            self.values,
            material.simulate,
            material.told,
        )
        material.partly(CurveFound(curve, None))
        target = self._target(material)
        is_itself = target == LEVEL and curve.asked.is_reference
        level = None if is_itself else self._level(material, target)
        if not self.wanted:
            return CurveFound(curve, level)
        material.partly(CurveFound(curve, level))
        return CurveFound(curve, level, self._level(material, Target("gain", self.wanted)))

    def _target(self, material: Material) -> Target:
        """Level with the reference, as said too; for what is only money, paid back in the years."""
        from whatif.answers.moves.break_even import LEVEL, Target
        from whatif.answers.moves.inputs import find_input

        prices = material.found.answers[self.scenario].plan.prices
        input_ = find_input(material.draft, self.scenario, self.path)
        said = material.found.answers[self.scenario].said
        if input_.is_said and said is not None:
            base = material.found.answers[material.found.reference].said
            other = said if base is None or self.scenario == material.found.reference else base
            return Target("said", round(other.hours_per_day, 3))
        if prices is None or not input_.is_money or input_.key.name == "contribution":
            return LEVEL
        return Target("payback", float(prices.years))

    def _level(self, material: Material, target: Target) -> BreakEven | None:
        from whatif.answers.moves.break_even import break_even
        from whatif.answers.moves.inputs import Unanswerable

        values = f"{self.values[0]}..{self.values[-1]}"
        # Where nobody has typed a range it is looked at as far as by command.
        for span in (values,) if self.is_typed else ("", values):
            try:
                return break_even(
                    material.draft,
                    self.scenario,
                    self.path,
                    target,
                    material.simulate,
                    material.told,
                    span,
                )
            except Unanswerable:
                continue
        return None  # the curve says what there is to say


@dataclass(frozen=True, slots=True)
class GridOf(Question):
    """A scenario over the values of two inputs, given as texts."""

    scenario: str
    down: Path
    values_down: tuple[str, ...]
    across: Path
    values_across: tuple[str, ...]

    def work_out(self, material: Material) -> Grid:
        """A row for each value of the first."""
        from whatif.answers.moves.vary import grid

        return grid(
            material.draft,
            self.scenario,
            self.down,
            self.values_down,
            self.across,
            self.values_across,
            material.simulate,
            material.told,
        )


@dataclass(frozen=True, slots=True)
class UnderDoubts(Question):
    """The verdict over some scenarios, tried again under what a meeting doubts first."""

    scenarios: tuple[str, ...]

    def work_out(self, material: Material) -> tuple[Tried, ...]:
        """One entry a doubt; those that are known are told before."""
        from whatif.answers.doubts import tried_under_doubts

        return tried_under_doubts(
            material.draft, self.scenarios, material.simulate, material.told, material.partly
        )


@dataclass(frozen=True, slots=True)
class MetersOfStudy(Question):
    """The hour meters of every scenario that has some."""

    def work_out(self, material: Material) -> tuple[Metered, ...]:
        """One entry a scenario with meters."""
        from whatif.answers.meters.metered import metered

        return metered(material.found, material.simulate, material.told)


@dataclass(frozen=True, slots=True)
class ReadingsFound:
    """What was understood of a document, and what it says of a scenario that is done.

    Attributes:
        understood: None where the document was not, and then ``fault`` says why, line by line.
        afterwards: None where the scenario is not done, or no whole week has been measured since.
    """

    understood: Understood | None
    fault: tuple[str, ...] = ()
    afterwards: Afterwards | None = None


@dataclass(frozen=True, slots=True)
class ReadingsOf(Question):
    """Files or web addresses of readings, read together, for a scenario.

    Attributes:
        number: how many times has been asked: an edit does not read them again.
    """

    sources: tuple[str, ...]
    scenario: str
    number: int

    def work_out(self, material: Material) -> ReadingsFound:
        """What is understood of them; documents are waited for no longer than ten seconds."""
        from whatif.answers.meters.afterwards import Afterwards, MeasuredWeek, foretold_of_study
        from whatif.readings.weeks import whole_weeks

        found = _understood(self.sources, self.number)
        done_on = material.checked.resolved[self.scenario].value("done_on")
        if found.understood is None or done_on is None:
            return found
        weeks = tuple(
            MeasuredWeek(day, hours.on, hours.cut, hours.unavailable + hours.gap)
            for day, hours in whole_weeks(found.understood, done_on)
        )
        foretold = None
        if weeks:
            foretold = foretold_of_study(material.checked, self.scenario, material.simulate)
        if foretold is None:
            return found
        machines = len(found.understood.metered)
        return replace(found, afterwards=Afterwards(foretold, done_on, machines, weeks))


_SECONDS = 10.0
"""After which web addresses are given up: nothing else is worked out meanwhile."""


@lru_cache(maxsize=2)
def _understood(sources: tuple[str, ...], number: int) -> ReadingsFound:
    from whatif.readings.fault import Unreadable
    from whatif.readings.understood import understand
    from whatif.telling.readings import unreadable_lines

    try:
        return ReadingsFound(understand(sources, seconds=_SECONDS / len(sources)))
    except Unreadable as fault:
        return ReadingsFound(None, tuple(unreadable_lines(fault)))


@dataclass(frozen=True, slots=True)
class OnTableOf(Question):
    """A part on a machine of a scenario, and how it lies on others ``beside`` it.

    ``units`` are those that it is told in, "metric" or "inch".
    """

    scenario: str
    part: str
    group: str
    beside: tuple[str, ...] = ()
    units: str = "metric"

    @override
    def at_once(self, material: Material) -> AtOnce:
        """All of it, since nothing is run."""
        return AtOnce(self.work_out(material), is_whole=True)

    @override
    def work_out(self, material: Material) -> tuple[OnTable, ...]:
        """The layout on each, the limits, and what would have to change on the first."""
        from whatif.answers.on_table import on_tables

        study = material.checked.study
        assert study is not None  # a question is asked of studies without problems only
        answer = material.found.answers.get(self.scenario)
        known = {} if answer is None else answer.plan.fits.get(self.part, {})
        scenario = study.scenarios[self.scenario]
        return on_tables(scenario, self.part, self.group, self.beside, known, self.units)
