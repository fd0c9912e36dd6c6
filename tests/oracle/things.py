"""What stands and walks in the cell: parts, loads, pallets, machines, people and their jobs."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal

from .clock import Clock, Task
from .hours import WEEK, Hours

JobKind = Literal["visit", "prove_out", "tool_change", "repair", "bench"]
OrderKind = Literal["mix", "real", "rush"]

HALF = Fraction(1, 2)

Fixture = tuple[str, int]
"""A fixture is for one part number: the part's id and the number in it."""


@dataclass(frozen=True)
class Part:
    """One part of the study; `entry` has the defaults filled in (rule `keys.part`)."""

    id: str
    entry: dict[str, Any]
    weekly: Fraction
    groups: tuple[str, ...]  # the machines in use on which it may be made
    fixtures: int  # for each of its numbers

    def value(self, key: str, group: str | None = None) -> Any:
        """What stands under this key, or under on.<machine> where that says otherwise."""
        own = self.entry["on"].get(group)
        return self.entry[key] if own is None or key not in own else own[key]


@dataclass(eq=False)
class Order:
    """An order that may be worked on, and what has become of it.

    Orders of the endless mix are there once they are opened and have a `number` in their part;
    real and rush orders have an `id` and are there from the start, yet nothing before they
    arrive. `turn` counts the openings in the mix, the orders of the file elsewhere.
    """

    kind: OrderKind
    part: Part
    pieces: int
    due: int
    turn: int | None  # None: not opened yet
    number: int = 0
    id: str = ""
    arrives: int = 0
    fixture: Fixture = field(init=False)  # order k is of part number k mod `numbers`
    left: int = field(init=False)  # pieces that are not yet loaded
    off: int = 0  # pieces taken off, by visits that have ended
    first_off: int | None = None
    last_off: int | None = None

    def __post_init__(self) -> None:
        self.fixture = (self.part.id, self.number % self.part.value("numbers"))
        self.left = self.pieces

    def take_off(self, pieces: int, now: int) -> None:
        """A visit that took pieces of it off has ended."""
        self.off += pieces
        if self.first_off is None:
            self.first_off = now
        if self.off == self.pieces:
            self.last_off = now


@dataclass
class Load:
    """Pieces of one order on one pallet."""

    part: Part
    order: Order
    pieces: int
    first: bool
    awaits_proof: bool
    attended: bool  # its part or its machine is not left alone
    cut: int = 0

    @property
    def finished(self) -> bool:
        """Whether the last piece is cut."""
        return self.cut == self.pieces

    @property
    def only_attended(self) -> bool:
        """What is begun only while somebody is on duty (rule `calendar.only-attended`)."""
        return self.first or self.awaits_proof or self.attended


@dataclass(eq=False)
class Pallet:
    """A pallet, or the table of a machine that has no more than it."""

    machine: Machine
    number: int
    fixture: Fixture | None = None  # the one it holds
    incoming: Fixture | None = None  # the one taken for it while its visit lasts
    order: Order | None = None  # the order it has been working on
    load: Load | None = None
    ready_since: int | None = None  # since when its load waits outside the spindle
    release: Task | None = None  # what is left of the wait for a first piece's release
    resting_since: int | None = None
    visit: Job | None = None  # asked for or under way
    scatter: Iterator[float] | None = None  # the factors of its visits

    @property
    def name(self) -> str:
        return f"{self.machine.name} pallet {self.number}"

    @property
    def loaded(self) -> bool:
        """Whether it carries pieces not yet cut, in the spindle or out of it."""
        return self.load is not None and not self.load.finished

    @property
    def visited(self) -> bool:
        """Whether a visit has begun and not ended."""
        return self.visit is not None and self.visit.task is not None

    def is_at(self, order: Order) -> bool:
        """From the first visit that brings pieces of it to the end of the one that takes the last.

        While a visit lasts that is both what it takes off and what it puts on.
        """
        if self.load is not None and self.load.order is order:
            return True
        if self.visit is None:
            return False
        goes, comes = self.visit.goes, self.visit.comes
        return (goes is not None and goes.order is order) or (
            comes is not None and comes.order is order
        )


