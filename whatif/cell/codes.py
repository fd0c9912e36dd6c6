"""What events, pallets, spindles, people's work and machines are at, as small numbers.

Plain numbers, since they are compared at every instant; who reads a tally has the same ones with
their names in :class:`Job` and in :class:`whatif.cell.states.State`.
"""

from __future__ import annotations

from enum import IntEnum
from typing import Final

NOWHERE: Final = -1
NEVER: Final = -(1 << 61)
"""Before any second; a compiled cell counts quickly up to twice that."""
NOT_BEGUN: Final = -1
"""Of work: that nobody has begun it."""

# What an event is about. At one instant the lower are turned to first (rule `people.instant`).
WORK_ENDS: Final = 0
SPINDLE_ENDS: Final = 1
RELEASES: Final = 2
REPAIRED: Final = 3
ORDER_ARRIVES: Final = 4
TIME_OPENS: Final = 5

# An event is one number, ``-((second << AT) + of_whom(what, index))``: the greatest comes next, and
# stands last among those foretold. Most of them are about to come, and move few of the others.
AT: Final = 20
WHAT: Final = 17
WHOM: Final = (1 << AT) - 1
INDEX: Final = (1 << WHAT) - 1


def of_whom(what: int, index: int) -> int:
    """What an event is about, and its person, machine, pallet or order, as a number."""
    return (what << WHAT) + index


def at_of(event: int) -> int:
    """The second of an event."""
    return -event >> AT


def what_of(event: int) -> int:
    """What it is about."""
    return (-event & WHOM) >> WHAT


def index_of(event: int) -> int:
    """Of which person, machine, pallet or order."""
    return -event & INDEX


# Where a pallet stands in its round.
RESTING: Final = 0
"""Nothing to take, or in the line again after such a rest."""
ASKING: Final = 1
"""Cut, or empty at the start, and in the line for a visit."""
VISITED: Final = 2
"""A visit has begun and not ended."""
READY: Final = 3
"""Loaded, outside the spindle."""
INSIDE: Final = 4
"""Loaded, in the spindle or on the way into it."""
UNRELEASED: Final = 5
"""Its first piece waits to be released."""

# What keeps a resting pallet from taking something.
LACKS_WORK: Final = 0
"""Nothing is due."""
LACKS_FIXTURE: Final = 1
"""And nothing else."""
LACKS_STOCK: Final = 2
"""And maybe a fixture."""

# What a person is called for. Of those called for at one instant the lower come first.
REPAIR: Final = 0
PROVE_OUT: Final = 1
TOOL_CHANGE: Final = 2
VISIT: Final = 3
BENCH: Final = 4

# What a spindle is doing.
STANDING: Final = 0
CUTTING: Final = 1
CHANGING: Final = 2
WARMING: Final = 3
TIED_UP: Final = 4
"""Held after the last piece, the meters' gap read as machines."""

# In which state a machine is, in the order in which the first that holds is its state.
IN_CYCLE: Final = 0
PALLET_CHANGE: Final = 1
WARM_UP: Final = 2
STOPPED: Final = 3
PERSON_AT_MACHINE: Final = 4
OUTSIDE_RUNNING_HOURS: Final = 5
SETUP: Final = 6
LOAD: Final = 7
FIRST_PIECE: Final = 8
WAITING_FOR_PERSON: Final = 9
NOBODY_ON_DUTY: Final = 10
NO_FIXTURE: Final = 11
NO_STOCK: Final = 12
NOTHING_DUE: Final = 13
STATE_COUNT: Final = 14


class Job(IntEnum):
    """What a person is called for, by name."""

    REPAIR = 0
    PROVE_OUT = 1
    TOOL_CHANGE = 2
    VISIT = 3
    BENCH = 4
