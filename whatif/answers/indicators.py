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

STATES_IN_WORDS = (
    "Indicators have the names and formulas of ISO 22400-2. Production is time in cycle; setup is "
    "changing the work holding, prove-out, tool change and warm-up; delay is loading at the "
    "spindle, pallet change, stops, waiting for a person or a first piece; busy is all of "
    "these. Planned are the attended hours, breaks in which pieces may be begun, and what "
    "machines are busy beyond. Loading losses (Nakajima's) take the cycle entered as ideal."
)
"""For readers of a table: which time is which."""

KEYS = (
    *("availability", "utilization_efficiency", "allocation_efficiency", "setup_ratio"),
    *("technical_efficiency", "worker_efficiency", "quality_ratio", "loading_loss_product"),
)
"""The keys of the indicators in the order in which they are shown."""

SIGNS_IN_WORDS = (
    "APT production, AUST setup, ADET delay, AUBT busy, PBT planned; APWT people at work, APAT on "
    "duty; GQ good pieces, PQ all."
)
"""What the signs in the formulas stand for."""


@dataclass(frozen=True, slots=True)
class Indicator:
    """One indicator.

    Attributes:
        name: as the standard has it.
        formula: in the signs of the standard.
        percent: None where the base of the formula is 0.
        words: the formula with this scenario's numbers, in a sentence.
    """

    name: str
    formula: str
    percent: float | None
    words: str

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
    hours = "machine hours"
    shares = {
        "availability": _share(
            "availability",
            "APT / PBT",
            (times.production, "in cycle"),
            (times.planned, f"planned {hours}"),
        ),
        "utilization_efficiency": _share(
            "utilization efficiency",
            "APT / AUBT",
            (times.production, "in cycle"),
            (times.busy, f"busy {hours}"),
        ),
        "allocation_efficiency": _share(
            "allocation efficiency",
            "AUBT / PBT",
            (times.busy, "busy"),
            (times.planned, f"planned {hours}"),
        ),
        "setup_ratio": _share(
            "setup ratio",
            "AUST / (APT + AUST)",
            (times.setup, "setup"),
            (times.production + times.setup, f"{hours} in cycle or setup"),
        ),
        "technical_efficiency": _share(
            "technical efficiency",
            "APT / (APT + ADET)",
            (times.production, "in cycle"),
            (times.production + times.delay, f"{hours} in cycle or delayed"),
        ),
        "worker_efficiency": _share(
            "worker efficiency",
            "APWT / APAT",
            (times.work, "at work"),
            (times.attendance, "hours of people on duty"),
        ),
        "quality_ratio": _share(
            "quality ratio", "GQ / PQ", (times.good, "good"), (times.made, "pieces made")
        ),
    }
    return {**shares, "loading_loss_product": _overall(times)}


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


def _share(name: str, formula: str, part: tuple[float, str], base: tuple[float, str]) -> Indicator:
    (count, is_), (of, what) = part, base
    # Hours are thousands of seconds, so what is left of them by rounding is no time.
    if of <= _NIL:
        return Indicator(name, formula, None, f"There are no {what}, so there is no {name}.")
    percent = 100 * count / of
    words = f"Of {of:.1f} {what} a week {count:.1f} are {is_}: {name} {percent:.1f} %."
    return Indicator(name, formula, percent, words)


# -- loading losses ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LoadingLosses:
    """Three factors, shares of one, and their product."""

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
    return LoadingLosses(up / loading, ideal / up, (made - rejects) / made)


def _overall(times: Times) -> Indicator:
    name, formula = "loading loss product", "uptime x speed x quality"
    found = loading_losses(
        times.planned, times.down, times.production, times.made, times.made - times.good
    )
    if found is None:
        words = f"No piece is made in planned time, so there is no {name}."
        return Indicator(name, formula, None, words)
    percent = 100 * found.product
    words = (
        f"Of {times.planned:.1f} planned machine hours a week {times.down:.1f} are lost to setups "
        f"and stops: uptime {100 * found.uptime:.1f} %. Pieces made at the cycle entered take "
        f"{times.production:.1f} of the others: speed {100 * found.speed:.1f} %. Good are "
        f"{100 * found.quality:.1f} % of them. Product {percent:.1f} %."
    )
    return Indicator(name, formula, percent, words)