@dataclass(eq=False)
class Machine:
    """One machine of a group of identical ones. `number` counts all machines from 1."""

    group: str
    name: str
    number: int
    entry: dict[str, Any]
    pallets: list[Pallet] = field(default_factory=list)
    spindle: Pallet | None = None  # the pallet in the spindle or on its way in
    change: Task | None = None
    warming: Task | None = None
    piece: Task | None = None
    stood_since: int | None = None  # when a cut or warm-up last ended; None: for ever
    worn: dict[str, int] = field(default_factory=dict)  # pieces since renewal, by part
    prove_out: Job | None = None
    tool_change: Job | None = None
    stops: list[tuple[str, int]] = field(default_factory=list)  # pending: kind, since when
    repair: Job | None = None  # the first pending stop's, by a person
    self_repair: Task | None = None  # the first pending stop's, by itself
    in_cycle: int = 0  # seconds in cycle so far
    next_stop: dict[str, int] = field(default_factory=dict)  # at which of these, by kind
    luck: dict[str, Iterator[int]] = field(default_factory=dict)

    @property
    def one_table(self) -> bool:
        """Whether there is only the machine's own table."""
        return len(self.pallets) == 1

    @property
    def loaded_pallets(self) -> int:
        """Pallets with pieces not yet cut, the spindle's included (rule `people.line`)."""
        return sum(pallet.loaded for pallet in self.pallets)

    @property
    def stations_taken(self) -> int:
        """Visits begun and not ended; an interrupted one keeps its station."""
        return sum(pallet.visited for pallet in self.pallets)

    def ready(self) -> list[Pallet]:
        """Loaded pallets outside the spindle, the longest ready first, then the lower."""
        waiting = [pallet for pallet in self.pallets if pallet.ready_since is not None]
        if len(waiting) > 1:
            waiting.sort(key=lambda p: (p.ready_since or 0, p.number))
        return waiting

    def has_tools(self, load: Load) -> bool:
        """Whether the tools last for this load, or are new (rule `machines.tools`)."""
        life = load.part.value("tool_life")
        used = self.worn.get(load.part.id, 0)
        if life is None or used == 0:
            return True
        return bool(used + load.pieces <= life * (1 + load.part.value("sister_tools")))


@dataclass(eq=False)
class Job:
    """Work asked of people. `task` is there once it was begun, `person` while one is at it."""

    kind: JobKind
    machine: Machine
    asked: int
    pallet: Pallet | None = None
    part: Part | None = None  # whose tools are renewed, whose pieces go to the bench
    task: Task | None = None
    person: Person | None = None
    load: Load | None = None  # the load that is proved, or for which tools are renewed
    begun: int = 0  # counts the beginnings of all jobs
    setup: int = 0  # the seconds of a visit that are setup, before `other_duties`
    setup_share: int | Fraction = 0
    factor: int | Fraction = 1  # how this visit differs from what is stated
    comes: Load | None = None  # the load that a visit puts on
    goes: Load | None = None  # the load that a visit takes off
    after: Job | None = None  # the visit that bench work comes after

    @property
    def waits(self) -> bool:
        """Whether it stands in the line."""
        return self.person is None

    @property
    def interrupted(self) -> bool:
        """Whether its person's shift ended over it."""
        return self.person is None and self.task is not None


@dataclass(eq=False)
class Person:
    """One unit of a shift's people, the same every day."""

    shift: str
    number: int
    job: Job | None = None
    set_up: Load | None = None  # the load that he set up last and may stand by to prove
    free_since: int | None = None  # on duty, with nothing to do
    free_in_stretches: int = 0  # seconds in stretches that have ended

    @property
    def name(self) -> str:
        return f"{self.shift} {self.number}"

    def end_of_free_time(self, now: int) -> None:
        """Work, a break or the end of the shift ends a stretch (rule `people.free`)."""
        self.free_in_stretches = self.free_so_far(now)
        self.free_since = None

    def free_so_far(self, now: int) -> int:
        """Seconds up to now in stretches of at least half an hour, the present one too."""
        stretch = 0 if self.free_since is None else now - self.free_since
        return self.free_in_stretches + (stretch if stretch >= 1800 else 0)


