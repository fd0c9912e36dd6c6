"""What holds a scenario back: in sentences with numbers, and in a few words for a column."""

from __future__ import annotations

from whatif.answers.figures import NIL_HOURS
from whatif.answers.limits import ALL_MET, AfterHours, HeldBack, Loss, WhyNothing
from whatif.answers.states import STATE_ROWS
from whatif.cell.look import Why
from whatif.telling.amounts import rounded
from whatif.telling.ends import END_WORDS
from whatif.telling.fit import not_made_sentence

_WHY_NOTHING: dict[WhyNothing, str] = {
    "no machine": "There is no machine, so nothing is made.",
    "no part is made": "None of the parts is made.",
    "nobody there": "Nobody is ever on duty, so nothing is made.",
}


_NEARLY_ALL = 0.995
"""Share of the nights that would be told as all of them, once rounded."""


def limit_text(held: HeldBack | None, could_make: float | None = None) -> str:
    """One or more sentences with the numbers; "" where nothing is simulated.

    Args:
        could_make: what the cell could make at most, in percent of what is wanted.
    """
    return "" if held is None else " ".join(limit_sentences(held, could_make))


def limit_sentences(held: HeldBack, could_make: float | None = None) -> list[str]:
    """The same one by one: parts that are not made, then what loses most and what comes next.

    Where all that is wanted is made, that is said instead.
    """
    unmade = [not_made_sentence(part) for part in held.unmade]
    if held.why_nothing is not None:
        return [_WHY_NOTHING[held.why_nothing], *unmade]
    if held.is_demand_met:
        return [_all_is_made(held, could_make), *_could_make(could_make)]
    by_day, night = _by_day(held), held.after_hours
    if night is None:
        return [*unmade, by_day]
    if held.by_night is None:
        return [*unmade, by_day, _by_night(night, leads=False)]
    both = _night_and_day(night, held)
    return [*unmade, *both, _by_night(night, leads=not both), by_day]


def _night_and_day(night: AfterHours, held: HeldBack) -> list[str]:
    """Both losses in one line where the night's is the larger, and that by day no trifle."""
    if held.is_trifle or night.ended_by is None:
        return []
    end, first = END_WORDS[night.ended_by].in_column, held.losses[0]
    return [
        f"Lost at night {rounded(night.stood)} h ({end}), by day {rounded(first.hours)} h "
        f"({_loss(first)})."
    ]


def _all_is_made(held: HeldBack, could_make: float | None) -> str:
    night = held.after_hours
    more = (
        f", and {rounded(night.in_cycle)} after hours"
        if night is not None and night.in_cycle
        else ""
    )
    # An order in work and a few percent are let pass as made.
    is_less = bool(held.short) or (could_make is not None and could_make < ALL_MET)
    much = "Nearly all that is wanted is made" if is_less else "All that is wanted is made"
    if held.short:
        part, met = held.short[0]
        least = "least of " if held.short[1:] else ""
        much += f" ({least}{part}, {rounded(met)} %)"
    return (
        f"{much}, with {rounded(held.in_cycle)} h in cycle of "
        f"{rounded(held.attended)} attended machine hours a week{more}."
    )


def _could_make(percent: float | None) -> list[str]:
    if percent is None:
        return []
    return [f"The cell could make up to {rounded(percent, 0)} % of what is wanted."]


def _by_day(held: HeldBack) -> str:
    text = (
        f"Of {rounded(held.attended)} attended machine hours a week the spindles are in cycle "
        f"{rounded(held.in_cycle)}; "
    )
    if not held.losses:
        return text + "nothing holds them back."
    first, *others = held.losses
    text += f"{_loss(first)} takes {rounded(first.hours)}"
    for loss in others:
        trifle = ", a trifle" if held.is_trifling(loss) and not held.is_trifle else ""
        text += f", then {_loss(loss)} {rounded(loss.hours)}{trifle}"
    return text + (", so hardly anything holds them back by day." if held.is_trifle else ".")


def _loss(loss: Loss) -> str:
    return "changing worn tools" if loss.is_of_tools else STATE_ROWS[loss.state].label


def _by_night(run: AfterHours, *, leads: bool) -> str:
    begins = "Most is lost after hours: there" if leads else "After hours"
    cut = f"{begins} the spindles cut {rounded(run.in_cycle)} h a week"
    if not run.in_cycle:
        cut = f"{begins} the spindles cut nothing"
    elif not run.is_begun:
        cut += " to finish the pieces begun"
    closed = f"{rounded(run.closed)} machine hours" if run.closed > NIL_HOURS else ""
    if run.ended_by is None and closed:
        why = (
            "nothing is begun after the shift" if not run.is_begun else "nothing may be begun then"
        )
        more = ", as long as pieces may be begun" if run.is_begun and run.in_cycle else ""
        return f"{cut}{more}; {closed} stand unused, since {why}."
    if run.ended_by is None:
        return f"{cut}, and go on until the next shift."
    often = f"in {run.share:.0%} of the machines' nights"
    if run.share > _NEARLY_ALL:
        often = "every time" if run.share == 1 else "nearly every time"
    beyond = f"; in {rounded(run.closed)} more nothing may be begun" if closed else ""
    return (
        f"{cut}; {_end(run)}, {often}, and {rounded(run.stood)} machine hours then stand{beyond}."
    )


def _end(run: AfterHours) -> str:
    """What ends most of the nights, as a clause."""
    if run.ended_by is Why.CUT:
        where = "table" if run.on_tables else "pallets"
        return f"all that lies on the {where} is cut"
    assert run.ended_by is not None
    return END_WORDS[run.ended_by].clause


def limit_in_short(held: HeldBack) -> str:
    """A few words for a column: a part that is not made, that all is made, or the largest loss."""
    if held.unmade and held.why_nothing is None:
        return "parts not made" if held.unmade[1:] else f"no {held.unmade[0].part}"
    if held.is_demand_met and held.short:
        return "nearly all is made"
    if held.is_demand_met:
        return "demand is met"
    if held.losses and held.is_trifle and held.by_night is None:
        return f"cuts {_cut(held)} of time"
    return loss_in_short(held)


def loss_in_short(held: HeldBack) -> str:
    """What loses most of the week, whatever is wanted."""
    if held.why_nothing is not None:
        return held.why_nothing
    if held.by_night is not None:
        return f"night: {_end_in_short(held.by_night)}"
    if not held.losses:
        return "nothing"
    if held.is_trifle:
        return f"hardly anything, it cuts {_cut(held)} of the time"
    loss = held.losses[0]
    word = "worn tools" if loss.is_of_tools else STATE_ROWS[loss.state].holds_back
    return f"{word} {held.share:.0%}"


def _end_in_short(run: AfterHours) -> str:
    assert run.ended_by is not None
    if run.ended_by is Why.CUT and run.on_tables:
        return "one table"
    return END_WORDS[run.ended_by].in_short


def _cut(held: HeldBack) -> str:
    return f"{held.in_cycle / held.attended:.0%}"
