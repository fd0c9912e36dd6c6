"""The rules of the cell as a plain discrete-event model on simpy.

It polls everything at every instant at which anything may change, in the order of one instant
(rule `people.instant`), and takes no thought for speed. `simulate` and `rushed` are all that tests
need.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from typing import Any

from . import people, spindles, standing
from .clock import Clock
from .hours import WEEK, Hours
from .luck import Draw, luck, scatter
from .orders import pieces_to_order, set_alarms, set_up_books
from .parts import next_of, parts_made
from .results import Result, Tally
from .things import Book, Cell, Machine, Order, Pallet, Person


def simulate(
    spec: dict[str, Any],
    run: int = 1,
    draw: Draw | None = None,
    trace: bool = False,
    draw_number: int | None = None,
) -> Result:
    """Run the cell of `spec` and count the weeks measured.

    `spec` holds the tables of a scenario with all times in whole seconds and percents as whole
    numbers; `draw(run, machine_number, stop)` gives the in-cycle seconds (at least 1) between
    stops, machines counted from 1 in file order, and is as the rules say where it is not given.
    With a `draw_number`, the d of a draw of the likely range, visits scatter. What real orders
    arrive and are due at counts from the first week measured; rush orders are left out.
    """
    cell = build(spec)
    cell.trace = [] if trace else None
    give_luck(cell, spec, run, draw)
    let_visits_scatter(cell, spec, draw_number)
    start = first_measured(spec)
    end = start + spec.get("weeks", 12) * WEEK
    tally = Tally(cell, spec, start, end)
    live(cell, tally, end)
    return tally.result()


@dataclass(frozen=True)
class Rushed:
    """What became of a rush order, in seconds; `seconds` is None where it is never off.

    `lost` are in-cycle seconds of all other work over the two weeks after its arrival.
    """

    seconds: int | None
    lost: int
    trace: list[tuple[int, str]] = field(default_factory=list)


NEVER = 52 * WEEK
"""A rush order that is not off after so long is not waited for."""


def rushed(
    spec: dict[str, Any],
    name: str,
    run: int = 1,
    draw: Draw | None = None,
    trace: bool = False,
    draw_number: int | None = None,
) -> Rushed:
    """Run the cell with the rush order of this name and without, as `simulate` does."""
    arrival = first_measured(spec) + spec["rush"][name]["arrives"]
    without, with_it = build(spec), build(spec, rush=name)
    with_it.trace = [] if trace else None
    work = []
    for cell in (without, with_it):
        give_luck(cell, spec, run, draw)
        let_visits_scatter(cell, spec, draw_number)
        tally = Tally(cell, spec, arrival, arrival + 2 * WEEK)
        live(cell, tally, arrival + NEVER, partial(is_over, cell, arrival + 2 * WEEK))
        work.append(tally.other_work)
    off = None if with_it.rush is None else with_it.rush.last_off
    seconds = None if off is None else off - arrival
    return Rushed(seconds, work[0] - work[1], with_it.trace or [])


def is_over(cell: Cell, second: int) -> bool:
    """Whether this second has come and the rush order, if there is one, is off."""
    return cell.now >= second and (cell.rush is None or cell.rush.last_off is not None)


def first_measured(spec: dict[str, Any]) -> int:
    """The second at which the first week measured begins."""
    return int(spec.get("warm_up", 4) * WEEK)


def live(cell: Cell, tally: Tally, end: int, over: Callable[[], bool] = lambda: False) -> None:
    """Live through one instant after the other before `end`, or until it is over."""
    set_calendar_alarms(cell, end, tally)
    live_through_this_instant(cell)
    while not over():
        tally.note()
        second = int(min(cell.clock.next_second(), end))
        tally.elapse(second - cell.now)
        if second == end:
            return
        cell.clock.let_happen(second)
        live_through_this_instant(cell)


# --- building ---------------------------------------------------------------------------


def build(spec: dict[str, Any], rush: str | None = None) -> Cell:
    """The cell at its start: every pallet empty, asking for a visit (rule `people.start`)."""
    hours = Hours(spec)
    machines = build_machines(spec)
    parts = parts_made(spec, machines, hours)
    handling, sequence = spec.get("handling", {}), spec.get("sequence", {})
    to_order = sequence.get("make", "to_order") == "to_order"
    cell = Cell(
        clock=Clock(),
        hours=hours,
        parts=parts,
        machines=machines,
        people=[
            Person(shift, number + 1)
            for shift, entry in spec.get("shift", {}).items()
            for number in range(entry.get("people", 1))
        ],
        walk=handling.get("walk", 60),
        other_duties=handling.get("other_duties", 0),
        rule=sequence.get("rule", "keep_setup"),
        run_ahead=sequence.get("run_ahead", WEEK),
        to_order=to_order,
        hold=spec.get("unattended", {}).get("at_limit", "finish_piece") == "hold",
        setter_stays=handling.get("setter_stays", False),
        repairs={
            kind: (entry["repair"], entry.get("needs_person", True))
            for kind, entry in spec.get("stop", {}).items()
        },
        stock={
            part.id: Fraction(part.value("stock"))
            for part in parts
            if next_of(spec["part"], part.id) is not None
        },
        books={
            part.id: Book(part, pieces_to_order(part, to_order))
            for part in parts
            if part.weekly > 0
        },
    )
    set_up_books(cell)
    take_orders(cell, spec, rush)
    for pallet in cell.pallets:
        people.ask_for_visit(cell, pallet)
    return cell


def take_orders(cell: Cell, spec: dict[str, Any], rush: str | None) -> None:
    """Write down the real orders, and the rush order that is tried out."""
    parts = {part.id: part for part in cell.parts}
    start = first_measured(spec)
    for place, (name, entry) in enumerate(spec.get("order", {}).items()):
        if entry["pieces"] > 0 and entry["part"] in parts:
            part, due = parts[entry["part"]], start + entry["due"]
            arrives = start + entry.get("arrives", 0)
            order = Order("real", part, entry["pieces"], due, place, id=name, arrives=arrives)
            cell.real.append(order)
            cell.clock.alarm(arrives)
    cell.real.sort(key=lambda order: order.due)  # rule `orders.real`
    if rush is not None:
        entry = spec["rush"][rush]
        arrives = start + entry["arrives"]
        if entry["pieces"] > 0 and entry["part"] in parts:
            part = parts[entry["part"]]
            cell.rush = Order("rush", part, entry["pieces"], 0, 0, id=rush, arrives=arrives)


def build_machines(spec: dict[str, Any]) -> list[Machine]:
    """Every machine in file order, with its pallets."""
    machines: list[Machine] = []
    for group, entry in spec.get("machine", {}).items():
        for number in range(1, entry.get("count", 1) + 1):
            machine = Machine(group, f"{group} {number}", len(machines) + 1, entry)
            count = entry.get("pallets", 1)
            machine.pallets = [Pallet(machine, place + 1) for place in range(count)]
            machines.append(machine)
    return machines


def give_luck(cell: Cell, spec: dict[str, Any], run: int, draw: Draw | None) -> None:
    """Every machine's in-cycle seconds to its next stop of each kind."""
    deal = luck(spec) if draw is None else draw
    for kind, entry in spec.get("stop", {}).items():
        if entry["every"] == 0:  # taken out
            continue
        for machine in cell.machines:
            machine.luck[kind] = deal(run, machine.number, kind)
            machine.next_stop[kind] = next(machine.luck[kind])


