"""Bounds and laws of queues that the engine must keep with several machines and people.

What is exact for one machine and one person stands in test_closed_queue.py, one repairer of
constant service (Ashcroft) in test_stops.py.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from statistics import mean, stdev

import pytest
from cells import trying
from hypothesis import given
from hypothesis import strategies as st
from lengths import first_of

from whatif.cell.model import DAY, HOUR, WEEK, Cell, MachineGroup, Making, Part, Shift, StopKind
from whatif.cell.run import Run
from whatif.cell.states import State


def always(people: int) -> tuple[Shift, ...]:
    """People round the clock: what one leaves the next takes up at once."""
    return (Shift("always", days=tuple(range(7)), start=0, length=DAY, people=people),)


# --- pallets of several machines, several people ------------------------------------------------


@pytest.mark.outside("Denning & Buzen 1978: most loads of a closed queue")
@pytest.mark.outside("Lazowska et al. 1984: fewest loads of a closed queue")
@trying(120)
@given(
    machines=st.integers(1, 4),
    pallets=st.integers(1, 5),
    people=st.integers(1, 4),
    cut=st.sampled_from((97, 300, 611, 1801)),
    change=st.sampled_from((0, 30, 97)),
    load=st.sampled_from((30, 97, 450)),
)
def test_loads_lie_between_the_bounds(
    machines: int, pallets: int, people: int, cut: int, change: int, load: int
) -> None:
    """Asymptotic bounds of Denning & Buzen, "The operational analysis of queueing network models",
    ACM Computing Surveys 10 (1978) 225-261, from memory, with a pool of people.

    A load takes V of a person and D of its own machine, change included. Loads a second: at most
    people / V, machines / D, and all pallets / (D + V), which is no waiting at all. At least all
    pallets / the longest round: in its machine behind all others of the machine, and with the
    people, who serve in the order asked, behind all others of the cell. That is the pessimistic
    bound of Lazowska et al., Quantitative System Performance (1984), from memory, with a pool of
    people, which is ours.
    """
    visit, walk = 2 * load + 60, 60
    spindle = cut + (change if pallets > 1 else 0)
    everywhere = machines * pallets
    cell = Cell(
        shifts=always(people),
        groups=(MachineGroup("mill", machines, pallets, pallets, change if pallets > 1 else 0),),
        parts=(Part("body", (Making(cut, load, load),), Fraction(1000)),),
        walk=walk,
        to_order=False,
    )
    run = Run(cell)
    run.advance(DAY)
    before = sum(run.floor.counted.cut)
    run.advance(3 * DAY)
    loads = sum(run.floor.counted.cut) - before
    most = min(
        Fraction(people, visit),
        Fraction(machines, spindle),
        Fraction(everywhere, spindle + visit),
    )
    longest = pallets * spindle + ((everywhere - 1) // people + 1) * visit
    # Each pallet may be about to be counted, or just have been, when the time begins and ends.
    assert loads <= most * 2 * DAY + everywhere
    assert loads >= Fraction(everywhere, longest) * 2 * DAY - everywhere


@pytest.mark.outside("Zahorjan et al. 1982: balanced jobs, least kept, most passed", values=2)
@pytest.mark.parametrize("pallets", range(2, 9))
@pytest.mark.parametrize(("cut", "visit"), [(600, 240), (240, 240), (97, 445)])
def test_constant_times_do_no_worse_than_balanced_jobs(pallets: int, cut: int, visit: int) -> None:
    """X >= N / (D + (N - 1) Dmax): J. Zahorjan, K. C. Sevcik, D. L. Eager & B. Galler, "Balanced
    job bound analysis of queueing networks", Communications of the ACM 25 (1982) 134-141, from
    memory.

    Their upper bound, N / (D + (N - 1) Dmean), is one for exponential times: this cell's, which are
    constant, lie above it where the two stations are equally busy.
    """
    making = Making(cut, visit // 3, visit - 2 * (visit // 3))
    run = Run(
        Cell(
            shifts=always(1),
            groups=(MachineGroup("mill", pallets=pallets, pallet_change=0),),
            parts=(Part("body", (making,), Fraction(1000)),),
            walk=visit // 3,
            to_order=False,
        )
    )
    run.advance(4 * DAY)
    both, most = cut + visit, max(cut, visit)
    least = Fraction(pallets, both + (pallets - 1) * most)
    assert run.floor.counted.cut[0] >= least * 4 * DAY - pallets
    if cut == visit:
        balanced = Fraction(pallets, both + (pallets - 1) * Fraction(both, 2))
        assert run.floor.counted.cut[0] > balanced * 4 * DAY


# --- machines that stop, and people who put them right -------------------------------------------


def finite_source(machines: int, people: int, every: float, repair: float) -> float:
    """Machines running on average, M/M/c//N: births and deaths over the machines that stand.

    D. Gross & C. M. Harris, Fundamentals of Queueing Theory, finite-source queues, from memory.
    """
    weights = [1.0]
    for down in range(machines):
        comes, goes = (machines - down) / every, min(down + 1, people) / repair
        weights.append(weights[-1] * comes / goes)
    return sum((machines - down) * one for down, one in enumerate(weights)) / sum(weights)


PECK_HAZELWOOD = [
    (5, 1, 0.05, 0.989),
    (5, 1, 0.10, 0.950),
    (10, 1, 0.14, 0.680),
    (10, 2, 0.14, 0.947),
    (10, 3, 0.14, 0.991),
]
"""Machines, people, service factor U / (T + U), efficiency: the share of machines that run or are
being served. L. G. Peck & R. N. Hazelwood, Finite Queuing Tables (1958), as reprinted in J. Heizer
& B. Render, Operations Management, module on waiting lines."""

HOURS_OF_REPAIR = 2.0
SLICES = 30


def cell_that_stops(machines: int, people: int, every: float, repairs: Sequence[int]) -> Cell:
    """Endless cuts; stops with each of the repairs are equally likely, hours ``every`` in all."""
    kinds = tuple(
        StopKind(f"jam{i}", round(every * HOUR * len(repairs)), repair)
        for i, repair in enumerate(repairs)
    )
    return Cell(
        shifts=always(people),
        groups=(MachineGroup("mill", machines, pallet_change=0),),
        parts=(Part("body", (Making(500 * WEEK, 0, 0),), Fraction(1)),),
        stops=kinds,
        walk=0,
        to_order=False,
    )


def exponential(average: float) -> list[int]:
    """Seconds of repair: the means of equally likely slices of an exponential distribution."""

    def beyond(share: float) -> float:
        """The part of the mean that comes from values above those of a share of all."""
        return 0.0 if share == 1 else (1 - share) * (1 - math.log(1 - share))

    edges = [beyond(i / SLICES) for i in range(SLICES + 1)]
    return [round(average * HOUR * SLICES * (a - b)) for a, b in pairwise(edges)]


RUNS, WEEKS = 12, 13


def running(cell: Cell, runs: int = RUNS) -> list[float]:
    """Machines in cycle on average, run by run."""
    found = []
    for luck in range(1, runs + 1):
        run = Run(replace(cell, luck=luck))
        run.advance(WEEK)
        before = run.tally()
        run.advance((1 + WEEKS) * WEEK)
        spent = run.tally().since(before).spent
        in_cycle = sum(mode[State.IN_CYCLE] for one in spent for mode in one)
        found.append(in_cycle / (WEEKS * WEEK))
    return found


def between_stops(factor: float) -> float:
    """Hours in cycle between stops, T, that a service factor U / (T + U) stands for."""
    return HOURS_OF_REPAIR * (1 - factor) / factor


@pytest.mark.outside(
    "Peck & Hazelwood 1958: efficiency of machines, tabulated, as reprinted", values=5
)
@pytest.mark.outside("Gross & Harris: machines running, M/M/c//N")
@pytest.mark.parametrize(("machines", "people", "factor", "table"), first_of(PECK_HAZELWOOD))
def test_exponential_repairs_meet_the_finite_queue(
    machines: int, people: int, factor: float, table: float
) -> None:
    """The engine's repairs are constant: so there are many kinds of stop, equally likely, whose
    repairs are slices of an exponential distribution."""
    every = between_stops(factor)
    expected = finite_source(machines, people, every, HOURS_OF_REPAIR)
    # Machines served are U / T of those running.
    assert f"{expected * (1 + HOURS_OF_REPAIR / every) / machines:.3f}" == f"{table:.3f}"
    repairs = exponential(HOURS_OF_REPAIR)
    assert mean(repairs) == pytest.approx(HOURS_OF_REPAIR * HOUR, rel=1e-3)
    found = running(cell_that_stops(machines, people, every, repairs), 3 * RUNS)
    error = stdev(found) / math.sqrt(3 * RUNS)
    assert abs(mean(found) - expected) <= 3 * error
    # Runs so uneven that anything would do prove nothing.
    assert error < 0.01 * expected


@pytest.mark.outside("Gross & Harris: constant repairs between M/M/c//N and no waiting")
@pytest.mark.parametrize(
    ("machines", "people", "factor"), first_of([row[:3] for row in PECK_HAZELWOOD])
)
def test_constant_repairs_interfere_less_than_exponential_ones(
    machines: int, people: int, factor: float
) -> None:
    """Between M/M/c//N, below, and no waiting at all: N T / (T + U) and people x T / U machines.

    The form is Gross & Harris's, see `finite_source`; that even repairs make less of a queue than
    exponential ones is commonly known of queues, no source.
    """
    every = between_stops(factor)
    constant = [round(HOURS_OF_REPAIR * HOUR)]
    found = running(cell_that_stops(machines, people, every, constant))
    margin = 3 * stdev(found) / math.sqrt(RUNS)
    least = finite_source(machines, people, every, HOURS_OF_REPAIR)
    most = min(machines * (1 - factor), people * every / HOURS_OF_REPAIR)
    assert least - margin <= mean(found) <= most + margin
    assert margin < 0.03 * least


@pytest.mark.outside("Lazowska et al. 1984: bounds of a queue with time to think", values=2)
@pytest.mark.parametrize(("machines", "people", "factor"), [(5, 1, 0.1), (10, 1, 0.14)])
def test_stops_with_one_person_lie_between_balanced_job_bounds(
    machines: int, people: int, factor: float
) -> None:
    """With N running for Z between stops and one station of D: X from N / (D + Z + (N - 1) D / (1 +
    Z / (N D))) to N / (D + Z + (N - 1) D / (1 + Z / D)), and 1 / D.

    E. D. Lazowska, J. Zahorjan, G. S. Graham & K. C. Sevcik, Quantitative System Performance,
    1984, chapter on bounds, from memory.
    """
    run_for, repair = between_stops(factor), HOURS_OF_REPAIR

    def stops(share: float) -> float:
        return machines / (repair + run_for + (machines - 1) * repair * share)

    least = stops(1 / (1 + run_for / (machines * repair)))
    most = min(1 / repair, stops(1 / (1 + run_for / repair)))
    exact = finite_source(machines, people, run_for, repair) / run_for
    assert least <= exact <= most
    found = running(cell_that_stops(machines, people, run_for, exponential(repair)))
    margin = 3 * stdev(found) / math.sqrt(RUNS)
    assert least <= (mean(found) + margin) / run_for
    assert (mean(found) - margin) / run_for <= most


@pytest.mark.outside("IEC 60050-192: availability = up / (up + down)")
def test_a_person_for_each_machine_makes_all_repairs_alike() -> None:
    """Nobody waits, and only the mean matters: T / (T + U) of each, whatever the distribution
    (IEC 60050-192, availability, from memory)."""
    for repairs in ([2 * HOUR], exponential(2), [60, 4 * HOUR - 60]):
        found = running(cell_that_stops(3, 3, 8, repairs))
        # Of 12 runs a mean lies beyond 3 errors once in 80 times, beyond 4 once in 500.
        margin = 4 * stdev(found) / math.sqrt(RUNS)
        assert abs(mean(found) - 3 * 0.8) <= margin < 0.03 * 3 * 0.8
