"""Laws of queues and schedules on runs of the engine: Little's law, Graham's bounds, jobs at hand.

Each side of a law is read off separately: how many there are by looking in at regular times, how
long each stays from the records that the engine keeps of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from cells import trying
from hypothesis import given
from hypothesis import strategies as st

from whatif.cell.calls import Call
from whatif.cell.codes import NOT_BEGUN, READY
from whatif.cell.model import (
    DAY,
    HOUR,
    MINUTE,
    WEEK,
    Cell,
    MachineGroup,
    Making,
    Part,
    RealOrder,
    Shift,
)
from whatif.cell.run import Run

# --- Little's law ----------------------------------------------------------------------------


def in_minutes(rule: bool) -> Cell:
    """Two machines, two people on different hours, two parts; all times whole minutes."""
    making = Making(10 * MINUTE, 2 * MINUTE, MINUTE, setup=15 * MINUTE, per_pallet=3)
    quick = Making(4 * MINUTE, 3 * MINUTE, MINUTE, setup=8 * MINUTE, per_pallet=2)
    return Cell(
        shifts=(
            Shift("early", (0, 1, 2, 3, 4), 6 * HOUR, 8 * HOUR, breaks=((2 * HOUR, 9000),)),
            Shift("late", (0, 2, 4, 5), 13 * HOUR, 6 * HOUR),
        ),
        groups=(MachineGroup("mill", 2, 4, 2, pallet_change=MINUTE),),
        parts=(
            Part("body", (making,), Fraction(700), bench=MINUTE, first_piece=20 * MINUTE),
            Part("cover", (quick,), Fraction(300), batch=10, fixtures=3),
        ),
        walk=MINUTE,
        after_shift=5 * HOUR,
        keep_setup=rule,
    )


@pytest.mark.outside("Little 1961: loads that wait for a spindle")
@pytest.mark.parametrize("rule", [True, False])
def test_loads_that_wait_for_a_spindle(rule: bool) -> None:
    """L = lambda W (J. D. C. Little, Operations Research 9 (1961) 383-387, from memory).

    L: loaded pallets outside the spindles, counted every minute. W: from the second at which the
    pallet says that it has been ready to the minute in which it goes in. Nobody waits at first.
    """
    run = Run(in_minutes(rule))
    waiting: set[int] = set()
    there = came = stayed = 0
    for minute in range(2 * WEEK // MINUTE):
        run.advance((minute + 1) * MINUTE)
        ready = {pallet.index for pallet in run.floor.pallets if pallet.at == READY}
        there += len(ready)
        came += len(ready - waiting)
        stayed += sum(minute * MINUTE - run.floor.pallets[i].since for i in waiting - ready)
        waiting = ready
    # Those that wait still have stayed so far.
    stayed += sum(run.now - run.floor.pallets[i].since for i in waiting)
    many, rate = Fraction(there * MINUTE, run.now), Fraction(came, run.now)
    assert many == rate * Fraction(stayed, came)
    assert came > 100
    assert many > Fraction(1, 2)


@pytest.mark.outside("Little 1961: visits that wait for a person")
@pytest.mark.parametrize("rule", [True, False])
def test_visits_that_wait_for_a_person(rule: bool) -> None:
    """L: visits in the line, every minute. W: from the second at which each was asked for to the
    one at which it was begun; those cut off by a shift's end, in the line again, are set aside."""
    run = Run(in_minutes(rule))
    line: dict[int, Call] = {}
    seen: dict[int, Call] = {}
    there = 0
    for minute in range(WEEK // MINUTE):
        run.advance((minute + 1) * MINUTE)
        line = {id(one): one for one in run.floor.line if one.left == NOT_BEGUN}
        seen |= line
        there += len(line)
    stayed = [(run.now if id_ in line else one.begun) - one.asked for id_, one in seen.items()]
    assert there * MINUTE == sum(stayed)
    assert len(stayed) > 100


# --- makespan ----------------------------------------------------------------------------------


def off(jobs: Sequence[int], machines: int, unit: int = 1) -> list[int]:
    """Seconds at which jobs are off that many equal tables, each job begun in the order given."""
    cell = Cell(
        shifts=(Shift("always", tuple(range(7)), 0, DAY),),
        groups=(MachineGroup("mill", machines, pallet_change=0),),
        parts=tuple(
            Part(f"p{i}", (Making(unit * job, 0, 0),), Fraction(0)) for i, job in enumerate(jobs)
        ),
        orders=tuple(RealOrder(f"o{i}", i, 1, arrives=0, due=i) for i in range(len(jobs))),
        walk=0,
    )
    run = Run(cell)
    run.advance(unit * sum(jobs) + 1)
    ends = [last for _, last in run.tally().orders]
    assert all(end is not None for end in ends)
    return [end for end in ends if end is not None]


@pytest.mark.outside("Graham 1966: least and most makespan of a list", values=2)
@trying(100)
@given(st.lists(st.integers(1, 60), min_size=1, max_size=14), st.integers(1, 5))
def test_the_last_job_is_off_within_grahams_bounds(jobs: list[int], machines: int) -> None:
    """max(longest, sum / m) <= makespan <= sum / m + (1 - 1 / m) x longest, whatever the order: R.
    L. Graham, Bell System Technical Journal 45 (1966) 1563-1581, from memory."""
    last = max(off(jobs, machines))
    even = Fraction(sum(jobs), machines)
    assert max(jobs) <= last
    assert even <= last
    assert last <= even + (1 - Fraction(1, machines)) * max(jobs)


@pytest.mark.outside("Graham 1966: worst list, 2 m - 1 against m")
@pytest.mark.parametrize("m", range(2, 7))
def test_the_worst_order_takes_nearly_twice_as_long(m: int) -> None:
    """m (m - 1) jobs of 1 and one of m: 2 m - 1 where the long one comes last, m where it is first
    (Graham 1966, from memory)."""
    short = [1] * (m * (m - 1))
    assert max(off([*short, m], m)) == 2 * m - 1
    assert max(off([m, *short], m)) == m


@pytest.mark.outside("Graham 1969: longest first, 4/3 - 1/(3 m)")
@pytest.mark.parametrize("m", range(2, 7))
def test_longest_first_at_its_worst(m: int) -> None:
    """2 m - 1, 2 m - 1, .., m + 1, m + 1, m, m, m: longest first takes 4 m - 1, the best 3 m.

    R. L. Graham, SIAM Journal on Applied Mathematics 17 (1969) 416-429, from memory: no set of jobs
    takes more than 4/3 - 1/(3 m) of the best.
    """
    jobs = [*(job for job in range(2 * m - 1, m, -1) for _ in range(2)), m, m, m]
    last = max(off(jobs, m))
    assert last == 4 * m - 1
    assert Fraction(last, 3 * m) == Fraction(4, 3) - Fraction(1, 3 * m)


# --- the textbook queue ------------------------------------------------------------------------

JOBS = {"A": (6, 8), "B": (2, 6), "C": (8, 18), "D": (3, 15), "E": (9, 23)}
"""Hours of work and due hour: J. Heizer & B. Render, Operations Management, chapter on short-term
scheduling; data as reprinted, results from memory. Flow and lateness: test_orders_rush.py."""


@pytest.mark.outside(
    "Heizer & Render: jobs at hand and utilization of three orders of five jobs", values=6
)
@pytest.mark.parametrize(
    ("order", "flow", "at_hand", "busy"),
    [
        ("ABCDE", 15.4, 2.75, 36.4),  # first come, first served
        ("BDACE", 13.0, 2.32, 43.1),  # shortest first
        ("BADCE", 13.6, 2.43, 41.2),  # earliest due date
    ],
)
def test_jobs_at_hand_on_average(order: str, flow: float, at_hand: float, busy: float) -> None:
    """Jobs in the shop, counted every hour, are the flow times over the makespan (Little's law);
    the book's "utilization" is work over flow."""
    ends = off([JOBS[job][0] for job in order], 1, unit=HOUR)
    makespan = max(ends)
    assert makespan == 28 * HOUR
    there = sum(sum(hour * HOUR < end for end in ends) for hour in range(28))
    assert f"{there / 28:.2f}" == f"{at_hand:.2f}"
    assert sum(ends) / len(ends) / HOUR == flow
    assert f"{100 * makespan / sum(ends):.1f}" == f"{busy:.1f}"
