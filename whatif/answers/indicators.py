"""Indicators of ISO 22400-2:2014, from the accounts of the states (rule `results.indicators`).

The formulas are those of an open ontology of the standard; its text was not read. Times are
machine hours a week, all machines together. Which of our states is which time of the standard is
decided here:

APT, actual production time: in cycle.
AUST, actual unit setup time: what makes a machine ready for an order. Changing the work holding,
    prove-out and tool change, warm-up.
ADET, actual unit delay time: the machine has an order and does not get on with it. Loading at the
    spindle, pallet change, stops, waiting for a person, waiting for a first piece's release.
AUBT, actual unit busy time: APT + AUST + ADET. A machine is not busy where nobody is on duty,
    where nothing may be begun at that hour, and for want of a fixture or of orders.
PBT, planned busy time: attended hours; breaks, where pieces may be begun in them, and of other
    breaks what the machine is busy in; after hours what it is busy. Nobody plans for a night to
    be longer than the work on the pallets, which is also why the powered hours (rule
    `results.utilization`) count only that. So no share is above 100 %.
APWT, actual personnel work time: people's hours busy, their other duties' share included.
APAT, actual personnel attendance time: people's hours on duty, breaks left out.
PQ, GQ: pieces made, and the good ones among them, all parts together.

The product of loading losses is of another source: Nakajima's, as reprinted in textbooks. Its
factors are uptime (of the planned time what is not lost to setups and stops), speed (what the
pieces made take at their ideal cycle, of that) and quality. The ideal cycle is taken to be the one
entered, so that pieces made at it take the hours in cycle; a program that could run faster is a
loss that only a shorter cycle in the study can show.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from whatif.answers.figures import Figures
from whatif.answers.states import STATE_ROWS, states_of
from whatif.plan.model import Plan

PRODUCTION = states_of("production")
SETUP = states_of("setup")
DELAY = states_of("delay")
BUSY = (*PRODUCTION, *SETUP, *DELAY)
DOWN = tuple(state for state in BUSY if STATE_ROWS[state].down)
"""States that a machine loses whole, as the loading losses count them."""

KEYS = (
    *("availability", "utilization_efficiency", "allocation_efficiency", "setup_ratio"),
    *("technical_efficiency", "worker_efficiency", "quality_ratio", "loading_loss_product"),
)
"""The keys of the indicators in the order in which they are shown."""


@dataclass(frozen=True, slots=True)
class Indicator:
    """One indicator.

    Attributes:
        name: as the standard has it.
        formula: in the signs of the standard.
        percent: None where the base of the formula is 0.
        count, base: what it is a share of what, a week; for the loading losses see there.
        losses: None but for the loading losses, and there where nothing is made.
    """

    key: str
    name: str
    formula: str
    percent: float | None
    count: float = 0.0
    base: float = 0.0
    losses: LoadingLosses | None = None

    def points_above(self, reference: Indicator) -> float | None:
        """Percentage points more than in the reference; None where either has none."""
        if self.percent is None or reference.percent is None:
            return None
        return self.percent - reference.percent


@dataclass(frozen=True, slots=True)
class Times:
    """Hours a week of the standard's times, and pieces a week."""

    production: float
    setup: float
    delay: float
    planned: float
    work: float
    attendance: float
    down: float
    made: float
    good: float

    @property
    def busy(self) -> float:
        """AUBT."""
        return self.production + self.setup + self.delay


def indicators(plan: Plan, found: Figures) -> Mapping[str, Indicator]:
    """All indicators of a scenario by their key, in the order in which they are shown."""
    times = times_of(plan, found)
    production, busy, planned = times.production, times.busy, times.planned
    with_setup, with_delay = production + times.setup, production + times.delay
    every = (
        _share("availability", "availability", "APT / PBT", production, planned),
        _share("utilization_efficiency", "utilization efficiency", "APT / AUBT", production, busy),
        _share("allocation_efficiency", "allocation efficiency", "AUBT / PBT", busy, planned),
        _share("setup_ratio", "setup ratio", "AUST / (APT + AUST)", times.setup, with_setup),
        _share(
            "technical_efficiency",
            "technical efficiency",
            "APT / (APT + ADET)",
            production,
            with_delay,
        ),
        _share(
            "worker_efficiency", "worker efficiency", "APWT / APAT", times.work, times.attendance
        ),
        _share("quality_ratio", "quality ratio", "GQ / PQ", times.good, times.made),
        _overall(times),
    )
    return {indicator.key: indicator for indicator in every}


def times_of(plan: Plan, found: Figures) -> Times:
    """The times of the standard from a scenario's figures."""
    breaks = {
        state: spent - found.attended[state] - found.after_hours[state]
        for state, spent in found.by_state.items()
    }
    through_breaks = plan.cell is not None and plan.cell.through_breaks
    return Times(
        production=_sum(found.by_state, PRODUCTION),
        setup=_sum(found.by_state, SETUP),
        delay=_sum(found.by_state, DELAY),
        planned=sum(found.attended.values())
        + (sum(breaks.values()) if through_breaks else _sum(breaks, BUSY))
        + _sum(found.after_hours, BUSY),
        work=found.people.busy,
        attendance=found.people.on_duty,
        down=_sum(found.by_state, DOWN),
        made=found.made,
        good=found.good,
    )


def _sum(hours: Mapping[str, float], states: Iterable[str]) -> float:
    return sum(hours[state] for state in states)


_NIL = 1e-9


def _share(key: str, name: str, formula: str, count: float, base: float) -> Indicator:
    # Hours are thousands of seconds, so what is left of them by rounding is no time.
    percent = None if base <= _NIL else 100 * count / base
    return Indicator(key, name, formula, percent, count, base)


# -- loading losses ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LoadingLosses:
    """Three factors, shares of one, and their product; times as they were given."""

    loading: float
    down: float
    ideal: float
    uptime: float
    speed: float
    quality: float

    @property
    def product(self) -> float:
        """Of the loading time what went into good pieces at their ideal cycle."""
        return self.uptime * self.speed * self.quality


def loading_losses(
    loading: float, down: float, ideal: float, made: float, rejects: float
) -> LoadingLosses | None:
    """The factors of the loading losses; None where a base is 0.

    Args:
        loading: time in which the machine was to run.
        down: time lost of it to setups and stops.
        ideal: what the pieces made take at their ideal cycle, in the same unit.
        made, rejects: pieces.
    """
    up = loading - down
    if loading <= _NIL or up <= _NIL or not made:
        return None
    return LoadingLosses(
        loading, down, ideal, uptime=up / loading, speed=ideal / up, quality=(made - rejects) / made
    )


def _overall(times: Times) -> Indicator:
    losses = loading_losses(
        times.planned, times.down, times.production, times.made, times.made - times.good
    )
    return Indicator(
        "loading_loss_product",
        "loading loss product",
        "uptime x speed x quality",
        None if losses is None else 100 * losses.product,
        losses=losses,
    )
