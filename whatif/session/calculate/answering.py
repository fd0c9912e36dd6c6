"""How far one draft has been answered, and what is found out next: what is looked at comes first.

Each step can be given up at any week and taken again: what it has run is remembered, and a scenario
that is answered is not answered anew. So the order in which scenarios are looked at may change at
any time.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from functools import cached_property

from whatif.answers.answer import Answer, Comparison
from whatif.answers.compare import compare, compare_quickly
from whatif.answers.likely import Draws, weeks_of_draws
from whatif.answers.meters.gap_read import with_gain_ranges
from whatif.answers.orders.rush import RushArrival
from whatif.answers.orders.rush_tried import rush_one_by_one
from whatif.answers.progress import Told
from whatif.answers.ranged import could_make_ahead, could_make_answer, likely_answer
from whatif.plan.build import is_in_money, plans_of, with_metered
from whatif.plan.model import Meters, Plan, in_money
from whatif.session.calculate.fanned import Fanned
from whatif.study.check.check import Checked
from whatif.study.draft import Draft

_SAID_AHEAD = 4
"""Scenarios of which the draws are said ahead at least."""


class Answering:
    """A draft without problems, answered step by step; each step tells what is news.

    Args:
        before: the draft that was answered before it, as far as it was; what an edit does not
            touch is taken from there.

    Attributes:
        front: the scenario that is looked at, "" where none is.
        found: what is known; before it is typed only of scenarios that an edit touches, and of
            those that they are measured against.
        is_typed: whether that is the answer as typed, over as many weeks and runs as are wanted.
    """

    def __init__(
        self, draft: Draft, checked: Checked, memory: Fanned, before: Answering | None = None
    ) -> None:
        self.draft, self.checked = draft, checked
        self.front = ""
        self.found: Comparison | None = None
        self.is_typed = False
        self._memory = memory
        self._planned: tuple[Checked, Mapping[str, Plan]] | None = None
        """The newest plans of all scenarios, of this draft or of one before it."""
        self._near: dict[str, Plan] = {}
        """Plans of this draft that have been made already."""
        if before is not None:
            self._planned = before._planned
        # One that never came so far is of no use, but that before it may still be.
        self._before: Answering | None = before
        if before is not None and not before.is_typed:
            self._before = before._before
        self._typed: Mapping[str, Answer] = {}
        """The answers as typed, before anything else was put to them."""
        self._draws: Draws | None = None
        self._drawn_before: Draws | None = None
        if before is not None:
            self._drawn_before = before._draws or before._drawn_before
        self._ranged: set[str] = set()
        """Scenarios that have their likely ranges, and what they could make."""
        self._has_gap_read = False

    @property
    def known(self) -> Comparison:
        """What is known, once something is."""
        assert self.found is not None
        return self.found

    @property
    def order(self) -> tuple[str, ...]:
        """The scenarios, those first that are looked at and that they are measured against."""
        first = (id_ for id_ in (self.front, self.draft.reference_id or "") if self.draft.has(id_))
        return tuple(dict.fromkeys((*first, *self.draft.ids)))

    # -- plans -------------------------------------------------------------------------

    @cached_property
    def _entered(self) -> dict[str, Plan]:
        """The plans as entered; of many scenarios they take longer than to run one of them."""
        plans = plans_of(self.checked, self._planned, made=self._near)
        self._planned = self.checked, plans
        return plans

    def _plans_near(self, scenario: str) -> dict[str, Plan]:
        """Those of a scenario, and of what it is measured against."""
        wanted = {scenario, self.draft.reference_id or "", self.draft.today_id or ""}
        near = plans_of(self.checked, self._planned, with_metered(self.checked, wanted))
        if in_money(near) != is_in_money(self.checked):
            return self._entered  # what a piece is worth is told by another one
        self._near = near
        return near

    # -- as typed ----------------------------------------------------------------------

    def first_runs(self) -> Iterator[Comparison]:
        """One run of the scenario that is looked at, then of all others, not yet settled.

        What an edit has not touched is left as it is known from before, over more weeks.
        """
        if self.found is not None:
            return
        first: Comparison | None = None
        if self.draft.has(self.front):
            near = self._plans_near(self.front)
            if self.front in self._as_before(near):
                assert self._before is not None
                # As after an undo: whoever has asked may have been told something else since.
                yield self._before.known.of((self.front,))
            else:
                with self._memory.here():
                    first = self._first_run((self.front,), near)
                yield first.of((self.front,))
        as_before = self._as_before(self._entered)
        touched = [id_ for id_ in self.order if id_ not in as_before]
        if touched == [self.front]:
            self.found = first
        elif touched:
            self.found = self._first_run(touched, self._entered)
            yield self.found.of(touched)

    def _first_run(self, scenarios: Collection[str], plans: Mapping[str, Plan]) -> Comparison:
        return compare_quickly(self.checked, self._memory, plans, scenarios)

    def as_typed(self) -> Iterator[Comparison]:
        """All runs of all scenarios over as many weeks as it takes to settle them."""
        if self.is_typed:
            return
        is_more = any(plan.settled or plan.runs > 1 for plan in self._entered.values())
        if is_more or self.found is None or len(self.found.answers) < len(self._entered):
            self.found = compare(self.checked, self._memory, self._entered)
        self._typed = self.known.answers
        self.is_typed = True
        if self._before is not None:
            self._take_over(self._before)
            is_more = True
            self._before = None
        if is_more:
            yield self.known

    @property
    def weeks_as_typed(self) -> int:
        """Weeks of all runs as typed, of settled ones those that they begin with."""
        return sum(plan.runs * (plan.warm_up + plan.weeks) for plan in self._entered.values())

    # -- what an edit has not touched --------------------------------------------------

    def _as_before(self, plans: Mapping[str, Plan]) -> set[str]:
        """Those of these scenarios of which all is entered as before that answers rest on."""
        before = self._before
        if before is None:
            return set()
        then, known = before._entered, before.known.answers
        if is_in_money(self.checked) != in_money(then):
            return set()
        same = {id_ for id_, plan in plans.items() if id_ in then and _is_same(plan, then[id_])}
        return {id_ for id_ in same if id_ in known and self._rests_on(id_, plans) <= same}

    def _rests_on(self, scenario: str, plans: Mapping[str, Plan]) -> set[str]:
        """Whose plans an answer is made of."""
        reference, today = self.draft.reference_id or "", self.draft.today_id or ""
        sides = {scenario, reference, today}
        meters = {plans[id_].meters for id_ in sides}
        return sides | {each.scenario for each in meters if each is not None}

    def _take_over(self, before: Answering) -> None:
        """Take what was found of what is the same now; a price or a title changes no range."""
        now, then = self.known, before.known
        if now.in_money != then.in_money or now.reference != then.reference:
            return
        same = {
            id_
            for id_, answer in now.answers.items()
            if id_ in then.answers and _is_alike(answer.plan, then.answers[id_].plan)
        }
        if now.reference not in same:
            return
        own = _own_meters(now)
        metered_alike = own == _own_meters(then) and own.keys() <= same
        self._ranged |= before._ranged & same
        answers = dict(now.answers)
        for id_ in same:
            here, there = now.answers[id_], then.answers[id_]
            if here is before._typed.get(id_) and metered_alike:
                # Nothing at all is other than it was.
                answers[id_] = there
                continue
            if id_ in before._ranged:
                here = replace(
                    here, likely=there.likely, drawn=there.drawn, could_make=there.could_make
                )
            if metered_alike:
                here = replace(here, gap_read=there.gap_read)
            if here.plan.rush == there.plan.rush:
                here = replace(here, rush=there.rush)
            answers[id_] = here
        self.found = replace(now, answers=answers)
        self._has_gap_read = before._has_gap_read and metered_alike and same == set(now.answers)

    # -- what takes longer -------------------------------------------------------------

    def ranges(self) -> Iterator[Comparison]:
        """Likely ranges and what could be made, one scenario after the other.

        What the gap of hour meters may mean comes after them.
        """
        lacking = [id_ for id_ in self.order if id_ not in self._ranged]
        # A few ahead of what is waited for: all of them at once would be long in the saying.
        said = max(_SAID_AHEAD, 2 * self._memory.workers)
        self._say_ahead(lacking[:said])
        for place, id_ in enumerate(lacking):
            answer = could_make_answer(self.known, id_, self._memory)
            found = self.known.having(id_, answer)
            answer = likely_answer(found, id_, self._drawn())
            self.found = found.having(id_, answer)
            self._ranged.add(id_)
            self._say_ahead(lacking[place + said : place + said + 1])
            yield replace(found, answers={id_: answer})
        if not self._has_gap_read:
            self.found = with_gain_ranges(self.known, self._memory)
            self._has_gap_read = True

    def _say_ahead(self, scenarios: Collection[str]) -> None:
        """Say of which scenarios runs will be asked for from here on, and in which order."""
        for id_ in scenarios:
            could_make_ahead(self.known, (id_,), self._memory)
            self._drawn().ahead((id_,))

    def _drawn(self) -> Draws:
        if self._draws is None:
            self._draws = Draws(self.known.plans, self.known.reference, self._memory)
            if self._drawn_before is not None:
                self._draws.take_over(self._drawn_before)
                self._drawn_before = None
        return self._draws

    @property
    def weeks_of_ranges(self) -> int:
        """Weeks of all draws that are still to be run."""
        plans = self.known.plans
        return weeks_of_draws({id_: plans[id_] for id_ in plans if id_ not in self._ranged})

    def rush_trials(self, told: Told) -> Iterator[Comparison]:
        """What rush orders bring about, as typed and then with the ranges of a scenario more."""
        if all(_has_rush(answer) for answer in self.known.answers.values()):
            return
        for found in rush_one_by_one(self.known, told, self._memory):
            self.found = found
            yield found


def _is_same(plan: Plan, other: Plan) -> bool:
    """Whether two plans are equal; what an edit does not touch is the same object."""
    return plan is other or plan == other


def _is_alike(plan: Plan, other: Plan) -> bool:
    """Whether two plans are alike in all that changes a draw or what the cell could make."""
    return plan is other or _physics(plan) == _physics(other)


def _physics(plan: Plan) -> Plan:
    """A plan without what changes neither a draw nor what the cell could make."""
    return replace(
        plan,
        title="",
        notes="",
        parent=None,
        prices=None,
        warnings=(),
        rush=(),
        said=None,
        meters=None,
        same_as="",
    )


def _own_meters(found: Comparison) -> dict[str, Meters]:
    """The hour meters that scenarios have of their own."""
    every = {id_: plan.meters for id_, plan in found.plans.items()}
    return {id_: meters for id_, meters in every.items() if meters is not None and meters.own}


def _has_rush(answer: Answer) -> bool:
    """Whether all its rush orders have been tried, at their hour in every draw too."""
    return all(
        order.id in answer.rush
        and (
            not isinstance(arrival := answer.rush[order.id], RushArrival)
            or arrival.likely is not None
        )
        for order in answer.plan.rush
    )
