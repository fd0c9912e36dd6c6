"""Every figure of the results accounted for: formula, numbers, their origins, a pencil check.

A figure's id is its place in the JSON of ``compare`` ("spindle_hours.total", "fit.body.mill");
what is below a figure there (a layout below its fit) is accounted for with it. To account for a
new figure, write a :class:`~whatif.answers.account.family.Family` and add it to ``_FAMILIES``.
"""

from __future__ import annotations

from difflib import get_close_matches
from typing import Final

from whatif.answers.account import (
    claimed,
    fit,
    gains,
    hours,
    indicators,
    money,
    orders,
    people,
    pieces,
    rush,
    weeks,
)
from whatif.answers.account.account import Account, Figure
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family
from whatif.answers.compare import Comparison
from whatif.study.check.check import Checked

_FAMILIES: Final[tuple[Family, ...]] = (
    *gains.FAMILIES,
    *hours.FAMILIES,
    *weeks.FAMILIES,
    *indicators.FAMILIES,
    *pieces.FAMILIES,
    *people.FAMILIES,
    *fit.FAMILIES,
    *money.FAMILIES,
    *orders.FAMILIES,
    *rush.FAMILIES,
    *claimed.FAMILIES,
)

_ROOTS = ("simulated.",)
"""What an id leaves out of its place in the JSON; it may be written all the same."""

_CLOSE = 0.5


class UnknownFigureError(ValueError):
    """No such figure in the scenario; ``nearest`` are those that may have been meant."""

    def __init__(self, asked: str, scenario: str, nearest: tuple[str, ...]) -> None:
        self.asked, self.scenario, self.nearest = asked, scenario, nearest
        meant = f" Did you mean {' or '.join(nearest)}?" if nearest else ""
        super().__init__(f"Scenario {scenario} has no figure {asked}.{meant}")

    def __reduce__(self) -> tuple[type[UnknownFigureError], tuple[str, str, tuple[str, ...]]]:
        # Exceptions are otherwise made anew from their sentence alone in another process.
        return UnknownFigureError, (self.asked, self.scenario, self.nearest)


def figures(found: Comparison, checked: Checked, scenario: str) -> list[Figure]:
    """The figures of a scenario, in the order of the catalogue; KeyError for no such scenario."""
    case = _case(found, checked, scenario)
    return [one for family in _FAMILIES for one in family.figures(case)]


def explain(found: Comparison, checked: Checked, scenario: str, figure: str) -> Account:
    """Account for one figure of a scenario.

    Args:
        figure: its id, or its name in the tables.
        found: the study answered; what has not been worked out in it is told as such.
        checked: the check of the same study, which has the values' origins.

    Raises:
        KeyError: there is no such scenario.
        UnknownFigureError: the scenario has no such figure.
    """
    case = _case(found, checked, scenario)
    wanted = figure
    for root in _ROOTS:
        wanted = wanted.removeprefix(root)
    known: list[str] = []
    for family in _FAMILIES:
        for one in family.figures(case):
            if wanted == one.id or wanted.startswith(f"{one.id}.") or _is_title(one, wanted):
                return Account(scenario, case.title, one, family.account(case, one))
            known.append(one.id)
    raise UnknownFigureError(figure, scenario, _nearest(wanted, known))


def _is_title(one: Figure, wanted: str) -> bool:
    """Whether a figure is asked for by its name in the tables; what leads up to it may be left."""
    title, asked = one.title.lower(), wanted.lower()
    return asked == title or title.endswith(f": {asked}")


def _case(found: Comparison, checked: Checked, scenario: str) -> Case:
    if scenario not in found.answers:
        raise KeyError(scenario)
    return Case(found, checked, scenario)


def _nearest(asked: str, known: list[str]) -> tuple[str, ...]:
    """Up to three ids that are like what was asked for, or that stand below or at its end."""
    below = [id_ for id_ in known if id_.startswith(asked) or id_.endswith(f".{asked}")]
    return tuple((below or get_close_matches(asked.lower(), known, 3, _CLOSE))[:3])
