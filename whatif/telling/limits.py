"""What holds a scenario back: in sentences with numbers, and in a few words for a column."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from whatif.answers.figures import NIL_HOURS
from whatif.answers.limits import (
    ALL_MET,
    AfterHours,
    HeldBack,
    Loss,
    MayNot,
    ShiftPeople,
    WhyNothing,
    is_all_met,
)
from whatif.answers.per import Per, answer_per
from whatif.answers.states import STATE_ROWS
from whatif.cell.look import Why
from whatif.telling.amounts import listed, rounded, whole
from whatif.telling.ends import END_WORDS
from whatif.telling.fit import not_made_sentence

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.cell.model import Work

_WHY_NOTHING: dict[WhyNothing, str] = {
    "no machine": "There is no machine, so nothing is made.",
    "no part is made": "None of the parts is made.",
    "nobody there": "Nobody is ever on duty, so nothing is made.",
}


_MAY: dict[Work, tuple[str, str]] = {
    "load": ("load", "loader"),
    "setup": ("set up", "setter"),
    "prove_out": ("prove out", "who proves out"),
    "tools": ("renew tools", "who does tools"),
}
"""Of work what somebody may do who is waited for, and who that is in a narrow column."""


_NEARLY_ALL = 0.995
"""Share of the nights that would be told as all of them, once rounded."""


_LEAST = 0.05
"""Hours below which one decimal would be 0.0."""


def held_back_per(answer: Answer, per: Per) -> tuple[HeldBack | None, Per]:
    """What holds a scenario back with its hours of a time, and that time.

    It is a week where there is no such time: a day in a week without shifts.
    """
    told = answer_per(answer, per)
    return (answer.held_back, Per.WEEK) if told.figures is None else (told.held_back, per)


def limit_text(held: HeldBack | None, could_make: float | None = None, per: Per = Per.WEEK) -> str:
    """One or more sentences with the numbers; "" where nothing is simulated.

    Args:
        could_make: what the machines could make at most, in percent of what is wanted.
        per: the time that its hours are of.
    """
    return "" if held is None else " ".join(limit_sentences(held, could_make, per))


def limit_sentences(
    held: HeldBack, could_make: float | None = None, per: Per = Per.WEEK
) -> list[str]:
    """The same one by one: parts that are not made, then what loses most and what comes next.

    Where all that is wanted is made, that is said instead.
    """
    unmade = [not_made_sentence(part) for part in held.unmade]
    if held.why_nothing is not None:
        return [_WHY_NOTHING[held.why_nothing], *unmade]
    if held.is_demand_met:
        return [_all_is_made(held, per), *_could_make(could_make)]
    by_day, night = [_by_day(held, per), *_full_shifts(held)], held.after_hours
    if held.is_for_people:
        by_day = [_loaders_are_full(held), by_day[0]]
    if night is None:
        return [*unmade, *by_day]
    if held.by_night is None:
        return [*unmade, *by_day, _by_night(night, per, leads=False)]
    both = _night_and_day(night, held)
    return [*unmade, *both, _by_night(night, per, leads=not both), *by_day]


def limit_in_brief(
    held: HeldBack | None, could_make: float | None = None, per: Per = Per.WEEK
) -> str:
    """The same in fewer words, for a line: without the machines' night and what comes next."""
    if held is None or held.why_nothing is not None:
        return limit_text(held, could_make, per)
    cut = f"In cycle {rounded(held.in_cycle)} of {rounded(held.attended)} attended h {per.words}"
    if held.is_demand_met:
        return f"{much_made(held)}. {cut}."
    if held.is_for_people:
        return f"{_loaders_are_busy(held)}."
    if (night := held.by_night) is not None and night.ended_by is not None:
        both = _night_and_day(night, held)
        lost = f"Most is lost after hours: {rounded(night.stood)} h"
        return both[0] if both else f"{lost} ({_end_in_brief(night)})."
    if not held.losses:
        return f"{cut}."
    return f"{cut}; {_loss(held.losses[0])} {rounded(held.losses[0].hours)} h."


def _night_and_day(night: AfterHours, held: HeldBack) -> list[str]:
    """Both losses in one line where the night's is the larger, and that by day no trifle."""
    if held.is_trifle or night.ended_by is None:
        return []
    first = held.losses[0]
    return [
        f"Lost after hours {rounded(night.stood)} h ({_end_in_brief(night)}), by day "
        f"{rounded(first.hours)} h ({_loss(first)})."
    ]


