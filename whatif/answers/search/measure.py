"""What one combination of levers brings, in a short run or in full (rule `search.measure`)."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import replace

from typing_extensions import override

from whatif.answers.caveats import Caveat
from whatif.answers.compare import answers_of
from whatif.answers.figures import Figures, figures_of
from whatif.answers.gains import percent
from whatif.answers.limits import HeldBack
from whatif.answers.money.capital import Costed, capital_of
from whatif.answers.money.missing import Missing, not_priced
from whatif.answers.money.year import prices_of, year_of
from whatif.answers.moves.changing import Trials
from whatif.answers.orders.orders import Ordered, ordered, promises
from whatif.answers.running import run_once
from whatif.answers.search.options import making
from whatif.answers.simulate import Pause, Simulate, Task, ahead
from whatif.plan.model import Plan, in_money, worth
from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.problem import Problem
from whatif.study.raw import Path, Raw

SHORT_WEEKS = 8
"""Weeks of a short run: it tells what is worth a full one."""


@dataclass(frozen=True, slots=True)
class Brought:
    """What a combination brings and takes.

    Attributes:
        gain: saleable, in percent against the reference; None where that makes nothing.
        saleable: output a week that is wanted.
        least_met: percent of the demand met of the part furthest behind; None where none is due.
        on_time: percent of the real orders; None where there are none.
        once, yearly: money once and a year against the scenario that the search starts from:
            machines, pallets, fixtures, one-off, and yearly costs, floor, wages as far as they
            are entered.
        hours: of people paid a week, which stand beside that whether they have a wage or not.
        year_gain: what a year brings more than the start's, wages paid; None without money.
        levers: how many there are in it.
        open_levers: of how many of them nobody has said what they cost; money is told as far as it
            is known.
    """

    gain: float | None
    saleable: float
    least_met: float | None
    on_time: float | None
    once: float
    yearly: float
    hours: float
    year_gain: float | None
    levers: int = 0
    open_levers: int = 0

    @property
    def is_priced(self) -> bool:
        """Whether all of it has a price."""
        return not self.open_levers

    @property
    def first_year(self) -> float:
        """Money laid out by the end of the first year."""
        return self.once + self.yearly

    @property
    def payback_years(self) -> float | None:
        """Investment over a year's gain; None without money, or where nothing comes back."""
        if self.year_gain is None:
            return None
        if self.once <= 0:
            return 0.0 if self.year_gain > 0 else None
        return self.once / self.year_gain if self.year_gain > 0 else None

    def less(self, start: Brought, *, levers: int = 0, open_levers: int = 0) -> Brought:
        """The same against another start."""
        gain = self.year_gain
        if gain is not None and start.year_gain is not None:
            gain -= start.year_gain
        return replace(
            self,
            once=self.once - start.once,
            yearly=self.yearly - start.yearly,
            year_gain=gain,
            levers=levers,
            open_levers=open_levers,
        )


@dataclass(frozen=True, slots=True)
class InFull:
    """A combination measured as every scenario is.

    Attributes:
        drawn: the saleable gain of each draw.
        currency: of its money.
    """

    measure: Brought
    drawn: tuple[float | None, ...]
    held_back: HeldBack | None
    caveats: tuple[Caveat, ...]
    not_priced: tuple[Missing, ...]
    currency: str


