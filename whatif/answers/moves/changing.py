"""One scenario with other values in it, against the reference (rule `moves.change`).

A value that both take from one place is tried in both, and the gain is then against the changed
reference; one that the scenario alone holds is tried in it alone. The reference itself is held
against itself as it stands: what is tried is a scenario below it in which only the new value is
entered.

Whether one try differs from another is told by the draws of the likely range, the same draws on
both sides: what is tried moves with the factor that its place has as it stands.
Prices stand beside the physics, so a changed price simulates nothing again where ``simulate``
remembers by content.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from hashlib import blake2b
from typing import Self

from typing_extensions import override

from whatif.answers.answer import Answer
from whatif.answers.caveats import Caveat
from whatif.answers.compare import answers_of, of_fewer_runs
from whatif.answers.gains import (
    gains,
    percent,
)
from whatif.answers.meters.reading import gaps_read
from whatif.answers.moves.held import held
from whatif.answers.moves.inputs import Unanswerable, resolved_of
from whatif.answers.moves.trial import AsItStands, AskedAbout, Gained, Level, Trial
from whatif.answers.running import (
    ALL_RUNS,
    figures_once,
    mean_saleable,
    run_once,
    runs_of,
    saleable_once,
)
from whatif.answers.settling import settled
from whatif.answers.simulate import Pause, Simulate, Task, again, ahead, done, each_done
from whatif.plan.build import is_in_money, plans_of, with_metered
from whatif.plan.draws import MOST_WEEKS as MOST_OF_A_DRAW
from whatif.plan.draws import drawn_plan
from whatif.plan.model import Plan, Worth, in_money, worth
from whatif.records import dataclass
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits import SetValue
from whatif.study.problem import Problem
from whatif.study.raw import Path, Raw
from whatif.study.refused import HasProblem
from whatif.study.schema.catalogue import dotted
from whatif.study.stated import Stated

FEW_DRAWS, FEWEST_DRAWS = 5, 3
"""Draws by which two tries are told apart: fewer than a gain's own likely range has, since what is
compared has the same luck; the fewest where there are many tries."""

MOST_WEEKS = 6_000
"""Weeks that one question may simulate before it makes do with fewer seeded runs or draws.