def _end_in_brief(night: AfterHours) -> str:
    """What ends most of the nights, and how many: it may be those before a weekend alone."""
    assert night.ended_by is not None
    is_cut = night.ended_by is Why.CUT
    end = "all loaded is cut" if is_cut else END_WORDS[night.ended_by].in_column
    often = "" if night.share > _NEARLY_ALL else f", {_percent(night.share)} of nights"
    return f"{end}{often}"


def _all_is_made(held: HeldBack, per: Per) -> str:
    night = held.after_hours
    more = (
        f", and {rounded(night.in_cycle)} h after hours"
        if night is not None and night.in_cycle
        else ""
    )
    return (
        f"{much_made(held)}, with {rounded(held.in_cycle)} h in cycle of "
        f"{rounded(held.attended)} attended machine hours {per.words}{more}."
    )


def much_made(held: HeldBack) -> str:
    """How much of what is wanted is made, where its demand counts as met."""
    # An order in work and a few percent are let pass as made.
    much = "Nearly all that is wanted is made" if held.short else "All that is wanted is made"
    if held.short:
        part, met = held.short[0]
        least = "least of " if held.short[1:] else ""
        much += f" ({least}{part}, {rounded(met)} %)"
    return much


def met_percent(share: float) -> str:
    """How much of a demand is met, in whole percent.

    Neither what is lacking nor what is made is ever rounded away.
    """
    if share > 0 and not whole(share):
        return "<1"
    return rounded(share, 1 if whole(share) == 100 and not is_all_met(share) else 0)


def _could_make(percent: float | None) -> list[str]:
    # A run of its own, as jumpy as any other: less than is made tells nobody anything.
    if percent is None or percent < ALL_MET:
        return []
    return [f"The machines could make up to {rounded(percent, 0)} % of what is wanted."]


def _by_day(held: HeldBack, per: Per) -> str:
    text = (
        f"Of {rounded(held.attended)} attended machine hours {per.words} "
        f"{rounded(held.in_cycle)} are in cycle; "
    )
    if not held.losses:
        return text + "nothing limits them."
    first, *others = held.losses
    text += f"{_loss(first)} takes {rounded(first.hours)} h{_whose(first)}"
    for loss in others:
        trifle = ", a trifle" if held.is_trifling(loss) and not held.is_trifle else ""
        text += f", then {_loss(loss)} {rounded(loss.hours)} h{_whose(loss)}{trifle}"
    return text + (", so hardly anything limits them by day." if held.is_trifle else ".")


def _loss(loss: Loss) -> str:
    if loss.may_not is not None:
        return f"waiting for somebody who may {_MAY[loss.may_not.work][0]}"
    return "changing worn tools" if loss.is_of_tools else STATE_ROWS[loss.state].label


def _whose(loss: Loss) -> str:
    """Of a wait for people who may do something how full they are, or that none is there."""
    if loss.may_not is None:
        return ""
    if loss.may_not.nobody_may:
        others = listed([of.shift for of in loss.may_not.others])
        return f" (mostly with nobody on duty who may: the people of {others} may not)"
    said = _busy_words(loss.may_not.may)
    return f" ({said[0].lower()}{said[1:]}, others stand free)"


def _loaders_are_full(held: HeldBack) -> str:
    return f"{_loaders_are_busy(held)}: more pallets would mostly wait for them."


def _loaders_are_busy(held: HeldBack) -> str:
    shifts = [of.shift for of in held.people if "load" in of.does]
    return (
        f"The people who load ({listed(shifts)}) are busy {_percent(held.loaders)} of their "
        "time on duty"
    )


def _full_shifts(held: HeldBack) -> list[str]:
    """Whose people are wholly busy, but for those of whom a loss has told it."""
    told = {
        of.shift
        for loss in held.losses
        if loss.may_not is not None and not loss.may_not.nobody_may
        for of in loss.may_not.may
    }
    full = [of for of in held.people if of.is_full and of.shift not in told]
    return [f"{_busy_words(full)}."] if full else []


