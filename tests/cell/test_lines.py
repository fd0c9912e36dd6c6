"""Lines, queues and lots against textbook forms: a stock between two machines, one server, setups.

What is exact for pallets in a circle stands in test_closed_queue.py, its bounds in
test_queue_bounds.py.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from statistics import mean, stdev

import pytest
from cells import counted

from whatif.cell.codes import INSIDE
from whatif.cell.luck import Scatter
from whatif.cell.model import (
    DAY,
    HOUR,
    WEEK,
    Cell,
    MachineGroup,
    Making,
    Part,
    RealOrder,
    Shift,
    StopKind,
)
from whatif.cell.run import Run
from whatif.cell.states import State

ALWAYS = Shift("always", tuple(range(7)), 0, DAY, people=2)

# --- two machines with a stock between ------------------------------------------------------


def line(first: int, second: int, *stops: StopKind) -> Cell:
    """A saw and a mill, a piece at a time, handled in no time; seconds a piece."""
    return Cell(
        shifts=(ALWAYS,),
        groups=(MachineGroup("saw", pallet_change=0), MachineGroup("mill", pallet_change=0)),
        parts=(
            Part("sawn", (Making(first, 0, 0), None), Fraction(1000)),
            Part("body", (None, Making(second, 0, 0)), Fraction(1000), after=0),
        ),
        stops=stops,
        walk=0,
        to_order=False,
    )


@pytest.mark.outside(
    "Little 1961; Denning & Buzen 1978: a line makes what its slower machine makes"
)
@pytest.mark.parametrize(("first", "second"), [(600, 900), (900, 600), (700, 700)])
def test_a_line_makes_what_its_slower_machine_makes(first: int, second: int) -> None:
    """X = 1 / max(S1, S2), the asymptotic bound of an open line (from memory)."""
    slower = max(first, second)
    tally = counted(line(first, second), WEEK + 96 * slower, since=WEEK)
    assert tally.cut[1] == 96
    in_cycle = [sum(mode[State.IN_CYCLE] for mode in one) for one in tally.spent]
    # The utilization law at the second machine, and at the first one the flow of the line or, as
    # long as it may run ahead, its own pace.
    assert in_cycle[1] == 96 * second
    assert in_cycle[0] >= 95 * first


def hours(every: float, repair: float) -> StopKind:
    return StopKind("jam", round(every * HOUR), round(repair * HOUR), needs_person=False)


@pytest.mark.long
@pytest.mark.outside(
    "Buzacott & Shanthikumar 1993: two machines that stop: unlimited stock met, none passed",
    values=2,
)
def test_a_line_that_stops_lies_between_no_stock_and_stock_without_limit() -> None:
    """Machines of one pace that stop for x = repair / every of their time in cut: 1 / (1 + x1 + x2)
    where nothing may lie between them, 1 / (1 + max(x1, x2)) where anything may.

    J. A. Buzacott & J. G. Shanthikumar, Stochastic Models of Manufacturing Systems (1993), flow
    lines, from memory. The saw runs ahead by a week of orders: so the second is met. The first is
    no cell of ours, since nothing limits what may lie between, and has to be passed.
    """
    cycle, every, repair = 2400, 5.0, 1.0
    alone = 1 / (1 + repair / every)
    none = 1 / (1 + 2 * repair / every)
    # The saw is the quicker one, so that what lies between does not run dry.
    cell = line(cycle - 240, cycle, hours(every, repair))
    found = []
    for luck in range(1, 9):
        tally = counted(replace(cell, luck=luck), 8 * WEEK, since=WEEK)
        found.append(tally.cut[1] * cycle / (7 * WEEK))
    margin = 3 * stdev(found) / math.sqrt(len(found))
    assert margin < 0.03
    assert abs(mean(found) - alone) <= margin
    assert min(found) > none
    # As quick as the mill, the saw may leave it without stock: still between the two.
    even = []
    for luck in range(1, 9):
        tally = counted(
            replace(line(cycle, cycle, hours(every, repair)), luck=luck), 8 * WEEK, since=WEEK
        )
        even.append(tally.cut[1] * cycle / (7 * WEEK))
    assert none < mean(even) <= alone + margin


# --- one server, arrivals of no memory ------------------------------------------------------

EVERY, LOAD, VARIATION = 1000, 600, 0.8
"""Mean seconds between orders and of a visit, and how visits vary."""


def table_with_orders(arrivals: list[int], luck: int) -> Cell:
    """One table; an order is one piece, all of whose time is the visit, but for a second's cut."""
    return Cell(
        shifts=(ALWAYS,),
        groups=(MachineGroup("mill", pallet_change=0),),
        parts=(Part("body", (Making(1, LOAD - 1, 0),), Fraction(0)),),
        orders=tuple(RealOrder(f"o{i}", 0, 1, at, due=i) for i, at in enumerate(arrivals)),
        walk=0,
        luck=luck,
        scatter=VARIATION,
    )


def arrivals_of(seed: str, count: int) -> Iterator[int]:
    dealt, at = random.Random(seed), 0.0
    for _ in range(count):
        at += dealt.expovariate(1 / EVERY)
        yield round(at)


