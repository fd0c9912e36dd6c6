"""What the answers come to: a few lines beside the questions, one page when they are done.

Every figure is told as carefully as on the desk: a gain only where its likely range makes it clear.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from whatif.answers.cautions import OF_NIGHTS
from whatif.answers.states import STATE_ROWS
from whatif.records import dataclass
from whatif.telling.amounts import listed, rounded
from whatif.telling.caveats import caveat_sentences
from whatif.telling.limits import eased_by_text, limit_text, much_made
from whatif.telling.meters import meters_said
from whatif.telling.shares import percent_of

if TYPE_CHECKING:
    from whatif.answers.answer import Answer, Comparison
    from whatif.answers.limits import HeldBack, Loss
    from whatif.answers.ranks import Range

FROM_ANSWERS = 3
"""Answers from which on a first one is told."""

_NB: Final = "\u00a0"
"""Between a figure and its unit, which no line is broken at."""

NOT_YET = f"A first answer stands here from the {FROM_ANSWERS}rd answer on."
WORKING = "Being worked out …"


@dataclass(frozen=True, slots=True)
class FirstLook:
    """What is known of today while the questions are being answered.

    Attributes:
        held: where its hours go, and what limits it; None where nothing is simulated.
        likely: between what its spindle hours with people there lie; None until that is found.
        assumed: how many answers are assumed.
        of: how many are asked for.
    """

    held: HeldBack | None
    likely: Range | None
    assumed: int
    of: int


@dataclass(frozen=True, slots=True)
class LookSaid:
    """A first look in lines: where the hours go, what takes most of the rest, how sure it is."""

    lead: str
    others: str
    likely: str
    rests: str


def look_said(look: FirstLook) -> LookSaid:
    """What is told beside the questions."""
    held = look.held
    if held is None or held.why_nothing is not None:
        return LookSaid(limit_text(held), "", "", _rests(look))
    likely = "likely range follows"
    if look.likely is not None:
        low, high = rounded(look.likely[0]), rounded(look.likely[2])
        likely = f"likely {low} to {high}{_NB}h" + ", if what is assumed holds" * bool(look.assumed)
    first = held.losses[0] if held.losses else None
    others = "" if first is None else f"Most of the rest: {_takes(first, held)}."
    return LookSaid(_spent(held), others, likely, _rests(look))


def _rests(look: FirstLook) -> str:
    return f"{look.assumed} of {look.of} answers assumed (~)" if look.assumed else ""


def _spent(held: HeldBack) -> str:
    share = rounded(100 * held.in_cycle / held.attended, 0)
    return (
        f"Of {rounded(held.attended)} machine hours a week with people there, the spindles cut "
        f"{rounded(held.in_cycle)} ({share}{_NB}%)"
    )


def _takes(loss: Loss, held: HeldBack) -> str:
    share = percent_of(100 * loss.hours / held.attended)
    return f"{STATE_ROWS[loss.state].label}, {rounded(loss.hours)}{_NB}h ({share}{_NB}%)"


# -- when all is answered ------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FirstFound:
    """What was found, in a few sentences, and what they rest on.

    Attributes:
        hours: where the hours go.
        meters: what the hour meters say against the hours simulated; "" where there are none.
        limit: what limits today.
        best: what would bring most of the alternatives made.
        cautions: what has to be read before it is done.
        rests: what is assumed, and not priced.
    """

    hours: str
    meters: str
    limit: str
    best: str
    cautions: str
    rests: str


def found_said(
    found: Comparison, *, is_wanted_known: bool, has_paid_breaks: bool, assumed: int
) -> FirstFound:
    """The page; what is still being worked out says so.

    Args:
        is_wanted_known: whether the pieces wanted were answered.
        has_paid_breaks: whether there are breaks, and nobody said that they are unpaid.
        assumed: how many answers are assumed.
    """
    today = found.answers[found.reference]
    held = today.held_back
    others = {id_: of for id_, of in found.answers.items() if id_ != found.reference}
    hours = limit = ""
    if held is None or held.why_nothing is not None:
        hours = limit_text(held)
    else:
        hours, limit = _hours(held), _limit(held, is_wanted_known=is_wanted_known)
    best, leaders = _best(today, others, is_wanted_known=is_wanted_known)
    meters = "" if today.metered is None else meters_said(today.metered)
    if not is_wanted_known:
        meters = f"{meters} {_made_by_meters(today)}".strip()
    rests = _rests_on(assumed, has_paid_breaks=has_paid_breaks)
    return FirstFound(hours, meters, limit, best, _cautions(leaders), rests)


def _made_by_meters(today: Answer) -> str:
    """What the hours in cut come to in pieces, where today is only taken to sell all it could make.

    "" where the meters and the simulation agree, or there is nothing to tell it by.
    """
    held, figures = today.metered, today.figures
    if held is None or figures is None or held.in_cut is None or not held.modelled_in_cut:
        return ""
    share = held.in_cut / held.modelled_in_cut
    if share > _AGREES:
        return ""
    makes = sum(figures.pieces.values())
    return (
        f"By the meters some {rounded(share * makes, 0)} pieces a week are made, and not the "
        f"{rounded(makes, 0)} that are taken as wanted: where there are no orders for more, that "
        "is the difference, and nothing here sells more. Enter the pieces wanted a week first."
    )


_AGREES = 0.9
"""Share of the simulated hours in cut from which on meters leave nothing to ask about orders."""


def _hours(held: HeldBack) -> str:
    others = [_takes(loss, held) for loss in held.losses]
    took = f"; {listed(others)} take{'' if others[1:] else 's'} most of the rest" if others else ""
    return f"{_spent(held)}{took}."


def _limit(held: HeldBack, *, is_wanted_known: bool) -> str:
    if held.is_demand_met and is_wanted_known:
        no = "little" if held.short else "no"
        return f"{much_made(held)}, so that more machines, pallets or hours sell {no} more."
    # What the sheet says comes first here too.
    met = f"{_TAKEN_AS_WANTED} " if held.is_demand_met else ""
    # For want of orders nothing could be made more, which is not what the first sentence says.
    losses = [loss for loss in held.losses if not met or loss.state != "nothing_due"]
    if held.is_trifle or not losses:
        return f"{met}Hardly anything limits the spindles while people are there."
    loss = losses[0]
    if loss.may_not is not None and not loss.may_not.nobody_may:
        eased = eased_by_text(loss.may_not)
    else:
        eased = STATE_ROWS[loss.state].eased_by
    label = STATE_ROWS[loss.state].label
    limited = "What could be made more is limited" if met else "Limited"
    return f"{met}{limited} most by {label}: {eased[:1].lower()}{eased[1:]}"


_TAKEN_AS_WANTED: Final = "Demand all met: what is wanted is taken to be what today makes."
"""Where nobody said how many pieces are wanted; begins as the sheet says it."""


def _best(
    today: Answer, others: dict[str, Answer], *, is_wanted_known: bool
) -> tuple[str, Sequence[Answer]]:
    """What would bring most, and which may; none where none is clearly better."""
    from whatif.answers.gains import is_clear
    from whatif.telling.strip import drawn_gain

    many = f"Of the {len(others)} alternatives made"
    if not is_wanted_known:
        return _could_make(today, others, many)
    gaining = {id_: gain for id_, of in others.items() if (gain := drawn_gain(of) or 0) > 0}
    if any(of.likely is None for of in others.values()):
        return f"{many} the likely ranges are still being worked out.", ()
    clear = {id_: gain for id_, gain in gaining.items() if is_clear(_likely(others[id_]))}
    if not clear:
        none = f"{many} none brings a clear difference in what sells"
        if today.held_back is not None and today.held_back.is_demand_met:
            nearly = "nearly " if today.held_back.short else ""
            return f"{none}: no more can be sold than is wanted, and today makes {nearly}that.", ()
        return f"{none}.", ()
    first = max(clear, key=lambda id_: clear[id_])
    best, likely = others[first], _likely(others[first])
    assert likely is not None
    rivals = [
        others[id_]
        for id_ in clear
        if id_ != first and (of := _likely(others[id_])) is not None and of[2] >= likely[0]
    ]
    may = f"; {_named(rivals)} may bring as much" if rivals else ""
    said = f"{many} {_named([best])} would bring most: {_range(likely)}{_NB}% saleable output"
    caveats = " ".join(caveat_sentences(best, with_prices=False))
    return f"{said}{_paid(best, today)}{may}. {caveats}".rstrip(), (best, *rivals)


def _named(answers: Sequence[Answer]) -> str:
    return listed([f'"{answer.plan.title}"' for answer in answers])


def _paid(best: Answer, today: Answer) -> str:
    """The hours of people that it takes, where they are others than today's."""
    if best.figures is None or today.figures is None:
        return ""
    here, there = (rounded(of.figures.people.paid, 0) for of in (best, today) if of.figures)
    return "" if here == there else f", with {here} paid hours of people a week, not {there}"


