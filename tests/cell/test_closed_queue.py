"""Closed forms that a cell without luck must meet: pallets in a circle, one person for many.

The bounds of closed queues are those of Denning & Buzen, "The operational analysis of queueing
network models", ACM Computing Surveys 10 (1978) 225-261, from memory: with N circulating, stations
of D1 and D2 and a delay Z, no more than 1 / max(D1, D2) and no more than N / (D1 + D2 + Z) a
second. Where every time is constant the smaller of the two is reached. Every pallet then comes
round once in P = max(N x max(D1, D2), D1 + D2 + Z), so a window of m x P, whenever it begins, holds
exactly m x N loads: that is asserted, not a rate within a tolerance.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from lengths import first_of

from whatif.cell.codes import Job
from whatif.cell.model import DAY, WEEK, Cell, MachineGroup, Making, Part, Shift
from whatif.cell.run import Run
from whatif.cell.states import State
from whatif.cell.tally import Tally

ALWAYS = Shift("always", days=tuple(range(7)), start=0, length=DAY)
"""One person after the other, round the clock: what one leaves the next takes up at once."""


def circle(pallets: int, cut: int, visit: int, delay: int = 0, pieces: int = 1) -> Cell:
    """Pallets between one machine and one person; seconds a load.

    A fifth of the visit is walking, the rest loading and unloading. The delay is the release of a
    first piece: every order is one piece, and each is released in hours that never end.
    """
    walk = visit // 5
    by_piece = (visit - walk) // pieces
    load = by_piece // 3
    assert walk + pieces * by_piece == visit
    assert cut % pieces == 0
    return Cell(
        shifts=(ALWAYS,),
        groups=(MachineGroup("mill", pallets=pallets, pallet_change=0),),
        parts=(
            Part(
                "body",
                (Making(cut // pieces, load, by_piece - load, per_pallet=pieces),),
                weekly=Fraction(1000),
                batch=1 if delay else 20 * pieces,
                first_piece=delay,
                first_piece_each_order=True,
            ),
        ),
        walk=walk,
        to_order=False,
    )


SETTLE = 2 * DAY
"""After so long every cell here has come into its swing: a queue in front of the slower of machine
and person fills or drains by the difference of their times a load."""
MEASURED = DAY


def window(cell: Cell, seconds: int) -> Tally:
    """What is counted in so many seconds once the cell has settled."""
    run = Run(cell)
    run.advance(SETTLE)
    before = run.tally()
    run.advance(SETTLE + seconds)
    return run.tally().since(before)


def rounds(pallets: int, cut: int, visit: int, delay: int = 0) -> tuple[int, int]:
    """(P, m): the time in which each pallet comes round once, and how often it is measured."""
    once = max(pallets * max(cut, visit), cut + visit + delay)
    return once, MEASURED // once


# --- pallets in a circle ----------------------------------------------------------------

TIMES = [
    (600, 240),  # the machine is the bottleneck from two pallets on
    (250, 240),
    (240, 240),  # nobody is
    (240, 250),
    (97, 445),  # the person is
    (1801, 60),
]


@pytest.mark.outside("Denning & Buzen 1978: loads of constant times, min(1 / D, N / R)")
@pytest.mark.parametrize(("cut", "visit"), TIMES)
@pytest.mark.parametrize("pallets", first_of([1, 2, 5, 3, 4, 6, 7, 8], 3))
def test_pallets_between_a_machine_and_a_person(pallets: int, cut: int, visit: int) -> None:
    """min(1 / max(D1, D2), N / (D1 + D2)) loads a second.

    One pallet is the machine's table; its visit happens in the machine, which is 1 / (D1 + D2)
    all the same.
    """
    once, times = rounds(pallets, cut, visit)
    counted = window(circle(pallets, cut, visit), times * once)
    assert counted.cut == (times * pallets,)
    rate = min(Fraction(1, max(cut, visit)), Fraction(pallets, cut + visit))
    assert Fraction(counted.cut[0], counted.seconds) == rate


# The knee, N at which the bounds meet: 1 + (D_small + Z) / D_large.
DELAYS = [
    (600, 240, 1560),  # knee at exactly 4
    (600, 240, 1500),  # just below 4
    (600, 240, 1620),  # just above 4
    (240, 600, 700),
    (240, 240, 1000),
    (97, 445, 14_400),  # far beyond 8
]


@pytest.mark.outside("Denning & Buzen 1978: the same with a delay, and its knee")
@pytest.mark.parametrize(("cut", "visit", "delay"), DELAYS)
@pytest.mark.parametrize("pallets", first_of([1, 3, 4, 5, 2, 6, 7, 8], 4))
def test_pallets_that_also_wait_for_a_release(
    pallets: int, cut: int, visit: int, delay: int
) -> None:
    """min(1 / max(D1, D2), N / (D1 + D2 + Z)) loads a second."""
    once, times = rounds(pallets, cut, visit, delay)
    counted = window(circle(pallets, cut, visit, delay), times * once)
    assert counted.cut == (times * pallets,)
    rate = min(Fraction(1, max(cut, visit)), Fraction(pallets, cut + visit + delay))
    assert Fraction(counted.cut[0], counted.seconds) == rate


@pytest.mark.parametrize("pallets", range(1, 9))
def test_loads_of_several_pieces_circulate_as_one(pallets: int) -> None:
    once, times = rounds(pallets, 600, 240)
    counted = window(circle(pallets, 600, 240, pieces=3), times * once)
    assert counted.cut == (3 * times * pallets,)


@pytest.mark.parametrize("keep_setup", [True, False])
@pytest.mark.parametrize("pallets", range(1, 9))
def test_two_equal_parts_circulate_as_one(pallets: int, keep_setup: bool) -> None:
    """Equal parts without setups: no order ever blocks, so which is taken does not matter."""
    one = circle(pallets, 600, 240)
    (body,) = one.parts
    two = Cell(
        shifts=one.shifts,
        groups=one.groups,
        parts=(body, Part("cover", body.making, body.weekly, batch=7)),
        walk=one.walk,
        keep_setup=keep_setup,
    )
    once, times = rounds(pallets, 600, 240)
    counted = window(two, times * once)
    assert sum(counted.cut) == times * pallets
    # In a week both are made, whether by turns or one setup after the other.
    assert min(window(two, WEEK).cut) > 0


@pytest.mark.outside("Denning & Buzen 1978: utilization law, machine and person", values=2)
def test_busy_times_follow_from_the_rate() -> None:
    """The utilization law (Denning & Buzen 1978, from memory): U = X x D at both stations."""
    once, times = rounds(2, 600, 240)
    counted = window(circle(2, 600, 240), times * once)
    in_cycle = sum(mode[State.IN_CYCLE] for mode in counted.spent[0])
    assert Fraction(in_cycle, counted.seconds) == 1
    assert Fraction(sum(counted.busy), counted.seconds) == Fraction(240, 600)


# --- machines served by one person ------------------------------------------------------


def tables(count: int, service: int, cut: int, walk_after: int = 0, walk: int = 0) -> Cell:
    """Identical tables and one person.

    ``walk_after`` is the way to the next machine while this one already cuts, as the
    textbooks have it; rule `people.bench` says so as bench work. ``walk`` is the book's own, with
    the machine standing.
    """
    unload = service // 3
    return Cell(
        shifts=(ALWAYS,),
        groups=(MachineGroup("mill", count=count, pallet_change=0),),
        parts=(
            Part(
                "body", (Making(cut, service - unload, unload),), Fraction(1000), bench=walk_after
            ),
        ),
        walk=walk,
        to_order=False,
    )


def pieces_in_rounds(cell: Cell, count: int, of_machine: int, of_person: int) -> tuple[Tally, int]:
    """The tally of m rounds of all machines, and m; seconds per piece of each side."""
    once = max(of_machine, count * of_person)
    times = MEASURED // once
    return window(cell, times * once), times


# Machines and one person, in hundredths of a minute, which the engine takes for seconds: only
# ratios count.
NIEBEL = (141, 434, 8)
"""l 1.41, m 4.34, w .08 min: synchronous service, Niebel, Motion and Time Study, from memory."""
GROOVER = (35, 190, 15)
"""Service .35, cycle 1.90, walk .15 min: machine cluster, Groover, Automation, Production Systems
and Computer-Integrated Manufacturing; the statement was read in the source, the answers computed.
"""


@pytest.mark.outside("Niebel: machines for one person, 3.859")
@pytest.mark.outside("Groover: machines for one person, 4.5")
@pytest.mark.parametrize(("times_of", "machines"), [(NIEBEL, "3.859"), (GROOVER, "4.500")])
@pytest.mark.parametrize("count", first_of([4, 5, 1, 2, 3, 6, 7, 8], 2))
def test_the_person_limits_above_n_machines_and_the_machines_below(
    times_of: tuple[int, int, int], machines: str, count: int
) -> None:
    """n = (l + m) / (l + w): 3.859 (Niebel, from memory), 4.5 (Groover, computed)."""
    service, cut, walk = times_of
    of_machine, of_person = service + cut, service + walk
    n = Fraction(of_machine, of_person)
    assert f"{float(n):.3f}" == machines
    cell = tables(count, service, cut, walk_after=walk)
    counted, times = pieces_in_rounds(cell, count, of_machine, of_person)
    assert counted.cut == (count * times,)
    rate = Fraction(counted.cut[0], counted.seconds)
    idle = 1 - Fraction(sum(counted.busy), counted.seconds)
    if count < n:
        assert rate == Fraction(count, of_machine)
        assert idle == 1 - count / n > 0
    else:
        assert rate == Fraction(1, of_person)
        assert idle == 0


@pytest.mark.outside("Groover: machines that leave the person idle, 4")
@pytest.mark.long
def test_four_machines_are_the_most_that_leave_the_person_idle() -> None:
    """Groover's cluster: the whole number below 4.5 (computed)."""
    service, cut, walk = GROOVER
    idle = []
    for count in range(1, 9):
        cell = tables(count, service, cut, walk_after=walk)
        counted, _ = pieces_in_rounds(cell, count, service + cut, service + walk)
        idle.append(counted.seconds - sum(counted.busy))
    assert [count for count, seconds in enumerate(idle, 1) if seconds > 0] == [1, 2, 3, 4]


