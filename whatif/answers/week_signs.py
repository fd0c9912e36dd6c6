"""A week in single signs: what a machine did for most of each slice of time, and who was there.

The signs are our own: a dense one where metal is cut, a light one where nobody is there, else a
letter of what holds the machine up, so that a line can be read without colour.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import pairwise

from whatif.answers.week import Spanning, Week, span_at
from whatif.cell.model import HOUR
from whatif.cell.watch import LoadedSpan, MachineSpan

CUTS, CUTS_MOST = "#", "+"
NEARLY_ALL = Fraction(9, 10)
"""Share of a slice from which a machine cuts in all of it: pallet changes are no pause."""

MACHINE_SIGNS = {
    "in_cycle": CUTS,
    "pallet_change": "c",
    "warm_up": "u",
    "stopped": "!",
    "person_at_machine": "p",
    "outside_running_hours": "-",
    "setup": "s",
    "load": "l",
    "first_piece": "f",
    "waiting_for_person": "w",
    "nobody_on_duty": ".",
    "no_fixture": "x",
    "nothing_due": "_",
}
"""The sign of each state."""

MEANINGS = {
    CUTS: "cuts, nine tenths of the time or more",
    CUTS_MOST: "cuts, longer than it does anything else",
    "c": "changes pallets",
    "u": "warms up",
    "!": "stopped",
    "p": "person at it: prove-out, tool change",
    "-": "nothing may be begun at that hour",
    "s": "work holding is changed",
    "l": "stands while it is loaded",
    "f": "a first piece waits for its release",
    "w": "waits for a person",
    "x": "no fixture free",
    "_": "nothing is due",
    ".": "nobody on duty",
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

Span = tuple[int, int]


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


def cut_hours(week: Week, place: int, since: int, until: int) -> float:
    """Hours in cycle of a machine between two seconds of the week."""
    spans = week.machines[place].states
    return sum(_within(one, since, until) for one in spans if one.state == "in_cycle") / HOUR


def people_hours(week: Week, since: int, until: int) -> tuple[float, float]:
    """People's hours at work and on duty between two seconds of the week."""
    busy = duty = 0
    for person in week.persons:
        for one in person.does:
            if one.does not in ("off_duty", "on_break"):
                seconds = _within(one, since, until)
                duty += seconds
                busy += seconds if one.does != "free" else 0
    return busy / HOUR, duty / HOUR


def digit(count: int) -> str:
    """A count as one sign."""
    return str(count) if count < 10 else "*"


def _each(since: int, until: int, slices: int, sign: Callable[[Span], str]) -> str:
    marks = [since + (until - since) * i // slices for i in range(slices + 1)]
    return "".join(map(sign, pairwise(marks)))


def _machine_sign(spans: Sequence[MachineSpan], since: int, until: int) -> str:
    """Of states that took equally long the one that the cell model names first."""
    spent = dict.fromkeys(MACHINE_SIGNS, 0)
    for one in spans:
        spent[one.state] += _within(one, since, until)
    most = max(spent, key=lambda state: spent[state])
    if most == "in_cycle" and spent[most] < NEARLY_ALL * (until - since):
        return CUTS_MOST
    return MACHINE_SIGNS[most]


def _people_sign(week: Week, since: int, until: int) -> str:
    busy, duty = people_hours(week, since, until)
    if duty:
        return digit(int(busy * HOUR / (until - since) + 0.5))
    band = span_at(week.hours, since)
    if band.mode == "breaks":
        return PAUSE
    return MAY_BEGIN if band.begins else NOBODY


def _within(one: Spanning, since: int, until: int) -> int:
    return max(0, min(one.until, until) - max(one.since, since))