class Variants(Trials):
    """Scenarios below the one that is searched from, made by the edits of a user."""

    @override
    def _changed(self, changes: Mapping[Path, Raw]) -> tuple[Draft, str]:
        draft, start = self._draft, self._scenario
        id_ = f"{start}_tried"
        while draft.has(id_):
            id_ += "_"
        return making(draft, start, id_, "", changes).apply(draft), id_

    @property
    def short_weeks(self) -> int:
        """Weeks of a short run."""
        return min(SHORT_WEEKS, self._weeks)

    def with_draws(self, draws: int) -> Variants:
        """The same with so many draws."""
        return self._but(asked=replace(self.asked, draws=draws), _packed=None)

    def in_short(self, changes: Mapping[Path, Raw]) -> Brought | None:
        """What it brings in one short run; None where it is not allowed."""
        found = self._tried(changes, warned=False)
        if isinstance(found, Problem):
            return None
        plans, id_ = found
        weeks = self.short_weeks
        short = {name: replace(plan, weeks=weeks, runs=1) for name, plan in plans.items()}
        plan = short[id_]
        if plan.cell is None:
            return None
        ahead(self._simulate, (run_once(each) for each in short.values() if each.cell is not None))
        sides = {name: self._costed(short, name) for name in (id_, self._reference, self._today)}
        tally = self._simulate(*run_once(plan))
        return _measure(
            sides[id_], sides[self._reference], sides[self._today], short, ordered(plan, (tally,))
        )

    def _costed(self, plans: Mapping[str, Plan], id_: str) -> Costed:
        plan = plans[id_]
        if plan.cell is None:
            return Costed(plan, None, {})
        tally = self._simulate(*run_once(plan))
        value = worth(plans, id_, self._reference)
        held = {part.id: tally.most_held[place] for place, part in enumerate(plan.cell.parts)}
        return Costed(plan, figures_of(plan, tally, value), held)

    def in_full(self, changes: Mapping[Path, Raw], *, is_drawn: bool) -> InFull | None:
        """What it brings as every scenario is measured; None where it is not allowed."""
        found = self._tried(changes, warned=False)
        if isinstance(found, Problem):
            return None
        plans, id_ = found
        if plans[id_].cell is None:
            return None
        answers = answers_of(plans, self._reference, self._simulate)
        sides = {
            name: Costed(answers[name].plan, answers[name].figures, answers[name].held)
            for name in (id_, self._reference, self._today)
        }
        answer = answers[id_]
        here, there, today = sides[id_], sides[self._reference], sides[self._today]
        return InFull(
            _measure(here, there, today, plans, answer.orders),
            self._drawn_gains(plans, id_) if is_drawn else (),
            answer.held_back,
            answer.caveats,
            not_priced(here, there, today),
            prices_of(here.plan).currency,
        )


def _measure(
    here: Costed,
    reference: Costed,
    today: Costed,
    plans: Mapping[str, Plan],
    orders: Mapping[str, Ordered],
) -> Brought:
    figures = here.figures
    assert figures is not None
    year = year_of(here.plan, figures)
    base: Figures | None = reference.figures
    return Brought(
        gain=None if base is None else percent(figures.saleable, base.saleable),
        saleable=figures.saleable,
        least_met=figures.least_met,
        on_time=promises(here.plan, tuple(orders.values())).on_time if orders else None,
        once=float(capital_of(here, today).total),
        yearly=year.floor + year.yearly + year.machines + year.wages,
        hours=figures.people.paid,
        year_gain=year.left if in_money(plans) else None,
    )


@dataclass(frozen=True)
class TriedInShort(Task[Brought | None]):
    """A combination to be tried in a short run."""

    trials: Variants
    changes: tuple[tuple[Path, Raw], ...]

    @property
    @override
    def key(self) -> Hashable:
        return "short", self.trials.key, repr(self.changes)

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> Brought | None:
        """What it brings."""
        return self.trials.using(simulate).in_short(dict(self.changes))


@dataclass(frozen=True)
class TriedInFull(Task[InFull | None]):
    """A combination to be measured in full, with draws where they are wanted."""

    trials: Variants
    changes: tuple[tuple[Path, Raw], ...]
    is_drawn: bool = True

    @property
    @override
    def key(self) -> Hashable:
        return "full", self.trials.key, repr(self.changes), self.is_drawn

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> InFull | None:
        """What it brings."""
        return self.trials.using(simulate).in_full(dict(self.changes), is_drawn=self.is_drawn)
