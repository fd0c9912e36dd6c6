"""``whatif compare``: what every scenario brings."""

from __future__ import annotations

from argparse import Namespace

from whatif.answers.compare import compare_wholly
from whatif.command.simulating import simulating
from whatif.command.studies import sound_draft
from whatif.command.terminal import ProgressLine
from whatif.reports.comparison import comparison_report
from whatif.reports.document import Document
from whatif.study.check.check import check


def compare_scenarios(asked: Namespace, progress: ProgressLine) -> Document:
    """What every scenario brings."""
    checked = check(sound_draft(asked.study))
    with simulating(progress.week) as memory:
        return comparison_report(compare_wholly(checked, memory, memory.pause, progress.begin))
