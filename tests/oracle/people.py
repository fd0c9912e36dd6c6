"""People: the line, who takes what, and what becomes of it (rule `people.persons`)."""

from __future__ import annotations

from .ahead import is_for_the_rush
from .choice import choose
from .clock import Task
from .standing import is_open_to, may_stand_by
from .things import Cell, Job, JobKind, Load, Machine, Pallet, Person
from .visits import begin_visit, end_visit, setup_of

# --- asking -----------------------------------------------------------------------------


def ask(cell: Cell, kind: JobKind, machine: Machine, asked: int, load: Load | None = None) -> Job:
    """Put a machine's request for a person into the line."""
    job = Job(kind, machine, asked, part=load.part if load else None, load=load)
    cell.line.append(job)
    cell.tell(f"{machine.name}: asks for {kind}" + (f" of {load.part.id}" if load else ""))
    return job


def ask_for_visit(cell: Cell, pallet: Pallet) -> None:
    """Put a pallet's request for a visit into the line."""
    job = Job("visit", pallet.machine, cell.now, pallet=pallet)
    pallet.visit = job
    cell.forget()
    cell.line.append(job)
    cell.tell(f"{pallet.name}: asks for a visit")


def resting_pallets_ask(cell: Cell) -> bool:
    """A resting pallet asks as soon as something may be taken (rule `pallets.rest`)."""
    found = [p for p in cell.pallets if p.resting_since is not None and p.visit is None]
    askers = [pallet for pallet in found if choose(cell, pallet) is not None]
    for pallet in askers:
        ask_for_visit(cell, pallet)
    return bool(askers)


# --- the line ---------------------------------------------------------------------------


def place_in_line(cell: Cell, job: Job) -> tuple[int, int, int, int, int, int]:
    """Stops, rush orders, interrupted work, then by the second asked (rule `people.line`).

    Where setters stay, prove-outs are ahead of all that is asked for then.
    """
    rank = 4
    if job.kind == "repair":
        rank = 0
    elif is_for_the_rush(cell, job):
        rank = 1
    elif job.interrupted:
        rank = 2
    elif job.kind == "prove_out" and cell.setter_stays:
        rank = 3
    after = 1 if job.kind == "visit" else 0  # prove-out and tool change come before visits
    pallet = 0 if job.pallet is None else job.pallet.number
    machine = job.machine
    return (rank, job.asked, after, machine.loaded_pallets, machine.number, pallet)


def passed_over(job: Job) -> bool:
    """What cannot be done at this instant, whoever is free."""
    machine = job.machine
    if job.kind == "visit":
        stations = machine.entry.get("load_stations", 1)
        full = not machine.one_table and machine.stations_taken >= stations
        return full and not job.interrupted
    if job.kind == "tool_change":
        return machine.spindle is not None or bool(machine.stops)
    return job.kind == "prove_out" and bool(machine.stops)


def free_persons(cell: Cell) -> list[Person]:
    """Persons on duty with nothing to do, as listed."""
    return [p for p in cell.people if p.job is None and cell.hours.on_duty(p.shift, cell.now)]


def duties(cell: Cell, job: Job) -> set[str]:
    """What a person must be allowed to do for all of this work (rule `people.persons`)."""
    if job.kind == "tool_change":
        return {"tools"}
    if job.kind != "visit" or job.pallet is None:
        return {job.kind}
    begun = job.task is not None
    setup = job.setup if begun else setup_of(choose(cell, job.pallet), job.pallet)
    return {"load", "setup"} if setup > 0 else {"load"}


def somebody_takes_the_first(cell: Cell) -> bool:
    """The person listed first of those who may takes what is first in the line of what they may.

    False: nobody is free for anything.
    """
    persons = free_persons(cell)
    if not persons:
        return False
    jobs = [job for job in cell.line if job.waits and not passed_over(job)]
    for job in sorted(jobs, key=lambda job: place_in_line(cell, job)):
        wanted = duties(cell, job)
        for person in persons:
            if wanted <= cell.hours.does[person.shift] and is_open_to(cell, job, person):
                take(cell, person, job)
                return True
    return False


def take(cell: Cell, person: Person, job: Job) -> None:
    """The person begins the work, or takes it up; a pallet for which there is none rests again."""
    if job.task is None and not begin(cell, job):
        return
    cell.line.remove(job)
    job.person, person.job = person, job
    person.set_up = None
    person.end_of_free_time(cell.now)
    cell.tell(f"{person.name} takes {told(job)}")


