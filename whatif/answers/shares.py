"""Where the machines' hours go, state by state (rule `states`), ready to be drawn."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum, auto

from whatif.answers.figures import NIL_HOURS, Figures
from whatif.answers.states import NIGHT, RESTING, ROWS, StateRow
from whatif.records import dataclass


class Scope(Enum):
    """Which hours are looked at."""

    WEEK = auto()
    ATTENDED = auto()
    AFTER_HOURS = auto()


_IN_BARS = (*ROWS, NIGHT)


@dataclass(frozen=True, slots=True)
class Share:
    """One state of one scenario.

    Attributes:
        hours: a week, all machines together.
        percent: of the hours looked at; None where there are none.
        more: hours more than in the reference; None for the reference, or where it has none.
    """

    state: StateRow
    hours: float
    percent: float | None
    more: float | None


def shares(figures: Figures, reference: Figures | None, scope: Scope) -> tuple[Share, ...]:
    """Every state of a scenario in order; they add up to the hours looked at."""
    here = _hours(figures, scope)
    there = None if reference is None else _hours(reference, scope)
    total = sum(here.values())
    return tuple(
        Share(
            row,
            here[row.name],
            100 * here[row.name] / total if total else None,
            None if there is None else here[row.name] - there[row.name],
        )
        for row in _IN_BARS
        if row.name in here
    )


def seen(of_scenarios: list[tuple[Share, ...]]) -> list[StateRow]:
    """The states worth a row: those that some scenario is in."""
    kept = {
        share.state.name for shares in of_scenarios for share in shares if share.hours > NIL_HOURS
    }
    return [row for row in _IN_BARS if row.name in kept]


def stacked(shares: tuple[Share, ...], width: int) -> list[tuple[Share, int]]:
    """A bar of ``width`` cells shared out by hours, largest remainder first.

    The cells add up to ``width`` (no bar where there are no hours).
    """
    total = sum(share.hours for share in shares)
    if not total:
        return []
    exact = [share.hours / total * width for share in shares]
    cells = [int(length) for length in exact]
    rest = sorted(range(len(exact)), key=lambda i: cells[i] - exact[i])
    for i in rest[: width - sum(cells)]:
        cells[i] += 1
    return [(share, count) for share, count in zip(shares, cells, strict=True) if count]


def _hours(figures: Figures, scope: Scope) -> Mapping[str, float]:
    hours = {
        Scope.WEEK: figures.by_state,
        Scope.ATTENDED: figures.attended,
        Scope.AFTER_HOURS: figures.after_hours,
    }[scope]
    if scope is Scope.ATTENDED:
        return hours
    night = {NIGHT.name: sum(hours[state] for state in RESTING)}
    return {state: spent for state, spent in hours.items() if state not in RESTING} | night
