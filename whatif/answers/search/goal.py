"""What a search is for, and how near to it a combination comes (rule `search.goal`)."""

from __future__ import annotations

import math
from enum import Enum

from whatif.answers.limits import is_all_met
from whatif.answers.moves.break_even import read_percent
from whatif.answers.moves.inputs import Unanswerable
from whatif.answers.search.measure import Brought
from whatif.records import dataclass


class Aim(Enum):
    """What is wanted."""

    DEMAND = "demand"
    ORDERS = "orders"
    GAIN = "gain"
    PAYBACK = "payback"
    SUM = "sum"
    MOST = "most"


@dataclass(frozen=True, slots=True)
class Goal:
    """A goal: `amount` is percent of a gain, years of a payback, or money that may be laid out."""

    aim: Aim
    amount: float = 0.0


PROPOSED_PAYBACK = 2.0
"""Years within which an investment is to come back where nobody says how many; no source."""


def read_goal(text: str) -> Goal:
    """A goal as it is typed: "demand", "orders", "gain 25", "payback 2", "sum 50000" or "most".

    A bare percentage, "+25 %", is a gain.
    """
    name, _, rest = text.strip().lower().replace("=", " ").partition(" ")
    if text.strip().endswith("%") and name != Aim.GAIN.value:
        name, rest = Aim.GAIN.value, text
    aim = next((each for each in Aim if each.value == name), None)
    if aim is None:
        raise Unanswerable("no goal", text)
    if aim is Aim.GAIN and rest.strip():
        return Goal(aim, read_percent(rest))
    if aim not in (Aim.GAIN, Aim.PAYBACK, Aim.SUM):
        return Goal(aim)
    digits = rest.strip().replace("_", "").replace(",", "")
    if not digits and aim is Aim.PAYBACK:
        return Goal(aim, PROPOSED_PAYBACK)
    if not digits.replace(".", "", 1).isdecimal() or len(digits) > 15:
        raise Unanswerable("no goal", text)
    return Goal(aim, float(digits))


def goal_for(start: Brought) -> Goal:
    """The goal where nobody names one: what is lacking first, else the most a year."""
    if start.least_met is not None and not is_all_met(start.least_met):
        return Goal(Aim.DEMAND)
    if start.on_time is not None and start.on_time < 100:
        return Goal(Aim.ORDERS)
    return Goal(Aim.MOST)


def refuse_unanswerable(goal: Goal, start: Brought) -> None:
    """Raise `Unanswerable` where the study has nothing that the goal is about."""
    if goal.aim is Aim.PAYBACK and start.year_gain is None:
        raise Unanswerable("no contribution")
    if goal.aim is Aim.DEMAND and start.least_met is None:
        raise Unanswerable("nothing due")
    if goal.aim is Aim.ORDERS and start.on_time is None:
        raise Unanswerable("no real orders")
    if goal.aim is Aim.GAIN and start.gain is None:
        raise Unanswerable("no gain over nothing")


def reaches(goal: Goal, found: Brought) -> bool:
    """Whether a combination does what is wanted; of "most" there is no such thing.

    Of what is not priced nobody knows whether it pays back, or stays within a sum.
    """
    if goal.aim is Aim.DEMAND:
        return is_all_met(found.least_met)
    if goal.aim is Aim.ORDERS:
        return found.on_time is not None and found.on_time >= 100
    if goal.aim is Aim.GAIN:
        return found.gain is not None and found.gain >= goal.amount
    if goal.aim is Aim.PAYBACK:
        years = found.payback_years
        return found.is_priced and years is not None and years <= goal.amount
    return goal.aim is Aim.SUM and found.is_priced and found.first_year <= goal.amount


_AS_CHEAP = frozenset({Aim.DEMAND, Aim.ORDERS, Aim.GAIN})
"""Goals of which what reaches them need only be cheap."""


def nearness(goal: Goal, found: Brought) -> tuple[float, ...]:
    """Less is better: what reaches the goal first, by what it costs or brings; then the nearest.

    What is not priced comes behind what is and reaches the goal as well, or comes near it. Of what
    costs the same and does what is wanted that of the fewest levers comes first.
    """
    brings = -_brings(found)
    is_open, levers = float(not found.is_priced), float(found.levers)
    takes = (float(found.open_levers), found.first_year, found.hours)
    reached = reaches(goal, found)
    if goal.aim in _AS_CHEAP:
        far = {Aim.DEMAND: found.least_met, Aim.ORDERS: found.on_time, Aim.GAIN: found.gain}
        if reached:
            return (0.0, *takes, levers, brings)
        return (1.0, -(far[goal.aim] or 0.0), brings, *takes, levers)
    if goal.aim is Aim.MOST or reached:
        return (0.0, is_open, brings, *takes, levers)
    payback = math.inf if found.payback_years is None else found.payback_years
    far_off = payback if goal.aim is Aim.PAYBACK else found.first_year
    return (1.0, is_open, far_off, brings, *takes, levers)


def _brings(found: Brought) -> float:
    """A year's gain, or the output where there is no money."""
    return found.saleable if found.year_gain is None else found.year_gain