@pytest.mark.outside("Niebel: cost of a piece with 3 and with 4 machines", values=2)
@pytest.mark.parametrize(("count", "cost"), [(3, "2.4917"), (4, "2.4833")])
def test_cost_of_a_piece_with_three_and_with_four_machines(count: int, cost: str) -> None:
    """K1 = 12 for the person, K2 = 22 for a machine, an hour: Niebel, from memory."""
    service, cut, walk = NIEBEL
    cell = tables(count, service, cut, walk_after=walk)
    counted, _ = pieces_in_rounds(cell, count, service + cut, service + walk)
    hours = Fraction(counted.seconds, 60 * 100)
    assert f"{float((12 + count * 22) * hours / counted.cut[0]):.4f}" == cost


@pytest.mark.parametrize("count", range(1, 9))
def test_walking_to_a_standing_machine_moves_the_knee(count: int) -> None:
    """A visit's own walk is time of both: the machines limit below (w + l + m) / (w + l)."""
    service, cut, walk = NIEBEL
    of_machine, of_person = walk + service + cut, walk + service
    cell = tables(count, service, cut, walk=walk)
    counted, times = pieces_in_rounds(cell, count, of_machine, of_person)
    assert counted.cut == (count * times,)
    assert counted.busy_by_job[0][Job.VISIT] == counted.cut[0] * of_person
