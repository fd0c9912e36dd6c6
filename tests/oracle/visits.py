"""Visits: what is taken (rule `orders.take`), and what it takes of time (rule `people.visit`)."""

from __future__ import annotations

from fractions import Fraction

from .choice import choose, is_first_piece, needs_setup, pieces_of_load
from .clock import Task
from .fixtures import take_fixture
from .orders import allot, open_order
from .parts import good_share
from .things import Cell, Job, Load, Order, Pallet


def setup_of(order: Order | None, pallet: Pallet) -> int:
    """Seconds of setup that a visit needs which takes this order."""
    if order is None or not needs_setup(order, pallet):
        return 0
    return int(order.part.value("setup", pallet.machine.group))


def begin_visit(cell: Cell, job: Job) -> bool:
    """Decide what is taken and allot it. False: nothing to take off or on, so no visit."""
    pallet = job.pallet
    assert pallet is not None, "a visit is to a pallet"
    order = choose(cell, pallet)
    cell.forget()
    if order is None and pallet.load is None:
        rest_again(cell, job, pallet)
        return False
    pallet.resting_since = None
    job.setup = setup_of(order, pallet)
    seconds = cell.walk + take_off(job, pallet) + job.setup
    if order is not None:
        seconds += put_on(cell, order, job, pallet)
    if pallet.scatter is not None:
        job.factor = Fraction(next(pallet.scatter))
    job.task = Task(cell.clock, cell.stretched(seconds * job.factor))
    job.setup_share = Fraction(job.setup, seconds) if job.setup > 0 else 0
    return True


def rest_again(cell: Cell, job: Job, pallet: Pallet) -> None:
    """Its turn came and nothing may be taken: it rests from now (rule `pallets.rest`)."""
    cell.line.remove(job)
    pallet.visit = None
    pallet.resting_since = cell.now
    cell.tell(f"{pallet.name}: nothing may be taken, it rests")


def take_off(job: Job, pallet: Pallet) -> int:
    """Take the finished pieces off; seconds before `other_duties`."""
    goes, pallet.load = pallet.load, None
    job.goes = goes
    if goes is None:
        return 0
    return int(goes.pieces * goes.part.value("unload", pallet.machine.group))


def put_on(cell: Cell, order: Order, job: Job, pallet: Pallet) -> int:
    """Allot the pieces of the load; seconds before `other_duties`."""
    part, machine = order.part, pallet.machine
    open_order(cell, order)
    pieces = pieces_of_load(order, pallet)
    job.comes = Load(
        part,
        order,
        pieces,
        first=is_first_piece(order, pallet),
        awaits_proof=needs_setup(order, pallet) and part.value("prove_out", machine.group) > 0,
        attended=not (part.value("unattended") and machine.entry.get("unattended", True)),
    )
    allot(cell, order, pieces)
    if needs_setup(order, pallet):
        take_fixture(cell, order, pallet)
    pallet.order = order
    return int(pieces * part.value("load", machine.group))


def end_visit(cell: Cell, job: Job) -> None:
    """Pieces are off, the old fixture is given back; the pallet is loaded, or rests."""
    pallet = job.pallet
    assert pallet is not None, "a visit is to a pallet"
    pallet.visit = None
    cell.forget()
    if job.goes is not None:
        bring_in(cell, job.goes)
    if pallet.incoming is not None:
        pallet.fixture, pallet.incoming = pallet.incoming, None
    pallet.load = job.comes
    if job.comes is None:
        pallet.resting_since = cell.now
        cell.tell(f"{pallet.name}: rests")
    else:
        pallet.ready_since = cell.now


def bring_in(cell: Cell, load: Load) -> None:
    """Pieces are off: their order is told, the good ones lie there for the next operation."""
    load.order.take_off(load.pieces, cell.now)
    part = load.part
    if part.id in cell.stock:
        cell.stock[part.id] += load.pieces * good_share(part.entry)
