"""Accounts of figures for reading, and the list of the figures that there are.

The text form is wrapped for 80 columns; the JSON form has the same in plain keys.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import Any

from whatif.answers.account.account import Account, Check, Figure, Note, WorkedLine
from whatif.answers.account.terms import Term
from whatif.answers.limits import HeldBack
from whatif.reports.as_json import dumped
from whatif.reports.cells import cells, left, right
from whatif.reports.sheets import escaped
from whatif.telling.account.amounts import figure_shown, is_alone, line_shown
from whatif.telling.account.origins import origin_words
from whatif.telling.account.pages import by_origin, new_terms, rule_pointer, worked_out
from whatif.telling.account.sentences import (
    BECAUSE,
    RULES,
    SOURCES,
    check_sentence,
    meaning,
    note_sentence,
    stands,
)

WIDTH = 80

_VALUE = 30
"""Cells that the column of values is at most wide; a longer one pushes its label."""


@dataclass(frozen=True, slots=True)
class Listing:
    """The figures of a scenario, to choose from."""

    scenario: str
    title: str
    figures: Sequence[Figure]


# -- text ------------------------------------------------------------------------------------


def account_text(account: Account) -> str:
    """An account as plain text."""
    worked, figure = account.worked, account.figure
    lines = [
        *_wrapped(f"{figure.title} ({figure.id})"),
        *_wrapped(f"in: {account.title}"),
        "",
        *_wrapped(figure_shown(figure), 2),
        "",
        *_wrapped(meaning(figure)),
    ]
    if worked.lines:
        lines += ["", "How it is worked out"]
        for line in worked.lines:
            lines += _worked_lines(line)
        lines += ["", "The numbers", *_term_lines(account.terms)]
    if worked.notes:
        lines += ["", "What binds" if worked.lines else "Why there is none"]
        for note in worked.notes:
            lines += _item(note_sentence(note))
    title = ["Check it with a pencil"]
    for check, new in new_terms(account):
        lines += ["", *title, *_check_lines(check, figure), *_term_lines(new, 4)]
        title = []
    if worked.unchecked:
        lines += ["", *title, *_item(note_sentence(Note(worked.unchecked)))]
    if account.rules:
        lines += [
            "",
            *(line for name in account.rules for line in _wrapped(rule_pointer(name), 0, 2)),
        ]
    return "\n".join(lines)


def _wrapped(text: str, indent: int = 0, hang: int = 0) -> list[str]:
    return wrap(
        " ".join(text.split()),
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + hang),
        break_on_hyphens=False,
    )


def _item(text: str) -> list[str]:
    return _wrapped(f"- {text}", 2, 2)


def _worked_lines(line: WorkedLine) -> list[str]:
    # A number by itself needs no line that repeats it.
    middle = [] if is_alone(line) else [f"= {line.expr.numbers()}"]
    texts = [line.expr.words(), *middle, f"= {line_shown(line)}"]
    return [row for text in texts for row in _wrapped(text, 2, 2)]


def _term_lines(terms: Sequence[Term], indent: int = 2) -> list[str]:
    """The numbers under their origins, each value before what it is."""
    width = max((cells(term.shown) for term in terms if cells(term.shown) <= _VALUE), default=0)
    lines = []
    for origin, those in by_origin(terms).items():
        lines += _wrapped(f"{origin}:", indent, 2)
        for term in those:
            gap = " " * (indent + 2)
            value = f"{gap}{right(term.shown, width)}  "
            lines += wrap(
                term.label,
                WIDTH,
                initial_indent=value,
                subsequent_indent=" " * (indent + 4 + width),
                break_on_hyphens=False,
            )
    return lines


def _check_lines(check: Check, figure: Figure) -> list[str]:
    return [
        *_item(check_sentence(check)),
        *_wrapped(worked_out(check.line), 6, 2),
        *_wrapped(stands(check, figure), 4),
        *(_wrapped(f"Published: {SOURCES[check.source]}", 4) if check.source else []),
    ]


def listing_text(one: Listing) -> str:
    """The figures that there are, each with its value."""
    width = max(cells(each.id) for each in one.figures)
    lines = [*_wrapped(f"Figures of: {one.title}"), ""]
    for each in one.figures:
        lines.append(_listed(each, width))
    return "\n".join(lines)


def ids_text(those: Sequence[Figure]) -> str:
    """The ids of figures in a sentence."""
    return "\n".join(_wrapped(f"There are: {', '.join(each.id for each in those)}."))


def _listed(each: Figure, width: int) -> str:
    room = WIDTH - width - 2
    shown = figure_shown(each)
    if cells(shown) > room:
        shown = f"{shown[: room - 3]}..."
    return f"{left(each.id, width)}  {shown}"


# -- Markdown --------------------------------------------------------------------------------


def account_markdown(account: Account) -> str:
    """An account as a Markdown document."""
    worked, figure = account.worked, account.figure
    lines = [
        f"# {escaped(figure.title)}",
        "",
        f"In {escaped(account.title)}, `{figure.id}`: **{escaped(figure_shown(figure))}**",
        "",
        escaped(meaning(figure)),
    ]
    if worked.lines:
        lines += ["", "## How it is worked out", ""]
        for line in worked.lines:
            lines += [
                f"- {escaped(line.expr.words())}",
                f"  = {escaped(line.expr.numbers())} = **{escaped(line_shown(line))}**",
            ]
        lines += _markdown_terms(account.terms)
    if worked.notes:
        lines += ["", "## What binds" if worked.lines else "## Why there is none", ""]
        lines += [f"- {escaped(note_sentence(note))}" for note in worked.notes]
    if worked.checks or worked.unchecked:
        lines += ["", "## Check it with a pencil", ""]
        for check in worked.checks:
            shown = f"{escaped(check.line.expr.numbers())} = **{escaped(line_shown(check.line))}**."
            lines += [
                f"- {escaped(check_sentence(check))}",
                f"  {shown}",
                f"  {escaped(stands(check, figure))}",
            ]
            if check.source:
                lines.append(f"  Published: {escaped(SOURCES[check.source])}")
        if worked.unchecked:
            lines.append(f"- {escaped(note_sentence(Note(worked.unchecked)))}")
        lines += _markdown_terms([term for _, new in new_terms(account) for term in new])
    lines += ["", *(f"- {escaped(rule_pointer(name))}" for name in account.rules)]
    return "\n".join(lines)


def _texts(term: Term) -> tuple[str, str, str]:
    return term.label, term.shown, origin_words(term.origin)


def _markdown_terms(terms: Sequence[Term]) -> list[str]:
    if not terms:
        return []
    return [
        "",
        "| number | value | origin |",
        "| --- | ---: | --- |",
        *("| " + " | ".join(map(escaped, _texts(term))) + " |" for term in terms),
    ]


def listing_markdown(one: Listing) -> str:
    """The figures that there are, as a Markdown table."""
    lines = [f"# Figures of {escaped(one.title)}", "", "| figure | what | value |"]
    lines.append("| --- | --- | ---: |")
    lines += [
        f"| `{each.id}` | {escaped(each.title)} | {escaped(figure_shown(each))} |"
        for each in one.figures
    ]
    return "\n".join(lines)


# -- JSON ------------------------------------------------------------------------------------


def account_json(account: Account) -> str:
    """An account as one JSON object: plain numbers, no markup."""
    worked = account.worked
    return _dumped(
        {
            "format": 1,
            "scenario": account.scenario,
            "title": account.title,
            **_figure(account.figure),
            "meaning": meaning(account.figure),
            "steps": [_line(line) for line in worked.lines],
            "terms": [_term(term) for term in account.terms],
            "binds": [note_sentence(note) for note in worked.notes],
            "checks": [
                {
                    "rule": RULES[check.id].format(*check.names),
                    "sort": check.sort,
                    **_line(check.line),
                    "terms": [_term(term) for term in check.line.terms],
                    "relation": check.relation,
                    "found": check.found.value,
                    "slack": check.slack,
                    "because": BECAUSE[check.because] if check.slack else "",
                    "holds": check.holds,
                    "source": SOURCES[check.source],
                }
                for check in worked.checks
            ],
            "unchecked": note_sentence(Note(worked.unchecked)) if worked.unchecked else "",
            "rules": list(account.rules),
        }
    )


def listing_json(one: Listing) -> str:
    """The figures that there are, as one JSON object."""
    return _dumped(
        {
            "format": 1,
            "scenario": one.scenario,
            "title": one.title,
            "figures": [_figure(each) for each in one.figures],
        }
    )


def _figure(figure: Figure) -> dict[str, Any]:
    shown = figure_shown(figure)
    return {
        "figure": figure.id,
        "name": figure.title,
        "unit": figure.unit,
        "value": shown if isinstance(figure.value, HeldBack) else figure.value,
        "shown": shown,
    }


def _line(line: WorkedLine) -> dict[str, Any]:
    return {
        "formula": line.expr.words(),
        "numbers": line.expr.numbers(),
        "result": line.result,
        "shown": line_shown(line),
    }


def _term(term: Term) -> dict[str, Any]:
    return {
        "label": term.label,
        "number": term.number,
        "unit": term.unit,
        "typed": term.typed,
        "origin": origin_words(term.origin),
    }


def _dumped(whole: dict[str, Any]) -> str:
    return dumped(whole)


ACCOUNTS: dict[str, Callable[[Account], str]] = {
    "text": account_text,
    "markdown": account_markdown,
    "json": account_json,
}
"""What ``whatif explain STUDY SCENARIO FIGURE --format`` takes."""

LISTINGS: dict[str, Callable[[Listing], str]] = {
    "text": listing_text,
    "markdown": listing_markdown,
    "json": listing_json,
}
"""The same without a figure."""
