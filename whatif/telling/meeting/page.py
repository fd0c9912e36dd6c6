"""A scenario for a meeting: the few figures and sentences that matter."""

from __future__ import annotations

from dataclasses import replace

from whatif.answers.answer import Answer
from whatif.answers.cautions import alone_in
from whatif.answers.figures import Figures
from whatif.answers.limits import is_all_met
from whatif.answers.orders.orders import Ordered
from whatif.plan.model import Plan
from whatif.records import dataclass
from whatif.telling.amounts import rounded, shown_difference
from whatif.telling.cautions import LONE_WORK_IN_SHORT, is_longer_alone, lone_words
from whatif.telling.caveats import caveat_sentences, out_of_step_sentence, unclear_sentence
from whatif.telling.gain_texts import same_as_sentence
from whatif.telling.limits import limit_sentences, met_percent, no_time_left_sentence
from whatif.telling.meeting.decision import notes_in_a_row
from whatif.telling.meeting.large import Large, large_figures
from whatif.telling.meters import gain_by_meters
from whatif.telling.money.rests import rests_sentence
from whatif.telling.money.sentences import takes_sentences
from whatif.telling.said import MARK

_WORTH_A_WORD = 0.5
"""Hours a week from which a difference, or pieces that nobody buys, are worth a word."""


@dataclass(frozen=True, slots=True)
class Headline:
    """What is said of one scenario.

    Attributes:
        figures: four of them at most, the gain first; the reference has none, and begins with
            its spindle hours.
        sentences: which it is as, where it changes nothing; what the gain rests on; the gain by the
            hour meters, where they leave it open; what it brings; hours that one person is alone,
            where it adds some; what holds it back; what it takes; what to buy and to change;
            people and late orders, where they are others than in the reference; the scenario's
            notes; what its money rests on.
    """

    figures: tuple[Large, ...]
    sentences: tuple[str, ...]


def headline(answer: Answer, reference: Answer, to_do: str = "") -> Headline:
    """The scenario held against the reference; the reference itself is told as it is.

    Args:
        to_do: what has to be bought and changed for it.
    """
    base = None if answer.plan.scenario == reference.plan.scenario else reference
    notes = notes_in_a_row(answer.plan.notes)
    sentences = (
        same_as_sentence(answer.plan.same_as) if base is not None and answer.plan.same_as else "",
        *([] if base is None else caveat_sentences(answer, with_prices=False)),
        "" if base is None else unclear_sentence(answer),
        "" if base is None else out_of_step_sentence(answer),
        "" if base is None else gain_by_meters(answer, "it"),
        _brings(answer, base),
        "" if base is None else _alone(answer, base),
        _holds_back(answer),
        _takes(answer, base),
        to_do,
        _others(answer, base),
        f"Notes: {notes}" if notes else "",
        "" if base is None or answer.money is None else rests_sentence(answer.money),
    )
    said = tuple(sentence for sentence in sentences if sentence)
    return Headline(tuple(large_figures(answer, base)), said)


def _holds_back(answer: Answer) -> str:
    """What takes most, or that all is made; what is not made is said before."""
    if answer.held_back is None:
        return ""
    held = replace(answer.held_back, unmade=())
    if held.is_demand_met:
        # How much more could be made is no matter of this one choice.
        return " ".join(filter(None, (*limit_sentences(held), no_time_left_sentence(held))))
    said = limit_sentences(held, answer.could_make)
    # Where the night leads, it and the day are named in one line, and then what ends it.
    return " ".join(said[: 2 if held.by_night is not None and not held.is_trifle else 1])


