"""Switched on and in cycle by what a machine has told of itself, moment by moment.

From the open standard (ANSI/MTC1.4, Part 3, events): ``Availability`` (AVAILABLE, UNAVAILABLE),
``PowerState`` (ON, OFF) and ``Execution``. A machine is in cycle where an execution is ACTIVE, and
switched on where it has any other value; where availability or execution is UNAVAILABLE it is
neither on nor off.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from whatif.readings.chains import Chain, HeldValue, held_values, out_of_order
from whatif.readings.facts import (
    Amount,
    How,
    MeterRead,
    NoteKind,
    OddRead,
    UnknownKind,
    UnknownTime,
)
from whatif.readings.stamps import DAY, HOUR
from whatif.readings.streams import UNAVAILABLE

IN_CYCLE: Final = "ACTIVE"

EXECUTIONS: Final = frozenset(
    {
        *("READY", "INTERRUPTED", "ACTIVE", "STOPPED", "FEED_HOLD", "PROGRAM_COMPLETED"),
        *("PROGRAM_STOPPED", "OPTIONAL_STOP", UNAVAILABLE),
        *("WAIT", "PROGRAM_OPTIONAL_STOP"),  # since version 2.4
    }
)
"""All values of an execution."""

SILENT: Final = DAY
"""A value that has held for longer is told of: nobody may have looked."""


def by_events(
    chains: Sequence[Chain], device: str
) -> tuple[MeterRead | None, MeterRead | None, tuple[OddRead, ...]]:
    """Hours switched on and in cycle of a machine; None where no execution is told."""
    items = {
        tag: _items(chains, device, tag) for tag in ("Execution", "Availability", "PowerState")
    }
    told = {tag: [held_values(chains, item) for item in those] for tag, those in items.items()}
    if not any(told["Execution"]):
        return None, None, ()
    begin = min(held[0].begin for held in told["Execution"] if held)
    end = max(held[-1].end for held in told["Execution"] if held)
    cut: list[Amount] = []
    on: list[Amount] = []
    unknown: list[UnknownTime] = []
    for since, to, state in _stretches(begin, end, told):
        if isinstance(state, UnknownKind):
            unknown.append(UnknownTime(since, to, state))
        elif state != _OFF:
            on.append(Amount(since, to, to - since))
            if state == _CUT:
                cut.append(on[-1])
    named = ", ".join(items["Execution"])
    lacking = tuple(unknown)
    return (
        MeterRead(How.EVENTS, named, begin, end, tuple(on), lacking),
        MeterRead(How.EVENTS, named, begin, end, tuple(cut), lacking),
        tuple(_notes(chains, items["Execution"], told["Execution"])),
    )


def _items(chains: Iterable[Chain], device: str, tag: str) -> list[str]:
    found = (
        each.item
        for chain in chains
        for each in chain.observations
        if each.device == device and each.tag == tag
    )
    return list(dict.fromkeys(found))


_OFF, _ON, _CUT = "off", "on", "cut"

_State = str | UnknownKind


def _stretches(
    begin: int, end: int, told: dict[str, list[list[HeldValue]]]
) -> Iterable[tuple[int, int, _State]]:
    """The period in stretches in which nothing changes, those of one state together."""
    lines = [(tag, held) for tag, those in told.items() for held in those]
    moments = {begin, end}
    for _, held in lines:
        moments.update(at for each in held for at in (each.begin, each.end) if begin < at < end)
    in_order = sorted(moments)
    places = [0] * len(lines)
    since, state = begin, None
    for at in in_order[:-1]:
        now: dict[str, list[str]] = {tag: [] for tag in told}
        for line, (tag, held) in enumerate(lines):
            while places[line] < len(held) and held[places[line]].end <= at:
                places[line] += 1
            if places[line] < len(held) and held[places[line]].begin <= at:
                now[tag].append(held[places[line]].value)
        found = _state(now)
        if state is not None and found != state:
            yield since, at, state
            since = at
        state = found
    if state is not None:
        yield since, end, state


def _state(now: dict[str, list[str]]) -> _State:
    """What a machine does by the values that hold; of several executions any that is in cycle."""
    if UNAVAILABLE in now["Availability"]:
        return UnknownKind.UNAVAILABLE
    if "OFF" in now["PowerState"]:
        return _OFF
    if IN_CYCLE in now["Execution"]:
        return _CUT
    if any(value != UNAVAILABLE for value in now["Execution"]):
        return _ON
    return UnknownKind.UNAVAILABLE if now["Execution"] else UnknownKind.GAP


def _notes(
    chains: Sequence[Chain], items: Sequence[str], told: Sequence[Sequence[HeldValue]]
) -> Iterable[OddRead]:
    back = sum(out_of_order(chains, item) for item in items)
    if back:
        yield OddRead(NoteKind.OUT_OF_ORDER, (back,))
    values = {each.value for held in told for each in held}
    for value in sorted(values - EXECUTIONS):
        yield OddRead(NoteKind.NOT_LIKE_THIS, (value[:40],))
    silent = [each for held in told for each in held if each.value != UNAVAILABLE]
    longest = max(silent, key=lambda each: each.end - each.begin, default=None)
    if longest is not None and longest.end - longest.begin > SILENT:
        hours = (longest.end - longest.begin) // HOUR
        yield OddRead(NoteKind.SILENT, (longest.value[:40], longest.begin, hours))
