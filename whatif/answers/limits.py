"""What holds a scenario back (rule `limits.held-back`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from whatif.answers.figures import NIL_HOURS, Figures
from whatif.answers.orders.orders import Ordered
from whatif.answers.states import IN_CYCLE, STATE_ROWS
from whatif.plan.model import NotMade, Plan

_ALL = 100
"""Percent of demand met from which no more is wanted."""

_TRIFLE = 0.05
"""Share of the attended machine hours below which the largest loss holds nothing back."""

WhyNothing = Literal["no machine", "no part is made", "nobody there"]


@dataclass(frozen=True, slots=True)
class Loss:
    """Attended machine hours a week in a state other than in cycle."""

    state: str
    hours: float


@dataclass(frozen=True, slots=True)
class AfterHours:
    """A run after hours.

    Attributes:
        in_cycle: hours a week, all machines together.
        is_begun: whether pieces are begun then; else those begun before are finished.
        ended_by: the state that ends most of it; None where pieces are not begun, or none does.
    """

    in_cycle: float
    is_begun: bool
    ended_by: str | None


@dataclass(frozen=True, slots=True)
class HeldBack:
    """What limits a scenario.

    Attributes:
        why_nothing: why nothing is made at all, None where something is.
        unmade: why each part is not made, where none of them is.
        attended, in_cycle: machine hours a week with somebody on duty, and those in cycle of them.
        losses: of those hours the largest, and the one after it; none where there is none.
        is_demand_met: whether no more is wanted: every demand met, every real order in time.
        after_hours: None where the spindles do not cut then.
    """

    why_nothing: WhyNothing | None = None
    unmade: tuple[NotMade, ...] = ()
    attended: float = 0.0
    in_cycle: float = 0.0
    losses: tuple[Loss, ...] = ()
    is_demand_met: bool = False
    after_hours: AfterHours | None = None

    @property
    def state(self) -> str | None:
        """The largest loss within attended hours."""
        return self.losses[0].state if self.losses else None

    @property
    def share(self) -> float:
        """The largest loss as a share, of one, of the attended hours."""
        return self.losses[0].hours / self.attended if self.losses else 0.0

    @property
    def is_trifle(self) -> bool:
        """Whether even the largest loss is too small to hold anything back."""
        return self.share < _TRIFLE


def what_holds_back(
    plan: Plan, figures: Figures, orders: Mapping[str, Ordered] | None = None
) -> HeldBack:
    """The largest loss, the one after it, whether all is made, and what ends the run after hours.

    Args:
        orders: the real orders, which are wanted in time too.
    """
    if not plan.groups:
        return HeldBack(why_nothing="no machine")
    unmade = tuple(part.unmade for part in plan.parts if part.unmade is not None)
    if len(unmade) == len(plan.parts):
        return HeldBack("no part is made", unmade)
    hours = figures.attended
    attended = sum(hours.values())
    if not attended:
        return HeldBack(why_nothing="nobody there")
    losses = _losses(hours)
    return HeldBack(
        attended=attended,
        in_cycle=hours[IN_CYCLE],
        losses=tuple(losses[:2]),
        is_demand_met=_is_met(figures, orders or {}),
        after_hours=_after_hours(plan, figures.after_hours) if losses else None,
    )


def _is_met(figures: Figures, orders: Mapping[str, Ordered]) -> bool:
    """Whether every wanted part's demand is met and every real order is off in time."""
    parts = [met is not None and met >= _ALL for met in figures.demand_met.values()]
    in_time = [order.last_off is not None and not order.late for order in orders.values()]
    wanted = [*parts, *in_time]
    return bool(wanted) and all(wanted)


def _losses(hours: Mapping[str, float]) -> list[Loss]:
    found = [
        Loss(state, spent)
        for state, spent in hours.items()
        if state != IN_CYCLE and spent > NIL_HOURS
    ]
    # Stable: of equal losses the one named first (rule `states`) stays first.
    return sorted(found, key=lambda loss: -loss.hours)


def _after_hours(plan: Plan, hours: Mapping[str, float]) -> AfterHours | None:
    if hours[IN_CYCLE] <= NIL_HOURS:
        return None
    if not plan.after_shift:
        return AfterHours(hours[IN_CYCLE], is_begun=False, ended_by=None)
    ends = (loss.state for loss in _losses(hours) if STATE_ROWS[loss.state].ends_night)
    return AfterHours(hours[IN_CYCLE], is_begun=True, ended_by=next(ends, None))
