"""The states: at each instant the first that holds (rule `states`)."""

from __future__ import annotations

from fractions import Fraction

from .choice import lacks_only_a_fixture, lacks_stock
from .spindles import load_in
from .things import Cell, Job, Machine, Pallet

STATES = (
    "in_cycle",
    "pallet_change",
    "warm_up",
    "stopped",
    "person_at_machine",
    "outside_running_hours",
    "setup",
    "load",
    "first_piece",
    "waiting_for_person",
    "nobody_on_duty",
    "no_fixture",
    "no_stock",
    "nothing_due",
)

Shares = dict[str, int | Fraction]
"""How much of an instant is which state: one is all of it, but for a visit."""


def state_of(cell: Cell, machine: Machine) -> Shares:
    """The machine's state at this instant; a visit's instant is split in setup and load."""
    state = "nothing_due"
    if is_cutting(machine):
        state = "in_cycle"
    elif machine.change is not None and machine.change.running:
        state = "pallet_change"
    elif machine.warming is not None and machine.warming.running:
        state = "warm_up"
    elif machine.stops:
        state = "stopped"
    elif at_work(machine.prove_out) or at_work(machine.tool_change):
        state = "person_at_machine"
    elif lacks_only_permission(machine):
        state = "outside_running_hours"
    elif (visit := visit_in_progress(machine)) is not None:
        return {"setup": visit.setup_share, "load": 1 - visit.setup_share}
    elif awaits_release(machine) and cell.hours.mode(cell.now) == "attended":
        state = "first_piece"
    elif person_asked_or_paused(machine) and cell.hours.mode(cell.now) == "attended":
        state = "waiting_for_person"
    elif person_asked_or_paused(machine) or awaits_release(machine):
        state = "nobody_on_duty"
    elif any(lacks_only_a_fixture(cell, pallet) for pallet in resting(machine)):
        state = "no_fixture"
    elif any(lacks_stock(cell, pallet) for pallet in resting(machine)):
        state = "no_stock"
    return {state: 1}


def is_cutting(machine: Machine) -> bool:
    """Whether a piece is being cut."""
    return machine.piece is not None and machine.piece.running


def at_work(job: Job | None) -> bool:
    """Whether a person on duty is at this job."""
    return job is not None and job.task is not None and job.task.running


def jobs_of(machine: Machine) -> list[Job]:
    """Everything this machine and its pallets ask of people."""
    jobs = [machine.prove_out, machine.tool_change, machine.repair]
    jobs += [pallet.visit for pallet in machine.pallets]
    return [job for job in jobs if job is not None]


def lacks_only_permission(machine: Machine) -> bool:
    """A load that would go in, or go on, at once if it only might."""
    load = load_in(machine)
    if load is not None:
        return machine.change is not None or not load.awaits_proof
    if machine.one_table or (machine.tool_change is not None and machine.tool_change.person):
        return False
    return some_ready_load_has_tools(machine)


def some_ready_load_has_tools(machine: Machine) -> bool:
    """Whether a loaded pallet outside the spindle has its tools."""
    loads = [pallet.load for pallet in machine.ready() if pallet.load is not None]
    return any(machine.has_tools(load) for load in loads)


def visit_in_progress(machine: Machine) -> Job | None:
    """The visit that the machine waits for: of two, the one begun first."""
    if not machine.one_table and some_ready_load_has_tools(machine):
        return None
    visits = [pallet.visit for pallet in machine.pallets if pallet.visit is not None]
    return min((v for v in visits if at_work(v)), key=lambda v: v.begun, default=None)


def awaits_release(machine: Machine) -> bool:
    """Whether a pallet waits for the release of its first piece."""
    return any(pallet.release is not None for pallet in machine.pallets)


def person_asked_or_paused(machine: Machine) -> bool:
    """Whether something stands in the line, or its person is on a break."""
    return any(job.waits or not at_work(job) for job in jobs_of(machine))


def resting(machine: Machine) -> list[Pallet]:
    """Its pallets that rest."""
    return [pallet for pallet in machine.pallets if pallet.resting_since is not None]