@dataclass
class Cell:
    """Everything of one run. `trace` is None where no trace is wanted."""

    clock: Clock
    hours: Hours
    parts: list[Part]  # those that are made, in file order
    machines: list[Machine]
    people: list[Person]
    walk: int
    other_duties: int
    rule: str
    run_ahead: int
    to_order: bool
    hold: bool
    setter_stays: bool
    repairs: dict[str, tuple[int, bool]]  # by stop: seconds, whether a person does it
    stock: dict[str, Fraction]  # good pieces that lie there, by part that another comes after
    books: dict[str, Book]  # by part of the mix, those that are wanted by the week
    real: list[Order] = field(default_factory=list)  # the earliest due first, then the file's order
    rush: Order | None = None
    orders: dict[str, list[Order]] = field(default_factory=dict)  # see `forget`, as the next ones
    at_it: dict[Order, list[Pallet]] = field(default_factory=dict)
    kept_by: dict[Fixture, list[Pallet]] = field(default_factory=dict)
    wants: dict[int, set[Fixture]] = field(default_factory=dict)
    choices: dict[Hashable, Order | None] = field(default_factory=dict)
    next_up: dict[Hashable, list[Order]] = field(default_factory=dict)
    line: list[Job] = field(default_factory=list)
    pallets: list[Pallet] = field(init=False)  # all of them, machine by machine
    begun: int = 0
    opened: int = 0  # counts the openings of all orders
    most_held: dict[str, int] = field(default_factory=dict)  # fixtures of one number, by part
    cut_pieces: list[tuple[int, Machine, str, int]] = field(default_factory=list)
    trace: list[tuple[int, str]] | None = None

    def __post_init__(self) -> None:
        self.pallets = [pallet for machine in self.machines for pallet in machine.pallets]

    @property
    def now(self) -> int:
        """The present second."""
        return self.clock.now

    def forget(self) -> None:
        """Something has moved that choices hang on, so that they have to be made anew.

        They hang on the visits asked for, begun and ended, on who rests, and on the time at which
        orders may be opened or arrive. They are kept meanwhile for no other reason than speed.
        """
        self.orders.clear()
        self.at_it.clear()
        self.kept_by.clear()
        self.wants.clear()
        self.choices.clear()
        self.next_up.clear()

    def tell(self, text: str) -> None:
        """Write a line of the trace."""
        if self.trace is not None:
            self.trace.append((self.now, text))

    def stretched(self, seconds: int | Fraction) -> int:
        """What `other_duties` makes of people's time (rule `people.other-duties`)."""
        exact = Fraction(seconds * 100, 100 - self.other_duties)
        return int(exact + HALF)

    def may_be_begun(self, load: Load) -> bool:
        """Whether pieces, changes or warm-ups may be begun now (rule `calendar.begin`)."""
        if load.only_attended:
            return self.hours.mode(self.now) == "attended"
        return self.hours.pieces_may_be_begun(self.now)

    def goes_on(self, load: Load) -> bool:
        """Whether what is under way for this load goes on now (rule `calendar.limit`)."""
        return self.may_be_begun(load) or not self.hold


@dataclass
class Book:
    """The endless orders of one part: number k is due at k x batch / weekly weeks."""

    part: Part
    pieces: int  # of each order
    family: list[Part] = field(default_factory=list)  # parts that share a machine, itself too
    open: list[Order] = field(default_factory=list)  # opened, pieces left
    unopened: list[Order] = field(init=False)  # the next of each part number, earliest first
    alarms_set: int = 0  # alarms are set for the openings of the orders up to this number
    alarm: int = 0  # the second of the last of them
    dues: list[int] = field(default_factory=list)  # those worked out so far

    def __post_init__(self) -> None:
        self.unopened = [self.order(number + 1) for number in range(self.part.value("numbers"))]

    def order(self, number: int) -> Order:
        """One of its orders, not opened yet."""
        return Order("mix", self.part, self.pieces, self.due(number), None, number)

    def due(self, number: int) -> int:
        """When an order is due, whole seconds, rounded down; order 0 at 0."""
        while number >= len(self.dues):
            pieces = len(self.dues) * self.part.value("batch")
            self.dues.append(int(pieces * WEEK // self.part.weekly))
        return self.dues[number]
