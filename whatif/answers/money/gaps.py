"""What is not entered, or not alike, so that money misleads (rule `money.missing`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from whatif.answers.money.money import group_changes
from whatif.plan.model import PartPlan, Plan, Prices
from whatif.telling.amounts import listed


def money_warnings(
    plan: Plan,
    held: Mapping[str, int],
    reference: Plan,
    held_there: Mapping[str, int],
    payback: float | None,
    more_paid: float,
) -> tuple[str, ...]:
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
        *((unpriced_words(missing, payback),) if missing else ()),
    )


_NO_HOURS = 0.05
"""Hours a week below which nothing is told of a difference in what people are paid for."""


# -- contributions ---------------------------------------------------------------------------


def _without_contribution(plan: Plan) -> Iterator[str]:
    """The parts that are made and have none; an entered 0 is one."""
    bare = [
        part.id for part in plan.parts if part.place is not None and not part.is_contribution_given
    ]
    if len(bare) == 1:
        yield f"{bare[0]} has no contribution, so its pieces count as nothing; enter one."
    elif bare:
        yield f"{listed(bare)} have no contribution, so their pieces count as nothing; enter one."


def _other_contributions(plan: Plan, reference: Plan) -> Iterator[str]:
    """The parts that are wanted in both, at two prices."""
    there = {part.id: part for part in reference.parts}
    for part in plan.parts:
        other = there.get(part.id)
        if other is None or other.contribution == part.contribution:
            continue
        end = (
            f"enter it in {reference.title}"
            if not other.is_contribution_given
            else "enter it here too"
            if not part.is_contribution_given
            else "enter the same in both, unless the price is what changes"
        )
        yield (
            f"The contribution of {part.id} is {_said(part)} here and {_said(other)} in "
            f"{reference.title}: the gains compare different prices; {end}."
        )


def _without_wage(plan: Plan, reference: Plan, more_paid: float) -> Iterator[str]:
    """That more or fewer hours of people cost, or save, nothing."""
    if plan.prices is None or plan.prices.is_wage_given or abs(more_paid) < _NO_HOURS:
        return
    hours = f"{abs(more_paid):.1f} h a week {'more' if more_paid > 0 else 'less'}"
    does = "cost" if more_paid > 0 else "save"
    yield (
        f"No wage is entered: people are paid for {hours} than in {reference.title}, and that "
        f"{does}s nothing here; enter one."
    )


def _said(part: PartPlan) -> str:
    return f"{_number(part.contribution)}" if part.is_contribution_given else "not given"


def _number(value: Fraction) -> str:
    return f"{float(value):.12g}"


def after_costs(prices: Prices | None) -> str:
    """What has been taken off a year's contribution: only what somebody has entered."""
    wages = prices is not None and prices.is_wage_given
    floor = prices is not None and prices.floor_price > 0
    taken = [name for name, is_off in (("wages", wages), ("floor", floor)) if is_off]
    said = [f"after {listed(taken)}"] if taken else []
    return " and ".join(said if wages else [*said, "before wages, of which none is entered"])


# -- prices ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Added:
    """So many more of a machine group's or a part's things, and whether they have a price."""

    of: str
    count: int
    is_priced: bool


def not_priced(
    plan: Plan, held: Mapping[str, int], reference: Plan, held_there: Mapping[str, int]
) -> tuple[str, ...]:
    """What is added to the reference at a price that nobody entered: "pallets (10 more)".

    An entered 0 is a price. Nothing for the reference itself.
    """
    here, there = plan.prices, reference.prices
    if here is None or there is None or plan.scenario == reference.scenario:
        return ()
    groups = [
        (id_, group_changes(group, there.groups.get(id_)), group.entered)
        for id_, group in here.groups.items()
    ]
    machines = [_Added(id_, one.bought, "price" in said) for id_, one, said in groups]
    pallets = [_Added(id_, one.pallets, "pallet_price" in said) for id_, one, said in groups]
    systems = [_Added(id_, one.systems, "pallet_system_price" in said) for id_, one, said in groups]
    fixtures = [
        _Added(id_, count - held_there.get(id_, 0), id_ in here.fixtures_entered)
        for id_, count in held.items()
    ]
    return (
        *_bare("machines", machines),
        *_bare("pallets", pallets),
        *_bare("what moves the pallets", systems),
        *_bare("fixtures", fixtures),
    )


def _bare(what: str, added: Sequence[_Added]) -> Iterator[str]:
    """What of it has no price; named by group or part where others of it have one."""
    more = [one for one in added if one.count > 0]
    bare = [one for one in more if not one.is_priced]
    if bare:
        names = f" for {listed([one.of for one in bare])}" if len(bare) < len(more) else ""
        yield f"{what}{names} ({sum(one.count for one in bare)} more)"


def unpriced_words(missing: Sequence[str], payback: float | None) -> str:
    """What has no price, and what that does to the payback (None: there is none)."""
    end = "More has to be laid out" if payback is None else "The payback is too good"
    when = "once they are entered" if payback is None else "until they are entered"
    return f"Not priced yet, counted as 0: {', '.join(missing)}. {end} {when}."
