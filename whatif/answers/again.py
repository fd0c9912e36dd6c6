"""Which alternatives are another one again: no lever of the shop lies between them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from enum import Enum, auto
from typing import TYPE_CHECKING

from whatif.answers.money.year import prices_of
from whatif.records import dataclass

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.takes import Takes
    from whatif.cell.model import Cell
    from whatif.plan.model import Plan


class But(Enum):
    """In what an alternative differs from the one that it is again (rule `verdict.first`)."""

    STOPS = auto()
    SCATTER = auto()
    """By how much visits scatter."""
    GAP = auto()
    """Whose the hour meters' gap is."""


@dataclass(frozen=True, slots=True)
class Again:
    """Which one an alternative is again, and in what it differs; in nothing where that is empty."""

    scenario: str
    but: tuple[But, ...] = ()


def again_of(judged: Iterable[tuple[str, Answer, Takes | None]]) -> Mapping[str, Again]:
    """Those that are another one again, which is the first with the least of stops and scatter.

    The same cell at the same prices, whatever stops, scatter and the hour meters' gap do to it:
    nobody buys, moves or pays anything to get from the one to the other.
    """
    found: dict[object, tuple[str, Plan]] = {}
    again: dict[str, Again] = {}
    # What has neither stops nor a gap laid comes first: the other is told beside that.
    for id_, answer, takes in sorted(judged, key=lambda each: _aside(each[1].plan)):
        if takes is None or answer.plan.cell is None:
            continue
        key = _lever_key(answer, takes, answer.plan.cell)
        id_first, first = found.setdefault(key, (id_, answer.plan))
        if id_first != id_:
            again[id_] = Again(id_first, tuple(_between(answer.plan, first)))
    return again


def _aside(plan: Plan) -> tuple[bool, bool]:
    """Whether it has stops, and whether a gap is laid."""
    cell = plan.cell
    return cell is not None and bool(cell.stops), any(_gap(cell))


def _gap(cell: Cell | None) -> tuple[int, int]:
    return (0, 0) if cell is None else (cell.visit_extra, cell.load_extra)


def _between(here: Plan, there: Plan) -> Iterable[But]:
    assert here.cell is not None
    assert there.cell is not None
    if here.cell.stops != there.cell.stops:
        yield But.STOPS
    if here.scatter != there.scatter:
        yield But.SCATTER
    if _gap(here.cell) != _gap(there.cell):
        yield But.GAP


def _lever_key(answer: Answer, takes: Takes, cell: Cell) -> object:
    """All that somebody has to do or pay for it."""
    prices, money = prices_of(answer.plan), answer.money
    if any(_aside(answer.plan)):
        cell = replace(cell, stops=(), visit_extra=0, load_extra=0)
    # Where nobody has said how many fixtures there are, stops alone have more of them held at once.
    fixtures = 0.0 if money is None else float(money.of_capital.fixtures)
    return (
        cell,
        round(takes.one_off - fixtures, 2),
        round(takes.paid_hours, 2),
        frozenset((each.what, each.of, each.reference) for each in takes.missing),
        tuple(prices.parts.items()),
        tuple((shift.id, shift.wage) for shift in prices.shifts),
        (prices.yearly, prices.spindle_hour, prices.floor_price, prices.rate, prices.years),
        answer.plan.parts,
        answer.plan.orders,
        tuple(group.yearly for group in prices.groups.values()),
    )
