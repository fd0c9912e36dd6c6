"""Where the machines' hours go, state by state, ready to be drawn (cell model, section 6)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from whatif.answers.figures import Figures
from whatif.cell.states import STATES


class Scope(Enum):
    """Which hours are looked at."""

    WEEK = "the whole week"
    ATTENDED = "hours with somebody on duty"
    AFTER_HOURS = "hours after the last shift"


class Kind(Enum):
    """What a state has in common with others."""

    CUTTING = "cutting"
    SERVING = "being served, by people or by itself"
    WAITING = "standing: it waits for something"
    RESTING = "standing: nobody there, or not allowed"


NIGHT = "night"
"""Standing with nobody there, and standing because no piece may be begun, taken together.

Which of the two an hour of the night counts as depends only on whether a loaded pallet happens to
stand there, which is no difference that a shop could act on; in attended hours they stay apart.
"""

_WORDS = {
    "in_cycle": ("in cycle", Kind.CUTTING),
    "load": ("loading and unloading", Kind.SERVING),
    "setup": ("changing the work holding", Kind.SERVING),
    "person_at_machine": ("prove-out, tool change", Kind.SERVING),
    "pallet_change": ("changing pallets", Kind.SERVING),
    "warm_up": ("warming up", Kind.SERVING),
    "waiting_for_person": ("waiting for a person", Kind.WAITING),
    "first_piece": ("waiting for a first piece", Kind.WAITING),
    "stopped": ("stopped", Kind.WAITING),
    "no_fixture": ("lacking a fixture", Kind.WAITING),
    "nothing_due": ("nothing due", Kind.WAITING),
    "outside_running_hours": ("loaded, but not allowed", Kind.RESTING),
    "nobody_on_duty": ("nobody on duty", Kind.RESTING),
    NIGHT: ("nobody or not allowed", Kind.RESTING),
}
"""Words and kind of each state, in the order in which they are shown."""

_NIL = 0.005
"""Hours a week that would be shown as 0.00."""


@dataclass(frozen=True, slots=True)
class Share:
    """One state of one scenario.

    Attributes:
        hours: a week, all machines together.
        percent: of the hours looked at; None where there are none.
        more: hours more than in the reference; None for the reference, or where it has none.
    """

    state: str
    words: str
    kind: Kind
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
            state,
            *_WORDS[state],
            hours,
            100 * hours / total if total else None,
            None if there is None else hours - there[state],
        )
        for state, hours in here.items()
    )


def seen(of_scenarios: list[tuple[Share, ...]]) -> list[str]:
    """The states worth a row: those that some scenario is in."""
    kept = {one.state for of_one in of_scenarios for one in of_one if one.hours > _NIL}
    return [state for state in _WORDS if state in kept]


def stacked(of_one: tuple[Share, ...], width: int) -> list[tuple[Share, int]]:
    """A bar of ``width`` cells shared out by hours, largest remainder first.

    The cells add up to ``width`` (no bar where there are no hours).
    """
    total = sum(one.hours for one in of_one)
    if not total:
        return []
    exact = [one.hours / total * width for one in of_one]
    cells = [int(length) for length in exact]
    rest = sorted(range(len(exact)), key=lambda i: cells[i] - exact[i])
    for i in rest[: width - sum(cells)]:
        cells[i] += 1
    return [(one, count) for one, count in zip(of_one, cells, strict=True) if count]


def _hours(figures: Figures, scope: Scope) -> Mapping[str, float]:
    hours = {
        Scope.WEEK: figures.by_state,
        Scope.ATTENDED: figures.attended,
        Scope.AFTER_HOURS: figures.after_hours,
    }[scope]
    assert set(hours) == set(STATES)
    if scope is Scope.ATTENDED:
        return {state: hours[state] for state in _WORDS if state != NIGHT}
    night = hours["outside_running_hours"] + hours["nobody_on_duty"]
    kept = {state: hours[state] for state in _WORDS if state in hours}
    del kept["outside_running_hours"], kept["nobody_on_duty"]
    return kept | {NIGHT: night}
