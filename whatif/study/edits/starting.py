"""What a new thing or scenario starts with: its id, and values so that it can be answered at once.

Only what a file must hold is entered, as a guess that the notes name; the rest is left to the
defaults of the catalogue. How large the guesses are is common practice, no source.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final

from whatif.study.draft import Draft
from whatif.study.edits.edit import refuse
from whatif.study.raw import Raw
from whatif.study.refused import RefusalKind
from whatif.study.resolve import Resolved
from whatif.study.schema.catalogue import TAKES_OUT, key_for, keys_of
from whatif.study.schema.kinds import DAYS, Clock, Id, KindError

LONGEST: Final = 24
"""Characters of a thing's id: it has to stand in a heading beside others."""

LONGEST_SCENARIO: Final = 40
"""Characters of a scenario's id."""

_WORK_DAYS: Final = DAYS[:5]
_HOUR: Final = 3600
_SHIFT: Final = 8 * _HOUR
_DAY: Final = 24 * _HOUR
_FIRST_START: Final = 6 * _HOUR

_USUAL_NAMES: Final[Mapping[str, tuple[str, ...]]] = {
    "machine": ("mill",),
    "shift": ("early", "late", "night"),
    "part": ("part_1",),
    "stop": ("stop_1",),
    "rush": ("rush_1",),
    "order": ("order_1",),
}


@dataclass(frozen=True, slots=True)
class Starting:
    """What a new thing starts with.

    Attributes:
        values: by their keys; all of them are guesses.
        first: the key that is to be looked at first.
    """

    values: tuple[tuple[str, Raw], ...]
    first: str

    @property
    def guessed(self) -> tuple[str, ...]:
        """The keys of the values."""
        return tuple(name for name, _ in self.values)


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
    """After the last shift as long as the day has room for it, else the usual early one."""
    times = [hours for name in _shifts(resolved) if (hours := _times(resolved, name)) is not None]
    start, end = _FIRST_START, _FIRST_START + _SHIFT
    days: Raw = _WORK_DAYS
    if times:
        first = min(begin for begin, _ in times)
        last = max(begin + length for begin, length in times)
        if last - first < _DAY:
            start, end = last, min(last + _SHIFT, first + _DAY)
        days = _days_of_last(resolved)
    values = (("days", days), ("start", _clock(start)), ("end", _clock(end)))
    return Starting(values, "start")


def _shifts(resolved: Resolved) -> list[str]:
    ids = resolved.ids("shift")
    return [shift for shift in ids if resolved.raw("shift", shift, "people") != 0]


def _times(resolved: Resolved, shift: str) -> tuple[int, int] | None:
    """Start and length in seconds, None where they cannot be read."""
    try:
        start, end = (Clock().read(resolved.raw("shift", shift, key)) for key in ("start", "end"))
    except (KindError, TypeError):
        return None
    return start, (end - start) % _DAY or _DAY


def _days_of_last(resolved: Resolved) -> Raw:
    days = resolved.raw("shift", _shifts(resolved)[-1], "days")
    return days if isinstance(days, tuple) and days else _WORK_DAYS


def _clock(seconds: int) -> str:
    minutes = seconds % _DAY // 60
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _end_of_week(resolved: Resolved) -> str:
    """When the last shift of the week ends; of one that goes over midnight, when the day does."""
    ends = [("fri", 14 * _HOUR)]
    for name in _shifts(resolved):
        times, days = _times(resolved, name), resolved.raw("shift", name, "days")
        known = [day for day in DAYS if isinstance(days, tuple) and day in days]
        if times is not None and known:
            ends.append((known[-1], min(sum(times), _DAY - 60)))
    day, end = max(ends[1:] or ends, key=lambda moment: (DAYS.index(moment[0]), moment[1]))
    return f"{day} {_clock(end)}"


# -- orders --------------------------------------------------------------------------------


def _wanted_part(resolved: Resolved, group: str) -> str:
    parts = resolved.ids("part")
    if not parts:
        raise refuse(RefusalKind.NO_PART_YET, group)
    wanted = [part for part in parts if resolved.raw("part", part, "weekly") != 0]
    return (wanted or list(parts))[0]


# -- names ---------------------------------------------------------------------------------


def usual_id(group: str, taken: Collection[str]) -> str:
    """An id to propose for a new thing of a sort."""
    for name in _USUAL_NAMES[group]:
        if name not in taken:
            return name
    return free_id(_USUAL_NAMES[group][0], taken)


def free_id(like: str, taken: Collection[str]) -> str:
    """An id like another that is not taken: "mill" mill_2, "part_2" part_3."""
    if like not in taken:
        return like
    stem, number = like, 2
    found = re.fullmatch(r"(.+)_([0-9]{1,4})", like)
    if found is not None:
        stem, number = found[1], int(found[2]) + 1
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
