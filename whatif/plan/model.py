"""What answers need beside the physics: a plan is one scenario, ready to run and to be valued.

The :class:`~whatif.cell.model.Cell` inside holds no price, so that changing one never runs the
cell again; prices, worth and floor stand beside it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from fractions import Fraction
from typing import Literal, TypeAlias

from whatif.cell.fit.fit import Fit, Limit
from whatif.cell.model import Cell, Work
from whatif.records import dataclass
from whatif.study.problem import Problem
from whatif.study.raw import Path
from whatif.study.stated import Stated


@dataclass(frozen=True, slots=True)
class PartPlan:
    """A part that the scenario wants, by the week or by a real or rush order alone.

    Attributes:
        place: its place in :attr:`Cell.parts`, None where it is not made.
        weekly: pieces wanted a week.
        unmade: why it is not made; None where it is.
        cycle: seconds a piece, whatever ``on.`` says (rule `results.worth`).
        fixtures: as entered, None where nobody has said how many there are.
        contribution: money a good piece.
        is_contribution_given: whether somebody entered it; a 0 may be meant.
    """

    id: str
    place: int | None
    weekly: Fraction
    batch: int
    unmade: NotMade | None
    cycle: int
    in_cut: Fraction
    scrap: Fraction
    contribution: Fraction
    is_contribution_given: bool
    mass: Fraction
    fixture_mass: Fraction
    fixtures: int | None = None


@dataclass(frozen=True, slots=True)
class GroupPlan:
    """A machine group in use.

    Attributes:
        floor: square metres, None where it was not given.
        pallet_change: seconds as entered or assumed, also where one table changes nothing.
    """

    id: str
    count: int
    pallets: int
    floor: Fraction | None
    pallet_floor: Fraction
    pallet_change: int


@dataclass(frozen=True, slots=True)
class GroupPrices:
    """Prices of a machine group; None is not given, an entered 0 is a price.

    Attributes:
        yearly: what each machine costs a year.
        owned: machines that are there already, None where it was not entered (`money.owned`).
        build: what makes a machine another one: pallets, table, travel, work height, faces and
            magazine places.
    """

    count: int
    pallets: int
    price: Fraction | None
    resale: Fraction | None
    pallet_price: Fraction | None
    pallet_system_price: Fraction | None
    yearly: Fraction | None
    owned: int | None
    build: tuple[object, ...]


@dataclass(frozen=True, slots=True)
class PartPrices:
    """Prices of a part; ``fixture`` is None where it was not given.

    Attributes:
        fixture: of one fixture.
        fixtures: of each number, as entered; None where nobody has said how many there are.
        numbers: part numbers, each with fixtures of its own.
        material: what a scrapped piece has cost.
    """

    fixture: Fraction | None
    fixtures: int | None
    numbers: int
    material: Fraction


@dataclass(frozen=True, slots=True)
class ShiftPaid:
    """Paid seconds of a shift a week, and its wage an hour; None where none is given."""

    id: str
    seconds: int
    wage: Fraction | None


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices and rates of a scenario (rule `keys.money`), kept apart from the physics.

    Attributes:
        today: id of the scenario that stands in the shop now, which capital is counted against.
        rate: share of one a year.
        ramp: calendar years until the full gain is reached.
        is_open: whether what it costs once is 0 only since nobody has said it.
        one_off_of: id of the scenario that says what it costs once, be it 0; "" where none does.
        yearly: amount a year.
        spindle_hour: amount an hour in cycle.
        groups: by machine group, those without machines too.
        parts: by part, wanted or not.
        shifts: those that exist.
    """

    currency: str
    today: str
    weeks_per_year: Fraction
    rate: Fraction
    years: Fraction
    ramp: Fraction
    floor_price: Fraction
    one_off: Fraction
    yearly: Fraction
    spindle_hour: Fraction
    groups: Mapping[str, GroupPrices]
    parts: Mapping[str, PartPrices]
    shifts: tuple[ShiftPaid, ...]
    is_open: bool = False
    one_off_of: str = ""


@dataclass(frozen=True, slots=True)
class OrderPlan:
    """A real order: its place in :attr:`Cell.orders`, None where its part is not made.

    ``due`` in seconds from the begin of the first week measured.
    """

    id: str
    place: int | None
    pieces: int
    due: int


@dataclass(frozen=True, slots=True)
class RushPlan:
    """A rush order; ``part`` its part's place in :attr:`Cell.parts`, None where it is not made.

    ``arrives`` is a second of the week, None for any attended hour of it.
    """

    id: str
    part: int | None
    pieces: int
    arrives: int | None
    price: Fraction


