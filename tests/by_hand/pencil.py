"""A study's text turned into what stands on a sheet of paper: minutes, pieces, shares."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from answer_studies import sound
from json_told import json_of

from whatif.answers.compare import compare
from whatif.answers.orders.rush_tried import with_rush
from whatif.session.calculate.memory import Memory

WEEK = 7 * 24 * 60
BEFORE = 6 * 60
"""Minutes of a week, and those of Monday before 06:00."""

ONE_WEEK = """\
format = 1
weeks = 1
warm_up = 0
runs = 1
[scenario.today]
"""

MONDAY = 'shift.early = { days = ["mon"], start = "06:00", end = "%s" }\n'
"""One person on Monday from 06:00 until a time of the day."""


@dataclass(frozen=True)
class Sheet:
    """One scenario's figures of ``whatif compare --format json``, hours turned into minutes.

    Attributes:
        states: minutes by state of all machines, those that occur.
        cycle: in-cycle minutes while attended, on breaks and after hours.
        pieces, met: good pieces and percent of demand by part.
        people: minutes paid, on duty, busy, and free in stretches of half an hour and more.
        told: the whole JSON of the scenario.
    """

    states: dict[str, float]
    cycle: list[float]
    pieces: dict[str, float]
    met: dict[str, float]
    people: dict[str, float]
    told: Any


def minutes(hours: float) -> float:
    """Hours of the JSON, which have six decimals, in minutes to the nearest thousandth."""
    return round(60 * hours, 3)


def sheets(text: str) -> dict[str, Sheet]:
    """All scenarios of a study, answered as the command line answers them."""
    # Of one run there is no likely range to be looked at.
    memory = Memory()
    found = with_rush(compare(sound(ONE_WEEK + text), memory), memory.pause)
    return {id_: _sheet(one) for id_, one in json_of(found)["scenarios"].items()}


def sheet(text: str) -> Sheet:
    """A study of one scenario."""
    return sheets(text)["today"]


def _sheet(told: Any) -> Sheet:
    simulated = told["simulated"]
    hours = simulated["spindle_hours"]
    return Sheet(
        states={key: minutes(at) for key, at in simulated["hours_by_state"].items() if at},
        cycle=[minutes(hours[mode]) for mode in ("attended", "breaks", "after_hours")],
        pieces=simulated["pieces"],
        met=simulated["demand_met_percent"],
        people={key: minutes(at) for key, at in simulated["people_hours"].items()},
        told=told,
    )