def no_time_left_sentence(held: HeldBack | None) -> str:
    """That some have no minute left, though all may be made; "" where nobody is wholly busy."""
    full = [] if held is None else [of for of in held.people if of.is_full]
    return f"{_busy_words(full)}: whatever else is asked of them costs output." if full else ""


def _busy_words(people: Sequence[ShiftPeople]) -> str:
    """How full the people of some shifts are: a sentence without its dot."""
    first, *others = people
    said = [f"The people of {first.shift} are busy {_percent(first.busy)} of their time on duty"]
    said += [f"those of {of.shift} {_percent(of.busy)}" for of in others]
    return listed(said)


def _hours(hours: float) -> str:
    """A loss or gain of some hours; what is too little for a decimal is not told as nothing."""
    return "less than 0.1 h" if 0 < hours < _LEAST else f"{rounded(hours)} h"


def _percent(share: float) -> str:
    return f"{rounded(100 * share, 0)} %"


def eased_by_text(may_not: MayNot) -> str:
    """What lessens a wait for somebody who may do work that others on duty may not."""
    others = listed([of.shift for of in may_not.others])
    verb, _ = _MAY[may_not.work]
    return (
        f"Letting the people of {others} {verb} too, once they can, or having more people who may, "
        f"lessens it; more people who may not {verb} bring nothing."
    )


def _by_night(run: AfterHours, per: Per, *, leads: bool) -> str:
    begins = "Most is lost after hours: there" if leads else "After hours"
    cut = f"{begins} the spindles cut {_hours(run.in_cycle)} {per.words}"
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
    often = f"in {_percent(run.share)} of the machines' nights"
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
        return "parts not made" if held.unmade[1:] else f"{held.unmade[0].part} not made"
    if held.is_demand_met and held.short:
        return "demand nearly met"
    if held.is_demand_met:
        return "demand all met"
    if held.losses and held.is_trifle and held.by_night is None and not held.is_for_people:
        return "too few hours"
    return loss_in_short(held)


def limited_by_words(held: HeldBack) -> str:
    """The same as part of a sentence; what is met limits nothing."""
    limit = limit_in_short(held)
    if held.is_demand_met and not held.unmade:
        return limit
    of_people = STATE_ROWS["waiting_for_person"].holds_back
    return f"limited by {'people: ' if limit.startswith(of_people) else ''}{limit}"


def limits_in_column(held: HeldBack) -> tuple[str, ...]:
    """The same where a column has no room for it: without where, or how much of it, that is."""
    if held.unmade and held.why_nothing is None:
        return (f"{len(held.unmade)} not made",)
    if held.is_demand_met or held.why_nothing is not None:
        return ()
    if held.by_night is not None:
        end = _end_in_short(held.by_night)
        return ("pallets run out" if end == "pallets" else end,)
    if held.is_for_people and held.state != "waiting_for_person":
        return f"people {_percent(held.loaders)} busy", "people"
    return (_day_loss_word(held),) if held.losses and not held.is_trifle else ()


_PALLETS_END: Final = "pallets that run out at night"
"""Behind "limited by": more of them, or longer cycles on them, would go on cutting."""


def loss_in_short(held: HeldBack) -> str:
    """What loses most of the week, whatever is wanted."""
    if held.why_nothing is not None:
        return held.why_nothing
    if held.by_night is not None:
        end = _end_in_short(held.by_night)
        return _PALLETS_END if end == "pallets" else f"{end} at night"
    if held.is_for_people and held.state != "waiting_for_person":
        return f"people, busy {_percent(held.loaders)}"
    if not held.losses:
        return "nothing"
    if held.is_trifle:
        return f"hardly anything: it cuts {_cut(held)} of the time"
    return f"{_day_loss_word(held)} {_percent(held.share)}"


def _day_loss_word(held: HeldBack) -> str:
    loss = held.losses[0]
    if loss.may_not is not None:
        return _MAY[loss.may_not.work][1]
    return "worn tools" if loss.is_of_tools else STATE_ROWS[loss.state].holds_back


def _end_in_short(run: AfterHours) -> str:
    assert run.ended_by is not None
    if run.ended_by is Why.CUT and run.on_tables:
        return "one load"
    return END_WORDS[run.ended_by].in_short


def _cut(held: HeldBack) -> str:
    return _percent(held.in_cycle / held.attended)
