"""What moves on the shop floor during a run: pallets, spindles, persons, requests for a person.

Plain mutable records. The rules that change them stand in :mod:`whatif.cell.orders` (what is
loaded), :mod:`whatif.cell.people` (who does what next) and :mod:`whatif.cell.spindle` (what is
cut); :mod:`whatif.cell.run` calls those in the order of one instant.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum

from whatif.cell.calendar import Pattern
from whatif.cell.model import MachineGroup, Making

NOWHERE = -1
NEVER = -(1 << 62)


class At(IntEnum):
    """Where a pallet stands in its round."""

    RESTING = 0  # nothing to take, or in the line again after such a rest
    ASKING = 1  # cut, or empty at the start, and in the line for a visit
    VISIT = 2  # a visit has begun and not ended
    READY = 3  # loaded, outside the spindle
    SPINDLE = 4  # loaded, in the spindle or on the way into it
    RELEASE = 5  # its first piece waits to be released


class Job(IntEnum):
    """What a person is asked for. Of those asked for at one instant the lower come first."""

    REPAIR = 0
    PROVE_OUT = 1
    TOOL_CHANGE = 2
    VISIT = 3
    BENCH = 4


@dataclass(slots=True)
class Request:
    """One piece of work for one person, from asking to its end.

    Attributes:
        asked: second at which it was first asked for.
        left: seconds of it still to do; None until it is begun.
        total: seconds it takes in all.
        setup, minutes: of a visit's stated times, those of the setup and all.
        person: who does it now, NOWHERE while it waits in the line.
        bench: seconds of bench work that follow a visit.
        part: of a tool change, the part whose tools are renewed.
    """

    job: Job
    machine: int
    pallet: int
    asked: int
    left: int | None = None
    total: int = 0
    setup: int = 0
    minutes: int = 0
    begun: int = 0
    person: int = NOWHERE
    bench: int = 0
    part: int = NOWHERE

    @property
    def interrupted(self) -> bool:
        """Begun by a person whose shift ended before it was done."""
        return self.left is not None and self.person == NOWHERE


@dataclass(slots=True)
class Load:
    """Pieces of one order on a pallet.

    Attributes:
        order: which order they are of; see :class:`whatif.cell.orders.Orders`.
        first: a first piece, to be released after its cut.
        unproved: the first cut of the setup still needs its prove-out (rule `machines.prove-out`).
        attended_only: is begun only when somebody is on duty, beyond the prove-out.
        cut: True once the last piece is cut.
    """

    part: int
    making: Making
    pieces: int
    order: tuple[int, int]
    first: bool = False
    unproved: bool = False
    attended_only: bool = False
    rush: bool = False
    cut: bool = False


@dataclass(slots=True)
class Pallet:
    """A pallet, or a machine's own table where it has only that."""

    index: int
    machine: int
    at: At = At.ASKING
    fixture: int = NOWHERE  # the part whose fixture it holds
    load: Load | None = None
    order: tuple[int, int] | None = None  # the order it has been working on
    after_rush: bool = False
    since: int = 0  # ready since, or resting since
    in_line: bool = False


class Doing(IntEnum):
    """What a spindle is doing."""

    STANDING = 0
    CUTTING = 1
    CHANGING = 2
    WARMING = 3
    TIED_UP = 4  # held after the last piece, the meters' gap read as machines


@dataclass(slots=True)
class Spindle:
    """A machine: its spindle, what stands in it, its tools and its stops.

    Attributes:
        pallet: in the spindle or on the way into it, NOWHERE if none.
        since, until: of what it is doing now.
        done: in-cycle seconds of the load in the spindle so far.
        change_left, warm_left: of a held change or warm-up; 0 if none.
        last_spun: when a cut or warm-up last ended or was held.
        used: per part, pieces cut since its tools were renewed.
        to_stop: per kind of stop, in-cycle seconds until the next.
        stops: (kind, second) of the stops that hold the machine now, the first being put right.
    """

    index: int
    group: int
    kind: MachineGroup
    pallets: list[int]
    used: list[int]
    pallet: int = NOWHERE
    doing: Doing = Doing.STANDING
    since: int = 0
    until: int = 0
    done: int = 0
    change_left: int = 0
    warm_left: int = 0
    last_spun: int = NEVER
    to_stop: list[int] = field(default_factory=list)
    stops: list[tuple[int, int]] = field(default_factory=list)
    prove: Request | None = None
    tools: Request | None = None
    repair: Request | None = None
    visits: list[Request] = field(default_factory=list)
    asked: int = 0  # requests of this machine that wait in the line
    state: int = 0
    state_since: int = 0
    shown_visit: Request | None = None


@dataclass(slots=True)
class Person:
    """One person of a shift.

    Attributes:
        base: second of the run at which the present shift began.
        stamp: changes whenever the work in hand does, so that an end foretold for other work
            is known to be void.
        bench_left: bench seconds that the end of the last shift cut off.
        free_since: begin of the present free stretch, NEVER while busy or off duty.
    """

    index: int
    shift: int
    pattern: Pattern
    here: bool = False
    on_duty: bool = False
    base: int = 0
    work: Request | None = None
    work_since: int = 0
    stamp: int = 0
    bench_left: int = 0
    busy: int = 0
    busy_by_job: list[int] = field(default_factory=lambda: [0] * len(Job))
    free_since: int = NEVER
    free_stretches: int = 0

    def worked(self, until: int) -> int:
        """Duty seconds between the begin of the work in hand and ``until``."""
        at = self.pattern.worked
        return at(until - self.base) - at(self.work_since - self.base)
