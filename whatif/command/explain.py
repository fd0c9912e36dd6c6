"""``whatif explain``: a plain account of one figure, or the list of those that there are."""

from __future__ import annotations

import sys

from whatif.answers.account.explain import UnknownFigureError, explain, figures
from whatif.command.answers import answered, sound_study, writable
from whatif.reports.explained import ACCOUNTS, LISTINGS, Listing, ids_text
from whatif.study.check.check import Checked
from whatif.study.schema.catalogue import closest


def explain_figure(path: str, scenario: str, figure: str | None, form: str) -> int:
    """Print the account of a figure, or without one all figures with their values.

    1 with the reason on standard error where the study has problems, or there is no such
    scenario or figure.
    """
    checked = sound_study(path)
    if checked is None:
        return 1
    if scenario not in checked.resolved:
        _tell_scenarios(checked, scenario)
        return 1
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


def _tell_scenarios(checked: Checked, asked: str) -> None:
    ids = tuple(checked.resolved)
    nearest = closest(asked, ids)
    meant = f" Did you mean {nearest}?" if nearest else ""
    print(f"There is no scenario {asked}.{meant} There are: {', '.join(ids)}.", file=sys.stderr)
