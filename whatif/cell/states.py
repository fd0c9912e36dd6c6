"""In which one state a machine is (rule `states`)."""

from __future__ import annotations

from enum import IntEnum, auto

from whatif.cell import orders
from whatif.cell.calendar import ATTENDED
from whatif.cell.floor import NOWHERE, At, Call, Doing, Floor, Spindle
from whatif.cell.spindle import ready_with_tools


class State(IntEnum):
    """The states in the order in which the first that holds is the machine's."""

    IN_CYCLE = 0
    PALLET_CHANGE = auto()
    WARM_UP = auto()
    STOPPED = auto()
    PERSON_AT_MACHINE = auto()
    OUTSIDE_RUNNING_HOURS = auto()
    SETUP = auto()
    LOAD = auto()
    FIRST_PIECE = auto()
    WAITING_FOR_PERSON = auto()
    NOBODY_ON_DUTY = auto()
    NO_FIXTURE = auto()
    NO_STOCK = auto()
    NOTHING_DUE = auto()


STATES = tuple(state.name.lower() for state in State)

_DOING = {
    Doing.CUTTING: State.IN_CYCLE,
    Doing.CHANGING: State.PALLET_CHANGE,
    Doing.WARMING: State.WARM_UP,
    Doing.TIED_UP: State.STOPPED,
}


def state_of(floor: Floor, spindle: Spindle) -> tuple[State, Call | None]:
    """The state from now until something changes; with ``LOAD`` the visit that makes it so.

    A visit counts as ``LOAD`` here; its share of ``SETUP`` is told apart when it is accounted.
    """
    if spindle.doing is not Doing.STANDING:
        return _DOING[spindle.doing], None
    if spindle.stops:
        return State.STOPPED, None
    at_machine = spindle.prove or spindle.tools
    if at_machine is not None and _working(floor, at_machine):
        return State.PERSON_AT_MACHINE, None
    ready = bool(ready_with_tools(floor, spindle))
    if _lacks_permission_only(floor, spindle, ready=ready):
        return State.OUTSIDE_RUNNING_HOURS, None
    if spindle.kind.pallets == 1 or not ready:
        for visit in spindle.visits:
            if _working(floor, visit):
                return State.LOAD, visit
    releases = False
    for i in spindle.pallets:
        releases |= floor.pallets[i].at is At.RELEASE
    attended = floor.segment.mode == ATTENDED
    if releases and attended:
        return State.FIRST_PIECE, None
    if spindle.asked or is_paused(spindle):
        return (State.WAITING_FOR_PERSON if attended else State.NOBODY_ON_DUTY), None
    if releases:
        return State.NOBODY_ON_DUTY, None
    if orders.lacks_only_fixture(floor, spindle):
        return State.NO_FIXTURE, None
    if orders.lacks_stock(floor, spindle):
        return State.NO_STOCK, None
    return State.NOTHING_DUE, None


def _working(floor: Floor, call: Call) -> bool:
    return call.person != NOWHERE and floor.persons[call.person].on_duty


def is_paused(spindle: Spindle) -> bool:
    """Somebody's work at this machine waits over a break (what goes on has been seen before)."""
    works = [*spindle.visits, spindle.prove, spindle.tools]
    return any(work is not None and work.person != NOWHERE for work in works)


def _lacks_permission_only(floor: Floor, spindle: Spindle, *, ready: bool) -> bool:
    if spindle.tools is not None and spindle.tools.person != NOWHERE:
        return False
    if spindle.pallet == NOWHERE:
        return ready
    return bool(spindle.change_left) or not floor.load_in(spindle).unproved
