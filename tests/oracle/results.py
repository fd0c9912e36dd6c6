"""What is counted in the weeks measured (rule `results.window`)."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, TypeVar

from .hours import WEEK, Mode
from .parts import good_share
from .spindles import load_in
from .states import STATES, Shares, is_cutting, state_of
from .things import Cell

K = TypeVar("K")
N = TypeVar("N", int, Fraction)


def added_up(figures: list[dict[K, N]]) -> dict[K, N]:
    """The same figures of several machines, added up key by key."""
    total: dict[K, N] = {}
    for figure in figures:
        for key, value in figure.items():
            total[key] = total[key] + value if key in total else value
    return total


@dataclass
class MachineResult:
    """One machine in the weeks measured, in seconds and pieces.

    `states` hold exact fractions of seconds, since a visit is split in setup and load.
    """

    name: str
    group: str
    states: dict[str, Fraction]
    in_cycle_by_mode: dict[Mode, int]
    in_cycle_by_part: dict[str, int]
    cut: dict[str, int]
    cut_by_week: dict[str, list[int]]
    good: dict[str, Fraction]


@dataclass
class PeopleResult:
    """All people together, in seconds."""

    paid: int = 0
    on_duty: int = 0
    busy: int = 0
    free_stretches: int = 0  # in stretches of half an hour and more


@dataclass(frozen=True)
class OrderResult:
    """A real order: seconds from the first week measured to its first and last piece off.

    None for what is not off in the weeks measured; `late` is never below 0.
    """

    first_off: int | None
    last_off: int | None
    late: int | None


@dataclass
class Result:
    """All machines in file order, all people, and the trace where one was asked for."""

    machines: list[MachineResult]
    people: PeopleResult
    orders: dict[str, OrderResult]
    stock: dict[str, Fraction]  # left at the end, of parts that are made and another comes after
    fixtures_held: dict[str, int]  # most of one number held at once since the begin of the run
    trace: list[tuple[int, str]] = field(default_factory=list)

    @property
    def states(self) -> dict[str, Fraction]:
        """Seconds by state, all machines together."""
        return added_up([m.states for m in self.machines])

    @property
    def in_cycle_by_mode(self) -> dict[Mode, int]:
        """In-cycle seconds by mode, all machines together."""
        return added_up([m.in_cycle_by_mode for m in self.machines])

    @property
    def cut(self) -> dict[str, int]:
        """Pieces cut by part, all machines together."""
        return added_up([m.cut for m in self.machines])

    @property
    def cut_by_week(self) -> dict[str, list[int]]:
        """Pieces cut by part in each week measured, all machines together."""
        weeks: dict[str, list[int]] = {}
        for machine in self.machines:
            for part, pieces in machine.cut_by_week.items():
                known = weeks.get(part, [0] * len(pieces))
                weeks[part] = [a + b for a, b in zip(known, pieces, strict=True)]
        return weeks

    @property
    def good(self) -> dict[str, Fraction]:
        """Good pieces by part, all machines together."""
        return added_up([m.good for m in self.machines])


class Tally:
    """Adds up what `note` sees at one instant over the time that `elapse` lets pass."""

    def __init__(self, cell: Cell, spec: dict[str, Any], start: int, end: int) -> None:
        self.cell = cell
        self.spec = spec
        self.start = start
        self.end = end
        parts = spec.get("part", {})
        self.machines = [
            MachineResult(
                name=machine.name,
                group=machine.group,
                states={},
                in_cycle_by_mode={"attended": 0, "breaks": 0, "after_hours": 0},
                in_cycle_by_part=dict.fromkeys(parts, 0),
                cut=dict.fromkeys(parts, 0),
                cut_by_week={part: [0] * -(-(end - start) // WEEK) for part in parts},
                good=dict.fromkeys(parts, Fraction(0)),
            )
            for machine in cell.machines
        ]
        self.spent: list[dict[str, int | Fraction]] = [
            dict.fromkeys(STATES, 0) for _ in cell.machines
        ]
        self.people = PeopleResult()
        self.other_work = 0  # seconds in cycle of all that is not for the rush order
        self.seen: list[Shares] = []
        self.free_before = 0

    @property
    def measured(self) -> bool:
        """Whether what happens now is counted."""
        return self.start <= self.cell.now < self.end

    def note(self) -> None:
        """Take down every machine's state, where it counts, once this instant is settled."""
        self.seen = []
        if self.measured:
            self.seen = [state_of(self.cell, machine) for machine in self.cell.machines]
        self._note_who_is_free()

    def _note_who_is_free(self) -> None:
        hours, now = self.cell.hours, self.cell.now
        for person in self.cell.people:
            free = person.job is None and hours.on_duty(person.shift, now)
            if not free:
                person.end_of_free_time(now)
            elif person.free_since is None:
                person.free_since = now
        if now == self.start:
            self.free_before = self._free_in_stretches(now)

    def _free_in_stretches(self, now: int) -> int:
        return sum(person.free_so_far(now) for person in self.cell.people)

    def elapse(self, seconds: int) -> None:
        """Let these seconds pass in the states last noted."""
        if self.measured:
            self._count_people(seconds)
            self._count_machines(seconds)
        for machine in self.cell.machines:
            if is_cutting(machine):
                machine.in_cycle += seconds

    def _count_machines(self, seconds: int) -> None:
        mode = self.cell.hours.mode(self.cell.now)
        for machine, result, spent, shares in zip(
            self.cell.machines, self.machines, self.spent, self.seen, strict=True
        ):
            for state, share in shares.items():
                spent[state] += share * seconds
            load = load_in(machine)
            if is_cutting(machine) and load is not None:
                result.in_cycle_by_mode[mode] += seconds
                result.in_cycle_by_part[load.part.id] += seconds
                self.other_work += seconds if load.order.kind != "rush" else 0

    def _count_people(self, seconds: int) -> None:
        hours, now = self.cell.hours, self.cell.now
        for person in self.cell.people:
            on_duty = hours.on_duty(person.shift, now)
            if hours.paid(person.shift, now):
                self.people.paid += seconds
            if on_duty:
                self.people.on_duty += seconds
            if on_duty and person.job is not None:
                self.people.busy += seconds

    def result(self) -> Result:
        """Everything counted; good pieces are those cut less scrap."""
        self.people.free_stretches = self._free_in_stretches(self.end) - self.free_before
        for result, spent in zip(self.machines, self.spent, strict=True):
            result.states = {state: Fraction(seconds) for state, seconds in spent.items()}
        by_machine = {
            id(m): result for m, result in zip(self.cell.machines, self.machines, strict=True)
        }
        for second, machine, part, pieces in self.cell.cut_pieces:
            if self.start <= second < self.end:
                found = by_machine[id(machine)]
                found.cut[part] += pieces
                found.cut_by_week[part][(second - self.start) // WEEK] += pieces
                found.good[part] += pieces * good_share(self.spec["part"][part])
        return Result(
            self.machines,
            self.people,
            self._orders(),
            stock=dict(self.cell.stock),
            fixtures_held=self.cell.most_held,
            trace=self.cell.trace or [],
        )

    def _orders(self) -> dict[str, OrderResult]:
        """Every order with pieces, those of parts that are not made too."""
        asked = {k: o for k, o in self.spec.get("order", {}).items() if o["pieces"] > 0}
        found = dict.fromkeys(asked, OrderResult(None, None, None))
        for order in self.cell.real:
            first, last = (
                None if second is None else second - self.start
                for second in (order.first_off, order.last_off)
            )
            late = None if last is None else max(0, last - asked[order.id]["due"])
            found[order.id] = OrderResult(first, last, late)
        return found
