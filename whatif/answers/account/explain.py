"""Which figures a scenario has, and any of them accounted for."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from whatif.answers.account.account import Account, Figure
from whatif.answers.account.case import Case
from whatif.answers.account.families import figure_rows
from whatif.answers.compare import Comparison
from whatif.study.check.check import Checked
from whatif.study.refused import FIGURE, NotThere, Refused

_ROOT = "simulated."
"""What an id leaves out of its place in the JSON; it may be written all the same."""

_ALIKE = 0.5
"""Share of its letters from which an id is like what was asked for."""


def figures(found: Comparison, checked: Checked, scenario: str) -> list[Figure]:
    """The figures of a scenario, in the order of the families; KeyError for no such scenario."""
    return list(_case(found, checked, scenario).listed.values())


def explain(found: Comparison, checked: Checked, scenario: str, figure: str) -> Account:
    """Account for one figure of a scenario.

    Args:
        figure: its id, or its name in the tables.
        found: the study answered; what has not been worked out in it is told as such.
        checked: the check of the same study, which has the values' origins.

    Raises:
        KeyError: there is no such scenario.
        Refused: the scenario has no such figure.
    """
    case = _case(found, checked, scenario)
    wanted = figure.removeprefix(_ROOT)
    known: list[str] = []
    for family, row, of in figure_rows(case):
        if wanted == of.id or wanted.startswith(f"{of.id}.") or _is_title(of, wanted):
            return Account(scenario, case.title, of, row.account(case, of), family.rules)
        known.append(of.id)
    raise Refused(NotThere(FIGURE, figure, case.title, _nearest(wanted, known), tuple(known)))


def _is_title(figure: Figure, wanted: str) -> bool:
    """Whether a figure is asked for by its name in the tables; what leads up to it may be left."""
    title, asked = figure.title.lower(), wanted.lower()
    return asked == title or title.endswith(f": {asked}")


def _case(found: Comparison, checked: Checked, scenario: str) -> Case:
    if scenario not in found.answers:
        raise KeyError(scenario)
    return Case(found, checked, scenario, _only_figures)


def _only_figures(case: Case) -> Iterator[Figure]:
    return (figure for _, _, figure in figure_rows(case))


def _nearest(asked: str, known: list[str]) -> tuple[str, ...]:
    """Up to three ids that are like what was asked for, or that stand below or at its end."""
    below = [id_ for id_ in known if id_.startswith(asked) or id_.endswith(f".{asked}")]
    return tuple((below or get_close_matches(asked.lower(), known, 3, _ALIKE))[:3])