@dataclass(frozen=True, slots=True)
class SaidHours:
    """Hours a day, and the share of them (of one) in which a spindle is said to cut."""

    hours: Fraction
    cutting: Fraction


@dataclass(frozen=True, slots=True)
class SaidInMeeting:
    """What people say in a meeting (rule `keys.said`)."""

    machines: int
    with_people: SaidHours
    with_nobody: SaidHours

    @property
    def hours_per_day(self) -> Fraction:
        """Spindle hours a day that are said, all machines together (rule `said.hours`)."""
        return self.machines * sum(
            (each.hours * each.cutting for each in (self.with_people, self.with_nobody)),
            Fraction(0),
        )


@dataclass(frozen=True, slots=True)
class Meters:
    """Hour meters that stand at a scenario or above it (rule `meters.share`).

    Attributes:
        own: whether they are the scenario's own.
        measured: in-cut over switched-on, a share of one.
        switched_on, in_cut: hours over the whole period, all machines together.
        weeks: length of that period, None where it is not given.
    """

    scenario: str
    own: bool
    measured: Fraction
    gap: str
    switched_on: Fraction
    in_cut: Fraction
    weeks: Fraction | None


@dataclass(frozen=True, slots=True)
class NotMade:
    """A part that is wanted and not made (rule `orders.made`).

    Attributes:
        missed: where it fits no machine, the limits that it misses by machine group.
        works: of "nobody", the works that it needs and that nobody in any shift may do.
        before: of "not before", the part that it comes after and that is not made.
        units: the study's, in which sizes are told.
    """

    part: str
    why: Literal["no machine", "no fit", "nobody", "not before"]
    missed: tuple[tuple[str, tuple[Limit, ...]], ...] = ()
    units: str = "metric"
    works: tuple[Work, ...] = ()
    before: str = ""


@dataclass(frozen=True, slots=True)
class LoadedFewer:
    """More pieces a pallet are entered than fit on a machine; ``per_pallet`` are loaded."""

    part: str
    group: str
    per_pallet: int


@dataclass(frozen=True, slots=True)
class SetUpOnce:
    """A part that is set up once on each table or pallet and never changed over.

    Attributes:
        silent: which of its keys for changeovers count at the start only.
        among_others: whether other parts are made, on other machines.
    """

    part: str
    silent: tuple[str, ...]
    among_others: bool


@dataclass(frozen=True, slots=True)
class SetUpByEach:
    """A part of which several pallets or tables may be at one order, each with its own setup.

    ``setups`` may be made for one order at most, of ``seconds`` each where they take longest.
    """

    part: str
    setups: int
    seconds: int


@dataclass(frozen=True, slots=True)
class SetterGoesAway:
    """There are setups with prove-outs behind them, and nobody has said whether the setter stays.

    Assumed is that he does not (rule `people.stays`).
    """


@dataclass(frozen=True, slots=True)
class NobodyRepairs:
    """Stops that a person must see to, in a cell in which nobody in any shift may."""

    stops: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FloorNotEntered:
    """Floor has a price, and these machines in use have no floor entered."""

    groups: tuple[str, ...]


PlanWarning: TypeAlias = (
    Problem
    | NotMade
    | LoadedFewer
    | SetUpOnce
    | SetUpByEach
    | SetterGoesAway
    | NobodyRepairs
    | FloorNotEntered
)
"""What has to be known before a scenario's figures are believed."""


