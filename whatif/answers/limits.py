"""What holds a scenario back (rule `limits.held-back`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from whatif.answers.could_make import is_demand_met
from whatif.answers.figures import NIL_HOURS, Figures, PerWeek
from whatif.answers.orders.orders import Ordered
from whatif.answers.states import IN_CYCLE
from whatif.cell.look import Why
from whatif.cell.may_not import ASKED, works_here
from whatif.cell.model import Shift, Work
from whatif.plan.model import NotMade, Plan
from whatif.records import dataclass

_TRIFLE = 0.05
"""Share of the attended machine hours below which the largest loss holds nothing back."""

ALL_MET = 99.95
"""Percent of what is wanted that are all of it, wherever that is decided: a tenth says 100.0."""

_ALL_BUSY = 0.98
"""Share of their time on duty from which people are wholly busy: under 2 % of it is free."""

_OF_PEOPLE = (Why.NOT_LOADED, Why.CUT)
"""Ends of nights that more loaded pallets would put off, which somebody has to load."""

WhyNothing = Literal["no machine", "no part is made", "nobody there"]


@dataclass(frozen=True, slots=True)
class ShiftPeople:
    """How full the people of a shift are.

    Attributes:
        busy: share, of one, of their time on duty.
        does: what they may do.
    """

    shift: str
    busy: float
    does: tuple[Work, ...]

    @property
    def is_full(self) -> bool:
        """Whether they are wholly busy."""
        return self.busy > _ALL_BUSY


@dataclass(frozen=True, slots=True)
class MayNot:
    """Work for which most of a wait for people is, and which others on duty may not do.

    Attributes:
        nobody_may: whether for most of that time nobody on duty may; else who may is busy, and
            somebody else stands free.
        may, others: people of the shifts that may do it, and of those that may not.
    """

    work: Work
    nobody_may: bool
    may: tuple[ShiftPeople, ...]
    others: tuple[ShiftPeople, ...]


@dataclass(frozen=True, slots=True)
class Loss:
    """Attended machine hours a week in a state other than in cycle.

    Attributes:
        is_of_tools: whether a person at the machine renews worn tools for the most part.
        may_not: what is waited for where a person is, and more people are not the way.
    """

    state: str
    hours: PerWeek
    is_of_tools: bool = False
    may_not: MayNot | None = None


@dataclass(frozen=True, slots=True)
class AfterHours:
    """The nights.

    Attributes:
        in_cycle: hours a week, all machines together.
        is_begun: whether pieces are begun then; else those begun before are finished.
        ended_by: what ends most of the nights while pieces might still be begun, counted machine
            by machine; None where every machine goes on as long as they may.
        share: of one, of the machines' nights that it ends.
        stood: machine hours a week that then stand while pieces might be begun.
        closed: machine hours a week that stand while none may be begun: by the scenario's own
            choice, so that nothing holds it back there.
        on_tables: whether most of the machines that it ends have nothing but their own table.
    """

    in_cycle: PerWeek
    is_begun: bool
    ended_by: Why | None = None
    share: float = 0.0
    stood: PerWeek = 0.0
    closed: PerWeek = 0.0
    on_tables: bool = False


@dataclass(frozen=True, slots=True)
class HeldBack:
    """What limits a scenario.

    Attributes:
        why_nothing: why nothing is made at all, None where something is.
        unmade: why each part that is wanted and not made is not.
        attended, in_cycle: machine hours a week with somebody on duty, and those in cycle of them.
        losses: of those hours the largest, and the one after it; none where there is none.
        is_demand_met: whether no more is wanted: all parts made, every real order in time.
        short: parts of which a little is lacking all the same, with the percent of their demand
            that is met, the part furthest behind first.
        after_hours: None where there is no night.
        people: of each shift whose people do work of the cell.
        loaders: share, of one, of their time on duty for which those who load are busy.
    """

    why_nothing: WhyNothing | None = None
    unmade: tuple[NotMade, ...] = ()
    attended: PerWeek = 0.0
    in_cycle: PerWeek = 0.0
    losses: tuple[Loss, ...] = ()
    is_demand_met: bool = False
    short: tuple[tuple[str, float], ...] = ()
    after_hours: AfterHours | None = None
    people: tuple[ShiftPeople, ...] = ()
    loaders: float = 0.0

    @property
    def state(self) -> str | None:
        """The largest loss within attended hours."""
        return self.losses[0].state if self.losses else None

    @property
    def share(self) -> float:
        """The largest loss as a share, of one, of the attended hours."""
        return self.losses[0].hours / self.attended if self.losses else 0.0

    @property
    def is_trifle(self) -> bool:
        """Whether even the largest loss by day is too small to hold anything back."""
        return self.share < _TRIFLE

    def is_trifling(self, loss: Loss) -> bool:
        """Whether a loss is too small a share of the attended hours to be worth much."""
        return loss.hours < _TRIFLE * self.attended

    @property
    def by_night(self) -> AfterHours | None:
        """The nights, where they lead: they lose more of the week than the largest loss by day.

        Not where people lead.
        """
        return None if self.is_for_people else self._larger_night

    @property
    def is_for_people(self) -> bool:
        """Whether people lead though the nights lose more.

        So it is where the nights end for want of loaded pallets, and those who load have no time
        for more of them.
        """
        night = self._larger_night
        return night is not None and night.ended_by in _OF_PEOPLE and self.loaders > _ALL_BUSY

    @property
    def _larger_night(self) -> AfterHours | None:
        night = self.after_hours
        lost = self.losses[0].hours if self.losses else NIL_HOURS
        return night if night is not None and night.stood > lost else None


def is_all_met(share: float | None) -> bool:
    """Whether so many percent of a demand are all of it; False where nothing is due.

    Every sentence, mark and search asks this (rule `results.demand`).
    """
    return share is not None and share >= ALL_MET


def what_holds_back(
    plan: Plan, figures: Figures, orders: Mapping[str, Ordered] | None = None
) -> HeldBack:
    """What is lost most by day, the loss after it, what ends the nights, whether all is made.

    Args:
        orders: the real orders, which are wanted in time too.
    """
    if not plan.groups:
        return HeldBack(why_nothing="no machine")
    unmade = tuple(part.unmade for part in plan.parts if part.unmade is not None)
    if len(unmade) == len(plan.parts):
        return HeldBack("no part is made", unmade)
    hours = figures.attended
    attended = sum(hours.values())
    if not attended:
        return HeldBack("nobody there", unmade)
    return HeldBack(
        unmade=unmade,
        attended=attended,
        in_cycle=hours[IN_CYCLE],
        losses=tuple(_losses(plan, figures)[:2]),
        is_demand_met=not unmade and _is_met(plan, figures, orders or {}),
        short=_short(figures),
        after_hours=_after_hours(plan, figures),
        people=people_by_shift(plan, figures),
        loaders=figures.shifts.share(
            *(shift.id for shift in _shifts(plan) if "load" in shift.does),
        ),
    )


def _shifts(plan: Plan) -> tuple[Shift, ...]:
    return () if plan.cell is None else plan.cell.shifts


def people_by_shift(plan: Plan, figures: Figures) -> tuple[ShiftPeople, ...]:
    """Of each shift whose people do work of the cell, how full they are."""
    return tuple(
        ShiftPeople(shift.id, figures.shifts.share(shift.id), shift.does)
        for shift in _shifts(plan)
        if works_here(shift.does)
    )


def may_not_do(plan: Plan, figures: Figures) -> MayNot | None:
    """What most of the wait for people is for, where others on duty may not do it."""
    waits = figures.counted.may_not
    hours = figures.attended["waiting_for_person"]
    if hours <= NIL_HOURS or sum(waits.values()) < hours / 2:
        return None
    work = max(ASKED, key=lambda work: waits[work])
    people = people_by_shift(plan, figures)
    return MayNot(
        work,
        nobody_may=2 * figures.counted.nobody_may[work] > waits[work],
        may=tuple(of for of in people if work in of.does),
        others=tuple(of for of in people if work not in of.does),
    )


def _is_met(plan: Plan, figures: Figures, orders: Mapping[str, Ordered]) -> bool:
    """Whether what is wanted every week is made, and every real order off in time."""
    in_time = [order.last_off is not None and not order.late for order in orders.values()]
    weekly = any(part.weekly for part in plan.parts)
    return bool(weekly or in_time) and all(in_time) and (not weekly or is_demand_met(plan, figures))


def _short(figures: Figures) -> tuple[tuple[str, float], ...]:
    """Parts whose demand is not all met, the one furthest behind first."""
    met = [(id_, share) for id_, share in figures.demand_met.items() if share is not None]
    return tuple(
        sorted((each for each in met if not is_all_met(each[1])), key=lambda each: each[1])
    )


def _losses(plan: Plan, figures: Figures) -> list[Loss]:
    jobs = figures.counted.busy_by_job
    is_of_tools = jobs["tool_change"] > jobs["prove_out"]
    found = [
        Loss(
            state,
            spent,
            is_of_tools and state == "person_at_machine",
            may_not_do(plan, figures) if state == "waiting_for_person" else None,
        )
        for state, spent in figures.attended.items()
        if state != IN_CYCLE and spent > NIL_HOURS
    ]
    # Stable: of equal losses the one named first (rule `states`) stays first.
    return sorted(found, key=lambda loss: -loss.hours)


def _after_hours(plan: Plan, figures: Figures) -> AfterHours | None:
    nights, in_cycle = figures.nights, figures.after_hours[IN_CYCLE]
    every = sum(nights.ended.values())
    if not every and in_cycle <= NIL_HOURS and nights.closed <= NIL_HOURS:
        return None
    run = AfterHours(in_cycle, plan.after_shift, closed=nights.closed)
    # Nights that go on as long as pieces may be begun have lost nothing.
    losing = [why for why in Why if nights.stood[why.value] > NIL_HOURS]
    if not losing:
        return run
    ends = {why: nights.ended[why.value] for why in losing}
    # Of reasons that end equally many nights the one that lets machines stand longer.
    most = max(ends, key=lambda why: (ends[why], nights.stood[why.value]))
    return replace(
        run,
        ended_by=most,
        share=ends[most] / every,
        stood=nights.stood[most.value],
        on_tables=2 * nights.on_tables[most.value] > ends[most],
    )
