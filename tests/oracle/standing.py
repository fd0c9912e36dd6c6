"""Standing by: who has set up a load stays for its prove-out, where the shop has it so."""

from __future__ import annotations

from .ahead import next_in
from .things import Cell, Job, Load, Machine, Person


def may_stand_by(cell: Cell, person: Person, visit: Job) -> None:
    """The person would now be free after this visit, the bench work after it done."""
    load = visit.comes
    may = "prove_out" in cell.hours.does[person.shift]
    if cell.setter_stays and may and load is not None and load.awaits_proof:
        person.set_up = load


def stands_by(cell: Cell, person: Person) -> bool:
    """Whether he keeps himself free for the prove-out of the load that he has set up.

    That load is on its way into the spindle, or in it, or goes in at this very instant.
    """
    load = person.set_up
    return load is not None and any(is_for(cell, machine, load) for machine in cell.machines)


def is_for(cell: Cell, machine: Machine, load: Load) -> bool:
    """Whether this load is in the machine, or goes in now, and nobody has begun to prove it."""
    if not load.awaits_proof:
        return False
    begun = machine.prove_out is not None and machine.prove_out.task is not None
    goes_in = machine.spindle or next_in(cell, machine)
    return goes_in is not None and goes_in.load is load and not begun


def is_open_to(cell: Cell, job: Job, person: Person) -> bool:
    """Stops are open to all; else who stands by takes his prove-out, and nobody else takes it."""
    if job.kind == "repair":
        return True
    if stands_by(cell, person):
        return job.kind == "prove_out" and job.load is person.set_up
    if job.kind != "prove_out":
        return True
    return not any(other.set_up is job.load and stands_by(cell, other) for other in cell.people)


def breaks_end_it(cell: Cell) -> None:
    """Who is not on duty does not stand by."""
    for person in cell.people:
        if person.set_up is not None and not cell.hours.on_duty(person.shift, cell.now):
            person.set_up = None


def end_of_instant(cell: Cell) -> None:
    """Who does not stand by at the end of the instant at which he is free does not later either."""
    for person in cell.people:
        if not stands_by(cell, person):
            person.set_up = None