A minute or so of work on a common machine. Told by a number of weeks and never by time, so that the
same question has the same answer everywhere.
"""


@dataclass(frozen=True, slots=True)
class Made:
    """Draws that have been made."""

    answers: tuple[Answer, ...]

    def __call__(self) -> tuple[Answer, ...]:
        """What a :class:`Trial` asks for."""
        return self.answers


@dataclass(frozen=True)
class Drawing:
    """Draws of the plans of a try that are made once they are asked for."""

    trials: Trials
    plans: Mapping[str, Plan]
    scenario: str

    def __call__(self) -> tuple[Answer, ...]:
        """What a :class:`Trial` asks for."""
        return self.trials.draws(self.plans, self.scenario)


class Trials:
    """Tries values of a scenario; raises :class:`Unanswerable` where there is nothing to try.

    Whoever has many to try may have them tried by others (:class:`Attempt`): it can be sent, though
    not whoever simulates for it (:meth:`using`).
    """

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
        self._worth = worth(plans, scenario, self._reference)
        self._most_runs = ALL_RUNS
        # What is tried is measured as long as the study as it stands.
        read = gaps_read(plans, simulate)
        self._weeks = settled(read, self._reference, simulate)[scenario].weeks
        self._warm_up = plan.warm_up
        self._as_it_stands = {id_: each.stated for id_, each in plans.items()}
        self.asked = AskedAbout(
            scenario=scenario,
            title=plan.title,
            against=base.title,
            is_reference=scenario == self._reference,
            runs=plan.runs,
            of_runs=plan.runs,
            draws=min(FEW_DRAWS, base.draws),
            of_draws=base.draws,
            weeks=self._weeks,
            in_money=in_money(plans),
            is_metered=plan.meters is not None,
        )
        self._base: Trial | None = None
        self._drafts = blake2b(pickle.dumps(draft)).digest()
        self._packed: tuple[Hashable, bytes] | None = None

    @property
    def key(self) -> Hashable:
        """By which its tries are known: one of the same draft, scenario, runs and draws."""
        return self._drafts, self._scenario, self._most_runs, self.asked.draws

    def using(self, simulate: Simulate) -> Self:
        """The same with somebody else who simulates."""
        return self._but(_simulate=simulate)

    def _but(self, **other: object) -> Self:
        """A copy in which some of its own is other."""
        found = object.__new__(type(self))
        vars(found).update(vars(self), **other)
        return found

    def __reduce__(self) -> tuple[Callable[..., Trials], tuple[object, bytes]]:
        """Sent without whoever simulates; with hundreds of tries it is packed once."""
        if self._packed is None or self._packed[0] != self.key:
            state = {**vars(self), "_simulate": None, "_base": None, "_packed": None}
            self._packed = self.key, pickle.dumps(state, pickle.HIGHEST_PROTOCOL)
        return _unpacked, (type(self), self._packed[1])

    @property
    def base(self) -> Trial:
        """The scenario as it stands, with its draws; to be asked for once tries are expected."""
        if self._base is None:
            self._base = done(self._simulate, Attempt(self, (), drawn=True), lambda: None)
        return self._base

    def expect(self, tries: int) -> None:
        """Tell how many tries there will be: fewer runs and draws are used where they are many."""
        tries = max(1, tries)
        self._most_runs = max(1, MOST_WEEKS // (tries * (self._warm_up + self._weeks)))
        of_a_draw = 2 * tries * (self._warm_up + min(self._weeks, MOST_OF_A_DRAW))
        draws = max(FEWEST_DRAWS, min(FEW_DRAWS, MOST_WEEKS // of_a_draw))
        runs = min(self.asked.of_runs, self._most_runs)
        self.asked = replace(self.asked, runs=runs, draws=min(self.asked.of_draws, draws))

    def attempt(self, changes: Mapping[Path, Raw]) -> Trial:
        """The scenario with other values."""
        found = self._tried(changes, warned=True)
        if isinstance(found, Problem):
            return Trial(found)
        plans, id_ = found
        drawing = Drawing(self, plans, id_)
        answer = answers_of(plans, self._reference, self._simulate)[id_]
        return Trial(None, answer, drawing, by_few=self.asked.draws < self.asked.of_draws)

    def gained(self, changes: Mapping[Path, Raw]) -> Gained:
        """The saleable gain alone with other values, of which a ranking tries hundreds."""
        found = self._tried(changes, warned=False)
        if isinstance(found, Problem):
            return Gained(found)
        plans, id_ = found
        sides = [plans[name] for name in (id_, self._reference)]
        ahead(self._simulate, (run for plan in sides for run in runs_of(plan)))
        itself = None
        if plans[id_].cell is not None:
            # What is tried may move what a piece is worth: it is told in what holds as it stands.
            itself = mean_saleable(plans[id_], self._simulate, self._worth)
        return Gained(None, self._gain(plans, id_, mean_saleable), itself)

    def gained_in_draws(self, changes: Mapping[Path, Raw]) -> tuple[float | None, ...]:
        """The same in each draw; none where the values are not allowed."""
        found = self._tried(changes, warned=False)
        return () if isinstance(found, Problem) else self._drawn_gains(*found)

    def _changed(self, changes: Mapping[Path, Raw]) -> tuple[Draft, str]:
        """The draft of a try, and the id of the scenario to look at."""
        return changed(self._draft, self._scenario, changes)

    def _tried(
        self, changes: Mapping[Path, Raw], *, warned: bool
    ) -> Problem | tuple[dict[str, Plan], str]:
        """The plans of a try and the scenario to look at, or why it is not allowed."""
        draft, id_ = self._changed(changes)
        checked = check(draft)
        if not checked.is_sound:
            return _of_any(checked.problems[0], id_, changes)
        return self._pair(checked, id_, changes, warned=warned), id_

    def attempt_each(self, tries: Sequence[Mapping[Path, Raw]], *, drawn: bool) -> Iterator[Trial]:
        """Each of many tries, in their order, with its draws where all of them will be wanted."""
        attempts = [Attempt(self, tuple(changes.items()), drawn) for changes in tries]
        for trial in each_done(self._simulate, attempts, lambda: None):
            draw = trial.draw
            yield (
                replace(trial, draw=replace(draw, trials=self))
                if isinstance(draw, Drawing)
                else trial
            )

    def draws(self, plans: Mapping[str, Plan], id_: str) -> tuple[Answer, ...]:
        """The answer of each draw of the plans of a try."""
        return tuple(self._drawn(each, id_) for each in self._draws(plans, id_))

    def as_it_stands(self) -> AsItStands:
        """The reference without what is tried, by which it is told what brings most."""
        found = self._tried({}, warned=False)
        assert not isinstance(found, Problem)  # or there would be nothing to try
        plans, id_ = found
        plan = plans[self._reference]
        if plan.cell is None:
            return AsItStands(Level(None, None), ())
        ahead(self._simulate, runs_of(plan))
        drawn = self._draws(plans, self._reference)
        return AsItStands(
            self._level(plans, id_, mean_saleable),
            tuple(self._level(each, id_, saleable_once) for each in drawn),
        )

    def _level(
        self,
        plans: Mapping[str, Plan],
        id_: str,
        saleable: Callable[[Plan, Simulate, Worth], float],
    ) -> Level:
        worths = [worth(plans, name, self._reference) for name in (id_, self._reference)]
        found = saleable(plans[self._reference], self._simulate, worths[1])
        return Level(found, None if self.asked.in_money else worths[0])

    def _draws(self, plans: Mapping[str, Plan], id_: str) -> list[dict[str, Plan]]:
        """The plans in each draw, their runs said ahead; none where a side is not simulated."""
        sides = tuple(dict.fromkeys((id_, self._reference)))
        if any(plans[name].cell is None for name in sides):
            return []
        drawn = [
            {name: drawn_plan(plan, draw) for name, plan in plans.items()}
            for draw in range(1, self.asked.draws + 1)
        ]
        ahead(self._simulate, (run_once(each[name]) for each in drawn for name in sides))
        return drawn

    def _drawn_gains(self, plans: Mapping[str, Plan], id_: str) -> tuple[float | None, ...]:
        """The saleable gain alone of each draw of the plans of a try."""
        return tuple(self._gain(each, id_, saleable_once) for each in self._draws(plans, id_))

    def caveats(self, base: Trial | None = None) -> tuple[Caveat, ...]:
        """What the gain rests on as the scenario stands; ``base`` is that, where it was tried.

        The reference has no gain.
        """
        if self.asked.is_reference:
            return ()
        answer = (base or self.attempt({})).answer
        return () if answer is None else answer.caveats

    def _gain(
        self,
        plans: Mapping[str, Plan],
        id_: str,
        saleable: Callable[[Plan, Simulate, Worth], float],
    ) -> float | None:
        """The saleable gain of the plans of a try, or of one of its draws."""
        sides = [plans[name] for name in (id_, self._reference)]
        if any(plan.cell is None for plan in sides):
            return None
        here, there = (
            saleable(plan, self._simulate, worth(plans, plan.scenario, self._reference))
            for plan in sides
        )
        return percent(here, there)

    def _drawn(self, drawn: Mapping[str, Plan], id_: str) -> Answer:
        """The figures and gains of a draw; its money is not asked for."""
        value = worth(drawn, id_, self._reference)
        here = figures_once(drawn[id_], self._simulate, value)
        # That of the reference is mostly that of the try before.
        plan, value = drawn[self._reference], worth(drawn, self._reference, self._reference)
        there = again(
            self._simulate,
            ("draw", self._reference, None if plan.cell is None else plan.cell.luck),
            (plan, value),
            lambda: figures_once(plan, self._simulate, value),
        )
        return Answer(drawn[id_], said=None, figures=here, gains=gains(here, there))

    def _pair(
        self, checked: Checked, id_: str, changes: Mapping[Path, Raw], *, warned: bool
    ) -> dict[str, Plan]:
        """The plans of the scenario, the reference and today, hour meters' gaps worked in."""
        pair = {self._reference, id_, self._today}
        plans = plans_of(checked, only=with_metered(checked, pair), warned=warned)
        plans = of_fewer_runs(plans, self._most_runs)
        read = {
            name: replace(plan, stated=self._stated(plan, changes)) for name, plan in plans.items()
        }
        read = gaps_read(read, self._simulate)
        # Worth is money where any scenario has a contribution, also one that is not answered.
        paid = is_in_money(checked)
        return {
            name: replace(read[name], contributes=paid, weeks=self._weeks)
            for name in read
            if name in pair
        }

    def _stated(self, plan: Plan, changes: Mapping[Path, Raw]) -> Mapping[Path, Stated]:
        """What is drawn of a plan: what is tried is known as well as what it stands for."""
        as_it_stands = self._as_it_stands.get(plan.scenario) or self._as_it_stands[self._scenario]
        found = dict(plan.stated)
        for path in changes:
            now, before = found.get(path), as_it_stands.get(path)
            if now is not None and before is not None:
                found[path] = replace(before, value=now.value)
            elif now is not None:
                found[path] = replace(now, scenario="")
        return found


