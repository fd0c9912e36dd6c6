"""In which one state a machine is (rule `states`)."""

from __future__ import annotations

from enum import IntEnum

from whatif.cell import codes, orders
from whatif.cell.calendar import ATTENDED
from whatif.cell.codes import NOWHERE, STANDING
from whatif.cell.floor import Call, Floor, Spindle
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

_DOING = (codes.NOTHING_DUE, codes.IN_CYCLE, codes.PALLET_CHANGE, codes.WARM_UP, codes.STOPPED)
"""By what the spindle is doing, but for one that stands."""


def state_of(floor: Floor, spindle: Spindle) -> int:
    """The state from now until something changes.

    A visit counts as ``LOAD`` here, whichever :func:`shown_visit` says; its share of ``SETUP`` is
    told apart when it is accounted.
    """
    if spindle.doing != STANDING:
        return _DOING[spindle.doing]
    if spindle.stops:
        return codes.STOPPED
    at_machine = spindle.prove or spindle.tools
    if at_machine is not None and _working(floor, at_machine):
        return codes.PERSON_AT_MACHINE
    ready = some_ready(floor, spindle) if spindle.ready else False
    if _lacks_permission_only(floor, spindle, ready=ready):
        return codes.OUTSIDE_RUNNING_HOURS
    if spindle.visits and (spindle.is_table or not ready):
        for visit in spindle.visits:
            if _working(floor, visit):
                return codes.LOAD
    attended = floor.segment.mode == ATTENDED
    if spindle.unreleased and attended:
        return codes.FIRST_PIECE
    if spindle.asked or is_paused(spindle):
        return codes.WAITING_FOR_PERSON if attended else codes.NOBODY_ON_DUTY
    if spindle.unreleased:
        return codes.NOBODY_ON_DUTY
    if orders.lacks_only_fixture(floor, spindle):
        return codes.NO_FIXTURE
    if orders.lacks_stock(floor, spindle):
        return codes.NO_STOCK
    return codes.NOTHING_DUE


def shown_visit(floor: Floor, spindle: Spindle) -> Call | None:
    """The visit for which a machine's state is ``LOAD``: the first that somebody works at."""
    for visit in spindle.visits:
        if _working(floor, visit):
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


def _lacks_permission_only(floor: Floor, spindle: Spindle, *, ready: bool) -> bool:
    if spindle.tools is not None and spindle.tools.person != NOWHERE:
        return False
    if spindle.pallet == NOWHERE:
        return ready
    return spindle.change_left > 0 or not load_of(floor, spindle.pallet).unproved
