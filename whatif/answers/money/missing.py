"""What is not priced, or not alike, so that money misleads (rule `money.missing`)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Literal, TypeAlias

from whatif.answers.money.capital import (
    Costed,
    bought,
    capital_of,
    more_fixtures,
    unentered_fixtures,
)
from whatif.answers.money.shorter import Shortened, is_paid_for, shorter_times
from whatif.answers.money.year import at_nothing, unpaid_hours, without_contribution
from whatif.plan.model import PartPlan, Plan
from whatif.records import dataclass

_NO_HOURS = 0.05
"""Hours a week below which people are paid for as long as in the reference."""

Thing: TypeAlias = (
    Literal["machines", "pallets", "systems", "fixtures", "one-off", "wage"] | Shortened
)


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that costs money and has no price; it counts as 0.

    Attributes:
        what: machines, pallets, systems that move pallets, fixtures, what is laid out once beside
            them, a wage, or what makes something take less time.
        of: the machine group, part or shift; "" for the wage of everybody, and for several parts.
        count: how many, of a wage hours a week, and of times how much shorter they are.
        reference: title of the reference where it is missing there and not here; "" else.
    """

    what: Thing
    of: str
    count: float
    reference: str = ""


Lean = Literal["none", "worse", "better", "either"]
"""What prices that are missing will make of a scenario's payback, value and rate."""


def not_priced(here: Costed, reference: Costed, today: Costed) -> tuple[Missing, ...]:
    """All that has no price: here, and what it is held against beside."""
    own = (*_bought_bare(here, today), *_shortened(here, reference, today), *_unpaid(here))
    if here.plan.scenario == reference.plan.scenario:
        return own
    known = {(each.what, each.of) for each in own}
    theirs = (
        *_bought_bare(reference, today),
        *_shortened(reference, here, today),
        *_unpaid(reference),
    )
    title = reference.plan.title
    return (
        *own,
        *(replace(each, reference=title) for each in theirs if (each.what, each.of) not in known),
    )


def _bought_bare(here: Costed, today: Costed) -> Iterator[Missing]:
    groups = [
        (id_, group, bought(group, today.prices.groups.get(id_)))
        for id_, group in here.prices.groups.items()
    ]
    yield from (
        Missing("machines", id_, more.machines)
        for id_, group, more in groups
        if more.machines and group.price is None
    )
    yield from (
        Missing("pallets", id_, more.pallets - more.covered_pallets)
        for id_, group, more in groups
        if more.pallets > more.covered_pallets and group.pallet_price is None
    )
    yield from (
        Missing("systems", id_, more.systems - more.covered_systems)
        for id_, group, more in groups
        if more.systems > more.covered_systems and group.pallet_system_price is None
    )
    yield from (
        Missing("fixtures", part, more.count)
        for part, more in more_fixtures(here, today).items()
        if more.price is None
    )
    if here.prices.is_open:
        yield Missing("one-off", "", 1)


def _shortened(here: Costed, other: Costed, today: Costed) -> Iterator[Missing]:
    """What takes less time than in another one, and than today, for nothing that is laid out."""
    if here.plan.scenario == other.plan.scenario:
        other = today
    found = shorter_times(here.plan, other.plan, today.plan)
    if not found:
        return
    more = float(capital_of(here, today).total - capital_of(other, today).total)
    if not is_paid_for(more, here.prices, other.prices):
        for each in found:
            yield Missing(each.what, each.parts[0] if len(each.parts) == 1 else "", each.by)


def _unpaid(here: Costed) -> Iterator[Missing]:
    shifts = [shift for shift in here.prices.shifts if shift.seconds]
    bare = [shift for shift in shifts if shift.wage is None]
    if bare and len(bare) == len(shifts):
        yield Missing("wage", "", unpaid_hours(here.prices))
    else:
        yield from (Missing("wage", shift.id, shift.seconds / 3600) for shift in bare)


@dataclass(frozen=True, slots=True)
class Leans:
    """Which way missing prices will move the capital, the year's gain, and what rests on both."""

    capital: Lean
    year_gain: Lean
    returns: Lean


NO_LEANS = Leans("none", "none", "none")


def leans_of(here: Costed, reference: Costed, today: Costed) -> Leans:
    """Which way the missing prices will move what a scenario is measured by."""
    if here.plan.scenario == reference.plan.scenario:
        return NO_LEANS
    own, theirs = (
        {
            (each.what, each.of): each.count
            for each in (*_bought_bare(side, today), *_shortened(side, other, today))
        }
        for side, other in ((here, reference), (reference, here))
    )
    more_hours = unpaid_hours(here.prices) - unpaid_hours(reference.prices)
    dearer = any(n > theirs.get(at, 0) for at, n in own.items())
    cheaper = any(n > own.get(at, 0) for at, n in theirs.items())
    paid, saved = more_hours >= _NO_HOURS, more_hours <= -_NO_HOURS
    return Leans(
        capital=_lean(costs=dearer, saves=cheaper),
        year_gain=_lean(costs=paid, saves=saved),
        returns=_lean(costs=dearer or paid, saves=cheaper or saved),
    )


def _lean(*, costs: bool, saves: bool) -> Lean:
    if costs:
        return "either" if saves else "worse"
    return "better" if saves else "none"


# -- what is told of it beside the money ------------------------------------------------------


@dataclass(frozen=True, slots=True)
class NoContribution:
    """Parts that are made and count as nothing: they have none, or one of 0, which may be meant."""

    parts: tuple[str, ...]
    at_nothing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OtherContribution:
    """A part that is wanted here and in the reference at two contributions; None is not given."""

    part: str
    here: Fraction | None
    there: Fraction | None
    reference: str


@dataclass(frozen=True, slots=True)
class NotPriced:
    """All that has no price, and which way that will move payback, value and rate.

    ``is_counted``: whether nobody has entered how many fixtures there are of some among it.
    """

    missing: tuple[Missing, ...]
    lean: Lean
    is_counted: bool = False


MoneyGap: TypeAlias = NoContribution | OtherContribution | NotPriced


def money_gaps(here: Costed, reference: Costed, today: Costed) -> tuple[MoneyGap, ...]:
    """What has to be known before a scenario's money is believed."""
    missing = not_priced(here, reference, today)
    counted = {more.part for more in unentered_fixtures(here, today)}
    is_counted = any(each.what == "fixtures" and each.of in counted for each in missing)
    bare, nothing = without_contribution(here.plan), at_nothing(here.plan)
    return (
        *((NoContribution(bare, nothing),) if bare or nothing else ()),
        *_other_contributions(here.plan, reference.plan),
        *(
            (NotPriced(missing, leans_of(here, reference, today).returns, is_counted),)
            if missing
            else ()
        ),
    )


def _other_contributions(plan: Plan, reference: Plan) -> Iterator[OtherContribution]:
    there = {part.id: part for part in reference.parts}
    for part in plan.parts:
        other = there.get(part.id)
        if other is not None and other.contribution != part.contribution:
            yield OtherContribution(part.id, _given(part), _given(other), reference.title)


def _given(part: PartPlan) -> Fraction | None:
    return part.contribution if part.is_contribution_given else None
