"""The cell model, sections 3 to 6, as a plain discrete-event model on simpy.

It polls everything at every instant at which anything may change, in the order that section 5
gives for one instant, and takes no thought for speed. `simulate` is all that tests need.
"""

from __future__ import annotations

from typing import Any

from . import people, spindles
from .clock import Clock
from .hours import WEEK, Hours
from .orders import family, is_made, opens_by_time_at
from .results import Draw, Result, Tally
from .things import PART_DEFAULTS, Cell, Machine, Pallet, Part, Person


def simulate(
    spec: dict[str, Any], run: int = 1, draw: Draw | None = None, trace: bool = False
) -> Result:
    """Run the cell of `spec` and count the weeks measured.

    `spec` holds the tables of a scenario with all times in whole seconds and percents as whole
    numbers; `draw(run, machine_number, stop)` gives the in-cycle seconds (at least 1) between
    stops, machines counted from 1 in file order.
    """
    cell = build(spec)
    cell.trace = [] if trace else None
    give_luck(cell, spec, run, draw)
    start = spec.get("warm_up", 2) * WEEK
    end = start + spec.get("weeks", 13) * WEEK
    set_calendar_alarms(cell, start, end)
    tally = Tally(cell, spec, start, end)
    live_through_this_instant(cell)
    while True:
        tally.note()
        second = int(min(cell.clock.next_second(), end))
        tally.elapse(second - cell.now)
        if second == end:
            return tally.result()
        cell.clock.let_happen(second)
        live_through_this_instant(cell)


# --- building ---------------------------------------------------------------------------


def build(spec: dict[str, Any]) -> Cell:
    """The cell at its start: every pallet empty, asking for a visit (section 5)."""
    hours = Hours(spec)
    machines = build_machines(spec)
    groups = [machine.group for machine in machines]
    parts = [Part(name, {**PART_DEFAULTS, **own}) for name, own in spec.get("part", {}).items()]
    made = [part for part in parts if is_made(part, groups, bool(hours.inspecting_shifts))]
    handling, sequence = spec.get("handling", {}), spec.get("sequence", {})
    cell = Cell(
        clock=Clock(),
        hours=hours,
        parts=made,
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
        hold=spec.get("unattended", {}).get("at_limit", "finish_piece") == "hold",
        repairs={
            kind: (entry["repair"], entry.get("needs_person", True))
            for kind, entry in spec.get("stop", {}).items()
        },
        families={part.id: family(part, made, groups) for part in made},
        opened={part.id: [] for part in made},
    )
    for pallet in cell.pallets:
        people.ask_for_visit(cell, pallet)
    return cell


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
    for kind, entry in spec.get("stop", {}).items():
        if entry["every"] == 0:  # taken out
            continue
        if draw is None:
            raise ValueError(f"stop.{kind}: simulate() needs draw(run, machine_number, stop)")
        for machine in cell.machines:
            machine.luck[kind] = draw(run, machine.number, kind)
            machine.next_stop[kind] = next(machine.luck[kind])


def set_calendar_alarms(cell: Cell, start: int, end: int) -> None:
    """Look at the cell whenever the calendar may change, and at the edges of the measuring."""
    for week in range(0, end, WEEK):
        for second in cell.hours.boundaries():
            cell.clock.alarm(week + second)
    cell.clock.alarm(start)
    cell.clock.alarm(end)


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
            return
        settle_ends(cell)


def settle_ends(cell: Cell) -> set[str]:
    """Everything ends that ends at this instant; the shifts that do are handed back."""
    for machine in cell.machines:
        spindles.end_what_ended(cell, machine)
    people.end_what_ended(cell)
    for machine in cell.machines:
        spindles.stops_arise(cell, machine)
    return cell.hours.ending(cell.now)


def settle(cell: Cell) -> None:
    """What follows the ends, in the order of section 5."""
    people.work_while_on_duty(cell)
    for machine in cell.machines:
        spindles.ask_for_people(cell, machine)
    changes = True
    while changes:
        changes = people.resting_pallets_ask(cell)
        changes = people.somebody_takes_the_first(cell) or changes
    people.work_while_on_duty(cell)
    for machine in cell.machines:
        spindles.begin_what_it_may(cell, machine)
    for part in cell.parts:
        cell.clock.alarm(opens_by_time_at(cell, part))
