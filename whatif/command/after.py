"""``whatif afterwards``: what was predicted beside what was measured after it was done."""

from __future__ import annotations

from argparse import Namespace
from datetime import date
from pathlib import Path as FilePath

from whatif.answers.meters.afterwards import Afterwards, MeasuredWeek, foretold_of_study
from whatif.answers.progress import Stage
from whatif.command.read_once import read_already
from whatif.command.reading import understood_of
from whatif.command.simulating import simulating
from whatif.command.studies import scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import Misput, NotAnswered
from whatif.readings.weeks import kept_beside, whole_weeks
from whatif.reports.afterwards import afterwards_report
from whatif.reports.document import Document
from whatif.study.check.check import check
from whatif.study.resolve import Resolved
from whatif.study.schema.kinds import Date
from whatif.study.schema.kinds.kind import KindError
from whatif.telling.afterwards import NO_WEEK, NOT_DONE


def hold_afterwards(asked: Namespace, progress: ProgressLine) -> Document:
    """The whole weeks since a scenario was done, beside what it predicted."""
    draft = sound_draft(asked.study)
    id_ = scenario(draft, asked.scenario)
    checked = check(draft)
    done_on = _date(asked.done) if asked.done is not None else _done_on(checked.resolved[id_])
    title = draft.scenario(id_).title
    if done_on is None:
        raise NotAnswered(NOT_DONE.format(title))
    if not asked.files:
        if read_already(asked.study) is not None:
            raise Misput(f"name the readings too: nothing is kept beside {asked.study}")
        asked.files = [str(kept_beside(FilePath(asked.study)))]
    understood = understood_of(asked)
    weeks = [
        MeasuredWeek(day, hours.on, hours.cut, hours.unavailable + hours.gap)
        for day, hours in whole_weeks(understood, done_on)
    ]
    if not weeks:
        raise NotAnswered(NO_WEEK.format(done_on.isoformat()))
    progress.begin(Stage.AS_TYPED, 0)
    with simulating(progress.week) as memory:
        foretold = foretold_of_study(checked, id_, memory)
    if foretold is None:
        raise NotAnswered(f"scenario {id_} has no parts, so it foretells nothing")
    machines = len(understood.metered)
    return afterwards_report(Afterwards(foretold, done_on, machines, tuple(weeks)))


def _done_on(here: Resolved) -> date | None:
    found = here.value("done_on")
    return found if isinstance(found, date) else None


def _date(text: str) -> date:
    kind = Date()
    try:
        return kind.read(kind.typed(text))
    except KindError:
        raise Misput(f'--done: "{text}" is no date such as 2025-03-31') from None
