"""``whatif walk``: the sheet of a walk through the shop, and what its tallies come to."""

from __future__ import annotations

from argparse import Namespace
from collections import Counter

from whatif.answers.progress import Stage
from whatif.answers.walk.of_study import sheet_of_study, walk_of_study
from whatif.command.simulating import simulating
from whatif.command.studies import scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import Misput, NotAnswered
from whatif.readings.fault import Unreadable
from whatif.readings.sources import content_of, is_web
from whatif.reports.document import Document
from whatif.reports.walk import sheet_report, walked_report
from whatif.study.check.check import check
from whatif.telling.readings import unreadable_lines
from whatif.telling.walk import UnknownState, read_tallies, typed_tallies, unknown_state_words


def walk_through(asked: Namespace, progress: ProgressLine) -> Document:
    """The sheet; with tallies their shares, intervals, and the model's."""
    if not 50 <= asked.confidence < 100:
        raise Misput("--confidence is a percentage from 50 to below 100, such as 95")
    if not 0 < asked.within <= 50:
        raise Misput("--within is a number of points above 0 and up to 50, such as 5")
    if not 1 <= asked.tours <= 1000:
        raise Misput("--tours is a number from 1 to 1000")
    draft = sound_draft(asked.study)
    id_ = scenario(draft, asked.scenario)
    title = draft.scenario(id_).title
    if not asked.tally and asked.seen is None:
        sheet = sheet_of_study(check(draft), id_, title, asked.tours, asked.seed)
        if not sheet.moments:
            raise NotAnswered(
                f"{title} has no hours with somebody on duty, or no parts, so there is nothing to "
                "walk through; enter a shift and a part first"
            )
        return sheet_report(sheet)
    seen = _seen(asked)
    if not sum(seen.values()):
        raise NotAnswered("nothing has been seen yet: no row of the tallies has a state")
    progress.begin(Stage.AS_TYPED, 0)
    with simulating(progress.week) as memory:
        return walked_report(
            walk_of_study(check(draft), id_, title, seen, asked.confidence, asked.within, memory)
        )


def _seen(asked: Namespace) -> Counter[str]:
    """All tallies together: of several weeks, and typed ones."""
    seen: Counter[str] = Counter()
    for source in asked.tally:
        if is_web(source):
            raise Misput("--tally takes a file")
        try:
            seen.update(read_tallies(content_of(source).decode("utf-8-sig", errors="replace")))
        except Unreadable as fault:
            raise NotAnswered(*unreadable_lines(fault)) from fault
        except UnknownState as fault:
            raise NotAnswered(f"{source}, {unknown_state_words(fault)}") from fault
    if asked.seen is not None:
        try:
            seen.update(typed_tallies(asked.seen))
        except UnknownState as fault:
            raise NotAnswered(unknown_state_words(fault)) from fault
    return seen