def _brings(answer: Answer, base: Answer | None) -> str:
    """``base`` is what it is held against: None for the reference itself, here and below."""
    figures = answer.figures
    # Against the reference what is not made stands first of all.
    unmade = [part.id for part in answer.plan.parts if part.unmade and base is None]
    left_out = f"It cannot make {' and '.join(unmade)}. " if unmade else ""
    if figures is None:
        return left_out
    total = _total(figures)
    instead = ""
    if base is not None and base.figures is not None:
        before = _total(base.figures)
        instead = ", as before" if before == total else f" instead of {before}"
    unattended, more = figures.spindle.unattended, ""
    if base is not None and base.figures is not None:
        differs = shown_difference(unattended, base.figures.spindle.unattended)
        more = f" ({rounded(abs(differs))} {'more' if differs > 0 else 'fewer'})" if differs else ""
    # The one part says the other, and no two roundings have to add up to a third.
    text = (
        f"{left_out}The spindles cut {total} h a week{instead}, "
        f"{rounded(unattended)} of them unattended, on breaks or after hours{more}{_met(figures)}."
    )
    if figures.unsold_hours > _WORTH_A_WORD:
        text += f" Of the {total} h, {rounded(figures.unsold_hours)} are for unsold pieces."
    return text


def _alone(answer: Answer, base: Answer) -> str:
    """For how long one person is alone, where that is longer."""
    here, there = (alone_in(each.plan, each.figures) for each in (answer, base))
    if not is_longer_alone(here, there):
        return ""
    return f"{MARK}{LONE_WORK_IN_SHORT.format(lone_words(here, there).removesuffix('.'))}"


def _total(figures: Figures) -> str:
    """Spindle hours as every other place tells them."""
    return rounded(figures.spindle.total)


def _met(figures: Figures) -> str:
    """What is made of the part that is furthest behind; a shortage is never rounded away."""
    least = figures.least_met
    if least is None:
        return ""
    if is_all_met(least):
        return "; the demand of every part is met"
    return f"; of the part that is furthest behind {met_percent(least)} % are made"


def _others(answer: Answer, base: Answer | None) -> str:
    """People and late orders, where they are others than in the reference."""
    said = [] if base is None else _people_said(answer, base)
    return " ".join([*said, *_orders_said(answer, base)])


def _people_said(answer: Answer, base: Answer) -> list[str]:
    people, before = _people(answer.plan), _people(base.plan)
    if people != before and people is not None and before is not None:
        return [f"People: {people} instead of {before}."]
    return []


def _orders_said(answer: Answer, base: Answer | None) -> list[str]:
    """Late orders by their number; where runs differ each order's odds, which no sum tells."""
    was = {} if base is None else base.orders
    if any(order.runs[1:] for order in (*answer.orders.values(), *was.values())):
        return [
            said
            for id_, order in answer.orders.items()
            if (said := _odds_said(id_, order, None if base is None else was.get(id_)))
        ]
    late, before = (sum(order.late > 0 for order in of.values()) for of in (answer.orders, was))
    text = f"Orders late: {late} of {len(answer.orders)}"
    if base is None:
        return [f"{text}."] if late else []
    is_same = (late, len(answer.orders)) == (before, len(was))
    return [] if is_same or not answer.orders else [f"{text} instead of {before} of {len(was)}."]


def _odds_said(order: str, here: Ordered, there: Ordered | None) -> str:
    """In how many runs it is on time, where that is another number, or not all without another."""
    on_time, runs = _runs_on_time(here)
    text = f"{order}: on time in {on_time} of {runs} runs"
    if there is None:
        return f"{text}." if on_time < runs else ""
    before = _runs_on_time(there)
    return "" if before == (on_time, runs) else f"{text} instead of {before[0]} of {before[1]}."


def _runs_on_time(order: Ordered) -> tuple[int, int]:
    return sum(not run.is_late for run in order.runs), len(order.runs)


def _people(plan: Plan) -> int | None:
    """People of all shifts together; None where nothing is simulated."""
    return None if plan.cell is None else sum(shift.people for shift in plan.cell.shifts)


def _takes(answer: Answer, base: Answer | None) -> str:
    figures = answer.figures
    if answer.money is not None:
        return takes_sentences(answer)
    if figures is None:
        return ""
    more = ""
    if base is not None and base.figures is not None:
        differs = figures.people.paid - base.figures.people.paid
        more = (
            f", {rounded(abs(differs))} {'more' if differs > 0 else 'fewer'}"
            if abs(differs) > (_WORTH_A_WORD)
            else ", as before"
        )
    return (
        f"People are paid for {rounded(figures.people.paid)} h a week{more}, and busy for "
        f"{rounded(figures.people.busy)} of them."
    )
