"""Rules of the book, and the list of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from itertools import groupby

from whatif.reports.document import (
    AsItIs,
    Code,
    Document,
    Either,
    TextHeading,
    TextLine,
    TextLines,
)
from whatif.telling.rules import Rule


def rule_report(rule: Rule) -> Document:
    """A rule as it stands in the book; in text without its marks."""
    return Document(
        [
            Either(
                [AsItIs([f"{rule.chapter}: {rule.title} ({rule.name})"]), AsItIs([rule.plain])],
                [TextHeading((rule.title, " (", Code(rule.name), ")")), AsItIs([rule.text])],
            )
        ],
        {"rule": asdict(rule)},
    )


def rules_report(rules: Sequence[Rule]) -> Document:
    """The names of rules by chapter."""
    width = max(len(rule.name) for rule in rules)
    chapters = [
        AsItIs([chapter, *(f"  {rule.name:<{width}}  {rule.title}" for rule in those)])
        for chapter, those in groupby(rules, lambda rule: rule.chapter)
    ]
    names = TextLines([TextLine((Code(rule.name), f": {rule.title}")) for rule in rules])
    data = [{"name": rule.name, "title": rule.title, "chapter": rule.chapter} for rule in rules]
    return Document([Either(chapters, [names])], {"rules": data})
