"""What a scenario costs and brings in money (rule `money.shown`)."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from whatif.answers.figures import Figures
from whatif.plan.model import GroupPrices, PartPlan, Plan

_LEAST_RATE, _MOST_RATE = -0.9, 1e6
"""Shares of one a year between which a rate of return is looked for."""


@dataclass(frozen=True, slots=True)
class MoneyFigures:
    """A scenario in money, the currency being the reference's.

    Attributes:
        year: contribution of a year's saleable pieces, less wages and floor.
        year_gain: that, less the reference's.
        capital: to be laid out, what is given up being taken off.
        payback_years: None where the capital never comes back.
        rate_of_return_percent: a year, None where there is none.
    """

    currency: str
    year: float
    year_gain: float
    capital: float
    payback_years: float | None
    net_present_value: float
    rate_of_return_percent: float | None


def money_of(
    plan: Plan,
    figures: Figures,
    held: Mapping[str, int],
    reference: Plan,
    base: Figures,
    held_there: Mapping[str, int],
) -> MoneyFigures:
    """A scenario's money against the reference.

    Args:
        held, held_there: fixtures at most held at once by part, here and in the reference.
    """
    prices, prices_there = plan.prices, reference.prices
    assert prices is not None
    assert prices_there is not None
    year = year_of(plan, figures).left
    gain = year - year_of(reference, base).left
    capital = float(capital_of(plan, held, reference, held_there).total)
    rate, years = float(prices.rate), float(prices.years)
    return MoneyFigures(
        currency=prices_there.currency,
        year=year,
        year_gain=gain,
        capital=capital,
        payback_years=payback(capital, gain),
        net_present_value=present_value(gain, rate, years) - capital,
        rate_of_return_percent=rate_of_return(capital, gain, years),
    )


@dataclass(frozen=True, slots=True)
class Year:
    """A year's money: what saleable pieces contribute, and what is paid of it."""

    contribution: float
    wages: float
    floor: float

    @property
    def left(self) -> float:
        """What is left."""
        return self.contribution - self.wages - self.floor


def year_of(plan: Plan, figures: Figures) -> Year:
    """A scenario's year (rule `money.year`); its saleable output must be in money."""
    prices = plan.prices
    assert prices is not None
    weeks = float(prices.weeks_per_year)
    return Year(
        contribution=weeks * figures.saleable,
        wages=weeks * float(prices.wage) * figures.people.paid,
        floor=float(prices.floor_price) * (figures.floor or 0.0),
    )


# -- capital -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Capital:
    """What has to be laid out against the reference, item by item; ``given_up`` comes back."""

    machines: Fraction = Fraction(0)
    given_up: Fraction = Fraction(0)
    pallets: Fraction = Fraction(0)
    systems: Fraction = Fraction(0)
    fixtures: Fraction = Fraction(0)
    one_off: Fraction = Fraction(0)

    @property
    def total(self) -> Fraction:
        """All that is bought, what is given up taken off."""
        bought = self.machines + self.pallets + self.systems + self.fixtures + self.one_off
        return bought - self.given_up


def capital_of(
    plan: Plan, held: Mapping[str, int], reference: Plan, held_there: Mapping[str, int]
) -> Capital:
    """What has to be laid out against the reference (rule `money.capital`).

    Args:
        held, held_there: fixtures at most held at once by part, here and in the reference.
    """
    prices, there = plan.prices, reference.prices
    assert prices is not None
    assert there is not None
    if plan.scenario == reference.scenario:
        return Capital()
    ids = dict.fromkeys((*prices.groups, *there.groups))
    groups = [_group_capital(prices.groups.get(id_), there.groups.get(id_)) for id_ in ids]
    more = {part: max(0, count - held_there.get(part, 0)) for part, count in held.items()}
    nothing = Fraction(0)
    return Capital(
        machines=sum((group.machines for group in groups), nothing),
        given_up=sum((group.given_up for group in groups), nothing),
        pallets=sum((group.pallets for group in groups), nothing),
        systems=sum((group.systems for group in groups), nothing),
        fixtures=sum((n * prices.fixtures.get(part, nothing) for part, n in more.items()), nothing),
        one_off=prices.one_off,
    )


@dataclass(frozen=True, slots=True)
class GroupChanges:
    """What becomes of a machine group against the reference, in machines, pallets and systems."""

    bought: int
    given_up: int
    pallets: int
    systems: int


def group_changes(here: GroupPrices | None, there: GroupPrices | None) -> GroupChanges:
    """Machines bought and given up, more pallets, and more machines with what moves pallets."""
    count = here.count if here else 0
    kept = min(count, _owned(here, there))
    return GroupChanges(
        bought=count - kept,
        given_up=max(0, (there.count if there else 0) - kept),
        pallets=max(0, _more_pallets(here) - _more_pallets(there)),
        systems=max(0, _systems(here) - _systems(there)),
    )


def _group_capital(here: GroupPrices | None, there: GroupPrices | None) -> Capital:
    """What one machine group takes."""
    changes = group_changes(here, there)
    given_up = changes.given_up * (there.resale if there else Fraction(0))
    if here is None:
        return Capital(given_up=given_up)
    return Capital(
        machines=changes.bought * here.price,
        given_up=given_up,
        pallets=changes.pallets * here.pallet_price,
        systems=changes.systems * here.pallet_system_price,
    )


def _owned(here: GroupPrices | None, there: GroupPrices | None) -> int:
    """Machines of a group that are already there (rule `money.owned`).

    What the reference says too is said of the reference, and inherited: it is no word about the
    difference.
    """
    if here is None or there is None:
        return 0 if here is None or here.owned is None else here.owned
    if here.owned is not None and here.owned != there.owned:
        return here.owned
    is_new = bool(here.price and there.price and here.price != there.price)
    return 0 if is_new else there.count


def _more_pallets(group: GroupPrices | None) -> int:
    return group.count * (group.pallets - 1) if group else 0


def _systems(group: GroupPrices | None) -> int:
    return group.count if group and group.pallets > 1 else 0


# -- cash flows ----------------------------------------------------------------------------


def present_value(yearly: float, rate: float, years: float) -> float:
    """Worth today of an amount at the end of each year; a begun last year counts by its share.

    The annuity factor (1 - (1 + rate)^-n) / rate, n where the rate is 0 (textbooks of
    engineering economy).
    """
    whole = math.floor(years)
    log = math.log1p(rate)
    factor = -math.expm1(-whole * log) / rate if rate else float(whole)
    if years > whole:
        factor += (years - whole) * math.exp(-years * log)
    return yearly * factor


def payback(capital: float, yearly: float) -> float | None:
    """Years until the capital has come back (rule `money.payback`); None where it never does."""
    if capital <= 0:
        return 0.0 if yearly > 0 else None
    return capital / yearly if yearly > 0 else None


def rate_of_return(capital: float, yearly: float, years: float) -> float | None:
    """Percent a year at which the present value is 0.

    There is just one where capital is laid out and every year brings something, and none
    otherwise: nothing is laid out, or nothing comes back.
    """
    if capital <= 0 or yearly <= 0 or years <= 0:
        return None
    low, high = _LEAST_RATE, _MOST_RATE
    try:
        if not present_value(yearly, high, years) <= capital <= present_value(yearly, low, years):
            return None
    except OverflowError:
        low = 0.0
    for _ in range(200):
        middle = (low + high) / 2
        if present_value(yearly, middle, years) > capital:
            low = middle
        else:
            high = middle
    return 100 * (low + high) / 2


# -- what is not entered, or not alike (rule `money.missing`) ------------------------------

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


# -- contributions and wages ----------------------------------------------------------------


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
