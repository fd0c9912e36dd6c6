"""Cautions where a scenario could hurt somebody (rule `cautions.stand`).

They name the documents that treat the matter and restate none of them; each ends with who
decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from fractions import Fraction

from whatif.answers.figures import Figures
from whatif.plan.model import Plan

HEAVY = Fraction(15)
"""Kilograms a piece or fixture from which lifting is cautioned (rule `cautions.lifting`)."""

_DECIDE = (
    "Nothing here is a permission. Local codes, the machine's manual and a qualified person decide."
)


class Sort(Enum):
    """What a caution is of, by name."""

    UNATTENDED = "unattended running"
    LIFTING = "lifting and clamping"
    MACHINES = "more machines"
    LOCKING_OUT = "locking out"


UNATTENDED = (
    "Unattended running: fire at machines with flammable coolant or chips, and a tool or clamp "
    "that fails with nobody there, need means of detecting and stopping them (ISO 19353, "
    "DGUV 209-026 and 209-027, NFPA 660 for combustible metals), the guarding of ISO 16090-1 and "
    "29 CFR 1910.212, and the insurer's consent. A machine that stood or stopped over night is "
    "locked out before anybody reaches in (29 CFR 1910.147). " + _DECIDE
)
LIFTING = (
    "Lifting: more than 15 kg weighs {what}; see ISO 11228-1 and the NIOSH lifting equation (23 kg "
    "under ideal conditions), and use a hoist or lift table where they ask for it. Clamping must "
    "hold the part against the cut in every position. " + _DECIDE
)
MACHINES = (
    "More machines than the reference: floor load, room around the machines, electrical supply "
    "(IEC 60204-1, NFPA 79) and the risk assessment of the whole arrangement (ISO 12100, "
    "ISO 16090-1) are not checked here. " + _DECIDE
)
LOCKING_OUT = (
    "Stops: a machine that stands may start again, and holds what is under tension or pressure. "
    "Before anybody reaches in, lock it out (29 CFR 1910.147; guards: ISO 16090-1). " + _DECIDE
)
"""Where a view tells of stops that a person clears (rule `cautions.stops`)."""

_SORTS = {
    "Unattended running": Sort.UNATTENDED,
    "Lifting": Sort.LIFTING,
    "More machines": Sort.MACHINES,
    "Stops": Sort.LOCKING_OUT,
}

_SHORT = {
    Sort.UNATTENDED: (
        "Unattended running calls for means against fire and against tools and clamps that fail "
        "(ISO 19353, ISO 16090-1), and for the insurer's consent."
    ),
    Sort.LIFTING: "More than 15 kg is lifted: see ISO 11228-1. Clamping must hold throughout.",
    Sort.MACHINES: (
        "Floor load, room, electrical supply (IEC 60204-1) and risk (ISO 12100) of more machines "
        "are not checked here."
    ),
    Sort.LOCKING_OUT: "Lock a stopped machine out before anybody reaches in (29 CFR 1910.147).",
}


def to_be_read(said: Sequence[str], plan: Plan) -> tuple[str, ...]:
    """The cautions of a scenario, and where people clear stops in it what that calls for."""
    stops = () if plan.cell is None else plan.cell.stops
    return (*said, LOCKING_OUT) if any(one.needs_person for one in stops) else tuple(said)


def sort_of(caution: str) -> Sort:
    """What a caution is of."""
    return next(sort for begins, sort in _SORTS.items() if caution.startswith(begins))


def in_short(caution: str) -> str:
    """A caution where there is little room."""
    return f"{_SHORT[sort_of(caution)]} {_DECIDE}"


def cautions(plan: Plan, reference: Plan, result: Figures | None) -> tuple[str, ...]:
    """The cautions that a scenario calls for."""
    said = []
    if runs_unattended(plan, result):
        said.append(UNATTENDED)
    heavy = [
        f"a {what} of {part.id}"
        for part in plan.parts
        for what, mass in (("piece", part.mass), ("fixture", part.fixture_mass))
        if mass > HEAVY
    ]
    if heavy:
        said.append(LIFTING.format(what=" and ".join(heavy)))
    if _adds_machines(plan, reference):
        said.append(MACHINES)
    return tuple(said)


def runs_unattended(plan: Plan, result: Figures | None) -> bool:
    """Whether pieces are begun, claimed or finished then (rule `cautions.unattended`)."""
    claimed = plan.claim is not None and plan.claim.unattended_hours > 0
    return plan.after_shift or claimed or (result is not None and result.spindle.after_hours > 0)


def _adds_machines(plan: Plan, reference: Plan) -> bool:
    """Whether there are, or are claimed, more machines (rule `cautions.machines`)."""
    before = {group.id: group.count for group in reference.groups}
    claims = (plan.claim, reference.claim)
    if claims[0] is not None and claims[1] is not None and claims[0].machines > claims[1].machines:
        return True
    return any(group.count > before.get(group.id, 0) for group in plan.groups) and (
        plan.machines > reference.machines
    )