@lru_cache(maxsize=2)
def _unpacked(sort: type[Trials], packed: bytes) -> Trials:
    """One that was sent: for all its tries the same, so that what an edit leaves alone is too."""
    found = object.__new__(sort)
    vars(found).update(pickle.loads(packed))
    return found


@dataclass(frozen=True)
class Attempt(Task[Trial]):
    """A try that somebody else may make, with its draws where they are wanted."""

    trials: Trials
    changes: tuple[tuple[Path, Raw], ...]
    drawn: bool

    @property
    @override
    def key(self) -> Hashable:
        return self.trials.key, repr(self.changes), self.drawn

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> Trial:
        """The try."""
        trial = self.trials.using(simulate).attempt(dict(self.changes))
        if trial.answer is None:
            return Trial(trial.problem)
        return replace(trial, draw=Made(trial.drawn)) if self.drawn else trial


def changed(draft: Draft, scenario: str, changes: Mapping[Path, Raw]) -> tuple[Draft, str]:
    """The draft with other values, and the id of the scenario to look at.

    For the reference that is a new scenario below it. Raises
    :class:`~whatif.study.edits.EditError` where a value's place does not exist.
    """
    if scenario == draft.reference_id:
        draft, scenario = _below_reference(draft, scenario, changes)
        places: dict[Path, tuple[str, ...]] = dict.fromkeys(changes, (scenario,))
    else:
        places = {path: held(draft, scenario, path).places for path in changes}
    for path, raw in changes.items():
        for place in places[path]:
            draft = SetValue(place, path, raw).apply(draft)
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


def _of_any(problem: Problem, scenario: str, changes: Mapping[Path, Raw]) -> Problem:
    """A problem of the values that are tried has no other place than these."""
    is_of_them = problem.key in {dotted(path) for path in changes}
    return (
        replace(problem, scenario=None) if is_of_them or problem.scenario == scenario else problem
    )
