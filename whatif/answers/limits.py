"""What holds a scenario back, in words with numbers (rule `limits.held-back`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from whatif.answers.figures import Figures
from whatif.answers.orders.orders import Ordered
from whatif.answers.states import IN_CYCLE, STATE_ROWS
from whatif.plan.model import Plan
from whatif.telling.amounts import rounded

_MET = "demand is met"
"""Said where no more is wanted: then no loss holds back what sells."""

_ALL = 100
"""Percent of demand met from which no more is wanted."""

_TRIFLE = 0.05
"""Share of the attended machine hours below which the largest loss holds nothing back."""

_NIL = 0.005
"""Hours a week below which a state is not worth a word: they would be shown as 0.00."""


@dataclass(frozen=True, slots=True)
class HeldBack:
    """What limits a scenario.

    Attributes:
        state: the largest state other than in cycle within attended hours, None if there is none.
        second: the one after it.
        short: a few words for a column: that demand is met, or what the largest loss takes.
        text: one or two sentences with the numbers.
        loss: the largest loss with its share of the attended machine hours, whatever is wanted.
    """

    state: str | None
    second: str | None
    short: str
    text: str
    loss: str


def held_back(plan: Plan, one: Figures, orders: Mapping[str, Ordered] | None = None) -> HeldBack:
    """Name the largest loss, the one after it, and what ends the run after hours.

    Where all that is wanted is made, ``orders`` in time too, that is said before it.
    """
    hours = one.attended
    losses = _losses(hours)
    at_all = sum(hours.values())
    if not plan.groups:
        return _nothing("no machine", "There is no machine, so nothing is made.")
    if all(part.unmade for part in plan.parts):
        text = "None of the parts is made. " + " ".join(part.unmade for part in plan.parts)
        return _nothing("no part is made", text)
    if not at_all:
        return _nothing("nobody there", "Nobody is ever on duty, so nothing is made.")
    met = _is_met(one, orders or {})
    text = (
        f"{'Demand is met; of' if met else 'Of'} {rounded(at_all)} attended "
        f"machine hours a week the spindles are in cycle {rounded(hours[IN_CYCLE])}; "
    )
    if not losses:
        return HeldBack(
            None, None, _MET if met else "nothing", text + "nothing holds them back.", "nothing"
        )
    first, second = losses[0], losses[1] if len(losses) > 1 else None
    text += f"{STATE_ROWS[first].label} takes {rounded(hours[first])}"
    if second:
        text += f", then {STATE_ROWS[second].label} {rounded(hours[second])}"
    share = hours[first] / at_all
    if share < _TRIFLE:
        cut = f"{hours[IN_CYCLE] / at_all:.0%}"
        short, loss = f"cuts {cut} of time", f"hardly anything, it cuts {cut} of the time"
        text += ", so hardly anything holds them back by day"
    else:
        short = loss = f"{STATE_ROWS[first].holds_back} {share:.0%}"
    text += "." + _night(plan, one)
    return HeldBack(first, second, _MET if met else short, text, loss)


def _nothing(short: str, text: str) -> HeldBack:
    """Why nothing is made."""
    return HeldBack(None, None, short, text, short)


def _is_met(one: Figures, orders: Mapping[str, Ordered]) -> bool:
    """Whether every wanted part's demand is met and every real order is off in time."""
    parts = [met is not None and met >= _ALL for met in one.demand_met.values()]
    in_time = [order.last_off is not None and not order.late for order in orders.values()]
    wanted = [*parts, *in_time]
    return bool(wanted) and all(wanted)


def _losses(hours: Mapping[str, float]) -> list[str]:
    rest = [(spent, state) for state, spent in hours.items() if state != IN_CYCLE]
    # Stable: of equal losses the one named first (rule `states`) stays first.
    return [state for spent, state in sorted(rest, key=lambda one: -one[0]) if spent > _NIL]


def _night(plan: Plan, one: Figures) -> str:
    """What ends the run after hours, told apart."""
    hours = one.after_hours
    if hours[IN_CYCLE] <= _NIL:
        return ""
    if not plan.after_shift:
        return (
            f" After hours {rounded(hours[IN_CYCLE])} more are cut to finish the pieces begun; "
            "none is begun then."
        )
    ends = [end for state in _losses(hours) if (end := STATE_ROWS[state].ends_night)]
    text = f" After hours they cut {rounded(hours[IN_CYCLE])} more"
    if not ends:
        return text + "."
    return text + f", until {ends[0]}."
