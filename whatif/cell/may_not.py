"""Whose work is waited for: what those who are free, or all on duty, may not do (rule
`people.may-not`).

Nothing here moves a cell: it is looked at and counted between one instant and the next, and only
where some people may not do all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from whatif.cell.calendar import ATTENDED
from whatif.cell.calls import Call
from whatif.cell.codes import NOWHERE, VISIT, WAITING_FOR_PERSON
from whatif.cell.floor import Floor
from whatif.cell.model import Cell, Work
from whatif.cell.people import WORK_OF, may_be_served, sets_up
from whatif.cell.persons import Person
from whatif.cell.states import is_paused

ASKED: Final[tuple[Work, ...]] = ("load", "setup", "prove_out", "tools")
"""Work for which a machine may wait in ``waiting_for_person``; for a stop it is ``stopped``."""


def works_here(does: Iterable[Work]) -> bool:
    """Whether people do any work of the cell; who does none of it does not stand free."""
    return any(work != "release" for work in does)


def some_may_not(cell: Cell) -> bool:
    """Whether anybody may not do something that machines of the cell wait for."""
    asked: set[Work] = {"load"}
    for part in cell.parts:
        makings = [making for making in part.making if making is not None]
        asked |= {"setup"} if any(making.setup for making in makings) else set()
        asked |= {"prove_out"} if any(making.prove_out for making in makings) else set()
        asked |= {"tools"} if part.tool_life is not None else set()
    return any(work not in shift.does for shift in cell.shifts for work in asked)


def count(floor: Floor) -> None:
    """Count the time since the instant before; nothing has changed in it."""
    took, floor.looked_at = floor.now - floor.looked_at, floor.now
    for machine, work, nobody in floor.lacking:
        floor.counted.may_not[machine][work] += took
        floor.counted.nobody_may[machine][work] += took if nobody else 0


def look(floor: Floor) -> None:
    """Find what machines wait for from now on that those on duty may not do.

    Of a machine's calls that of the one asked first. Who is free would have taken what he may do;
    where nobody is free a machine lacks somebody only if nobody on duty may do any of its calls.
    """
    floor.lacking, floor.looked_at = [], floor.now
    there: set[Work] | None = None
    free: set[Work] = set()
    some_free = False
    found: dict[int, Work] = {}
    others: set[int] = set()
    for call in _asked_for(floor):
        machine = call.machine
        spindle = floor.spindles[machine]
        if machine in others:
            continue
        if (machine in found and some_free) or not may_be_served(floor, call):
            continue
        if is_paused(spindle):
            others.add(machine)
            continue
        if there is None:
            there, free, some_free = _what_may_be_done(floor.persons)
        work = WORK_OF[call.job]
        if call.job == VISIT and (
            # A visit that is held up where somebody who loads is free sets up.
            "load" in free or ("setup" not in there and sets_up(floor, call))
        ):
            work = "setup"
        if not some_free and work in there:
            others.add(machine)
        else:
            found.setdefault(machine, work)
    for machine, work in found.items():
        if machine not in others:
            nobody = there is not None and work not in there
            floor.lacking.append((machine, ASKED.index(work), nobody))


def _asked_for(floor: Floor) -> Iterator[Call]:
    """What waits in the line for machines that wait for a person, by machine as it came."""
    if floor.segment.mode != ATTENDED:
        return
    seen: set[int] = set()
    for call in floor.line:
        if call.machine not in seen:
            seen.add(call.machine)
            spindle = floor.spindles[call.machine]
            if spindle.state == WAITING_FOR_PERSON:
                yield from spindle.asked


def _what_may_be_done(persons: list[Person]) -> tuple[set[Work], set[Work], bool]:
    """What anybody on duty may do, what anybody free may, and whether anybody is free.

    Who stands by for a prove-out is not free for anything else.
    """
    there: set[Work] = set()
    free: set[Work] = set()
    some_free = False
    for person in persons:
        if person.on_duty:
            there |= person.does
            if person.work is None and person.works_here and person.stays_by == NOWHERE:
                free |= person.does
                some_free = True
    return there, free, some_free
