"""Calls for a person, and their place in the line (rule `people.line`)."""

from __future__ import annotations

from typing import Final

from whatif.cell.codes import NOT_BEGUN, NOWHERE, PROVE_OUT, REPAIR, VISIT

# Who comes first in the line, before it is looked at who asked first (rule `people.line`).
STOPS: Final = 0
IN_A_RUSH: Final = 1
BROKEN_OFF: Final = 2
PROVED_FIRST: Final = 3
USUAL: Final = 4
FAR: Final = 1 << 50
"""Beyond twice any second of a run."""


class Call:
    """A machine's call for a person: one piece of work, from asking to its end.

    Two calls may say the same; which one it is decides.

    Attributes:
        job: what is to be done; machine: its index; pallet: the pallet's index, NOWHERE for work
            at none.
        asked: second at which it was first asked for.
        left: seconds of it still to do; NOT_BEGUN until it is begun. What waits in the line and has
            been begun was broken off by the end of a shift.
        total: seconds it takes in all.
        setup, minutes: seconds of a visit's stated times, those of the setup and all.
        begun: second at which it was begun.
        person: who does it now, NOWHERE while it waits in the line.
        bench: seconds of bench work that follow a visit.
        part: of a tool change, the part whose tools are renewed.
        rank: its place in the line, the lowest first (:func:`usual_rank`).
    """

    __slots__ = (
        "asked",
        "begun",
        "bench",
        "job",
        "left",
        "machine",
        "minutes",
        "pallet",
        "part",
        "person",
        "rank",
        "setup",
        "total",
    )

    def __init__(
        self,
        job: int,
        machine: int,
        pallet: int,
        asked: int,
        left: int = NOT_BEGUN,
        total: int = 0,
        setup: int = 0,
        minutes: int = 0,
        begun: int = 0,
        person: int = NOWHERE,
        bench: int = 0,
        part: int = NOWHERE,
        rank: int = 0,
    ) -> None:
        self.job = job
        self.machine = machine
        self.pallet = pallet
        self.asked = asked
        self.left = left
        self.total = total
        self.setup = setup
        self.minutes = minutes
        self.begun = begun
        self.person = person
        self.bench = bench
        self.part = part
        self.rank = rank

    def copy(self) -> Call:
        """The same call, to be worked at separately."""
        return Call(
            self.job,
            self.machine,
            self.pallet,
            self.asked,
            self.left,
            self.total,
            self.setup,
            self.minutes,
            self.begun,
            self.person,
            self.bench,
            self.part,
            self.rank,
        )


def usual_rank(call: Call, proved_first: bool) -> int:
    """The place in the line, but for what was asked for at once (rule `people.line`).

    Args:
        proved_first: whether prove-outs go ahead of visits (rule `people.stays`).
    """
    if call.job == REPAIR:
        kind = STOPS
    elif call.left == NOT_BEGUN:
        kind = PROVED_FIRST if proved_first and call.job == PROVE_OUT else USUAL
    else:
        # Begun by somebody whose shift ended: what is in hand is not in the line.
        kind = BROKEN_OFF
    return kind * FAR + 2 * call.asked + (call.job == VISIT)


def rush_rank(call: Call) -> int:
    """The same of what goes ahead for a rush order."""
    return IN_A_RUSH * FAR + 2 * call.asked + (call.job == VISIT)


def by_rank(call: Call) -> tuple[int, int, int]:
    """The order of the line: of what was asked for at one instant the lower machine and pallet."""
    return call.rank, call.machine, call.pallet


class CopiedCalls:
    """The copies of calls: the line, machines and people that share one share its copy."""

    def __init__(self) -> None:
        self._copies: dict[int, Call] = {}

    def copy_of(self, call: Call) -> Call:
        """The copy of a call, made when it is asked for first."""
        copied = self._copies.get(id(call))
        if copied is None:
            copied = self._copies[id(call)] = call.copy()
        return copied

    def of(self, call: Call | None) -> Call | None:
        """The same, of what may be none."""
        return None if call is None else self.copy_of(call)
