"""``whatif explain``: an account of one figure, a rule of the book, or the list of either."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict
from itertools import groupby

from whatif.answers.account.explain import UnknownFigureError, explain, figures
from whatif.command.answers import answered, refuse_scenario, sound_study, writable
from whatif.reports.explained import ACCOUNTS, LISTINGS, Listing, ids_text
from whatif.telling.rules import Rule, UnknownRuleError, rule, rules


def explain_figure(path: str, scenario: str, figure: str | None, form: str) -> int:
    """Print the account of a figure, or without one all figures with their values.

    1 with the reason on standard error where the study has problems, or there is no such
    scenario or figure.
    """
    checked = sound_study(path)
    if checked is None:
        return 1
    if scenario not in checked.resolved:
        return refuse_scenario(scenario, checked.resolved)
    found = answered(checked)
    if figure is None:
        title = found.answers[scenario].plan.title
        listing = Listing(scenario, title, figures(found, checked, scenario))
        print(writable(LISTINGS[form](listing)))
        return 0
    try:
        account = explain(found, checked, scenario, figure)
    except UnknownFigureError as fault:
        print(fault, file=sys.stderr)
        print(ids_text(figures(found, checked, scenario)), file=sys.stderr)
        return 1
    print(writable(ACCOUNTS[form](account)))
    return 0


def explain_rule(name: str, form: str) -> int:
    """Print a rule of the book, or where ``name`` is empty the names of all.

    1 with the nearest names on standard error where there is no such rule.
    """
    if not name:
        print(writable(_LISTED[form](tuple(rules().values()))))
        return 0
    try:
        found = rule(name)
    except UnknownRuleError as fault:
        print(f"{fault} The names: whatif explain --rule", file=sys.stderr)
        return 1
    print(writable(_TOLD[form](found)))
    return 0


def _as_text(one: Rule) -> str:
    return f"{one.chapter}: {one.title} ({one.name})\n\n{one.plain}"


def _as_markdown(one: Rule) -> str:
    return f"# {one.title} (`{one.name}`)\n\n{one.text}"


def _as_json(one: Rule) -> str:
    return _dumped({"format": 1, "rule": asdict(one)})


def _names_as_text(found: tuple[Rule, ...]) -> str:
    width = max(len(each.name) for each in found)
    return "\n\n".join(
        "\n".join([chapter, *(f"  {each.name:<{width}}  {each.title}" for each in of_chapter)])
        for chapter, of_chapter in groupby(found, lambda each: each.chapter)
    )


def _names_as_markdown(found: tuple[Rule, ...]) -> str:
    return "\n".join(f"- `{each.name}`: {each.title}" for each in found)


def _names_as_json(found: tuple[Rule, ...]) -> str:
    names = [{"name": one.name, "title": one.title, "chapter": one.chapter} for one in found]
    return _dumped({"format": 1, "rules": names})


def _dumped(whole: object) -> str:
    return json.dumps(whole, indent=2, ensure_ascii=False)


_TOLD = {"text": _as_text, "markdown": _as_markdown, "json": _as_json}
_LISTED = {"text": _names_as_text, "markdown": _names_as_markdown, "json": _names_as_json}
