"""What has to be laid out against what stands in the shop today (rule `money.capital`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from whatif.answers.figures import Figures
from whatif.answers.money.year import prices_of
from whatif.plan.model import GroupPrices, PartPrices, Plan, Prices
from whatif.records import dataclass

_NIL = Fraction(0)


@dataclass(frozen=True, slots=True)
class Costed:
    """A scenario as its money is worked out.

    Attributes:
        figures: None where it has no parts.
        held: fixtures of one number at most held at once, by part.
    """

    plan: Plan
    figures: Figures | None
    held: Mapping[str, int]

    @property
    def prices(self) -> Prices:
        """Its prices."""
        return prices_of(self.plan)


# -- machines that are there (rule `money.owned`) ---------------------------------------------


def is_new(here: GroupPrices, today: GroupPrices | None) -> bool:
    """Whether the machines of a group are other ones than today's."""
    if today is None:
        return True
    return here.price is not None and here.price != today.price and here.build != today.build


def owned(here: GroupPrices | None, today: GroupPrices | None) -> int:
    """Machines of a group that are already there."""
    if here is None:
        return 0
    if here.owned is not None:
        return here.owned
    return 0 if today is None or is_new(here, today) else min(here.count, today.count)


def given_up(here: Prices, today: Prices) -> dict[str, int]:
    """Machines of today's that are not kept, by group.

    Today's machines of all groups together less all that are owned here: a machine that is turned
    into one of another group is not sold as well. They are of the groups that have fewer.
    """
    kept = {id_: owned(group, today.groups.get(id_)) for id_, group in here.groups.items()}
    left = sum(group.count for group in today.groups.values()) - sum(kept.values())
    found = {}
    for id_, group in today.groups.items():
        gone = min(max(0, group.count - kept.get(id_, 0)), left)
        if gone > 0:
            found[id_] = gone
            left -= gone
    return found


# -- what is bought ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Bought:
    """What a group has more than today.

    Attributes:
        machines: beyond those that are there.
        pallets: beyond each machine's first, and beyond today's.
        systems: machines with pallets, beyond today's.
        covered_pallets, covered_systems: those among them that come with the machines bought, and
            cost nothing more where they have no price of their own.
    """

    machines: int
    pallets: int
    systems: int
    covered_pallets: int
    covered_systems: int


def bought(here: GroupPrices, today: GroupPrices | None) -> Bought:
    """What is bought of a group; of new machines nothing of today's is of use."""
    machines = max(0, here.count - owned(here, today))
    is_other = here.owned is None and is_new(here, today)
    before = None if is_other else today
    pallets = max(0, _more_pallets(here) - _more_pallets(before))
    systems = max(0, _systems(here) - _systems(before))
    return Bought(
        machines,
        pallets,
        systems,
        min(pallets, machines * (here.pallets - 1)),
        min(systems, machines),
    )


@dataclass(frozen=True, slots=True)
class FirstPallets:
    """Pallets of a group that today has not, of which each machine's first costs nothing.

    Attributes:
        counted: those that are bought.
        first: those that come with the machine, or with what moves them.
    """

    group: str
    counted: int
    first: int


def first_pallets(here: Prices, today: Prices) -> tuple[FirstPallets, ...]:
    """Groups with pallets to pay for on machines that have fixed tables today.

    Of machines that are bought too nobody asks: each comes with a pallet.
    """
    found = []
    for id_, group in here.groups.items():
        more = bought(group, today.groups.get(id_))
        costs = group.pallet_price != 0 and not (
            group.pallet_price is None and more.pallets == more.covered_pallets
        )
        if more.pallets and more.systems > more.covered_systems and costs:
            found.append(FirstPallets(id_, more.pallets, more.systems))
    return tuple(found)


def _more_pallets(group: GroupPrices | None) -> int:
    return group.count * (group.pallets - 1) if group else 0


def _systems(group: GroupPrices | None) -> int:
    return group.count if group and group.pallets > 1 else 0


@dataclass(frozen=True, slots=True)
class MoreFixtures:
    """Fixtures of a part beyond those of today.

    Attributes:
        numbers: part numbers that have as many more each; 1 where they do not have alike.
        price: of one; None where it has none.
        held, held_today: fixtures of one number at most held at once, here and today.
    """

    part: str
    count: int
    numbers: int
    price: Fraction | None
    held: int = 0
    held_today: int = 0

    @property
    def each(self) -> int:
        """More of each number."""
        return self.count // self.numbers


