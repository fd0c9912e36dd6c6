"""``whatif explain``: an account of a figure, or a rule of the book."""

from __future__ import annotations

from argparse import Namespace
from textwrap import wrap

from whatif.answers.account.explain import explain, figures
from whatif.answers.compare import compare_wholly
from whatif.command.studies import scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import Misput, NotAnswered
from whatif.reports.document import Document
from whatif.reports.explained import account_report, figures_report, rule_report, rules_report
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.refused import Refused
from whatif.telling.refusals import refusal_words
from whatif.telling.rules import rule, rules


def explain_figure(asked: Namespace, progress: ProgressLine) -> Document:
    """An account of a figure or a rule of the book; without a name of it those that there are."""
    if asked.rule is not None:
        if asked.study is not None:
            raise Misput("a rule is the same in every study: name no study with --rule")
        return _rule(asked.rule)
    if asked.study is None or asked.scenario is None:
        raise Misput("the following arguments are required: STUDY, SCENARIO (or --rule)")
    draft = sound_draft(asked.study)
    id_ = scenario(draft, asked.scenario)
    checked = check(draft)
    memory = Memory(between_weeks=progress.week)
    found = compare_wholly(checked, memory, memory.pause)
    if asked.figure is None:
        return figures_report(id_, found.answers[id_].plan.title, figures(found, checked, id_))
    try:
        return account_report(explain(found, checked, id_, asked.figure))
    except Refused as fault:
        # There are many figures, so the list of them takes several lines.
        raise NotAnswered(*wrap(refusal_words(fault), 80, break_on_hyphens=False)) from fault


def _rule(name: str) -> Document:
    if not name:
        return rules_report(tuple(rules().values()))
    try:
        return rule_report(rule(name))
    except Refused as fault:
        raise NotAnswered(f"{refusal_words(fault)} The names: whatif explain --rule") from fault
