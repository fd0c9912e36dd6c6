"""Where the machines' hours go, state by state (rule `states`), ready to be drawn."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from enum import Enum, auto
from typing import Literal, TypeVar

from whatif.answers.families import StateFamily
from whatif.answers.figures import NIL_HOURS, Figures
from whatif.answers.states import IN_CYCLE, NIGHT, RESTING, ROWS, UNSOLD, StateRow
from whatif.plan.model import Plan
from whatif.records import dataclass


class Scope(Enum):
    """Which hours are looked at."""

    WEEK = auto()
    ATTENDED = auto()
    AFTER_HOURS = auto()


_IN_BARS = (ROWS[0], UNSOLD, *ROWS[1:], NIGHT)


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


def duties_hours(plan: Plan, figures: Figures) -> float:
    """Hours a week of people's busy ones that are their other duties.

    Whatever they do takes that share longer (rule `people.other-duties`), so it is of each of it.
    """
    return 0.0 if plan.cell is None else float(plan.cell.other_duties) * figures.people.busy


def seen(of_scenarios: list[tuple[Share, ...]]) -> list[StateRow]:
    """The states worth a row: those that some scenario is in."""
    kept = {
        share.state.name for shares in of_scenarios for share in shares if share.hours > NIL_HOURS
    }
    return [row for row in _IN_BARS if row.name in kept]


Band = Literal["unsold", StateFamily]
"""What a bar is cut up into: the families of states, and what is cut though nobody buys it."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """One band of a bar: so many cells, and its hours in percent of all."""

    band: Band
    cells: int
    percent: float

    @property
    def family(self) -> StateFamily:
        """The colour role."""
        return UNSOLD.family if self.band == "unsold" else self.band


def band_of(state: StateRow) -> Band:
    """The band that a state belongs to."""
    return "unsold" if state is UNSOLD else state.family


def lengths(of_scenarios: Mapping[str, tuple[Share, ...]], width: int) -> dict[str, int]:
    """Cells of each scenario's bar on one scale, so that the longest is ``width`` cells long."""
    hours = {id_: sum(share.hours for share in each) for id_, each in of_scenarios.items()}
    most = max(hours.values(), default=0.0)
    return {id_: round(width * each / most) if most else 0 for id_, each in hours.items()}


def stacked(shares: tuple[Share, ...], width: int) -> list[Stretch]:
    """A bar of ``width`` cells shared out by the hours of each band, largest remainder first.

    The cells add up to ``width`` (no bar where there are no hours).
    """
    total = sum(share.hours for share in shares)
    if not total:
        return []
    hours: dict[Band, float] = dict.fromkeys(_BANDS, 0.0)
    for share in shares:
        hours[band_of(share.state)] += share.hours
    cells = apportioned(hours, width)
    return [
        Stretch(band, count, 100 * hours[band] / total) for band, count in cells.items() if count
    ]


K = TypeVar("K", bound=Hashable)


def apportioned(shares: Mapping[K, float], total: int) -> dict[K, int]:
    """Shares of a whole as whole numbers that add up to ``total``, largest remainder first.

    Of equal remainders the first goes up; all are 0 where the shares are.
    """
    whole = sum(shares.values())
    if not whole:
        return dict.fromkeys(shares, 0)
    exact = {of: share / whole * total for of, share in shares.items()}
    parts = {of: int(share) for of, share in exact.items()}
    rest = sorted(exact, key=lambda of: parts[of] - exact[of])
    for of in rest[: total - sum(parts.values())]:
        parts[of] += 1
    return parts


_BANDS: tuple[Band, ...] = ("cutting", "unsold", "serving", "waiting", "resting")


def _hours(figures: Figures, scope: Scope) -> Mapping[str, float]:
    hours = {
        Scope.WEEK: figures.by_state,
        Scope.ATTENDED: figures.attended,
        Scope.AFTER_HOURS: figures.after_hours,
    }[scope]
    if scope is Scope.ATTENDED:
        return hours
    if scope is Scope.WEEK:
        # Only of the whole week is it known which of the hours cut what nobody buys.
        unsold = min(figures.unsold_hours, hours[IN_CYCLE])
        hours = {**hours, IN_CYCLE: hours[IN_CYCLE] - unsold, UNSOLD.name: unsold}
    night = {NIGHT.name: sum(hours[state] for state in RESTING)}
    return {state: spent for state, spent in hours.items() if state not in RESTING} | night