def more_fixtures(here: Costed, today: Costed) -> dict[str, MoreFixtures]:
    """Fixtures to buy by part: beyond those of today, all where their price is another one."""
    found = {}
    for part, held in here.held.items():
        count = _fixtures_more(part, held, here.prices, today)
        if count:
            prices = here.prices.parts[part]
            numbers = prices.numbers if count % prices.numbers == 0 else 1
            price, there = prices.fixture, today.held.get(part, 0)
            found[part] = MoreFixtures(part, count, numbers, price, held, there)
    return found


def unentered_fixtures(here: Costed, today: Costed) -> tuple[MoreFixtures, ...]:
    """Those of them of which nobody has entered how many there are."""
    entered = {part.id for part in here.plan.parts if part.fixtures is not None}
    return tuple(more for part, more in more_fixtures(here, today).items() if part not in entered)


def fixtures_taken_as_there(here: Costed, today: Costed) -> tuple[str, ...]:
    """Parts of which more fixtures are held at once than today holds, and none more is counted.

    Nobody has entered how many there are, or what one costs: as many are taken to stand there as
    today's pallets and tables might hold.
    """
    return _more_held(here, today, are_entered=False)


def fixtures_entered_there(here: Costed, today: Costed) -> tuple[str, ...]:
    """Parts of which more fixtures are held at once than today holds, and as many are entered.

    None of them is bought: they stand in the shop's rack.
    """
    return _more_held(here, today, are_entered=True)


def _more_held(here: Costed, today: Costed, *, are_entered: bool) -> tuple[str, ...]:
    bought_too = more_fixtures(here, today)
    return tuple(
        part
        for part, held in here.held.items()
        if part not in bought_too
        and (there := today.prices.parts.get(part)) is not None
        and (there.fixtures is not None) is are_entered
        and here.prices.parts[part].numbers * held > there.numbers * today.held.get(part, 0)
    )


def _fixtures_more(part: str, held: int, prices: Prices, today: Costed) -> int:
    here, there = prices.parts[part], today.prices.parts.get(part)
    count = here.numbers * held
    if there is None or there.fixture != here.fixture:
        return count
    return max(0, count - there.numbers * _there(part, there, today))


def _there(part: str, prices: PartPrices, today: Costed) -> int:
    """Fixtures of one number that stand in the shop today.

    As many as are entered. Where nobody has said how many, a price is charged beyond those that
    today held at once; without one nothing is asked for that today's pallets have by assumption.
    """
    if prices.fixtures is not None:
        assumed = prices.fixtures
    elif prices.fixture is None:
        assumed = _assumed(part, today.plan)
    else:
        assumed = 0
    return max(today.held.get(part, 0), assumed)


def _assumed(part: str, today: Plan) -> int:
    """Fixtures that pallets and tables have where nobody has said how many (`fixtures.free`)."""
    made = () if today.cell is None else today.cell.parts
    return next((each.fixtures or 0 for each in made if each.id == part), 0)


# -- what it comes to -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Capital:
    """What has to be laid out against today, item by item; ``given_up`` comes back."""

    machines: Fraction = _NIL
    given_up: Fraction = _NIL
    pallets: Fraction = _NIL
    systems: Fraction = _NIL
    fixtures: Fraction = _NIL
    one_off: Fraction = _NIL

    @property
    def total(self) -> Fraction:
        """All that is bought, what is given up taken off."""
        spent = self.machines + self.pallets + self.systems + self.fixtures + self.one_off
        return spent - self.given_up


def capital_of(here: Costed, today: Costed) -> Capital:
    """What a scenario takes against what stands in the shop; what has no price counts as 0."""
    prices, there = here.prices, today.prices
    groups = [(group, bought(group, there.groups.get(id_))) for id_, group in prices.groups.items()]
    return Capital(
        machines=_sum(more.machines * (group.price or _NIL) for group, more in groups),
        given_up=_sum(
            count * (there.groups[id_].resale or _NIL)
            for id_, count in given_up(prices, there).items()
        ),
        pallets=_sum(more.pallets * (group.pallet_price or _NIL) for group, more in groups),
        systems=_sum(more.systems * (group.pallet_system_price or _NIL) for group, more in groups),
        fixtures=_sum(
            more.count * (more.price or _NIL) for more in more_fixtures(here, today).values()
        ),
        one_off=prices.one_off,
    )


def _sum(amounts: Iterator[Fraction]) -> Fraction:
    return sum(amounts, _NIL)
