"""Where a scenario could hurt somebody (rule `cautions.stand`)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from enum import Enum, auto
from fractions import Fraction
from typing import Literal

from whatif.answers.figures import Figures
from whatif.cell.calendar import Calendar
from whatif.cell.model import HOUR, Cell
from whatif.plan.model import Plan
from whatif.records import dataclass

HEAVY = Fraction(15)
"""Kilograms a piece or fixture above which lifting is cautioned (rule `cautions.lifting`)."""

LIGHT = Fraction(3)
"""Kilograms below which lifting is not looked at (scope of ISO 11228-1, from memory)."""

RARE = 12
"""Lifts an hour of one person that still count as rare.

The least frequency that the NIOSH lifting equation has a multiplier for is 0.2 lifts a minute;
what is rarer is treated alike (from memory).
"""


class Danger(Enum):
    """What a caution is of, the gravest first."""

    FIRE = auto()
    BEGUN_ALONE = auto()
    FINISHED_ALONE = auto()
    PALLETS = auto()
    LONE_WORK = auto()
    LIFTING = auto()
    MACHINES = auto()
    LOCKING_OUT = auto()


OF_NIGHTS = (Danger.FIRE, Danger.BEGUN_ALONE, Danger.FINISHED_ALONE)
"""Of spindles that turn with nobody there."""


@dataclass(frozen=True, slots=True)
class Heavy:
    """A piece or fixture of a part that is lifted and heavy."""

    what: Literal["piece", "fixture"]
    part: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution that a scenario calls for.

    Attributes:
        heavy, often: of lifting, what is heavy, and the parts of which pieces are lifted often.
        stands: whether what stands in the shop today calls for it already.
    """

    of: Danger
    heavy: tuple[Heavy, ...] = ()
    often: tuple[str, ...] = ()
    stands: bool = False

    def is_held_by(self, others: Sequence[Caution]) -> bool:
        """Whether others say all of it."""
        return any(
            self.of is other.of
            and set(self.heavy) <= set(other.heavy)
            and set(self.often) <= set(other.often)
            for other in others
        )


def to_be_read(called_for: Sequence[Caution], plan: Plan) -> tuple[Caution, ...]:
    """A scenario's cautions, and where people clear stops in it what that calls for.

    Views show the last one (rule `cautions.stops`), reports do not.
    """
    stops = () if plan.cell is None else plan.cell.stops
    if any(stop.needs_person for stop in stops):
        return (*called_for, Caution(Danger.LOCKING_OUT))
    return tuple(called_for)


def cautions_of(
    plan: Plan, result: Figures | None, today: Plan, standing: Sequence[Caution]
) -> tuple[Caution, ...]:
    """The cautions that a scenario calls for; of those of ``standing`` it is said that they stand.

    Args:
        standing: what today's scenario calls for.
    """
    return tuple(
        replace(each, stands=each.is_held_by(standing)) for each in _cautions(plan, today, result)
    )


def _cautions(plan: Plan, today: Plan, result: Figures | None) -> Iterator[Caution]:
    yield from of_nights(plan, is_cut=result is not None and result.spindle.after_hours > 0)
    if any(group.pallets > 1 for group in plan.groups):
        yield Caution(Danger.PALLETS)  # rule `cautions.pallets`
    runs = plan.cell is not None and result is not None and result.spindle.total > 0
    if runs and plan.cell is not None and (hours_alone(plan.cell) or begins_alone(plan)):
        yield Caution(Danger.LONE_WORK)  # rule `cautions.alone`
    heavy, often = tuple(_heavy(plan)), tuple(_often(plan, result))
    if heavy or often:
        yield Caution(Danger.LIFTING, heavy, often)
    if _adds_machines(plan, today):
        yield Caution(Danger.MACHINES)


def of_nights(plan: Plan, *, is_cut: bool) -> Iterator[Caution]:
    """Those for pieces that are begun, or said to be made, with nobody there; or only finished.

    See rule `cautions.unattended`.

    Args:
        is_cut: whether any spindle is in cycle after hours.
    """
    if begins_alone(plan) or (plan.said is not None and plan.said.with_nobody.hours > 0):
        yield Caution(Danger.FIRE)
        yield Caution(Danger.BEGUN_ALONE)
    elif is_cut:
        yield Caution(Danger.FINISHED_ALONE)


