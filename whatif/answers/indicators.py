"""Indicators of ISO 22400-2:2014, from the accounts of the states (rule `results.indicators`).

The formulas are those of an open ontology of the standard; its text was not read. Times are
machine hours a week, all machines together. They are:

APT, actual production time.
AUST, actual unit setup time: what makes a machine ready for an order.
ADET, actual unit delay time: the machine has an order and does not get on with it. Which of these a
    state counts as stands in its row (:mod:`whatif.answers.states`).
AUBT, actual unit busy time: APT + AUST + ADET. A machine is not busy where nobody is on duty,
    where nothing may be begun at that hour, and for want of a fixture or of orders.
PBT, planned busy time: attended hours; breaks, where pieces may be begun in them, and of other
    breaks what the machine is busy in; after hours what it is busy. Nobody plans for a night to
    be longer than the work on the pallets, which is also why the powered hours (rule
    `results.utilization`) count only that. So no share is above 100 %. A machine that a stop holds
    all night is delayed, and planned, only for as long as what was loaded would have taken.
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

import re
from collections.abc import Iterable, Mapping

from whatif.answers.figures import Figures
from whatif.answers.states import StateRow, states_of
from whatif.plan.model import Plan
from whatif.records import dataclass

LOADING_LOSSES = "loading_loss_product"
"""The key of the product of loading losses, which is no share of one time in another."""

FORMULAS = {
    "availability": "APT / PBT",
    "utilization_efficiency": "APT / AUBT",
    "allocation_efficiency": "AUBT / PBT",
    "setup_ratio": "AUST / (APT + AUST)",
    "technical_efficiency": "APT / (APT + ADET)",
    "worker_efficiency": "APWT / APAT",
    "quality_ratio": "GQ / PQ",
    LOADING_LOSSES: "uptime x speed x quality",
}
"""The formula of each indicator by its key."""

KEYS = tuple(FORMULAS)
"""The keys of the indicators in the order in which they are shown."""

_TIMES = {
    "APT": "production",
    "AUST": "setup",
    "ADET": "delay",
    "AUBT": "busy",
    "PBT": "planned",
    "APWT": "work",
    "APAT": "attendance",
    "GQ": "good",
    "PQ": "made",
}
"""The times, and pieces, that the signs in the formulas stand for."""


@dataclass(frozen=True, slots=True)
class Indicator:
    """One indicator.

    Attributes:
        percent: None where the base of the formula is 0.
        count, base: what it is a share of what, a week; for the loading losses see there.
        losses: None but for the loading losses, and there where nothing is made.
    """

    key: str
    percent: float | None
    count: float = 0.0
    base: float = 0.0
    losses: LoadingLosses | None = None

    @property
    def name(self) -> str:
        """As the standard has it; of what is multiplied of the loading losses, what it is."""
        return "left after losses" if self.key == LOADING_LOSSES else self.key.replace("_", " ")

    @property
    def formula(self) -> str:
        """In the signs of the standard."""
        return FORMULAS[self.key]

    @property
    def formula_in_words(self) -> str:
        """The same with what the signs stand for: "setup / (production + setup)"."""
        return re.sub(r"[A-Z]+", lambda sign: _TIMES.get(sign[0], sign[0]), self.formula)


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
    return {key: _losses(times) if key == LOADING_LOSSES else _share(key, times) for key in KEYS}


def sides_of(key: str) -> tuple[list[str], list[str]]:
    """What is a share of what, each as the signs of the times that are added up for it."""
    count, base = (side.strip("()").split(" + ") for side in FORMULAS[key].split(" / "))
    return count, base


def times_of(plan: Plan, found: Figures) -> Times:
    """The times of the standard from a scenario's figures."""
    production, setup, delay = states_of("production"), states_of("setup"), states_of("delay")
    busy = (*production, *setup, *delay)
    breaks, beyond = found.on_breaks, found.stopped_beyond
    through_breaks = plan.cell is not None and plan.cell.through_breaks
    return Times(
        production=_sum(found.by_state, production),
        setup=_sum(found.by_state, setup),
        delay=_sum(found.by_state, delay) - beyond,
        planned=sum(found.attended.values())
        + (sum(breaks.values()) if through_breaks else _sum(breaks, busy))
        + _sum(found.after_hours, busy)
        - beyond,
        work=found.people.busy,
        attendance=found.people.on_duty,
        down=_sum(found.by_state, (row for row in busy if row.down)) - beyond,
        made=found.made,
        good=found.good,
    )


def _sum(hours: Mapping[str, float], states: Iterable[StateRow]) -> float:
    return sum(hours[row.name] for row in states)


_NIL = 1e-9


def _share(key: str, times: Times) -> Indicator:
    count, base = (sum(getattr(times, _TIMES[sign]) for sign in signs) for signs in sides_of(key))
    # Hours are thousands of seconds, so what is left of them by rounding is no time.
    return Indicator(key, None if base <= _NIL else 100 * count / base, count, base)


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


def _losses(times: Times) -> Indicator:
    losses = loading_losses(
        times.planned, times.down, times.production, times.made, times.made - times.good
    )
    percent = None if losses is None else 100 * losses.product
    return Indicator(LOADING_LOSSES, percent, losses=losses)
