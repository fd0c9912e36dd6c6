"""What hour meters say put to answers, and the gain however their gap is read."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from functools import partial

from whatif.answers.answer import Answer, Comparison, GapAsRead
from whatif.answers.figures import Figures
from whatif.answers.gains import gains
from whatif.answers.meters.held import as_held, held_against
from whatif.answers.meters.reading import (
    Reading,
    readings,
    told_to_nobody,
    with_readings,
    without_reading,
)
from whatif.answers.progress import Told
from whatif.answers.running import pairs_of, plain_figures, runs_of
from whatif.answers.simulate import Simulate, again, ahead
from whatif.plan.model import Plan

READINGS = ("people", "machine")
"""How the gap of hour meters may be read (rule `meters.gap`)."""


def with_meters(found: Comparison, plans: Mapping[str, Plan], simulate: Simulate) -> Comparison:
    """The same comparison with what hour meters say beside the model (rule `meters.share`)."""
    held_in = dict.fromkeys(
        plan.meters.scenario for plan in found.plans.values() if plan.meters is not None
    )
    if not held_in:
        return found
    as_they_are = {id_: as_held(plans[id_]) for id_ in held_in}
    ahead(simulate, (run for plan in as_they_are.values() for run in runs_of(plan)))
    by_own = {
        id_: held_against(plans[id_], plain_figures(plan, simulate))
        for id_, plan in as_they_are.items()
    }

    def held(_: str, answer: Answer) -> Answer:
        meters = answer.plan.meters
        if meters is None:
            return answer
        metered = by_own[meters.scenario]
        kind = ("metered", answer.plan.scenario, answer.plan.runs, answer.plan.weeks)
        make = partial(replace, answer, metered=metered)
        return again(simulate, kind, (answer, metered), make)

    return found.with_each(held)


def with_gain_ranges(
    found: Comparison, simulate: Simulate, only: Collection[str] | None = None
) -> Comparison:
    """The same comparison with the gain's range where hour meters hold.

    The saleable gain is worked out with every gap read as people's, and again as machines',
    whatever the study lays it to.
    """
    plans = found.plans
    wanted = set(plans) if only is None else {*only, found.reference}
    metered = {of.scenario for each in wanted if (of := plans[each].meters) is not None}
    own = [id_ for id_ in plans if id_ in metered]
    if not own:
        return found
    entered = {id_: without_reading(plan) for id_, plan in found.plans.items()}
    read: dict[str, list[GapAsRead]] = {id_: [] for id_ in found.answers}
    for kind, constants in all_readings(entered, own, simulate).items():
        pairs = as_read(entered, found.reference, constants, simulate, wanted)
        for id_, (here, there) in pairs.items():
            meters, gain = found.answers[id_].plan.meters, gains(here, there).saleable
            if gain is not None and meters is not None and meters.scenario in constants:
                seconds = constants[meters.scenario].seconds
                read[id_].append(GapAsRead(kind, seconds, here.saleable, there.saleable, gain))
    return found.with_each(lambda id_, answer: replace(answer, gap_read=tuple(read[id_])))


def as_read(
    plans: Mapping[str, Plan],
    reference: str,
    found: Mapping[str, Reading],
    simulate: Simulate,
    wanted: Collection[str] | None = None,
) -> dict[str, tuple[Figures, Figures]]:
    """As :func:`pairs_of`, with the gaps read as ``found`` says of the scenarios with meters."""
    return pairs_of(with_readings(plans, found), reference, simulate, wanted)


def all_readings(
    plans: Mapping[str, Plan], own: Sequence[str], simulate: Simulate, told: Told = told_to_nobody
) -> dict[str, dict[str, Reading]]:
    """The constants of scenarios with hour meters of their own, by each way to read the gap."""
    wanted = [(id_, kind) for kind in READINGS for id_ in own]
    found = readings(plans, wanted, simulate, told)
    return {kind: {id_: found[id_, kind] for id_ in own} for kind in READINGS}