def begins_alone(plan: Plan) -> bool:
    """Whether pieces may be begun with nobody there (rule `cautions.unattended`)."""
    cell = plan.cell
    if cell is None:
        return plan.after_shift
    return (
        plan.after_shift
        and bool(cell.nights)
        and any(group.unattended for group in cell.groups)
        and any(part.unattended for part in cell.parts)
    )


def hours_alone(cell: Cell) -> float:
    """Hours of a week in which no more than one person has a shift (rule `cautions.alone`)."""
    shifts = tuple(replace(shift, breaks=()) for shift in cell.shifts)
    people = [shift.people for shift in shifts]
    seconds = sum(
        segment.end - segment.start
        for segment in Calendar(replace(cell, shifts=shifts)).segments
        if sum(n for n, has in zip(people, segment.on_duty, strict=True) if has) == 1
    )
    return seconds / HOUR


@dataclass(frozen=True, slots=True)
class MoreAlone:
    """How much more one person is alone in a scenario than in another one.

    Attributes:
        hours: a week, with one person and no other.
        is_left_running: whether pieces are begun with nobody there, for longer or as nothing was,
            in a cell where one person is alone before and after.
    """

    hours: float
    is_left_running: bool

    def __bool__(self) -> bool:
        return self.hours >= LEAST_ALONE or self.is_left_running


LEAST_ALONE = 0.05
"""Hours a week below which they would be told as 0.0."""


def more_alone(
    plan: Plan, result: Figures | None, before: Plan, result_before: Figures | None
) -> MoreAlone:
    """How much more one person is alone than before; not at all where nothing is cut."""
    if plan.cell is None or result is None or result.spindle.total <= 0:
        return MoreAlone(0.0, is_left_running=False)
    alone = hours_alone(plan.cell)
    then = 0.0 if before.cell is None else hours_alone(before.cell)
    was_cut = 0.0 if result_before is None else result_before.spindle.after_hours
    is_longer = not begins_alone(before) or result.spindle.after_hours >= was_cut + LEAST_ALONE
    return MoreAlone(
        max(0.0, alone - then), is_left_running=bool(alone) and begins_alone(plan) and is_longer
    )


@dataclass(frozen=True, slots=True)
class HoursAlone:
    """Hours a week of a scenario that cautions are of.

    Attributes:
        lone: in which one person has a shift and nobody else.
        unattended: in which spindles are in cycle with nobody there, all machines together.
    """

    lone: float
    unattended: float


def alone_in(plan: Plan, result: Figures | None) -> HoursAlone:
    """Those of a scenario; none where nothing is cut."""
    if plan.cell is None or result is None or result.spindle.total <= 0:
        return HoursAlone(0.0, 0.0)
    return HoursAlone(hours_alone(plan.cell), result.spindle.unattended)


def _heavy(plan: Plan) -> Iterator[Heavy]:
    for part in plan.parts:
        if part.mass > HEAVY:
            yield Heavy("piece", part.id)
        if part.fixture_mass > HEAVY:
            yield Heavy("fixture", part.id)


def _often(plan: Plan, result: Figures | None) -> list[str]:
    """The parts of pieces that are put on and taken off, where that is often in an hour."""
    if result is None or not result.people.on_duty:
        return []
    lifted = {
        part.id: 2 * result.counted.good.get(part.id, 0.0) / float(1 - part.scrap)
        for part in plan.parts
        if part.mass >= LIGHT
    }
    lifts = sum(lifted.values())
    return [part for part, n in lifted.items() if n] if lifts > RARE * result.people.on_duty else []


def _adds_machines(plan: Plan, today: Plan) -> bool:
    """Whether there are more machines or pallets than today (rule `cautions.machines`)."""
    before = {group.id: group for group in today.groups}
    if (
        plan.said is not None
        and today.said is not None
        and plan.said.machines > today.said.machines
    ):
        return True
    return any(
        group.id not in before
        or group.count > before[group.id].count
        or group.pallets > before[group.id].pallets
        for group in plan.groups
    )