def _likely(answer: Answer) -> Range | None:
    return answer.judged


def _range(likely: Range) -> str:
    from whatif.telling.gain_texts import leading_range_text

    return f"likely {leading_range_text(likely)}"


def _could_make(
    today: Answer, others: dict[str, Answer], many: str
) -> tuple[str, Sequence[Answer]]:
    """What could make most where nobody said how many are wanted: today's output is 100 %."""
    head = "More than today makes sells only once you enter the pieces wanted a week"
    able = {id_: of.could_make for id_, of in others.items() if of.could_make is not None}
    if len(able) < len(others):
        return f"{head}; what the {len(others)} alternatives could make is being worked out.", ()
    first = max(able, key=lambda id_: able[id_] or 0.0)
    best = others[first]
    most = able[first] or 0.0
    if most < 101:
        return f"{head}; {many.lower()} none could make more.", ()
    return (
        f"{head}; {many[0].lower()}{many[1:]} {_named([best])} could make most, about "
        f"{rounded(most, 0)}{_NB}% of today's output{_paid(best, today)}.",
        (best,),
    )


def _cautions(leaders: Sequence[Answer]) -> str:
    """That something is to be read first, where one calls for more than today does."""
    more = any(
        caution.of in OF_NIGHTS and not caution.stands
        for answer in leaders
        for caution in answer.cautions
    )
    if not more:
        return ""
    return "Spindles turn with nobody there: read the cautions (F2 on the desk) first."


def _rests_on(assumed: int, *, has_paid_breaks: bool) -> str:
    said = ""
    if assumed:
        are = "answers are" if assumed > 1 else "answer is"
        said = f"{assumed} {are} assumed (~). "
    not_asked = f"{_BREAKS_PAID} {_NOT_ASKED}" if has_paid_breaks else _NOT_ASKED
    return f"{said}{not_asked} Nothing is priced yet, so what pays is not told here."


_BREAKS_PAID: Final = "Breaks are taken as paid, as nobody said unpaid."
_NOT_ASKED: Final = 'No part has a prove-out: enter it at the part ("prove-out").'
"""What the questions leave out, what holds instead, and where it is entered."""