def let_visits_scatter(cell: Cell, spec: dict[str, Any], draw_number: int | None) -> None:
    """Every pallet's factors for its visits; none outside the draws of the likely range."""
    if draw_number is None:
        return
    percent = spec.get("handling", {}).get("scatter", 30)
    for pallet in cell.pallets:
        pallet.scatter = scatter(percent, draw_number, pallet.machine.number, pallet.number)


def set_calendar_alarms(cell: Cell, end: int, tally: Tally) -> None:
    """Look at the cell whenever the calendar may change, and at the edges of the measuring."""
    for week in range(0, end, WEEK):
        for second in cell.hours.boundaries():
            cell.clock.alarm(week + second)
    cell.clock.alarm(tally.start)
    cell.clock.alarm(tally.end)


# --- one instant ------------------------------------------------------------------------


def live_through_this_instant(cell: Cell) -> None:
    """Settle this instant, and again as long as anything of no length ends within it."""
    for shift in settle_ends(cell):
        people.end_of_shift(cell, shift)
    while True:
        cell.clock.rung = False
        settle(cell)
        cell.clock.let_happen(cell.now)
        if not cell.clock.rung:
            standing.end_of_instant(cell)
            return
        settle_ends(cell)


def settle_ends(cell: Cell) -> list[str]:
    """Everything ends that ends at this instant; the shifts that do are handed back."""
    for machine in cell.machines:
        spindles.end_what_ended(cell, machine)
    people.end_what_ended(cell)
    for machine in cell.machines:
        spindles.stops_arise(cell, machine)
    return cell.hours.ending(cell.now)


def settle(cell: Cell) -> None:
    """What follows the ends (rule `people.instant`)."""
    if set_alarms(cell) or any(order.arrives == cell.now for order in awaited(cell)):
        cell.forget()
    people.work_while_on_duty(cell)
    standing.breaks_end_it(cell)
    for machine in cell.machines:
        spindles.ask_for_people(cell, machine)
    changes = True
    while changes:
        changes = people.resting_pallets_ask(cell)
        changes = people.somebody_takes_the_first(cell) or changes
    people.work_while_on_duty(cell)
    for machine in cell.machines:
        spindles.begin_what_it_may(cell, machine)


def awaited(cell: Cell) -> list[Order]:
    """Orders that arrive some time."""
    return cell.real if cell.rush is None else [cell.rush, *cell.real]
