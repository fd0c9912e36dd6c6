"""Where a scenario could hurt somebody (rule `cautions.stand`)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction
from typing import Literal

from whatif.answers.figures import Figures
from whatif.plan.model import Plan

HEAVY = Fraction(15)
"""Kilograms a piece or fixture from which lifting is cautioned (rule `cautions.lifting`)."""


class Danger(Enum):
    """What a caution is of."""

    UNATTENDED = auto()
    LIFTING = auto()
    MACHINES = auto()
    LOCKING_OUT = auto()


@dataclass(frozen=True, slots=True)
class Heavy:
    """A piece or fixture of a part that is lifted and heavy."""

    what: Literal["piece", "fixture"]
    part: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution that a scenario calls for.

    Attributes:
        heavy: what is lifted, where it is of lifting.
    """

    of: Danger
    heavy: tuple[Heavy, ...] = ()


def to_be_read(called_for: Sequence[Caution], plan: Plan) -> tuple[Caution, ...]:
    """A scenario's cautions, and where people clear stops in it what that calls for.

    Views show the last one (rule `cautions.stops`), reports do not.
    """
    stops = () if plan.cell is None else plan.cell.stops
    if any(stop.needs_person for stop in stops):
        return (*called_for, Caution(Danger.LOCKING_OUT))
    return tuple(called_for)


def cautions_of(plan: Plan, reference: Plan, result: Figures | None) -> tuple[Caution, ...]:
    """The cautions that a scenario calls for."""
    return tuple(_cautions(plan, reference, result))


def _cautions(plan: Plan, reference: Plan, result: Figures | None) -> Iterator[Caution]:
    if runs_unattended(plan, result):
        yield Caution(Danger.UNATTENDED)
    heavy: list[Heavy] = []
    for part in plan.parts:
        heavy += [Heavy("piece", part.id)] if part.mass > HEAVY else []
        heavy += [Heavy("fixture", part.id)] if part.fixture_mass > HEAVY else []
    if heavy:
        yield Caution(Danger.LIFTING, tuple(heavy))
    if _adds_machines(plan, reference):
        yield Caution(Danger.MACHINES)


def runs_unattended(plan: Plan, result: Figures | None) -> bool:
    """Whether pieces are begun, claimed or finished then (rule `cautions.unattended`)."""
    claimed = plan.said is not None and plan.said.with_nobody.hours > 0
    return plan.after_shift or claimed or (result is not None and result.spindle.after_hours > 0)


def _adds_machines(plan: Plan, reference: Plan) -> bool:
    """Whether there are, or are claimed, more machines (rule `cautions.machines`)."""
    before = {group.id: group.count for group in reference.groups}
    claims = (plan.said, reference.said)
    if claims[0] is not None and claims[1] is not None and claims[0].machines > claims[1].machines:
        return True
    return any(group.count > before.get(group.id, 0) for group in plan.groups) and (
        plan.machines > reference.machines
    )
