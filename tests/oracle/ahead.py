"""Which load goes in next, and what a rush order goes ahead of there and in the line for people."""

from __future__ import annotations

from .choice import choose
from .fixtures import holders
from .things import Cell, Job, Load, Machine, Pallet


def carries_the_rush(load: Load | None) -> bool:
    """Whether these are pieces of the rush order."""
    return load is not None and load.order.kind == "rush"


def makes_way(cell: Cell, pallet: Pallet) -> bool:
    """All fixtures that the rush order wants are on loaded pallets (rule `orders.rush`)."""
    rush = cell.rush
    if rush is None or rush.arrives > cell.now or rush.left == 0:
        return False
    with_it = holders(cell, rush.fixture)
    return (
        pallet in with_it and len(with_it) >= rush.part.fixtures and all(p.loaded for p in with_it)
    )


def in_turn(cell: Cell, machine: Machine) -> list[Pallet]:
    """Loaded pallets outside the spindle: the rush order's first, then the longest ready."""

    def behind(pallet: Pallet) -> bool:
        return not carries_the_rush(pallet.load) and not makes_way(cell, pallet)

    return sorted(machine.ready(), key=behind)


def next_in(cell: Cell, machine: Machine) -> Pallet | None:
    """The pallet that goes into the spindle at this instant, as things stand now."""
    changing_tools = machine.tool_change is not None and machine.tool_change.person is not None
    if machine.spindle is not None or machine.stops or machine.one_table or changing_tools:
        return None
    for pallet in in_turn(cell, machine):
        load = pallet.load
        if load is not None and machine.has_tools(load) and cell.may_be_begun(load):
            return pallet
    return None


def is_for_the_rush(cell: Cell, job: Job) -> bool:
    """Whether this work puts on, proves, cuts or takes off pieces of the rush order.

    Or else it lets a load be cut that makes way for it.
    """
    if cell.rush is None:
        return False
    if any(carries_the_rush(load) for load in (job.comes, job.goes, job.load)):
        return True
    if job.load is not None and any(
        pallet.load is job.load and makes_way(cell, pallet) for pallet in cell.pallets
    ):
        return True
    if job.kind != "visit" or job.pallet is None or job.task is not None:
        return False
    takes = choose(cell, job.pallet)
    return carries_the_rush(job.pallet.load) or (takes is not None and takes is cell.rush)
