"""``whatif explain``: an account of a figure of a scenario."""

from __future__ import annotations

from argparse import Namespace
from textwrap import wrap

from whatif.answers.account.explain import explain, figures, named
from whatif.answers.account.names import unanswered
from whatif.answers.compare import compare_wholly
from whatif.command.simulating import simulating
from whatif.command.studies import scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import NotAnswered
from whatif.reports.document import Document
from whatif.reports.explained import account_report, names_report
from whatif.study.check.check import check
from whatif.study.refused import Refused
from whatif.telling.refusals import refusal_words


def explain_figure(asked: Namespace, progress: ProgressLine) -> Document:
    """An account of a figure; without a name of one those that there are."""
    draft = sound_draft(asked.study)
    id_ = scenario(draft, asked.scenario)
    checked = check(draft)
    # Which figures there are is known without simulating anything.
    blank = unanswered(checked, id_)
    if asked.figure is None:
        title = blank.answers[id_].plan.title
        return names_report(id_, title, figures(blank, checked, id_))
    try:
        named(blank, checked, id_, asked.figure)
    except Refused as fault:
        # There are many figures, so the list of them takes several lines.
        raise NotAnswered(*wrap(refusal_words(fault), 80, break_on_hyphens=False)) from fault
    with simulating(progress.week) as memory:
        found = compare_wholly(checked, memory, memory.pause, progress.begin, {id_})
    return account_report(explain(found, checked, id_, asked.figure))
