"""Visits: what is taken (rule `orders.take`), and what it takes of time (rule `people.visit`)."""

from __future__ import annotations

from fractions import Fraction

from .clock import Task
from .orders import Wanted, choose, opened_order, take_fixture
from .things import Cell, Job, Load, Order, Pallet, Part


def begin_visit(cell: Cell, job: Job) -> bool:
    """Decide what is taken and allot it. False: nothing to take off or on, so no visit."""
    pallet = job.pallet
    assert pallet is not None, "a visit is to a pallet"
    wanted = choose(cell, pallet)
    if wanted is None and pallet.load is None:
        rest_again(cell, job, pallet)
        return False
    pallet.resting_since = None
    seconds = cell.walk + take_off(job, pallet)
    setup = 0
    if wanted is not None:
        setup = change_fixture(cell, wanted.part, pallet)
        seconds += setup + put_on(cell, wanted, job, pallet)
    job.task = Task(cell.clock, cell.stretched(seconds))
    job.setup_share = Fraction(setup, seconds) if seconds else Fraction(0)
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


def change_fixture(cell: Cell, part: Part, pallet: Pallet) -> int:
    """Take the part's fixture where the pallet holds none or another; seconds of setup."""
    if pallet.fixture == part.id:
        return 0
    take_fixture(cell, part, pallet)
    return int(part.value("setup", pallet.machine.group))


def put_on(cell: Cell, wanted: Wanted, job: Job, pallet: Pallet) -> int:
    """Allot the pieces of the load; seconds before `other_duties`."""
    part, group = wanted.part, pallet.machine.group
    order = opened_order(cell, wanted)
    after_setup = pallet.incoming is not None
    first = is_first_piece(order, after_setup)
    pieces = 1 if first else min(part.value("per_pallet", group), order.left)
    proof = after_setup and part.value("prove_out", group) > 0
    job.comes = Load(part, order, pieces, first, proof)
    order.left -= pieces
    pallet.order = order
    return int(pieces * part.value("load", group))


def is_first_piece(order: Order, after_setup: bool) -> bool:
    """The load after a setup, or of an order, is one piece (rule `loads.first-piece`)."""
    part = order.part
    if part.value("first_piece") == 0:
        return False
    opens_order = order.left == order.pieces
    return after_setup or (part.value("first_piece_every") == "order" and opens_order)


def end_visit(cell: Cell, job: Job) -> None:
    """Pieces are off, the old fixture is given back; the pallet is loaded, or rests."""
    pallet = job.pallet
    assert pallet is not None, "a visit is to a pallet"
    pallet.visit = None
    if job.goes is not None:
        job.goes.order.take_off(job.goes.pieces, cell.now)
    if pallet.incoming is not None:
        pallet.fixture, pallet.incoming = pallet.incoming, None
    pallet.load = job.comes
    if job.comes is None:
        pallet.resting_since = cell.now
        cell.tell(f"{pallet.name}: rests")
    else:
        pallet.ready_since = cell.now
