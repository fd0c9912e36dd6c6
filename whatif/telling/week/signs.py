"""A week in single signs: what a machine did for most of each slice of time, and who was there.

The signs are our own: a dense one where metal is cut, a light one where nobody is there, else a
letter of what holds the machine up, so that a line can be read without colour.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from typing import Final, TypeVar

from whatif.answers.states import IN_CYCLE, LOSSES, STATE_ROWS
from whatif.answers.week import Spanning, Week, span_at
from whatif.cell.model import HOUR
from whatif.cell.watch import LoadedSpan, MachineSpan, PalletSpan, PersonSpan, PersonWeek

CUTS, CUTS_MOST = STATE_ROWS[IN_CYCLE].letter, "+"
NEARLY_ALL: Final = (9, 10)
"""Share of a slice from which a machine cuts in all of it: pallet changes are no pause."""

MACHINE_SIGNS = {state: row.letter for state, row in STATE_ROWS.items()}
"""The sign of each state."""

_AWAY: Final = "nobody_on_duty"
_LAST = STATE_ROWS[_AWAY]

MEANINGS = {
    CUTS: STATE_ROWS[IN_CYCLE].letter_means,
    CUTS_MOST: "cuts, with pauses",
    **{row.letter: row.letter_means for row in LOSSES if row is not _LAST},
    _LAST.letter: _LAST.letter_means,
}
"""What each sign of a machine says, in the order of a legend."""

NONE = "."
PAUSE, MAY_BEGIN, NOBODY = "b", ">", "."
PEOPLE_MEANINGS = {
    "0-9": "people at work, on average (* more than 9)",
    PAUSE: "all who are there have a break",
    MAY_BEGIN: "nobody there, pieces may be begun",
    NOBODY: "nobody there, none may be begun",
}
"""What each sign of the people says."""

LOADED_MEANINGS = {
    "0-9": "pallets with pieces to cut as the slice begins (* more than 9)",
    NONE: "none",
}
"""What each sign of the loaded pallets says."""

PERSON_SIGNS: dict[str, str] = {
    "visit": "l",
    "bench": "a",
    "prove_out": "p",
    "tool_change": "p",
    "repair": "!",
    "free": "_",
    "on_break": PAUSE,
    "off_duty": NOBODY,
}
"""The sign of what one person does; what a machine's sign says of it too is said by the same."""

PERSON_MEANINGS = {
    "l": "loads, unloads, changes work holding",
    "a": "at the bench",
    "p": "prove-out, tool change",
    "!": "puts a machine right",
    "_": "free",
    PAUSE: "has a break",
    NOBODY: "off duty",
}
"""What each sign of one person says."""

PALLET_SIGNS: dict[str, str] = {
    "cut": CUTS,
    "stands_in": "i",
    "goes_in": "c",
    "ready": "r",
    "release": "f",
    "served": "l",
    "paused": PAUSE,
    "put_down": "h",
    "waits": "w",
    "rests": "_",
}
"""The sign of what a pallet does; one that waits empty has :data:`EMPTY`."""

EMPTY = "e"

PALLET_MEANINGS = {
    CUTS: "is cut",
    CUTS_MOST: "is cut, with pauses",
    "r": "loaded, waits for the spindle",
    "c": "goes into the spindle",
    "i": "in the spindle, not cut",
    "f": "first piece awaits release",
    "l": "a person at it",
    PAUSE: "half served over a break",
    "h": "half served, shift ended",
    "w": "cut, waits for a person",
    EMPTY: "empty, waits for a person",
    "_": "empty, nothing to put on",
    NOBODY: "waits, nobody on duty",
}
"""What each sign of a pallet says."""

Span = tuple[int, int]
S = TypeVar("S", bound=Spanning)


def machine_signs(week: Week, place: int, since: int, until: int, slices: int) -> str:
    """One sign a slice for a machine between two seconds of the week."""
    spans = week.machines[place].states
    return _each(since, until, slices, lambda cut: _machine_sign(spans, *cut))


def loaded_signs(week: Week, place: int, since: int, until: int, slices: int) -> str:
    """How many pallets of a machine are loaded as each slice begins.

    `.` for none, `*` for more than 9.
    """
    spans: Sequence[LoadedSpan] = week.machines[place].loaded
    return _each(
        since, until, slices, lambda cut: digit(span_at(spans, cut[0]).pallets).replace("0", NONE)
    )


def people_signs(week: Week, since: int, until: int, slices: int) -> str:
    """How many people are at work on average; for slices without anybody what may be begun."""
    return _each(since, until, slices, lambda cut: _people_sign(week, *cut))


def person_signs(week: Week, place: int, since: int, until: int, slices: int) -> str:
    """What one person did for most of each slice; of equals the legend's first."""
    spans = week.persons[place].does
    return _each(since, until, slices, lambda cut: _person_sign(spans, *cut))