def begun_by_recursion(arrivals: Iterator[int], factors: Scatter) -> Iterator[tuple[int, int]]:
    """(arrived, begun) of each order: an order is begun when it is there and the one before is off.

    D. V. Lindley, Proceedings of the Cambridge Philosophical Society 48 (1952) 277-289, from
    memory. Where the table falls idle, taking off the last piece is a visit too, of no time, and
    uses up a factor (rule `people.scatter`).
    """
    free = 0
    for count, at in enumerate(arrivals):
        if count and at > free:
            factors.deal()
        begun = max(at, free)
        yield at, begun
        free = begun + math.floor((LOAD - 1) * factors.deal() + 0.5) + 1


@pytest.mark.outside("Lindley 1952: waiting times of one server, order by order")
def test_orders_wait_as_the_recursion_has_it() -> None:
    arrivals = list(arrivals_of("arrivals", 120))
    run = Run(table_with_orders(arrivals, luck=3))
    found: list[int] = []
    while len(found) < len(arrivals):
        if run.floor.book.real[len(found)].taken:
            found.append(run.now - 1)
        else:
            run.advance(run.now + 1)
    expected = begun_by_recursion(iter(arrivals), Scatter("3 1 1", VARIATION))
    assert found == [begun for _, begun in expected]


@pytest.mark.long
@pytest.mark.outside("Pollaczek & Khinchine 1930: mean wait by the recursion, M/G/1", values=2)
@pytest.mark.parametrize("variation", [0.0, VARIATION])
def test_the_mean_wait_is_pollaczek_and_khinchines(variation: float) -> None:
    """Wq = lambda E[S^2] / (2 (1 - lambda E[S])): F. Pollaczek 1930, A. Y. Khinchine 1932, as in
    any text on queues, from memory. S is the lognormal scatter of the engine's own visits, and what
    the engine makes of it is the recursion of the test before."""
    rate, batches, each = 1 / EVERY, 40, 4000
    square = (LOAD - 1) ** 2 * (1 + variation**2) + 2 * (LOAD - 1) + 1
    expected = rate * square / (2 * (1 - rate * LOAD))
    waits = []
    for batch in range(batches):
        queue = begun_by_recursion(
            arrivals_of(f"{batch}", each), Scatter(f"{batch} {variation}", variation)
        )
        waits.append(mean(begun - at for at, begun in queue))
    error = stdev(waits) / math.sqrt(batches)
    # Each batch begins with nobody waiting, which is worth a few in a thousand.
    assert error < 0.04 * expected
    assert abs(mean(waits) - expected) <= 3 * error + 0.005 * expected


# --- laws of a loop ---------------------------------------------------------------------------


@pytest.mark.outside("Little 1961: pallets in a loop = loads a second x seconds a round")
@pytest.mark.parametrize("pallets", [2, 3, 5])
def test_pallets_in_the_loop_are_rate_times_round(pallets: int) -> None:
    """N = X R, from memory (J. D. C. Little, Operations Research 9 (1961) 383-387).

    R is measured on each pallet, from one entry into the spindle to the next.
    """
    cell = Cell(
        shifts=(replace(ALWAYS, people=1),),
        groups=(MachineGroup("mill", pallets=pallets, pallet_change=30),),
        parts=(Part("body", (Making(400, 120, 60),), Fraction(1000)),),
        to_order=False,
    )
    run = Run(cell)
    run.advance(DAY)
    entered: list[list[int]] = [[] for _ in range(pallets)]
    before = run.tally()
    inside = {pallet.index for pallet in run.floor.pallets if pallet.at == INSIDE}
    # Rounds last whole tens of seconds: walk 60, load 120, unload 60, change 30, cut 400.
    for _ in range(DAY // 10):
        run.advance(run.now + 10)
        there = {pallet.index for pallet in run.floor.pallets if pallet.at == INSIDE}
        for index in there - inside:
            entered[index].append(run.now)
        inside = there
    rate = Fraction(run.tally().since(before).cut[0], DAY)
    rounds = [after - one for each in entered for one, after in pairwise(each)]
    assert len(set(rounds)) == 1
    # A load or two may be under way when the day begins and ends.
    assert abs(rate * rounds[0] - pallets) <= Fraction(2 * rounds[0], DAY)


# --- setups -----------------------------------------------------------------------------------


@pytest.mark.outside("Harris 1913: setups a year = demand / lot size", values=3)
@pytest.mark.parametrize(("weekly", "batch"), [(120, 20), (120, 10), (105, 15)])
def test_setups_are_demand_over_lot_size(weekly: int, batch: int) -> None:
    """D / Q, one for each order: F. W. Harris, "How many parts to make at once", Factory 10 (1913),
    from memory. Part numbers that follow each other on one table: each order is set up anew."""
    setup, weeks = 900, 8
    cell = Cell(
        shifts=(ALWAYS,),
        groups=(MachineGroup("mill"),),
        parts=(
            Part(
                "body",
                (Making(600, 120, 60, setup=setup),),
                Fraction(weekly),
                batch=batch,
                numbers=3,
                fixtures=1,
            ),
        ),
        walk=0,
    )
    tally = counted(cell, (2 + weeks) * WEEK, since=2 * WEEK)
    seconds = sum(mode[State.SETUP] for mode in tally.spent[0])
    assert seconds == weeks * weekly // batch * setup
    assert tally.cut == (weeks * weekly,)
