"""``whatif explain --rule``: a rule of the book, which is the same in every study."""

from __future__ import annotations

from whatif.command.unanswered import NotAnswered
from whatif.reports.document import Document
from whatif.reports.rules import rule_report, rules_report
from whatif.study.refused import Refused
from whatif.telling.refusals import refusal_words
from whatif.telling.rules import rule, rules


def print_rule(name: str) -> Document:
    """A rule; without a name those that there are."""
    if not name:
        return rules_report(tuple(rules().values()))
    try:
        return rule_report(rule(name))
    except Refused as fault:
        raise NotAnswered(f"{refusal_words(fault)} The names: whatif explain --rule") from fault
