"""In which one state a machine is (rule `states`)."""

from __future__ import annotations

from enum import IntEnum
from typing import Final

from whatif.cell import orders
from whatif.cell.calendar import ATTENDED
from whatif.cell.calls import Call
from whatif.cell.codes import (
    FIRST_PIECE,
    IN_CYCLE,
    LOAD,
    NO_FIXTURE,
    NO_STOCK,
    NOBODY_ON_DUTY,
    NOTHING_DUE,
    NOWHERE,
    OUTSIDE_RUNNING_HOURS,
    PALLET_CHANGE,
    PERSON_AT_MACHINE,
    STANDING,
    STOPPED,
    WAITING_FOR_PERSON,
    WARM_UP,
)
from whatif.cell.floor import Floor
from whatif.cell.machines import Spindle
from whatif.cell.spindle import load_of, some_ready


class State(IntEnum):
    """The states in the order in which the first that holds is the machine's."""

    IN_CYCLE = 0
    PALLET_CHANGE = 1
    WARM_UP = 2
    STOPPED = 3
    PERSON_AT_MACHINE = 4
    OUTSIDE_RUNNING_HOURS = 5
    SETUP = 6
    LOAD = 7
    FIRST_PIECE = 8
    WAITING_FOR_PERSON = 9
    NOBODY_ON_DUTY = 10
    NO_FIXTURE = 11
    NO_STOCK = 12
    NOTHING_DUE = 13


STATES = tuple(state.name.lower() for state in State)

_DOING: Final = (NOTHING_DUE, IN_CYCLE, PALLET_CHANGE, WARM_UP, STOPPED)
"""By what the spindle is doing, but for one that stands."""


def state_of(floor: Floor, spindle: Spindle) -> int:
    """The state from now until something changes.

    Two things are told apart later, so that a state need not end where the hours do: a visit
    counts as ``LOAD`` here, whichever :func:`shown_visit` says, and so does its share of ``SETUP``;
    and whoever waits for a person does so too where nobody is on duty.
    """
    if spindle.doing != STANDING:
        return _DOING[spindle.doing]
    if spindle.stops:
        return STOPPED
    at_machine = spindle.prove or spindle.tools
    if at_machine is not None and _working(floor, at_machine):
        return PERSON_AT_MACHINE
    ready = some_ready(floor, spindle) if spindle.ready else False
    if (ready or spindle.pallet != NOWHERE) and _lacks_permission_only(floor, spindle):
        return OUTSIDE_RUNNING_HOURS
    at_visit = spindle.visits and (spindle.is_table or not ready)
    if at_visit and shown_visit(floor, spindle) is not None:
        return LOAD
    attended = floor.segment.mode == ATTENDED
    if spindle.unreleased and attended:
        return FIRST_PIECE
    if spindle.asked or is_paused(spindle):
        return WAITING_FOR_PERSON
    if spindle.unreleased:
        return NOBODY_ON_DUTY
    if orders.lacks_only_fixture(floor, spindle):
        return NO_FIXTURE
    if orders.lacks_stock(floor, spindle):
        return NO_STOCK
    return NOTHING_DUE


def shown_visit(floor: Floor, spindle: Spindle) -> Call | None:
    """The visit for which a machine's state is ``LOAD``: the first that somebody works at."""
    persons = floor.persons
    for visit in spindle.visits:
        if visit.person != NOWHERE and persons[visit.person].on_duty:
            return visit
    return None


def _working(floor: Floor, call: Call) -> bool:
    return call.person != NOWHERE and floor.persons[call.person].on_duty


def is_paused(spindle: Spindle) -> bool:
    """Somebody's work at this machine waits over a break (what goes on has been seen before)."""
    for visit in spindle.visits:
        if visit.person != NOWHERE:
            return True
    prove, tools = spindle.prove, spindle.tools
    return (prove is not None and prove.person != NOWHERE) or (
        tools is not None and tools.person != NOWHERE
    )


def _lacks_permission_only(floor: Floor, spindle: Spindle) -> bool:
    """Whether a load that stands in the spindle, or ready, might go on but for its hours."""
    if spindle.tools is not None and spindle.tools.person != NOWHERE:
        return False
    if spindle.pallet == NOWHERE or spindle.change_left > 0:
        return True
    return not load_of(floor, spindle.pallet).unproved
