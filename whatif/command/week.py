"""``whatif week``: one week of one scenario, hour by hour."""

from __future__ import annotations

import sys
from argparse import ArgumentTypeError
from dataclasses import dataclass

from whatif.answers.compare import ALL_RUNS, powered
from whatif.answers.meters.reading import gaps_read
from whatif.answers.week import Week, week
from whatif.command.answers import Progress, refuse_scenario, sound_study, writable
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.reports.week import FORMATS, MOMENT_FORMATS
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked
from whatif.study.schema.kinds.calendar import Moment
from whatif.study.schema.kinds.kind import KindError


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be shown: a scenario of a study, a week of it, and in it one second or none."""

    study: str
    scenario: str
    number: int
    form: str
    second: int | None


def show_week(asked: Asked) -> int:
    """Print the week; 1 with the reason on standard error where there is none."""
    checked = sound_study(asked.study)
    if checked is None:
        return 1
    progress = Progress()
    plan = _plan(checked, asked.scenario, progress)
    if plan is None:
        return refuse_scenario(asked.scenario, checked.resolved)
    try:
        found = week(plan, asked.number, lambda done, of: progress())
    except ValueError as fault:
        return _refuse(f"{fault}; choose one with --week")
    if found is None:
        return _refuse(
            f"scenario {plan.scenario} has no parts, so there is no week to show; enter a part's "
            "weekly pieces"
        )
    print(writable(_told(found, asked)))
    return 0


def moment_of_week(text: str) -> int:
    """A second of the week from "tue 14:20", for a parser of command lines."""
    kind = Moment()
    try:
        second = kind.read(kind.typed(text))
    except KindError:
        second = text
    if isinstance(second, str):
        raise ArgumentTypeError(f'{text!r} is no moment of a week such as "tue 14:20"')
    return second


def _told(found: Week, asked: Asked) -> str:
    if asked.second is None:
        return FORMATS[asked.form](found)
    return MOMENT_FORMATS[asked.form](found, asked.second)


def _plan(checked: Checked, scenario: str, progress: Progress) -> Plan | None:
    """The plan as it is compared, with what hour meters say of people or machines."""
    memory = Memory(between_weeks=progress)
    plans = gaps_read(plans_of(checked), lambda plan: powered(plan, memory, ALL_RUNS))
    return plans.get(scenario)


def _refuse(reason: str) -> int:
    print(reason, file=sys.stderr)
    return 1
