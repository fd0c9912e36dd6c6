"""What goes on at a second of the week, in plain words."""

from __future__ import annotations

from whatif.answers.states import IN_CYCLE, STATE_ROWS
from whatif.answers.visits import Visit
from whatif.answers.week import Week, span_at, visit_at
from whatif.cell.watch import MachineSpan, MachineWeek, PalletSpan, PersonSpan, PersonWeek
from whatif.telling.amounts import listed
from whatif.telling.clock import clock_text


def luck_words(week: Week) -> str:
    """Which run this is, where stops make runs differ; else nothing."""
    if not week.stops:
        return ""
    return (
        f"Stops fall here as in the first of {week.runs} seeded runs; in the others they fall "
        "elsewhere."
    )


def moment_words(week: Week, second: int) -> str:
    """All machines and the people there at a second of the week, in one line of words."""
    machines = [machine_words(week, place, second) for place in range(len(week.machines))]
    people = [
        person_words(week, place, second)
        for place, person in enumerate(week.persons)
        if span_at(person.does, second).does != "off_duty"
    ]
    return f"{clock_text(second)}: " + "; ".join([*machines, *(people or ["nobody is there"])])


def machine_words(week: Week, place: int, second: int) -> str:
    """What one machine does, and how many of its pallets are loaded."""
    machine = week.machines[place]
    span = span_at(machine.states, second)
    text = f"{machine_name(machine)} {_machine_does(span)}"
    if len(machine.pallets) == 1:
        return text
    loaded = span_at(machine.loaded, second).pallets
    return f"{text}, {loaded} of {len(machine.pallets)} pallets loaded"


def pallet_words(week: Week, place: int, pallet: int, second: int) -> str:
    """What pallet ``pallet`` (from 1) of a machine does."""
    machine = week.machines[place]
    span = span_at(machine.pallets[pallet - 1], second)
    visit = visit_at(week, place, pallet, second)
    return f"{_pallet_name(machine, pallet)} {_pallet_does(span, visit)}"


def person_words(week: Week, place: int, second: int) -> str:
    """What one person does."""
    person = week.persons[place]
    return f"{person_name(person)} {_person_does(week, span_at(person.does, second), second)}"


def _person_does(week: Week, span: PersonSpan, second: int) -> str:
    if span.machine is None:
        return _ALONE[span.does]
    machine = week.machines[span.machine]
    name = machine_name(machine)
    if span.pallet is None:
        return f"puts {name} right after a stop"
    on = span_at(machine.pallets[span.pallet - 1], second)
    match span.does:
        case "bench":
            return f"works at the bench on pieces of {name}"
        case "prove_out":
            return f"proves out {on.part} at {name}"
        case "tool_change":
            return f"renews tools at {name}"
    where = name if len(machine.pallets) == 1 else f"pallet {span.pallet} of {name}"
    return _serves(on, where, visit_at(week, span.machine, span.pallet, second))


def _serves(on: PalletSpan, where: str, visit: Visit | None) -> str:
    """All that a visit does at a pallet, the change of the work holding first where it is most."""
    off = f"takes {_pieces(on.pieces, on.part)} off" if on.pieces else ""
    loads = _pieces(on.next_pieces, on.next_part) if on.next_pieces else ""
    if visit is None or not visit.setup:
        if not loads:
            return f"{off} {where}"
        return f"{off} {where} and loads {loads}" if off else f"loads {where} with {loads}"
    if visit.mostly_sets_up:
        changes = f"changes the work holding of {where}"
        return listed([each for each in (changes, off, f"loads {loads}") if each])
    changes = "changes its work holding" if off else f"changes the work holding of {where}"
    return listed([each for each in (off and f"{off} {where}", changes, f"loads {loads}") if each])


# -- names and what they do -----------------------------------------------------------------


def machine_name(machine: MachineWeek) -> str:
    """ "mill 2", or "mill" where there is one."""
    return machine.group if machine.count == 1 else f"{machine.group} {machine.number}"


def person_name(person: PersonWeek) -> str:
    """ "person 1 of the early shift", or "the person of the early shift" where there is one."""
    number = f"person {person.number}" if person.count > 1 else "the person"
    return f"{number} of the {person.shift} shift"


def _pallet_name(machine: MachineWeek, pallet: int) -> str:
    if len(machine.pallets) == 1:
        return f"the table of {machine_name(machine)}"
    return f"pallet {pallet} of {machine_name(machine)}"


_ALONE = {
    "off_duty": "is off duty",
    "on_break": "is on a break",
    "free": "is free",
    "bench": "works at the bench",
}


def _machine_does(span: MachineSpan) -> str:
    does = STATE_ROWS[span.state].now
    return f"{does} pieces of {span.part}" if span.state == IN_CYCLE else does


def _pallet_does(span: PalletSpan, visit: Visit | None) -> str:
    on = _pieces(span.pieces, span.part)
    match span.does:
        case "rests":
            return "is empty, and there is nothing to put on it"
        case "waits":
            return (
                f"waits for a person with {on} cut"
                if span.pieces
                else "is empty, waits for a person"
            )
        case "served":
            return f"is served{_visit(span, visit)}"
        case "paused":
            return f"is half served over a break{_visit(span, visit)}"
        case "put_down":
            return f"is half served, waits for a person{_visit(span, visit)}"
        case "ready":
            return f"waits for the spindle with {on}"
        case "goes_in":
            return f"goes into the spindle with {on}"
        case "cut":
            return f"is in the spindle, which cuts {on}"
        case "stands_in":
            return f"is in the spindle with {on}, which does not cut"
        case "release":
            return f"waits for the release of its first piece of {span.part}"


def _visit(span: PalletSpan, visit: Visit | None) -> str:
    does = [f"{_pieces(span.pieces, span.part)} off"] if span.pieces else []
    if visit is not None and visit.setup:
        does.insert(0 if visit.mostly_sets_up else len(does), "change of work holding")
    does += [f"{_pieces(span.next_pieces, span.next_part)} on"] if span.next_pieces else []
    return f" ({', '.join(does)})"


def _pieces(count: int, part: str | None) -> str:
    """So many of a part, whose id may be a word of its own in the sentence: "orders"."""
    return f"{count} piece{'' if count == 1 else 's'} of {part}"
