"""A week in single signs: what a machine did for most of each slice of time, and who was there.

The signs are our own: a dense one where metal is cut, a light one where nobody is there, else a
letter of what holds the machine up, so that a line can be read without colour.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from itertools import pairwise
from typing import Final, NamedTuple, TypeVar

from whatif.answers.states import IN_CYCLE, LOSSES, STATE_ROWS
from whatif.answers.week import Spanning, Week, span_at, visit_at
from whatif.cell.model import HOUR
from whatif.cell.watch import LoadedSpan, PalletSpan, PersonSpan, PersonWeek

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
    "tool_change": "t",
    "repair": "!",
    "free": "_",
    "on_break": PAUSE,
    "off_duty": NOBODY,
}
"""The sign of what one person does; what a machine's sign says of it too is said by the same.

A visit that mostly changes the work holding has :data:`SETS_UP`.
"""

SETS_UP: Final = "s"

PERSON_MEANINGS = {
    SETS_UP: "changes work holding, loads",
    "l": "loads, unloads",
    "a": "at the bench",
    "p": "prove-out",
    "t": "tool change",
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
    "r": "loaded, waits for the spindle",
    "c": "goes into the spindle",
    "i": "in the spindle, not cut",
    "f": "first piece awaits release",
    SETS_UP: "work holding is changed",
    "l": "a person at it",
    PAUSE: "half served over a break",
    "h": "half served, shift ended",
    "w": "cut, waits for a person",
    EMPTY: "empty, waits for a person",
    "_": "empty, nothing to put on",
}
"""What each sign of a pallet says."""

S = TypeVar("S", bound=Spanning)


def machine_signs(week: Week, place: int, since: int, until: int, slices: int) -> str:
    """One sign a slice for a machine between two seconds of the week.

    Of states that took equally long the one that is named first (rule `states`).
    """
    spans = week.machines[place].states

    def sign(cut: _Slice) -> str:
        most, seconds = _most(cut, MACHINE_SIGNS)
        if most == IN_CYCLE and _pauses(seconds, cut.until - cut.since):
            return CUTS_MOST
        return MACHINE_SIGNS[most]

    return "".join(map(sign, _sliced(spans, since, until, slices, lambda span: span.state)))


def loaded_signs(week: Week, place: int, since: int, until: int, slices: int) -> str:
    """How many pallets of a machine are loaded as each slice begins.

    `.` for none, `*` for more than 9.
    """
    spans: Sequence[LoadedSpan] = week.machines[place].loaded
    marks = _marks(since, until, slices)[:-1]
    return "".join(digit(span_at(spans, at).pallets).replace("0", NONE) for at in marks)


def people_signs(week: Week, since: int, until: int, slices: int) -> str:
    """How many people are at work on average; for slices without anybody what may be begun.

    Nobody counts as free where people are there for less than half of a slice.
    """
    busy, duty = [0] * slices, [0] * slices
    for person in week.persons:
        for i, cut in enumerate(_sliced(person.does, since, until, slices, _counts_as)):
            busy[i] += cut.spent.get(_BUSY, 0)
            duty[i] += cut.spent.get(_BUSY, 0) + cut.spent.get(_FREE, 0)
    found = ""
    for at_work, there, (begin, end) in zip(
        busy, duty, pairwise(_marks(since, until, slices)), strict=True
    ):
        attended = _attended(week, begin, end)
        is_there = there and 2 * max(at_work, attended) >= end - begin
        # Of who is there for a part of it, on average over that part: 0 is that all are free.
        many = int(at_work / max(attended, 1) + 0.5)
        # Those who leave or come within it are there at one of its ends.
        of_most = (begin + end) // 2 if there else begin
        found += digit(many) if is_there else _without_people(week, of_most)
    return found


def _attended(week: Week, since: int, until: int) -> int:
    """Seconds of a span in which somebody is on duty."""
    attended = (span for span in week.hours if span.mode == "attended")
    return sum(max(0, min(span.until, until) - max(span.since, since)) for span in attended)


def person_signs(week: Week, place: int, since: int, until: int, slices: int) -> str:
    """What one person did for most of each slice; of equals the legend's first."""

    def does(span: PersonSpan) -> str:
        if span.does == "visit" and span.machine is not None and span.pallet is not None:
            return _of_visit(week, span.machine, span.pallet, span.since)
        return PERSON_SIGNS[span.does]

    cuts = _sliced(week.persons[place].does, since, until, slices, does)
    return "".join(_most(cut, PERSON_MEANINGS)[0] for cut in cuts)


