"""Accounts of figures for reading, and the list of the figures that there are.

The text form is wrapped for 80 columns; the JSON form has the same in plain keys.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import Any

from whatif.answers.account.account import Account, Check, Figure, Step
from whatif.answers.account.terms import Term
from whatif.reports.as_json import rounded
from whatif.reports.cells import cells, left, right
from whatif.reports.sheets import escaped
from whatif.telling.account_pages import by_origin, is_alone, stands

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


def account_text(one: Account) -> str:
    """An account as plain text."""
    worked = one.worked
    lines = [
        *_wrapped(f"{one.figure.title} ({one.figure.id})"),
        *_wrapped(f"in: {one.title}"),
        "",
        *_wrapped(one.figure.shown, 2),
        "",
        *_wrapped(worked.meaning),
    ]
    if worked.steps:
        lines += ["", "How it is worked out"]
        for each in worked.steps:
            lines += _step_lines(each)
        lines += ["", "The numbers", *_term_lines(one.terms)]
    if worked.binds:
        lines += ["", "What binds" if worked.steps else "Why there is none"]
        for text in worked.binds:
            lines += _item(text)
    known = set(one.terms)
    for place, each_check in enumerate(worked.checks):
        lines += ["", *(["Check it with a pencil"] if not place else [])]
        lines += _check_lines(each_check, known)
        known |= set(each_check.step.terms)
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
    return wrap(
        " ".join(text.split()),
        WIDTH,
        initial_indent="  - ",
        subsequent_indent="    ",
        break_on_hyphens=False,
    )


def _step_lines(one: Step) -> list[str]:
    # A number by itself needs no line that repeats it.
    middle = [] if is_alone(one) else [f"= {one.numbers}"]
    lines = [one.formula, *middle, f"= {one.shown}"]
    return [line for text in lines for line in _wrapped(text, 2, 2)]


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


def _check_lines(one: Check, known: set[Term]) -> list[str]:
    new = [term for term in one.step.terms if term not in known]
    worked = one.step.shown if is_alone(one.step) else f"{one.step.numbers} = {one.step.shown}"
    return [
        *_item(one.rule),
        *_wrapped(worked, 6, 2),
        *_wrapped(stands(one), 4),
        *([] if not one.source else _wrapped(f"Published: {one.source}", 4)),
        *_term_lines(new, 4),
    ]


def _texts(term: Term) -> tuple[str, str, str]:
    return term.label, term.shown, term.origin


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
    shown = each.shown if cells(each.shown) <= room else f"{each.shown[: room - 3]}..."
    return f"{left(each.id, width)}  {shown}"


# -- Markdown --------------------------------------------------------------------------------


def account_markdown(one: Account) -> str:
    """An account as a Markdown document."""
    worked = one.worked
    lines = [
        f"# {escaped(one.figure.title)}",
        "",
        f"In {escaped(one.title)}, `{one.figure.id}`: **{escaped(one.figure.shown)}**",
        "",
        escaped(worked.meaning),
    ]
    if worked.steps:
        lines += ["", "## How it is worked out", ""]
        for each in worked.steps:
            lines += [
                f"- {escaped(each.formula)}",
                f"  = {escaped(each.numbers)} = **{escaped(each.shown)}**",
            ]
        lines += _markdown_terms(one.terms)
    if worked.binds:
        lines += ["", "## What binds" if worked.steps else "## Why there is none", ""]
        lines += [f"- {escaped(text)}" for text in worked.binds]
    if worked.checks:
        lines += ["", "## Check it with a pencil", ""]
        for each_check in worked.checks:
            lines += [
                f"- {escaped(each_check.rule)}",
                f"  {escaped(each_check.step.numbers)} = **{escaped(each_check.step.shown)}**.",
                f"  {escaped(stands(each_check))}",
            ]
            if each_check.source:
                lines.append(f"  Published: {escaped(each_check.source)}")
        lines += _markdown_terms(
            [
                term
                for term in dict.fromkeys(t for c in worked.checks for t in c.step.terms)
                if term not in one.terms
            ]
        )
    return "\n".join(lines)


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
        f"| `{each.id}` | {escaped(each.title)} | {escaped(each.shown)} |" for each in one.figures
    ]
    return "\n".join(lines)


# -- JSON ------------------------------------------------------------------------------------


def account_json(one: Account) -> str:
    """An account as one JSON object: plain numbers, no markup."""
    worked = one.worked
    return _dumped(
        {
            "format": 1,
            "scenario": one.scenario,
            "title": one.title,
            **_figure(one.figure),
            "meaning": worked.meaning,
            "steps": [_step(each) for each in worked.steps],
            "terms": [_term(term) for term in one.terms],
            "binds": list(worked.binds),
            "checks": [
                {
                    "rule": each.rule,
                    **_step(each.step),
                    "terms": [_term(term) for term in each.step.terms],
                    "relation": each.relation,
                    "found": each.found,
                    "slack": each.slack,
                    "because": each.because,
                    "holds": each.holds,
                    "source": each.source,
                }
                for each in worked.checks
            ],
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


def _figure(one: Figure) -> dict[str, Any]:
    return {
        "figure": one.id,
        "name": one.title,
        "unit": one.unit,
        "value": one.value,
        "shown": one.shown,
    }


def _step(one: Step) -> dict[str, Any]:
    return {
        "formula": one.formula,
        "numbers": one.numbers,
        "result": one.result,
        "shown": one.shown,
    }


def _term(one: Term) -> dict[str, Any]:
    return {
        "label": one.label,
        "number": one.number,
        "unit": one.unit,
        "typed": one.typed,
        "origin": one.origin,
    }


def _dumped(whole: dict[str, Any]) -> str:
    return json.dumps(rounded(whole), indent=2, ensure_ascii=False, allow_nan=False)


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
