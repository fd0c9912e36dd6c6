"""A machine, as a record; what it does by itself stands in :mod:`whatif.cell.spindle`."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from whatif.cell.calls import Call, CopiedCalls
from whatif.cell.codes import NEVER, NOWHERE, STANDING
from whatif.cell.luck import Luck
from whatif.cell.model import MachineGroup, Making


@dataclass(slots=True)
class Spindle:
    """A machine: its spindle, what stands in it, its tools and its stops.

    Attributes:
        event: what its ends are told by (:func:`whatif.cell.codes.of_whom`).
        pallets: indices of its pallets; ``is_table`` where it has only its own table.
        makings: [part] how it is made here, None where it is not.
        used: per part, pieces cut since its tools were renewed.
        luck, to_stop: per kind of stop, the seconds dealt, and in-cycle seconds until the next.
        pallet: in the spindle or on the way into it, NOWHERE if none.
        since, until: seconds between which it does what it is doing now.
        done: in-cycle seconds of the load in the spindle so far.
        change_left, warm_left: seconds of a held change or warm-up; 0 if none.
        last_spun: second at which a cut or warm-up last ended or was held.
        stops: (kind, second) of the stops that hold the machine now, the first being put right.
        prove, tools, repair, visits: calls of this machine that have not ended.
        asked: calls of this machine that wait in the line, in the order in which they came.
        stopped: seconds after hours for which the present stop has been booked.
        left_waiting: whether a pallet of it waited for a visit when the latest night began.
        lacked: what pallets of it that rested then lacked, NOWHERE where none did.
        stirred: something has happened to it at this instant while it stood, or it has come to a
            stand; only then may it ask, begin something, or come into another state.
        state, state_since, shown_visit: which state holds, since which second it has not been
            booked, and the visit that makes it so.
        ready: cache: indices of its pallets that are ready, ready longest first.
        unreleased: cache: how many of its pallets wait for a release.
        spent: seconds of its states, those of each mode after those of the one before (``mode *
            STATE_COUNT + state``); ``cycle`` per part, in-cycle seconds.
    """

    index: int
    group: int
    kind: MachineGroup
    pallets: list[int]
    event: int
    is_table: bool
    makings: list[Making | None]
    used: list[int]
    luck: list[Luck]
    to_stop: list[int]
    spent: list[int]
    cycle: list[int]
    pallet: int = NOWHERE
    doing: int = STANDING
    since: int = 0
    until: int = 0
    done: int = 0
    change_left: int = 0
    warm_left: int = 0
    last_spun: int = NEVER
    stops: list[tuple[int, int]] = field(default_factory=list)
    prove: Call | None = None
    tools: Call | None = None
    repair: Call | None = None
    visits: list[Call] = field(default_factory=list)
    asked: list[Call] = field(default_factory=list)
    stopped: int = 0
    left_waiting: bool = False
    lacked: int = NOWHERE
    stirred: bool = False
    state: int = 0
    state_since: int = 0
    shown_visit: Call | None = None
    ready: list[int] = field(default_factory=list)
    unreleased: int = 0

    def copy(self, calls: CopiedCalls) -> Spindle:
        """The same machine with records and luck of its own."""
        return replace(
            self,
            used=list(self.used),
            luck=[luck.copy() for luck in self.luck],
            to_stop=list(self.to_stop),
            spent=list(self.spent),
            cycle=list(self.cycle),
            stops=list(self.stops),
            prove=calls.of(self.prove),
            tools=calls.of(self.tools),
            repair=calls.of(self.repair),
            visits=[calls.copy_of(call) for call in self.visits],
            asked=[calls.copy_of(call) for call in self.asked],
            shown_visit=calls.of(self.shown_visit),
            ready=list(self.ready),
        )
