"""Whose work is waited for: what those who are free, or all on duty, may not do (rule
`people.may-not`).

Nothing here moves a cell: it is looked at and counted between one instant and the next, and only
where some people may not do all.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from whatif.cell.floor import NOWHERE, Floor, Job, Person, Spindle
from whatif.cell.model import Cell, Work
from whatif.cell.people import WORK_OF, may_be_served, sets_up
from whatif.cell.states import State, is_paused

ASKED: Final[tuple[Work, ...]] = ("load", "setup", "prove_out", "tools")
"""Work for which a machine may wait in ``waiting_for_person``; for a stop it is ``stopped``."""

_LOAD, _SETUP = ASKED.index("load"), ASKED.index("setup")


def works_here(does: Iterable[Work]) -> bool:
    """Whether people do any work of the cell; who does none of it does not stand free."""
    return any(work != "release" for work in does)


def some_may_not(cell: Cell) -> bool:
    """Whether anybody may not do something that machines wait for."""
    return any(work not in shift.does for shift in cell.shifts for work in ASKED)


def count(floor: Floor) -> None:
    """Count the time since the instant before; nothing has changed in it."""
    took, floor.looked_at = floor.now - floor.looked_at, floor.now
    if not took:
        return
    counted = floor.counted
    for spindle in floor.spindles:
        if spindle.lacks != NOWHERE:
            counted.may_not[spindle.index][spindle.lacks] += took
            if spindle.lacks_all:
                counted.nobody_may[spindle.index][spindle.lacks] += took


def look(floor: Floor) -> None:
    """Find what machines wait for from now on that those on duty may not do."""
    there: list[Person] | None = None
    free: list[Person] = []
    for spindle in floor.spindles:
        spindle.lacks, spindle.lacks_all = NOWHERE, False
        if spindle.state != State.WAITING_FOR_PERSON or not spindle.asked or is_paused(spindle):
            continue
        if there is None:
            there = [p for p in floor.persons if p.on_duty and works_here(p.does)]
            free = [person for person in there if person.work is None]
        _look_at(floor, spindle, there, free)


def _look_at(floor: Floor, spindle: Spindle, there: list[Person], free: list[Person]) -> None:
    """Set what one machine lacks: of its calls that of the one asked first.

    Who is free would have taken what he may do. Where nobody is free it is lacking only if nobody
    on duty may do any of it.
    """
    found = NOWHERE
    for call in floor.line:
        if call.machine != spindle.index or not may_be_served(floor, call):
            continue
        lacking = ASKED.index(WORK_OF[call.job])
        if call.job is Job.VISIT and (
            # A visit that is held up where somebody who loads is free sets up.
            _may(free, _LOAD) or (not _may(there, _SETUP) and sets_up(floor, call))
        ):
            lacking = _SETUP
        if not free and _may(there, lacking):
            return
        if found == NOWHERE:
            found = lacking
    if found != NOWHERE:
        spindle.lacks = found
        spindle.lacks_all = not _may(there, found)


def _may(persons: list[Person], work: int) -> bool:
    return any(ASKED[work] in person.does for person in persons)