@dataclass(frozen=True, slots=True)
class Plan:
    """One scenario, resolved.

    Attributes:
        cell: None where the scenario has no parts at all.
        fits: by part and machine group in use, whether and how many fit.
        weeks: measured; where they are settled those that are begun with.
        settled: whether as many weeks are measured as the gains need (rule `results.settled`).
        shift_seconds: of a week in which a shift that loads runs, breaks included.
        paid_seconds, duty_seconds: people's time a week.
        paid_by_shift, duty_by_shift: the same by shift.
        shift_days: days of the week on which a shift starts.
        cycles: seconds a piece of every part of the scenario, wanted or not.
        contributes: whether any of its parts has a contribution.
        runs: seeded runs over which results are averaged; 1 where there are no stops.
        draws: of the likely range.
        scatter: coefficient of variation of visits in these draws; none in the cell itself.
        stated: what is drawn, by its path (see :mod:`whatif.study.stated`).
        said_of: title of the scenario above from which what is said is inherited; "" where none.
        accuracy, guess_accuracy: shares of one by which entered and assumed values are drawn.
        after_shift: whether pieces may be begun after hours.
        after: of each part that comes after another one that other, wanted or not.
        same_as: title of the one that it is based on, where it enters nothing of its own; "" else.
    """

    scenario: str
    title: str
    parent: str | None
    cell: Cell | None
    weeks: int
    warm_up: int
    parts: tuple[PartPlan, ...] = ()
    groups: tuple[GroupPlan, ...] = ()
    fits: Mapping[str, Mapping[str, Fit]] = field(default_factory=dict)
    warnings: tuple[PlanWarning, ...] = ()
    said: SaidInMeeting | None = None
    said_of: str = ""
    meters: Meters | None = None
    shift_seconds: int = 0
    paid_seconds: int = 0
    duty_seconds: int = 0
    shift_days: int = 0
    after_shift: bool = False
    notes: str = ""
    cycles: Mapping[str, int] = field(default_factory=dict)
    contributes: bool = False
    prices: Prices | None = None
    orders: tuple[OrderPlan, ...] = ()
    rush: tuple[RushPlan, ...] = ()
    runs: int = 1
    settled: bool = False
    paid_by_shift: Mapping[str, int] = field(default_factory=dict)
    duty_by_shift: Mapping[str, int] = field(default_factory=dict)
    draws: int = 1
    scatter: float = 0.0
    stated: Mapping[Path, Stated] = field(default_factory=dict)
    accuracy: Fraction = Fraction(0)
    guess_accuracy: Fraction = Fraction(0)
    after: Mapping[str, str] = field(default_factory=dict)
    same_as: str = ""

    @property
    def followed(self) -> frozenset[str]:
        """The parts after which another one that is wanted comes (rule `results.saleable`)."""
        return frozenset(self.after[part.id] for part in self.parts if part.id in self.after)

    @property
    def misfits(self) -> tuple[tuple[str, str], ...]:
        """Parts with the machine groups that they do not fit, though they may be made there."""
        return tuple(
            (part, group)
            for part, by_group in self.fits.items()
            for group, fit in by_group.items()
            if not fit.fits and all(limit.kind != "machine" for limit in fit.limits)
        )

    @property
    def machines(self) -> int:
        """Machines in use, all groups together."""
        return sum(group.count for group in self.groups)

    @property
    def floor(self) -> Fraction | None:
        """Square metres taken; None where a machine in use has none (rule `results.floor`)."""
        total = Fraction(0)
        for group in self.groups:
            if group.floor is None:
                return None
            total += group.count * (group.floor + group.pallet_floor * (group.pallets - 1))
        return total if self.groups else None


Worth = Mapping[str, Fraction]


def in_money(plans: Mapping[str, Plan]) -> bool:
    """Whether any part of any scenario has a contribution, so that worth is money."""
    return any(plan.contributes for plan in plans.values())


def worth(
    plans: Mapping[str, Plan], scenario: str, reference: str, *, paid: bool | None = None
) -> Worth:
    """Worth of a good piece by part; 0 of one after which another comes (rule `results.worth`).

    Money where any part of any scenario has a contribution, else the cycle minutes of the part
    and of all before it in the reference, or its own for a part that the reference lacks,
    whatever ``on.`` says. ``paid`` is whether it is money, where that is known already: of many
    scenarios it is asked once.
    """
    own, there = plans[scenario], plans[reference]
    last = {part.id: part for part in own.parts if part.id not in own.followed}
    if in_money(plans) if paid is None else paid:
        found = {id_: part.contribution for id_, part in last.items()}
    else:
        found = {id_: Fraction(_chain(id_, own, there), 60) for id_ in last}
    return {part.id: found.get(part.id, Fraction(0)) for part in own.parts}


def chain_of(part: str, own: Plan, reference: Plan) -> tuple[str, ...]:
    """A part and the operations before it, the first last, as the reference has them."""
    after = reference.after if part in reference.cycles else own.after
    chain = [part]
    while chain[-1] in after:
        chain.append(after[chain[-1]])
    return tuple(chain)


def _chain(part: str, own: Plan, reference: Plan) -> int:
    """Seconds in cycle of a part's whole chain."""
    return sum(
        reference.cycles[id_] if id_ in reference.cycles else own.cycles[id_]
        for id_ in chain_of(part, own, reference)
    )