def pallet_signs(week: Week, place: int, pallet: int, since: int, until: int, slices: int) -> str:
    """What pallet ``pallet`` (from 1) did for most of each slice; of equals the legend's first."""
    spans = week.machines[place].pallets[pallet - 1]
    return _each(since, until, slices, lambda cut: _pallet_sign(week, spans, *cut))


def cut_hours(week: Week, place: int, since: int, until: int) -> float:
    """Hours in cycle of a machine between two seconds of the week."""
    spans = _between(week.machines[place].states, since, until)
    return sum(_within(span, since, until) for span in spans if span.state == IN_CYCLE) / HOUR


def people_hours(week: Week, since: int, until: int) -> tuple[float, float]:
    """People's hours at work and on duty between two seconds of the week."""
    each = [person_hours(person, since, until) for person in week.persons]
    return sum(busy for busy, _ in each), sum(duty for _, duty in each)


def person_hours(person: PersonWeek, since: int, until: int) -> tuple[float, float]:
    """One person's hours at work and on duty between two seconds of the week."""
    busy = duty = 0
    for span in _between(person.does, since, until):
        if span.does not in ("off_duty", "on_break"):
            seconds = _within(span, since, until)
            duty += seconds
            busy += seconds if span.does != "free" else 0
    return busy / HOUR, duty / HOUR


def digit(count: int) -> str:
    """A count as one sign."""
    return str(count) if count < 10 else "*"


def _each(since: int, until: int, slices: int, sign: Callable[[Span], str]) -> str:
    marks = [since + (until - since) * i // slices for i in range(slices + 1)]
    return "".join(map(sign, pairwise(marks)))


def _machine_sign(spans: Sequence[MachineSpan], since: int, until: int) -> str:
    """Of states that took equally long the one that is named first (rule `states`)."""
    most, seconds = _most(spans, since, until, MACHINE_SIGNS, lambda span: span.state)
    if most == IN_CYCLE and _pauses(seconds, until - since):
        return CUTS_MOST
    return MACHINE_SIGNS[most]


def _person_sign(spans: Sequence[PersonSpan], since: int, until: int) -> str:
    return _most(spans, since, until, PERSON_MEANINGS, lambda span: PERSON_SIGNS[span.does])[0]


def _pallet_sign(week: Week, spans: Sequence[PalletSpan], since: int, until: int) -> str:
    """One that waits for a person after hours says so: it is the night that it waits for."""

    def sign(span: PalletSpan) -> str:
        empty = span.does == "waits" and not span.pieces
        return EMPTY if empty else PALLET_SIGNS[span.does]

    most, seconds = _most(spans, since, until, PALLET_MEANINGS, sign)
    if most == CUTS and _pauses(seconds, until - since):
        return CUTS_MOST
    waits = most in (PALLET_SIGNS["waits"], PALLET_SIGNS["put_down"], EMPTY)
    return NOBODY if waits and span_at(week.hours, since).mode == "after_hours" else most


def _pauses(seconds: int, of: int) -> bool:
    share, whole = NEARLY_ALL
    return whole * seconds < share * of


def _most(
    spans: Sequence[S], since: int, until: int, kinds: Iterable[str], kind: Callable[[S], str]
) -> tuple[str, int]:
    """The kind that takes most seconds of a stretch of the week, of equals the first of all kinds.

    And those seconds.
    """
    found = _between(spans, since, until)
    if len(found) == 1:  # as in most slices of a night
        return kind(found[0]), _within(found[0], since, until)
    spent: dict[str, int] = {}
    for span in found:
        of = kind(span)
        spent[of] = spent.get(of, 0) + _within(span, since, until)
    # Where something goes on for half of it that is seen, and not that the shift begins within it.
    for away in (NOBODY, _AWAY):
        if 0 < spent.get(away, 0) <= (until - since) / 2:
            del spent[away]
    most = max(filter(spent.__contains__, kinds), key=spent.__getitem__)
    return most, spent[most]


def _people_sign(week: Week, since: int, until: int) -> str:
    busy, duty = people_hours(week, since, until)
    if duty:
        return digit(int(busy * HOUR / (until - since) + 0.5))
    band = span_at(week.hours, since)
    if band.mode == "breaks":
        return PAUSE
    return MAY_BEGIN if band.begins else NOBODY


def _between(spans: Sequence[S], since: int, until: int) -> Sequence[S]:
    """The spans that reach into a stretch of the week."""
    first = bisect_right(spans, since, key=lambda span: span.until)
    return spans[first : bisect_left(spans, until, key=lambda span: span.since)]


def _within(span: Spanning, since: int, until: int) -> int:
    return max(0, min(span.until, until) - max(span.since, since))
