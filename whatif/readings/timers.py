"""Switched on and in cut by meters that a machine counts itself: accumulated times, in seconds.

From the open standard (ANSI/MTC1.4, Part 2 and 3): ``EquipmentTimer`` has subtypes, of which
POWERED is the time that a machine is powered, and WORKING the time that it performs an activity.
``AccumulatedTime`` has none that say which time it is: it is known by plain words in its name or
subtype, or by being named by whoever asks. Both are in SECOND.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Sequence
from typing import Final

from whatif.readings.chains import Chain
from whatif.readings.facts import Amount, How, MeterRead, NoteKind, OddRead
from whatif.readings.stamps import SECOND
from whatif.readings.streams import Observation
from whatif.records import dataclass

_SUBTYPES: Final = {"on": "POWERED", "cut": "WORKING"}
_WORDS: Final = {
    "on": frozenset({"on", "power", "powered", "switched"}),
    "cut": frozenset({"cut", "cutting", "cycle", "incut", "incycle", "working"}),
}
_WHOLE: Final = ("Device", "Controller", "Path")
"""Components whose timer is the machine's, and no axis' or pump's."""

_TAGS: Final = ("EquipmentTimer", "AccumulatedTime")
_SLACK: Final = 2 * SECOND
"""By which a meter may be ahead of the clock: both are rounded."""


@dataclass(frozen=True, slots=True)
class Timer:
    """A data item that counts time."""

    item: str
    name: str
    sub: str
    component: str
    tag: str

    @property
    def called(self) -> str:
        """Its id with what else it is called."""
        more = ", ".join(filter(None, (self.name, self.sub)))
        return f"{self.item} ({more})" if more else self.item

    def is_named(self, wanted: str) -> bool:
        """Whether somebody means it, by its id, name or subtype."""
        return wanted.casefold() in (each.casefold() for each in (self.item, self.name, self.sub))


def timers_of(chains: Iterable[Chain], device: str) -> list[Timer]:
    """All data items of a machine that count time."""
    found = (
        Timer(each.item, each.name, each.sub, each.component, each.tag)
        for chain in chains
        for each in chain.observations
        if each.device == device and each.tag in _TAGS
    )
    return list(dict.fromkeys(found))


def by_timer(
    chains: Sequence[Chain], device: str, which: str, wanted: str | None
) -> tuple[MeterRead | None, tuple[OddRead, ...]]:
    """What a machine's own meter "on" or "cut" says; None where there is none to be told by."""
    timers = timers_of(chains, device)
    if wanted is not None:
        meant = [timer for timer in timers if timer.is_named(wanted)]
    else:
        meant = _meant(timers, which)
    if not meant:
        return None, ()
    if len(meant) > 1:
        called = tuple(timer.called for timer in meant)
        return None, (OddRead(NoteKind.SEVERAL_METERS, (which, *called)),)
    return _counted(chains, meant[0])


def _meant(timers: Sequence[Timer], which: str) -> list[Timer]:
    by_subtype = [
        timer
        for timer in timers
        if timer.tag == "EquipmentTimer"
        and timer.sub == _SUBTYPES[which]
        and timer.component in _WHOLE
    ]
    if by_subtype:
        return by_subtype
    other = _WORDS["cut" if which == "on" else "on"]
    return [
        timer
        for timer in timers
        if timer.tag == "AccumulatedTime"
        and (words := set(re.findall("[a-z]+", f"{timer.name} {timer.sub}".casefold())))
        & _WORDS[which]
        and not words & other
    ]


def _counted(chains: Sequence[Chain], timer: Timer) -> tuple[MeterRead | None, tuple[OddRead, ...]]:
    by_moment: dict[tuple[int, int], tuple[int, Observation]] = {}
    for chain in chains:
        for each in chain.observations:
            count = _nanoseconds(each.value) if each.item == timer.item else None
            if count is not None:
                by_moment[each.at, each.sequence] = count, each
    readings = [by_moment[at] for at in sorted(by_moment)]
    if len(readings) < 2 or readings[0][1].at == readings[-1][1].at:
        return None, (OddRead(NoteKind.READ_ONCE, (timer.called,)),)
    amounts: list[Amount] = []
    notes: list[OddRead] = []
    for (before, sooner), (count, later) in itertools.pairwise(readings):
        more = count if later.is_reset else count - before
        if more < 0:
            notes.append(OddRead(NoteKind.METER_FELL, (timer.called, later.at)))
        elif more:
            if more > later.at - sooner.at + _SLACK:
                notes.append(OddRead(NoteKind.FASTER_THAN_TIME, (timer.called, later.at)))
            amounts.append(Amount(sooner.at, later.at, more))
    begin, end = readings[0][1].at, readings[-1][1].at
    return MeterRead(How.TIMER, timer.called, begin, end, tuple(amounts)), tuple(notes)


_NUMBER: Final = re.compile(r"\d{1,15}(?:\.(\d{1,18}))?(?:[eE][+-]?\d{1,2})?")


def _nanoseconds(value: str) -> int | None:
    """A count of seconds exactly; None of what is none, such as UNAVAILABLE."""
    from decimal import Decimal

    return int(Decimal(value) * SECOND) if _NUMBER.fullmatch(value) else None
