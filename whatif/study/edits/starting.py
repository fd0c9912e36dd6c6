"""What a new thing or scenario starts with: its id, and values so that it can be answered at once.

Only what a file must hold is entered, as a guess that the notes name; the rest is left to the
defaults of the catalogue. How large the guesses are is common practice, no source.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Mapping
from typing import Final

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.edits.edit import refuse
from whatif.study.raw import Raw
from whatif.study.refused import RefusalKind
from whatif.study.resolve import Resolved
from whatif.study.schema.catalogue import TAKES_OUT, key_for, keys_of
from whatif.study.schema.kinds import DAY, DAYS, Id, KindError
from whatif.study.shifts import Hours, clock, hours_of

LONGEST: Final = 24
"""Characters of a thing's id: it has to stand in a heading beside others."""

LONGEST_SCENARIO: Final = 40
"""Characters of a scenario's id."""

_WORK_DAYS: Final = DAYS[:5]
_EARLY: Final = Hours(6 * 3600, 8 * 3600)

_USUAL_NAMES: Final[Mapping[str, tuple[str, ...]]] = {
    "machine": ("mill",),
    "shift": ("early", "late", "night"),
    "part": ("part_1",),
    "stop": ("stop_1",),
    "rush": ("rush_1",),
    "order": ("order_1",),
}


_LATE, _NIGHT, _EARLY_AGAIN = "11:00", "19:00", "04:00"
"""From when on a shift is called late, night, and early again; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Starting:
    """What a new thing starts with.

    Attributes:
        values: by their keys; all of them are guesses.
        first: the key that is to be looked at first.
    """

    values: tuple[tuple[str, Raw], ...]
    first: str


def starting(resolved: Resolved, group: str) -> Starting:
    """What a new thing of a sort starts with in a scenario; raises `EditError` where none can."""
    if group == "machine":
        return Starting((), "count")
    if group == "shift":
        return _shift(resolved)
    usual = {key.name: key.says.usual for key in keys_of(group) if key.says.usual is not None}
    if group in ("part", "stop"):
        return Starting(tuple(usual.items()), next(iter(usual)))
    part = _wanted_part(resolved, group)
    if group == "rush":
        return Starting((("part", part), *usual.items()), "pieces")
    due = _end_of_week(resolved)
    pieces = resolved.raw("part", part, "batch")
    if isinstance(pieces, int) and pieces > 0:
        usual["pieces"] = pieces
    return Starting((("part", part), *usual.items(), ("due", due)), "pieces")


def usual_amount(group: str) -> Raw:
    """What a thing has again under the key whose 0 had taken it out."""
    key = key_for((group, group, TAKES_OUT[group]))
    assert key is not None  # or nothing would be taken out by it
    usual = key.default if key.says.usual is None else key.says.usual
    assert usual is not None  # every key that takes out has the one or the other
    return usual


# -- shifts --------------------------------------------------------------------------------


def _shift(resolved: Resolved) -> Starting:
    """After the last shift as long as the day has room for it, else the usual early one.

    It has the days of the last one, and no breaks: these would stand in the way of other hours.
    """
    shifts = {
        name: hours for name in resolved.in_use("shift") if (hours := hours_of(resolved, name))
    }
    hours, days = _EARLY, _WORK_DAYS
    if shifts:
        first = min(shift.start for shift in shifts.values())
        last = max(shifts, key=lambda name: shifts[name].start + shifts[name].length)
        end = shifts[last].start + shifts[last].length
        if end - first < DAY:
            hours = Hours.between(end, min(end + _EARLY.length, first + DAY))
        days = resolved.value("shift", last, "days") or _WORK_DAYS
    values: tuple[tuple[str, Raw], ...]
    values = (("days", days), ("start", clock(hours.start)), ("end", clock(hours.end)))
    return Starting(values, "start")


def _end_of_week(resolved: Resolved) -> str:
    """When the last shift of the week ends; of one that goes over midnight, when the day does."""
    ends = [
        (days[-1], min(hours.start + hours.length, DAY - 60))
        for name in resolved.in_use("shift")
        if (hours := hours_of(resolved, name)) and (days := resolved.value("shift", name, "days"))
    ]
    usual = ("fri", _EARLY.start + _EARLY.length)
    day, end = max(ends, key=lambda moment: (DAYS.index(moment[0]), moment[1]), default=usual)
    return f"{day} {clock(end)}"


# -- orders --------------------------------------------------------------------------------


def _wanted_part(resolved: Resolved, group: str) -> str:
    parts = resolved.ids("part")
    if not parts:
        raise refuse(RefusalKind.NO_PART_YET, group)
    return (resolved.in_use("part") or parts)[0]


# -- names ---------------------------------------------------------------------------------


def usual_id(group: str, taken: Collection[str], begins: str = "") -> str:
    """An id to propose for a new thing of a sort; of a shift by the time of day it begins at."""
    names = _USUAL_NAMES[group]
    if group == "shift" and begins >= _LATE:  # as texts they follow one another as times do
        names = names[1:]
    if group == "shift" and (begins >= _NIGHT or "" < begins < _EARLY_AGAIN):
        names = names[-1:]
    for name in names:
        if name not in taken:
            return name
    return free_id(names[0], taken)


def free_id(like: str, taken: Collection[str]) -> str:
    """An id like another that is not taken: "mill" mill_2, "part_2" part_3."""
    if like not in taken:
        return like
    stem, number = like, 2
    numbered = re.fullmatch(r"(.+)_([0-9]{1,4})", like)
    if numbered is not None:
        stem, number = numbered[1], int(numbered[2]) + 1
    return _numbered(stem, number, taken)


def id_from(name: str) -> str:
    """The id that a typed name means: "Big mill" big_mill; "" where nothing of it is left."""
    name = name.strip()
    try:
        if len(name) <= LONGEST:
            return Id().read(name)
    except KindError:
        pass  # then it is made one
    return _slug(name)[:LONGEST].strip("_")


def fresh_id(draft: Draft, name: str) -> str:
    """An id for a scenario of this name that no scenario has yet: "Six pallets" six_pallets."""
    stem = _slug(name)[:LONGEST_SCENARIO] or "scenario"
    return stem if stem not in draft.ids else _numbered(stem, 2, draft.ids)


def _slug(name: str) -> str:
    """Small letters and digits with an underscore for whatever else is in a name."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "_", plain).strip("_")


def _numbered(stem: str, number: int, taken: Collection[str]) -> str:
    while f"{stem}_{number}" in taken:
        number += 1
    return f"{stem}_{number}"
