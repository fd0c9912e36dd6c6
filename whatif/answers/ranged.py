"""Likely ranges put to answers, and what could be made at most."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from whatif.answers.answer import Answer, Comparison
from whatif.answers.could_make import could_make, flat_out, is_demand_met
from whatif.answers.gains import likely_of
from whatif.answers.likely import Draws
from whatif.answers.running import runs_of
from whatif.answers.simulate import Simulate, ahead
from whatif.plan.model import worth


def with_likely(
    found: Comparison, simulate: Simulate, only: Collection[str] | None = None
) -> Comparison:
    """The same comparison with the likely range of every gain, or of those of some scenarios."""
    for more in likely_one_by_one(found, simulate, only):
        found = more
    return found


def likely_one_by_one(
    found: Comparison, simulate: Simulate, only: Collection[str] | None = None
) -> Iterator[Comparison]:
    """The same comparison with the ranges of one scenario more each time, the reference's first."""
    draws = Draws(found.plans, found.reference, simulate)
    order = tuple(dict.fromkeys((found.reference, *(found.answers if only is None else only))))
    draws.ahead(order)
    for id_ in order:
        found = found.having(id_, likely_answer(found, id_, draws))
        yield found


def likely_answer(found: Comparison, scenario: str, draws: Draws) -> Answer:
    """A scenario's answer with its likely ranges."""
    answer, moved = found.answers[scenario], draws.gains(scenario)
    likely = likely_of(moved, () if answer.settled else answer.halves)
    return replace(answer, likely=likely, drawn=moved)


def with_could_make(
    found: Comparison, simulate: Simulate, only: Collection[str] | None = None
) -> Comparison:
    """The same comparison with what could be made at most where all that is wanted is made."""
    wanted = found.answers if only is None else only
    could_make_ahead(found, wanted, simulate)
    return found.with_each(
        lambda id_, answer: could_make_answer(found, id_, simulate) if id_ in wanted else answer
    )


def could_make_ahead(found: Comparison, scenarios: Iterable[str], simulate: Simulate) -> None:
    """Say of which scenarios :func:`could_make_answer` will be asked for."""
    answers = [found.answers[id_] for id_ in scenarios]
    ahead(
        simulate,
        (
            window
            for answer in answers
            if answer.figures is not None and is_demand_met(answer.plan, answer.figures)
            for window in runs_of(flat_out(answer.plan))
        ),
    )


def could_make_answer(found: Comparison, scenario: str, simulate: Simulate) -> Answer:
    """A scenario's answer with what could be made at most, where all that is wanted is made."""
    answer = found.answers[scenario]
    if answer.figures is None:
        return answer
    plans = {id_: found.answers[id_].plan for id_ in (found.reference, scenario)}
    value = worth(plans, scenario, found.reference, paid=found.in_money)
    return replace(answer, could_make=could_make(answer.plan, answer.figures, simulate, value))
