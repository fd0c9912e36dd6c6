"""The texts of cautions: in full, in a line, by name.

They name the documents that treat the matter and restate none of them; each ends with who
decides.
"""

from __future__ import annotations

from typing import Final

from whatif.answers.cautions import Caution, Danger, Heavy, HoursAlone
from whatif.telling.amounts import listed, rounded, shown_difference

_DECIDE = (
    "Nothing here is a permission. Local codes, the machine's manual and a qualified person decide."
)

WHO_DECIDES = "No permission: local codes, the manual and a qualified person decide."
"""Below cautions that are told in a line each."""

FIRE = (
    "Fire with nobody there: nobody sees it and nobody calls. Neat oil is the first thing to ask "
    "about: its mist and vapour burn and can explode, so that the machine needs the extraction, "
    "the relief and the extinguishing that its manual names (DGUV 209-026 and 209-027, ISO 19353). "
    "Magnesium is the other: its chips and dust burn, water feeds the fire, and only the means for "
    "burning metals put it out (NFPA 660). With neither of them chips, rags and hoses still burn. "
    "Ask the insurer for consent before the first night. "
) + _DECIDE
BEGUN_ALONE = (
    "Pieces begun with nobody there: a tool that breaks or a clamp that gives way goes on until "
    "something stops it, so that both need watching by the machine; chips that pile up, a coolant "
    "level that sinks and mist that gathers need limits that stop it too (ISO 16090-1, ISO 12100; "
    "guards: 29 CFR 1910.212), and the insurer's consent. A machine that stood or stopped over "
    "night is locked out before anybody reaches in (29 CFR 1910.147). "
) + _DECIDE
FINISHED_ALONE = (
    "Pieces finished with nobody there: what was begun goes on after the last one has left. Fire, "
    "first of all with neat oil or magnesium, and a tool or clamp that fails are as possible as by "
    "night (ISO 19353, NFPA 660, ISO 16090-1); the insurer is asked here too. "
) + _DECIDE
PALLETS = (
    "Pallet changers, shuttles and more than one pallet: what moves pallets can crush and shear, "
    "also at the place where they are loaded, and needs guards with interlocks (ISO 16090-1, "
    "ISO 12100, 29 CFR 1910.212). When power or air returns nothing may start by itself, and a "
    "pallet may not lose its clamping pressure, whatever fails. Whoever clears a changer locks it "
    "out first (29 CFR 1910.147). "
) + _DECIDE
LONE_WORK = (
    "One person alone with running machines, in a shift, or who comes back to machines that run "
    "with nobody there: nobody is there to help or to call for help. Whether that is allowed, for "
    "which work, and how the person is missed in time belongs into the risk assessment (ISO "
    "12100); lifting, clearing chips and putting right what stopped (29 CFR 1910.147) are the work "
    "to ask about, at night first (common practice, no source). "
) + _DECIDE
LONE_WORK_IN_SHORT = "{0}: local codes, qualified people decide."
"""The same among what stands in an alternative's way (rule `verdict.way`)."""
MACHINES = (
    "Machines or pallet systems added: floor load, room around them, escape ways, electrical "
    "supply (IEC 60204-1, NFPA 79) and the risk assessment of the whole arrangement (ISO 12100, "
    "ISO 16090-1) are not checked here. A machine to which a pallet system or a loader is added is "
    "a changed machine, and is assessed anew. "
) + _DECIDE
LOCKING_OUT = (
    "Stops: a machine that stands may start again, and holds what is under tension or pressure. "
    "Before anybody reaches in, lock it out (29 CFR 1910.147; guards: ISO 16090-1). " + _DECIDE
)
"""Where a view tells of stops that a person clears (rule `cautions.stops`)."""

_LIFTING = (
    "Lifting: {what}; see ISO 11228-1 and the NIOSH lifting equation ({most} under ideal "
    "conditions), and use a hoist or lift table where they ask for it. Clamping must hold the part "
    "against the cut in every position. " + _DECIDE
)

NAMES: Final[dict[Danger, str]] = {
    Danger.FIRE: "fire",
    Danger.BEGUN_ALONE: "unattended running",
    Danger.FINISHED_ALONE: "finishing unattended",
    Danger.PALLETS: "moving pallets",
    Danger.LONE_WORK: "lone working",
    Danger.LIFTING: "lifting and clamping",
    Danger.MACHINES: "machines changed",
    Danger.LOCKING_OUT: "locking out",
}
"""What a caution is of, by name."""

_FULL: Final[dict[Danger, str]] = {
    Danger.FIRE: FIRE,
    Danger.BEGUN_ALONE: BEGUN_ALONE,
    Danger.FINISHED_ALONE: FINISHED_ALONE,
    Danger.PALLETS: PALLETS,
    Danger.LONE_WORK: LONE_WORK,
    Danger.LIFTING: _LIFTING,
    Danger.MACHINES: MACHINES,
    Danger.LOCKING_OUT: LOCKING_OUT,
}

