"""What holds a scenario back: in sentences with numbers, and in a few words for a column."""

from __future__ import annotations

from whatif.answers.limits import AfterHours, HeldBack, WhyNothing
from whatif.answers.states import STATE_ROWS
from whatif.telling.amounts import rounded
from whatif.telling.fit import not_made_sentence

_WHY_NOTHING: dict[WhyNothing, str] = {
    "no machine": "There is no machine, so nothing is made.",
    "no part is made": "None of the parts is made.",
    "nobody there": "Nobody is ever on duty, so nothing is made.",
}


def limit_text(held: HeldBack | None) -> str:
    """One or more sentences with the numbers; "" where nothing is simulated."""
    return "" if held is None else " ".join(limit_sentences(held))


def limit_sentences(held: HeldBack) -> list[str]:
    """The same one by one: what holds it back by day, then what ends the run after hours."""
    if held.why_nothing is not None:
        return [_WHY_NOTHING[held.why_nothing], *map(not_made_sentence, held.unmade)]
    said = [_by_day(held)]
    if held.after_hours is not None:
        said.append(_after_hours(held.after_hours))
    return said


def _by_day(held: HeldBack) -> str:
    text = (
        f"{'Demand is met; of' if held.is_demand_met else 'Of'} {rounded(held.attended)} attended "
        f"machine hours a week the spindles are in cycle {rounded(held.in_cycle)}; "
    )
    if not held.losses:
        return text + "nothing holds them back."
    first, *others = held.losses
    text += f"{STATE_ROWS[first.state].label} takes {rounded(first.hours)}"
    text += "".join(
        f", then {STATE_ROWS[loss.state].label} {rounded(loss.hours)}" for loss in others
    )
    return text + (", so hardly anything holds them back by day." if held.is_trifle else ".")


def _after_hours(run: AfterHours) -> str:
    hours = rounded(run.in_cycle)
    if not run.is_begun:
        return f"After hours {hours} more are cut to finish the pieces begun; none is begun then."
    until = "" if run.ended_by is None else f", until {STATE_ROWS[run.ended_by].ends_night}"
    return f"After hours they cut {hours} more{until}."


def limit_in_short(held: HeldBack) -> str:
    """A few words for a column: that demand is met, or what the largest loss takes."""
    if held.is_demand_met:
        return "demand is met"
    if held.losses and held.is_trifle:
        return f"cuts {_cut(held)} of time"
    return loss_in_short(held)


def loss_in_short(held: HeldBack) -> str:
    """The largest loss with its share of the attended machine hours, whatever is wanted."""
    if held.why_nothing is not None:
        return held.why_nothing
    if held.state is None:
        return "nothing"
    if held.is_trifle:
        return f"hardly anything, it cuts {_cut(held)} of the time"
    return f"{STATE_ROWS[held.state].holds_back} {held.share:.0%}"


def _cut(held: HeldBack) -> str:
    return f"{held.in_cycle / held.attended:.0%}"
