"""What is not entered, or not alike, so that money misleads (rule `money.missing`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from whatif.answers.money.money import group_changes
from whatif.plan.model import PartPlan, Plan

_NO_HOURS = 0.05
"""Hours a week below which nothing is told of a difference in what people are paid for."""


@dataclass(frozen=True, slots=True)
class NoContribution:
    """Parts that are made and have none; an entered 0 is one."""

    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OtherContribution:
    """A part that is wanted here and in the reference at two contributions; None is not given."""

    part: str
    here: Fraction | None
    there: Fraction | None
    reference: str


@dataclass(frozen=True, slots=True)
class NoWage:
    """More hours of people (fewer: below 0) than in the reference, which cost or save nothing."""

    more_paid: float
    reference: str


AddedThing = Literal["machines", "pallets", "systems", "fixtures"]


@dataclass(frozen=True, slots=True)
class Added:
    """What is added to the reference at a price that nobody entered.

    Attributes:
        what: machines, pallets, systems that move pallets, or fixtures.
        of: groups or parts without a price, named where others of them have one.
    """

    what: AddedThing
    count: int
    of: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotPriced:
    """All of it, and the years of the payback, which is None where nothing ever comes back."""

    added: tuple[Added, ...]
    payback: float | None


MoneyGap: TypeAlias = NoContribution | OtherContribution | NoWage | NotPriced


def money_gaps(
    plan: Plan,
    held: Mapping[str, int],
    reference: Plan,
    held_there: Mapping[str, int],
    payback: float | None,
    more_paid: float,
) -> tuple[MoneyGap, ...]:
    """What has to be known before a scenario's money is believed.

    Args:
        held, held_there: fixtures at most held at once by part, here and in the reference.
        payback: years, None where the capital never comes back.
        more_paid: hours a week that people are paid for here and not in the reference.
    """
    missing = not_priced(plan, held, reference, held_there)
    return (
        *_without_contribution(plan),
        *_other_contributions(plan, reference),
        *_without_wage(plan, reference, more_paid),
        *((NotPriced(missing, payback),) if missing else ()),
    )


# -- contributions ---------------------------------------------------------------------------


def _without_contribution(plan: Plan) -> Iterator[NoContribution]:
    bare = tuple(
        part.id for part in plan.parts if part.place is not None and not part.is_contribution_given
    )
    if bare:
        yield NoContribution(bare)


def _other_contributions(plan: Plan, reference: Plan) -> Iterator[OtherContribution]:
    there = {part.id: part for part in reference.parts}
    for part in plan.parts:
        other = there.get(part.id)
        if other is not None and other.contribution != part.contribution:
            yield OtherContribution(part.id, _given(part), _given(other), reference.title)


def _given(part: PartPlan) -> Fraction | None:
    return part.contribution if part.is_contribution_given else None


def _without_wage(plan: Plan, reference: Plan, more_paid: float) -> Iterator[NoWage]:
    if plan.prices is not None and not plan.prices.is_wage_given and abs(more_paid) >= _NO_HOURS:
        yield NoWage(more_paid, reference.title)


# -- prices ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _More:
    """So many more of a machine group's or a part's things, and whether they have a price."""

    of: str
    count: int
    is_priced: bool


_PRICES: dict[AddedThing, tuple[str, str]] = {
    "machines": ("bought", "price"),
    "pallets": ("pallets", "pallet_price"),
    "systems": ("systems", "pallet_system_price"),
}
"""How many more of it a group takes, and the key of its price."""


def not_priced(
    plan: Plan, held: Mapping[str, int], reference: Plan, held_there: Mapping[str, int]
) -> tuple[Added, ...]:
    """What is added to the reference at a price that nobody entered.

    An entered 0 is a price. Nothing for the reference itself.
    """
    here, there = plan.prices, reference.prices
    if here is None or there is None or plan.scenario == reference.scenario:
        return ()
    groups = [
        (id_, group_changes(group, there.groups.get(id_)), group.entered)
        for id_, group in here.groups.items()
    ]
    more: dict[AddedThing, list[_More]] = {
        what: [_More(id_, getattr(changes, count), price in said) for id_, changes, said in groups]
        for what, (count, price) in _PRICES.items()
    }
    more["fixtures"] = [
        _More(id_, count - held_there.get(id_, 0), id_ in here.fixtures_entered)
        for id_, count in held.items()
    ]
    return tuple(added for what, each in more.items() for added in _bare(what, each))


def _bare(what: AddedThing, added: Sequence[_More]) -> Iterator[Added]:
    more = [each for each in added if each.count > 0]
    bare = [each for each in more if not each.is_priced]
    if bare:
        names = tuple(each.of for each in bare) if len(bare) < len(more) else ()
        yield Added(what, sum(each.count for each in bare), names)