_IN_A_LINE: Final[dict[Danger, str]] = {
    Danger.FIRE: "Fire, nobody there: neat oil, magnesium (ISO 19353); the insurer.",
    Danger.BEGUN_ALONE: "Nobody there: tool, clamp, chips, coolant, mist (ISO 16090-1).",
    Danger.FINISHED_ALONE: "Pieces finish alone: fire, tool, clamp (ISO 19353); the insurer.",
    Danger.PALLETS: "Pallets move: crushing, interlocks, lost clamping (ISO 16090-1).",
    Danger.LONE_WORK: "One person alone at running machines: lone working (ISO 12100).",
    Danger.LIFTING: "Heavy or frequent lifting (ISO 11228-1); clamping must hold.",
    Danger.MACHINES: "Machines or pallets added: floor, electrics (IEC 60204-1), risks.",
    Danger.LOCKING_OUT: "Lock out what has stopped before reaching in (29 CFR 1910.147).",
}

UNATTENDED_IN_SHORT = (
    "Running with nobody there calls for means against fire, first of all with neat oil or "
    "magnesium, against tools and clamps that fail, and for the insurer's consent. Nothing here is "
    "a permission: local codes, the machine's manual and a qualified person decide; j names the "
    "documents."
)
"""The cautions for unattended running where a screen has no room for all of them."""


_MASSES: Final = {"metric": ("15 kg", "23 kg"), "inch": ("33 lb", "51 lb")}
"""What is cautioned from, and the most that the equation allows: 23 kg or 51 lb (from memory)."""


def caution_text(caution: Caution, units: str = "metric") -> str:
    """A caution in full, masses in the units asked for."""
    heavy, most = _MASSES["inch" if units == "inch" else "metric"]
    return _FULL[caution.of].format(what=_lifted(caution, heavy), most=most)


def caution_in_a_line(caution: Caution) -> str:
    """A caution in a line of a screen; who decides stands below them all."""
    return _IN_A_LINE[caution.of]


def lone_words(here: HoursAlone, there: HoursAlone | None, than: str = "") -> str:
    """For how long one person is alone, and how much longer than elsewhere; "" for not at all.

    Args:
        there: what it is held against.
        than: what that is called; "" where it stands beside.
    """
    if here.lone < _A_WORD:
        return ""
    more = "" if there is None else _more(here.lone, there.lone, than)
    return f"One person alone for {rounded(here.lone)} h a week{more}."


def unattended_words(here: HoursAlone, there: HoursAlone | None, than: str = "") -> str:
    """The same of spindles in cycle with nobody there."""
    if here.unattended < _A_WORD:
        return ""
    more = "" if there is None else _more(here.unattended, there.unattended, than)
    hours = f"{rounded(here.unattended)} h a week"
    return f"Spindles cut for {hours} unattended, on breaks or after hours{more}."


def is_longer_alone(here: HoursAlone, there: HoursAlone) -> bool:
    """Whether one person is told to be alone for longer than elsewhere."""
    return shown_difference(here.lone, there.lone) >= _A_WORD


_A_WORD: Final = 0.05
"""Hours a week below which they would be told as 0.0."""


def _more(now: float, before: float, than: str) -> str:
    more = shown_difference(now, before)
    if abs(more) < _A_WORD:
        return f", as in {than}" if than else ", as before"
    behind = f" than in {than}" if than else ""
    return f", {rounded(abs(more))} h {'more' if more > 0 else 'less'}{behind}"


def hours_of_caution(
    caution: Caution, here: HoursAlone, there: HoursAlone | None, than: str
) -> str:
    """The hours of a scenario that a caution is of; "" for one that is of none."""
    if caution.of is Danger.LONE_WORK:
        return lone_words(here, there, than) or _WHO_COMES_BACK
    if caution.of in (Danger.BEGUN_ALONE, Danger.FINISHED_ALONE):
        return unattended_words(here, there, than)
    return ""


_WHO_COMES_BACK: Final = (
    "No shift has one person alone; whoever comes back to machines that run with nobody there is."
)


def _lifted(caution: Caution, above: str) -> str:
    heavy = listed([_heavy(each) for each in caution.heavy])
    said = (
        [f"more than {above} {'weigh' if caution.heavy[1:] else 'weighs'} {heavy}"] if heavy else []
    )
    if caution.often:
        said.append(
            f"pieces of {listed(caution.often)} are put on or taken off more than 12 times in an "
            "hour of each person, which is no longer rare"
        )
    return "; ".join(said)


def _heavy(heavy: Heavy) -> str:
    return f"a {heavy.what} of {heavy.part}"