def told(job: Job) -> str:
    """A job for the trace."""
    place = job.machine.name if job.pallet is None else job.pallet.name
    left = "" if job.task is None else f", {job.task.left} s"
    taken = "nothing" if job.comes is None else f"{job.comes.pieces} of {job.comes.part.id}"
    what = f"{job.kind}, {taken} on" if job.kind == "visit" else job.kind
    return f"{place}: {what}{left}"


# --- beginning --------------------------------------------------------------------------


def begin(cell: Cell, job: Job) -> bool:
    """Begin what was never begun. False: the pallet is not visited but rests again."""
    machine = job.machine
    if job.kind == "visit":
        if not begin_visit(cell, job):
            return False
    elif job.kind == "prove_out" and machine.spindle and machine.spindle.load:
        seconds = machine.spindle.load.part.value("prove_out", machine.group)
        job.task = Task(cell.clock, cell.stretched(seconds))
    elif job.kind == "tool_change" and job.part:
        job.task = Task(cell.clock, cell.stretched(job.part.value("tool_change")))
    elif job.kind == "repair":
        job.task = Task(cell.clock, cell.stretched(cell.repairs[machine.stops[0][0]][0]))
    cell.begun += 1
    job.begun = cell.begun
    return True


def work_while_on_duty(cell: Cell) -> None:
    """Work waits over its person's break (rule `people.breaks`); releases have their own hours."""
    for person in cell.people:
        if person.job is not None and person.job.task is not None:
            person.job.task.run(cell.hours.on_duty(person.shift, cell.now))
    for pallet in cell.pallets:
        if pallet.release is not None:
            pallet.release.run(cell.hours.releasing(cell.now))


# --- ending -----------------------------------------------------------------------------


def end_what_ended(cell: Cell) -> None:
    """End every job that is done; its person is free, or goes on to the bench."""
    for person in cell.people:
        job = person.job
        if job is None or job.task is None or not job.task.done:
            continue
        cell.tell(f"{person.name} ends {told(job)}")
        person.job = None
        if job.kind == "visit":
            end_visit(cell, job)
            if not goes_to_the_bench(cell, person, job):
                may_stand_by(cell, person, job)
        elif job.kind == "bench" and job.after is not None:
            may_stand_by(cell, person, job.after)
        elif job.kind == "prove_out":
            end_prove_out(job.machine)
        elif job.kind == "tool_change" and job.part is not None:
            job.machine.worn[job.part.id] = 0
            job.machine.tool_change = None
        elif job.kind == "repair":
            job.machine.repair = None
            job.machine.stops.pop(0)


def end_prove_out(machine: Machine) -> None:
    """The load in the spindle is proved."""
    machine.prove_out = None
    if machine.spindle is not None and machine.spindle.load is not None:
        machine.spindle.load.awaits_proof = False


def goes_to_the_bench(cell: Cell, person: Person, visit: Job) -> bool:
    """Whether the person is busy for bench x pieces off more (rule `people.bench`)."""
    if visit.goes is None:
        return False
    part = visit.goes.part
    seconds = cell.stretched(part.value("bench") * visit.goes.pieces * visit.factor)
    if seconds > 0:
        task = Task(cell.clock, seconds)
        person.job = Job("bench", visit.machine, cell.now, part=part, task=task, person=person)
        person.job.after = visit
    return seconds > 0


# --- the shift's end --------------------------------------------------------------------


def end_of_shift(cell: Cell, shift: str) -> None:
    """Work goes back to the line; who does "tools" leaves all new (rule `machines.tools-new`)."""
    for person in cell.people:
        if person.shift == shift:
            person.end_of_free_time(cell.now)
            person.set_up = None
        if person.shift == shift and person.job is not None and person.job.task is not None:
            person.job.task.pause()
            if person.job.kind != "bench":
                cell.tell(f"{person.name} leaves {told(person.job)}")
                cell.line.append(person.job)
                person.job.person = None
                person.job = None
    if "tools" not in cell.hours.does[shift]:
        return
    for machine in cell.machines:
        machine.worn.clear()
        drop_tool_change(cell, machine)


def drop_tool_change(cell: Cell, machine: Machine) -> None:
    """What was asked for or begun to renew tools is dropped; its person is free at once."""
    job = machine.tool_change
    if job is None:
        return
    machine.tool_change = None
    if job in cell.line:
        cell.line.remove(job)
    if job.person is not None:
        job.person.job = None
    if job.task is not None:
        job.task.pause()
    cell.tell(f"{machine.name}: the tool change is dropped")