def pallet_signs(week: Week, place: int, since: int, until: int, slices: int) -> list[str]:
    """What each pallet of a machine did for most of each slice; of equals the legend's first.

    Where the machine's sign says that it cuts, one pallet is cut, the one that is cut longest, and
    nowhere else: no line contradicts another, however much changes within a slice. A pallet that
    waits for a person is drawn alike by day and by night: cut pieces on it are no empty pallet.
    """
    machine = week.machines[place]
    span = (since, until, slices)
    each = [
        _sliced(spans, *span, partial(_pallet_does, week, place, pallet))
        for pallet, spans in enumerate(machine.pallets, 1)
    ]
    drawn: list[list[str]] = [[] for _ in each]
    for sign, *cuts in zip(machine_signs(week, place, *span), *each, strict=True):
        longest = max(cuts, key=lambda cut: cut.spent.get(CUTS, 0))
        is_cut = sign in (CUTS, CUTS_MOST) and CUTS in longest.spent
        for signs, cut in zip(drawn, cuts, strict=True):
            signs.append(CUTS if is_cut and cut is longest else _not_cut(cut))
    return ["".join(signs) for signs in drawn]


def _not_cut(cut: _Slice) -> str:
    """What a pallet does for most of a slice, but being cut where it does anything else."""
    if len(cut.spent) > 1:
        cut.spent.pop(CUTS, None)
    return _most(cut, PALLET_MEANINGS)[0]


def cut_hours(week: Week, place: int, since: int, until: int) -> float:
    """Hours in cycle of a machine between two seconds of the week."""
    states = week.machines[place].states
    return (
        next(_sliced(states, since, until, 1, lambda span: span.state)).spent.get(IN_CYCLE, 0)
        / HOUR
    )


def people_hours(week: Week, since: int, until: int) -> tuple[float, float]:
    """People's hours at work and on duty between two seconds of the week."""
    each = [person_hours(person, since, until) for person in week.persons]
    return sum(busy for busy, _ in each), sum(duty for _, duty in each)


def person_hours(person: PersonWeek, since: int, until: int) -> tuple[float, float]:
    """One person's hours at work and on duty between two seconds of the week."""
    spent = next(_sliced(person.does, since, until, 1, _counts_as)).spent
    busy = spent.get(_BUSY, 0)
    return busy / HOUR, (busy + spent.get(_FREE, 0)) / HOUR


def digit(count: int) -> str:
    """A count as one sign."""
    return str(count) if count < 10 else "*"


# -- slices ------------------------------------------------------------------------------

_BUSY, _FREE, _OFF = "busy", "free", "off"


class _Slice(NamedTuple):
    """A slice of the week, and the seconds that each kind of span takes of it."""

    since: int
    until: int
    spent: dict[str, int]


def _marks(since: int, until: int, slices: int) -> list[int]:
    """The seconds at which slices begin, and the last one's end."""
    return [since + (until - since) * i // slices for i in range(slices + 1)]


def _sliced(
    spans: Sequence[S], since: int, until: int, slices: int, kind: Callable[[S], str]
) -> Iterator[_Slice]:
    """Each slice of a stretch of the week, in one pass over the spans that fill it."""
    at = bisect_right(spans, since, key=lambda span: span.until)
    span = spans[at]
    of, ends = kind(span), span.until
    for begin, end in pairwise(_marks(since, until, slices)):
        if ends >= end:  # as in most slices of a night
            yield _Slice(begin, end, {of: end - begin})
            continue
        spent: dict[str, int] = {}
        from_ = begin
        while ends < end:
            spent[of] = spent.get(of, 0) + ends - from_
            from_ = ends
            at += 1
            span = spans[at]
            of, ends = kind(span), span.until
        spent[of] = spent.get(of, 0) + end - from_
        yield _Slice(begin, end, spent)


def _counts_as(span: PersonSpan) -> str:
    if span.does in ("off_duty", "on_break"):
        return _OFF
    return _FREE if span.does == "free" else _BUSY


def _of_visit(week: Week, place: int, pallet: int, second: int) -> str:
    """The sign of a visit at a pallet, by what takes most of it."""
    visit = visit_at(week, place, pallet, second)
    return SETS_UP if visit is not None and visit.mostly_sets_up else PERSON_SIGNS["visit"]


def _pallet_does(week: Week, place: int, pallet: int, span: PalletSpan) -> str:
    if span.does == "served":
        return _of_visit(week, place, pallet, span.since)
    empty = span.does == "waits" and not span.pieces
    return EMPTY if empty else PALLET_SIGNS[span.does]


def _pauses(seconds: int, of: int) -> bool:
    share, whole = NEARLY_ALL
    return whole * seconds < share * of


def _most(cut: _Slice, kinds: Iterable[str]) -> tuple[str, int]:
    """The kind that takes most seconds of a slice, of equals the first of all ``kinds``.

    And those seconds.
    """
    spent = cut.spent
    if len(spent) == 1:
        return next(iter(spent.items()))
    # Where something goes on for half of it that is seen, and not that the shift begins within it.
    for away in (NOBODY, _AWAY):
        if 0 < spent.get(away, 0) <= (cut.until - cut.since) / 2:
            del spent[away]
    most = max(filter(spent.__contains__, kinds), key=spent.__getitem__)
    return most, spent[most]


def _without_people(week: Week, second: int) -> str:
    band = span_at(week.hours, second)
    if band.mode == "breaks":
        return PAUSE
    return MAY_BEGIN if band.begins else NOBODY
