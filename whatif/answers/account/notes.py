"""What holds a figure where it is: the largest loss, people, demand, fixtures."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

from whatif.answers.account.account import Note
from whatif.answers.account.case import Case
from whatif.answers.limits import is_all_met, people_by_shift
from whatif.cell.model import HOUR

_NIL = 0.05
"""Hours a week that would be shown as 0."""


def limits(case: Case) -> tuple[Note, ...]:
    """What holds the scenario back, and how busy its people are."""
    return (*held_back(case), *people_busy(case))


def held_back(case: Case) -> tuple[Note, ...]:
    """What holds the scenario back."""
    held = case.answer.held_back
    return () if held is None else (Note("limit", of=held),)


def people_busy(case: Case) -> tuple[Note, ...]:
    """How busy the people are, and those of each shift where there are several."""
    figures = case.figures
    if figures is None or not figures.people.on_duty:
        return ()
    all_of_them = Note("people", numbers=(figures.people.busy, figures.people.on_duty))
    shifts = figures.shifts
    names = [of.shift for of in people_by_shift(case.plan, figures)]
    each = [
        Note("people of shift", (name,), (shifts.busy[name], shifts.on_duty[name]))
        for name in names
    ]
    return (all_of_them, *(each if each[1:] else ()))


def other_duties(case: Case, hours: float) -> tuple[Note, ...]:
    """How many of the hours of people's work are other duties (rule `people.other-duties`)."""
    share = float(case.cell.other_duties)
    if not share or hours < _NIL:
        return ()
    return (Note("other duties", numbers=(share * hours, hours, 1 / (1 - share))),)


def set_up_anew(case: Case) -> tuple[Note, ...]:
    """Hours a week that people would set up for, if they did so for each order of the mix.

    Nothing where a part takes another setup on another machine: which of them it has is not known.
    """
    hours = Fraction(0)
    for part in case.plan.parts:
        setups = {way.setup for way in case.ways(part.id).values()}
        if len(setups) > 1:
            return ()
        hours += sum(setups) * part.weekly / part.batch / HOUR
    return (Note("set up anew", numbers=(float(hours),)),) if hours else ()


def waits_for_duties(case: Case, hours: float) -> tuple[Note, ...]:
    """That what is waited for takes longer by other duties."""
    share = float(case.cell.other_duties)
    if not share or hours < _NIL:
        return ()
    return (Note("waits for duties", numbers=(share, 1.0, 1 / (1 - share))),)


def demand_met(case: Case) -> tuple[Note, ...]:
    """Of which parts all that is wanted is made, of which nearly all, and of which not."""
    if case.figures is None:
        return ()
    shares = {part: met for part, met in case.figures.demand_met.items() if met is not None}
    met = tuple(part for part, share in shares.items() if is_all_met(share))
    short = tuple(part for part in shares if part not in met)
    held = case.answer.held_back
    lacks = "nearly met" if held is not None and held.is_demand_met else "short"
    return tuple(Note(id_, parts) for id_, parts in (("met", met), (lacks, short)) if parts)


def counted_once(case: Case, *parts: str) -> tuple[Note, ...]:
    """That pieces for real orders come once, and count by the week over those simulated.

    Of all parts where none is named.
    """
    if case.figures is None:
        return ()
    real = case.simulated.counted.for_orders
    some = tuple(part for part in parts or real if real.get(part))
    weeks = case.plan.weeks
    pieces = sum(real[part] for part in some) * weeks
    return (Note("counted once", some, (pieces, weeks)),) if some else ()


def scrap_made_good(case: Case, *parts: str) -> tuple[Note, ...]:
    """Of which parts an order makes its scrap good by whole pieces, and so by more than it loses.

    Made to order, more of it is made an order then, with one changeover (rule `orders.made`).
    """
    if case.figures is None or not case.cell.to_order:
        return ()
    found = []
    for id_ in parts:
        made = case.made(id_)
        if made is None or not made.scrap:
            continue
        cut = math.ceil(made.batch / (1 - made.scrap))
        good = cut * (1 - made.scrap)
        if good > made.batch:
            found.append(Note("scrap made good", (id_,), (made.batch, cut, float(good))))
    return tuple(found)


def unmade(case: Case, part: str) -> tuple[Note, ...]:
    """Why a part is not made, in the units of the comparison."""
    why = case.part(part).unmade
    return () if why is None else (Note("unmade", of=replace(why, units=case.found.units)),)


def fixtures(case: Case, part: str) -> tuple[Note, ...]:
    """What a lack of fixtures costs, where the part has a limit of them."""
    made, figures = case.made(part), case.figures
    if made is None or figures is None or made.fixtures is None:
        return ()
    hours = figures.by_state["no_fixture"]
    kind = "fixtures" if made.numbers == 1 else "fixtures of each"
    said = Note(kind, (part,), (made.fixtures, hours, made.numbers))
    return (said,) if hours > _NIL else ()
