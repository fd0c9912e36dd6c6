"""Machines: what ends there, what they ask for, what they begin (rule `machines.pallets`)."""

from __future__ import annotations

from .ahead import in_turn, next_in
from .clock import Task
from .people import ask, ask_for_visit
from .things import Cell, Load, Machine, Pallet

STANDING = 4 * 3600  # a warm-up comes after more than this (rule `machines.warm-up`)


def load_in(machine: Machine) -> Load | None:
    """The load in the spindle or on its way in."""
    return None if machine.spindle is None else machine.spindle.load


# --- what ends --------------------------------------------------------------------------


def end_what_ended(cell: Cell, machine: Machine) -> None:
    """Changes, warm-ups, pieces and repairs without a person that end at this instant."""
    if machine.change is not None and machine.change.done:
        machine.change = None
        cell.tell(f"{machine.name}: pallet change ends")
    if machine.warming is not None and machine.warming.done:
        machine.warming, machine.stood_since = None, cell.now
        cell.tell(f"{machine.name}: warm-up ends")
    if machine.piece is not None and machine.piece.done:
        end_piece(cell, machine)
    if machine.self_repair is not None and machine.self_repair.done:
        machine.self_repair = None
        machine.stops.pop(0)
        cell.tell(f"{machine.name}: repair ends by itself")


def end_piece(cell: Cell, machine: Machine) -> None:
    """A piece is cut; after the load's last its pallet leaves the spindle at once."""
    pallet, load = machine.spindle, load_in(machine)
    assert pallet is not None, "a piece was cut in the spindle"
    assert load is not None, "a piece was cut of a load"
    machine.piece, machine.stood_since = None, cell.now
    load.cut += 1
    cell.tell(f"{pallet.name}: piece {load.cut} of {load.pieces} of {load.part.id} is cut")
    if not load.finished:
        return
    cell.cut_pieces.append((cell.now, machine, load.part.id, load.pieces))
    machine.worn[load.part.id] = machine.worn.get(load.part.id, 0) + load.pieces
    machine.spindle = None
    if load.first:
        pallet.release = Task(cell.clock, load.part.value("first_piece"))


def stops_arise(cell: Cell, machine: Machine) -> None:
    """A stop comes when its in-cycle seconds are reached (rule `stops.come`)."""
    for kind in machine.next_stop:
        while machine.next_stop[kind] <= machine.in_cycle:
            machine.next_stop[kind] += next(machine.luck[kind])
            machine.stops.append((kind, cell.now))
            cell.tell(f"{machine.name}: stop {kind}")
    if machine.stops and machine.piece is not None and machine.piece.running:
        machine.piece.pause()
        machine.stood_since = cell.now


# --- what is asked for ------------------------------------------------------------------


def ask_for_people(cell: Cell, machine: Machine) -> None:
    """Whatever this machine needs a person for and has not asked for yet."""
    deal_with_stop(cell, machine)
    for pallet in machine.pallets:
        cut_pallet_asks(cell, pallet)
    table_is_in(cell, machine)
    if machine.tool_change is None and needs_tool_change(machine):
        load = in_turn(cell, machine)[0].load
        machine.tool_change = ask(cell, "tool_change", machine, cell.now, load)
    load = load_in(machine)
    if load is not None and load.awaits_proof and not machine.change and not machine.prove_out:
        machine.prove_out = ask(cell, "prove_out", machine, cell.now, load)


def deal_with_stop(cell: Cell, machine: Machine) -> None:
    """Pending stops are repaired one after the other."""
    if not machine.stops or machine.repair is not None or machine.self_repair is not None:
        return
    kind, since = machine.stops[0]
    seconds, needs_person = cell.repairs[kind]
    if needs_person:
        machine.repair = ask(cell, "repair", machine, since)
    else:
        machine.self_repair = Task(cell.clock, seconds)
        machine.self_repair.run()


def cut_pallet_asks(cell: Cell, pallet: Pallet) -> None:
    """A cut pallet asks for a visit at once, or after its first piece's release."""
    if pallet.load is None or not pallet.load.finished or pallet.visit is not None:
        return
    if pallet.release is not None and not pallet.release.done:
        return
    pallet.release = None
    ask_for_visit(cell, pallet)


def table_is_in(cell: Cell, machine: Machine) -> None:
    """With one table a load with tools is in the machine as soon as its visit has ended."""
    if not machine.one_table or machine.spindle is not None:
        return
    for pallet in machine.ready():
        if pallet.load is not None and machine.has_tools(pallet.load):
            machine.spindle, pallet.ready_since = pallet, None


def needs_tool_change(machine: Machine) -> bool:
    """The spindle stands empty and no ready load has tools (rule `machines.tools`)."""
    if machine.spindle is not None:
        return False
    loads = [pallet.load for pallet in machine.ready() if pallet.load is not None]
    return bool(loads) and not any(map(machine.has_tools, loads))


# --- what is begun ----------------------------------------------------------------------


def begin_what_it_may(cell: Cell, machine: Machine) -> None:
    """Send in a pallet, warm up, cut; hold what is to be held at its limit."""
    if machine.stops:
        return
    if machine.spindle is None:
        send_in(cell, machine)
    load = load_in(machine)
    if load is None:
        return
    if machine.change is not None:
        machine.change.run(cell.goes_on(load))
    elif machine.warming is not None:
        go_on_warming(cell, machine, load)
    elif not load.awaits_proof:
        cut(cell, machine, load)


def send_in(cell: Cell, machine: Machine) -> None:
    """The loaded pallet whose turn it is, of those that may be begun, goes in."""
    pallet = next_in(cell, machine)
    if pallet is not None:
        machine.spindle, pallet.ready_since = pallet, None
        machine.change = Task(cell.clock, machine.entry.get("pallet_change", 30))
        cell.tell(f"{pallet.name}: goes in")


def go_on_warming(cell: Cell, machine: Machine, load: Load) -> None:
    """Let the warm-up go on or be held; standing counts from its hold too."""
    warming = machine.warming
    assert warming is not None, "a warm-up is under way"
    if warming.running and not cell.goes_on(load):
        machine.stood_since = cell.now
    warming.run(cell.goes_on(load))


def cut(cell: Cell, machine: Machine, load: Load) -> None:
    """Begin the next piece, take up a held or stopped one, or hold the one under way."""
    piece = machine.piece
    if piece is not None and piece.running:
        if not cell.goes_on(load):
            piece.pause()
            machine.stood_since = cell.now
            cell.tell(f"{machine.name}: piece is held")
        return
    may = cell.may_be_begun(load) if piece is None else cell.goes_on(load)
    if not may:
        return
    seconds = machine.entry.get("warm_up", 0)
    cold = machine.stood_since is None or cell.now - machine.stood_since > STANDING
    if cold and seconds > 0:
        machine.warming = Task(cell.clock, seconds)
        machine.warming.run()
        cell.tell(f"{machine.name}: warm-up begins")
        return
    if piece is None:
        piece = Task(cell.clock, load.part.value("cycle", machine.group))
        cell.tell(f"{machine.name}: piece {load.cut + 1} of {load.part.id} begins")
    machine.piece = piece
    piece.run()
    for target in machine.next_stop.values():
        cell.clock.alarm(cell.now + target - machine.in_cycle)
