"""``whatif compare``: what every scenario brings."""

from __future__ import annotations

from argparse import Namespace

from whatif.command.answered import WholeAnswers
from whatif.command.studies import sound_draft
from whatif.command.terminal import ProgressLine
from whatif.reports.comparison import comparison_report
from whatif.reports.document import Document
from whatif.study.check.check import check


def compare_scenarios(asked: Namespace, progress: ProgressLine) -> Document:
    """What every scenario brings."""
    answers = WholeAnswers(asked.study)
    checked = check(sound_draft(asked.study))
    return comparison_report(answers.known() or answers.find(checked, progress))
