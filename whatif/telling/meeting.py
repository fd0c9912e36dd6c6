"""A scenario for a meeting: one figure and the few sentences that matter."""

from __future__ import annotations

from dataclasses import replace

from whatif.answers.answer import Answer
from whatif.answers.figures import Figures
from whatif.answers.gains import is_difference, lies_outside
from whatif.answers.orders.orders import Ordered
from whatif.answers.ranks import Range
from whatif.plan.model import Plan
from whatif.records import dataclass
from whatif.telling.amounts import rounded
from whatif.telling.caveats import caveat_sentences, sense_of, unclear_sentence
from whatif.telling.gain_texts import gain_text, percent_text, range_text, whole_percent_text
from whatif.telling.limits import limit_sentences
from whatif.telling.meters import gain_by_meters
from whatif.telling.money.sentences import takes_sentences
from whatif.telling.said import Sense

_WORTH_A_WORD = 0.5
"""Hours a week from which a difference, or pieces that nobody buys, are worth a word."""

_ALL_BUT_NOTHING = 99.95
"""Percent from which demand is met: the tenth that is told says 100.0."""


@dataclass(frozen=True, slots=True)
class Headline:
    """What is said of one scenario.

    Attributes:
        figure: the gain, or for the reference its spindle hours; short enough for large figures.
        sense: whether it is a gain, a loss, or neither.
        caption: what the figure is.
        sentences: the gain by the hour meters, where they leave it open; what it brings; what
            holds it back; what it takes; people and late orders, where they are others than in
            the reference.
    """

    figure: str
    sense: Sense
    caption: str
    sentences: tuple[str, ...]


def headline(answer: Answer, reference: Answer, reference_title: str) -> Headline:
    """The scenario held against the reference; the reference itself is told as it is."""
    base = None if answer.plan.scenario == reference.plan.scenario else reference
    figure, sense, caption = _figure(answer, reference_title, is_reference=base is None)
    sentences = (
        *([] if base is None else caveat_sentences(answer, with_prices=False)),
        "" if base is None else unclear_sentence(answer),
        "" if base is None else gain_by_meters(answer, "it", whole_percent_text),
        _brings(answer, base),
        _holds_back(answer),
        _takes(answer, base),
        _others(answer, base),
    )
    return Headline(figure, sense, caption, tuple(sentence for sentence in sentences if sentence))


def _figure(answer: Answer, reference_title: str, *, is_reference: bool) -> tuple[str, Sense, str]:
    figures = answer.figures
    if figures is None:
        if answer.said is None:
            return "-", "none", "nothing is known of it yet"
        gain = answer.said.gain
        if gain is None or is_reference:
            hours = rounded(answer.said.hours_per_day)
            return f"{hours} h", "none", "spindle hours a day, as said"
        return _against(gain, None, f"as said, against {reference_title}", "hours ")
    if is_reference:
        hours = rounded(figures.spindle.total, 0)
        return f"{hours} h", "none", "spindle hours a week: the reference"
    gain, likely = answer.gains.saleable, None if answer.likely is None else answer.likely.saleable
    caption = f"saleable output against {reference_title}"
    if gain is None:
        return "-", "none", f"no {caption}"
    figure, sense, caption = _against(gain, likely, caption)
    rests = "; it rests on what is said below" if answer.caveats else ""
    return figure, sense_of(answer, sense), caption + rests


def _holds_back(answer: Answer) -> str:
    """What takes most, or that all is made; what is not made is said before."""
    if answer.held_back is None:
        return ""
    held = replace(answer.held_back, unmade=())
    said = limit_sentences(held, answer.could_make)
    if held.is_demand_met:
        return " ".join(said)
    # Where the night leads, it and the day are named in one line, and then what ends it.
    return " ".join(said[: 2 if held.by_night is not None and not held.is_trifle else 1])


def _against(
    gain: float, likely: Range | None, caption: str, of: str = ""
) -> tuple[str, Sense, str]:
    if not is_difference(gain, likely):
        return "±0", "none", f"{gain_text(gain, likely)} in {of}{caption}"
    if likely is None:
        return whole_percent_text(gain), "good" if gain > 0 else "bad", caption
    middle = likely[1]
    # A gain as typed that lies outside is no more to be expected than the rest: the range leads.
    caption = f"{caption}, likely {range_text(likely, ' to ')} %"
    figure = gain
    if lies_outside(gain, likely):
        figure = middle
        caption += f" (as typed {percent_text(gain, likely)})"
    return percent_text(figure, likely), "good" if middle > 0 else "bad", caption


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
    # The one part says the other, and no two roundings have to add up to a third.
    text = (
        f"{left_out}The spindles cut {total} h a week{instead}, "
        f"{rounded(figures.spindle.unattended)} of them with nobody there{_met(figures)}."
    )
    if figures.unsold_hours > _WORTH_A_WORD:
        text += (
            f" Of the {total} h, {rounded(figures.unsold_hours)} are for pieces that nobody buys."
        )
    return text


def _total(figures: Figures) -> str:
    """Spindle hours as every other place tells them."""
    return rounded(figures.spindle.total)


def _met(figures: Figures) -> str:
    """What is made of the part that is furthest behind; a shortage is never rounded away."""
    least = figures.least_met
    if least is None:
        return ""
    if least >= _ALL_BUT_NOTHING:
        return "; the demand of every part is met"
    digits = 0 if round(least) < 100 else 1
    return f"; of the part that is furthest behind {rounded(least, digits)} % are made"


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
