"""The texts of cautions: in full, in short, by name.

They name the documents that treat the matter and restate none of them; each ends with who
decides.
"""

from __future__ import annotations

from whatif.answers.cautions import Caution, Danger

_DECIDE = (
    "Nothing here is a permission. Local codes, the machine's manual and a qualified person decide."
)


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

NAMES = {
    Danger.UNATTENDED: "unattended running",
    Danger.LIFTING: "lifting and clamping",
    Danger.MACHINES: "more machines",
    Danger.LOCKING_OUT: "locking out",
}
"""What a caution is of, by name."""

_FULL = {
    Danger.UNATTENDED: UNATTENDED,
    Danger.LIFTING: LIFTING,
    Danger.MACHINES: MACHINES,
    Danger.LOCKING_OUT: LOCKING_OUT,
}

_SHORT = {
    Danger.UNATTENDED: (
        "Unattended running calls for means against fire and against tools and clamps that fail "
        "(ISO 19353, ISO 16090-1), and for the insurer's consent."
    ),
    Danger.LIFTING: "More than 15 kg is lifted: see ISO 11228-1. Clamping must hold throughout.",
    Danger.MACHINES: (
        "Floor load, room, electrical supply (IEC 60204-1) and risk (ISO 12100) of more machines "
        "are not checked here."
    ),
    Danger.LOCKING_OUT: "Lock a stopped machine out before anybody reaches in (29 CFR 1910.147).",
}

UNATTENDED_IN_SHORT = (
    "Running unattended calls for means against fire and against tools and clamps that fail, and "
    "for the insurer's consent. Nothing here is a permission: local codes, the machine's "
    "manual and a qualified person decide; j names the documents."
)
"""The caution for unattended running where a screen has no room for all of it."""


def caution_text(caution: Caution) -> str:
    """A caution in full."""
    lifted = " and ".join(f"a {heavy.what} of {heavy.part}" for heavy in caution.heavy)
    return _FULL[caution.of].format(what=lifted)


def caution_in_short(caution: Caution) -> str:
    """A caution where there is little room."""
    return f"{_SHORT[caution.of]} {_DECIDE}"
