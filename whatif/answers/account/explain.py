"""Every figure of the results accounted for: formula, numbers, their origins, a pencil check.

A figure's id is its place in the JSON of ``compare`` ("spindle_hours.total", "fit.body.mill");
what is below a figure there (a layout below its fit) is accounted for with it. To account for a
new figure, write the two functions of a `Family` and add it to ``_FAMILIES``; its words stand in
`whatif.telling.account`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

from whatif.answers.account import (
    fit,
    gains,
    hours,
    indicators,
    money,
    orders,
    people,
    pieces,
    said,
)
from whatif.answers.account.account import Account, Figure, Worked
from whatif.answers.account.case import Case
from whatif.answers.compare import Comparison
from whatif.study.check.check import Checked
from whatif.study.refused import FIGURE, NotThere, Refused


@dataclass(frozen=True, slots=True)
class Family:
    """Figures of one theme.

    Attributes:
        figures: those that a scenario has, with their values.
        account: what there is to say of one of them.
        rules: anchors of the rules of the cell that they follow.
    """

    figures: Callable[[Case], Iterable[Figure]]
    account: Callable[[Case, Figure], Worked]
    rules: tuple[str, ...]


FAMILIES: Final = (
    Family(gains.gain_figures, gains.gain, ("results.gains", "results.saleable", "results.worth")),
    Family(gains.grain_figures, gains.grain, ("grain.find", "grain.difference")),
    Family(hours.spindle_figures, hours.spindle, ("results.hours", "calendar.attended")),
    Family(hours.state_figures, hours.state, ("states", "states.sum")),
    Family(hours.share_figures, hours.share, ("results.utilization",)),
    Family(hours.week_figures, hours.weeks, ("results.window",)),
    Family(hours.limit_figures, hours.limit, ("limits.held-back",)),
    Family(hours.band_figures, hours.band, ("results.runs", "stops.luck")),
    Family(indicators.indicator_figures, indicators.indicator, ("results.indicators",)),
    Family(pieces.piece_figures, pieces.pieces, ("results.pieces",)),
    Family(pieces.demand_figures, pieces.demand, ("results.demand", "orders.due")),
    Family(people.people_figures, people.people, ("results.people", "people.free")),
    Family(fit.fit_figures, fit.fits, ("fit.load", "fit.face", "fit.count", "fit.permission")),
    Family(money.money_figures, money.money, ("money.year", "money.capital", "money.payback")),
    Family(orders.order_figures, orders.order, ("promises.off", "orders.real")),
    Family(orders.rush_figures, orders.rush, ("rush.trial", "rush.result")),
    Family(said.claim_figures, said.claimed, ("said.hours", "said.gain", "said.against")),
    Family(said.meter_figures, said.meters, ("meters.share", "meters.gap")),
)

_ROOT = "simulated."
"""What an id leaves out of its place in the JSON; it may be written all the same."""

_ALIKE = 0.5
"""Share of its letters from which an id is like what was asked for."""


def figures(found: Comparison, checked: Checked, scenario: str) -> list[Figure]:
    """The figures of a scenario, in the order of the families; KeyError for no such scenario."""
    case = _case(found, checked, scenario)
    return [figure for family in FAMILIES for figure in family.figures(case)]


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
    for family in FAMILIES:
        for of in family.figures(case):
            if wanted == of.id or wanted.startswith(f"{of.id}.") or _is_title(of, wanted):
                worked = family.account(case, of)
                return Account(scenario, case.title, of, worked, family.rules)
            known.append(of.id)
    raise Refused(NotThere(FIGURE, figure, case.title, _nearest(wanted, known), tuple(known)))


def _is_title(figure: Figure, wanted: str) -> bool:
    """Whether a figure is asked for by its name in the tables; what leads up to it may be left."""
    title, asked = figure.title.lower(), wanted.lower()
    return asked == title or title.endswith(f": {asked}")


def _case(found: Comparison, checked: Checked, scenario: str) -> Case:
    if scenario not in found.answers:
        raise KeyError(scenario)
    return Case(found, checked, scenario)


def _nearest(asked: str, known: list[str]) -> tuple[str, ...]:
    """Up to three ids that are like what was asked for, or that stand below or at its end."""
    below = [id_ for id_ in known if id_.startswith(asked) or id_.endswith(f".{asked}")]
    return tuple((below or get_close_matches(asked.lower(), known, 3, _ALIKE))[:3])
