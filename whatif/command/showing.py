"""``whatif week`` and ``whatif night``: a scenario hour by hour."""

from __future__ import annotations

from argparse import Namespace

from whatif.answers.night.of_study import PARTS, study_nights
from whatif.answers.progress import Progress, Stage
from whatif.answers.week_of_study import NotMeasured, week_of_study
from whatif.command.simulating import simulating
from whatif.command.studies import scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import NotAnswered
from whatif.reports.document import Document
from whatif.reports.nights import nights_report
from whatif.reports.week import moment_report, week_report
from whatif.study.check.check import check


def show_nights(asked: Namespace, progress: ProgressLine) -> Document:
    """How long the spindles go on after each shift, in a scenario or in all."""
    draft = sound_draft(asked.study)
    only = None if asked.scenario is None else scenario(draft, asked.scenario)
    progress.begin(Stage.AS_TYPED, 0)
    told = progress.steps(_nights_words)
    with simulating(progress.week) as memory:
        return nights_report(study_nights(check(draft), memory, told, only))


def _nights_words(far: Progress) -> str:
    number = min(far.done, far.of - 1) // PARTS + 1
    return f"nights of scenario {number} of {far.of // PARTS}: {far.percent} %"


def show_week(asked: Namespace, progress: ProgressLine) -> Document:
    """A week of a scenario, or one moment of it."""
    draft = sound_draft(asked.study)
    id_ = scenario(draft, asked.scenario)
    progress.begin(Stage.AS_TYPED, 0)
    try:
        with simulating(progress.week) as memory:
            found = week_of_study(
                check(draft), id_, asked.week, memory, lambda done, of: progress.week()
            )
    except NotMeasured as fault:
        raise NotAnswered(
            f"week {asked.week} is not measured; weeks 1 to {fault.weeks} are; choose one with "
            "--week"
        ) from fault
    if found is None:
        raise NotAnswered(
            f"scenario {id_} has no parts, so there is no week to show; enter a part's "
            "weekly pieces"
        )
    return week_report(found) if asked.at is None else moment_report(found, asked.at)
