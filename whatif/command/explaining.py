"""``whatif explain``: an account of a figure of a scenario."""

from __future__ import annotations

from argparse import Namespace
from textwrap import wrap

from whatif.answers.account.explain import explain, figures, named
from whatif.answers.answer import Comparison
from whatif.command.answered import WholeAnswers
from whatif.command.studies import scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import NotAnswered
from whatif.reports.document import Document
from whatif.reports.explained import account_report, names_report
from whatif.study.check.check import Checked, check
from whatif.study.refused import Refused
from whatif.telling.refusals import refusal_words


def explain_figure(asked: Namespace, progress: ProgressLine) -> Document:
    """An account of a figure; without a name of one those that there are."""
    answers = WholeAnswers(asked.study)
    draft = sound_draft(asked.study)
    id_ = scenario(draft, asked.scenario)
    checked = check(draft)
    found = answers.known(id_)
    named_in = _with_names(checked, id_) if found is None else found
    if asked.figure is None:
        title = named_in.answers[id_].plan.title
        return names_report(id_, title, figures(named_in, checked, id_))
    try:
        named(named_in, checked, id_, asked.figure)
    except Refused as fault:
        # There are many figures, so the list of them takes several lines.
        raise NotAnswered(*wrap(refusal_words(fault), 80, break_on_hyphens=False)) from fault
    if found is None:
        found = answers.find(checked, progress, id_)
    return account_report(explain(found, checked, id_, asked.figure))


def _with_names(checked: Checked, scenario: str) -> Comparison:
    """Which figures there are, known without simulating anything."""
    # Only now: whoever knows what they come to needs nothing that makes plans.
    from whatif.answers.account.names import unanswered

    return unanswered(checked, scenario)
