"""Busy and free: what counts as a free stretch, second by second (rule `people.free`).

Seconds are those of Monday's shift, which begins at 06:00.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from cells import counted

from whatif.cell.codes import Job
from whatif.cell.model import DAY, HOUR, WEEK, Cell, MachineGroup, Making, Part, Shift
from whatif.cell.tally import Tally

SIX = 6 * HOUR
HALF = 1800
ENDLESS = Making(cycle=100 * WEEK, load=600, unload=0)


def cell(shift: Shift, *others: Shift, making: Making = ENDLESS, **part: object) -> Cell:
    """One table and one order, so that its people are free when it has been served."""
    body = Part("body", (making,), Fraction(1), batch=1)
    return Cell(
        shifts=(shift, *others),
        groups=(MachineGroup("mill"),),
        parts=(replace(body, **part),),  # type: ignore[arg-type]  # typed by hand
        walk=0,
        run_ahead=0,
    )


def shift(length: int, *breaks: tuple[int, int], days: tuple[int, ...] = (0,)) -> Shift:
    return Shift("early", days, SIX, length, breaks=breaks)


def free(cell: Cell, until: int = WEEK - SIX, since: int = -SIX) -> tuple[int, ...]:
    return counted(cell, SIX + until, since=SIX + since).free_stretches


@pytest.mark.parametrize(("length", "counts"), [(600 + HALF, HALF), (600 + HALF - 1, 0)])
def test_half_an_hour_is_enough_and_a_second_less_is_not(length: int, counts: int) -> None:
    """Visit 0-600, free to the end of the shift."""
    assert free(cell(shift(length))) == (counts,)


@pytest.mark.parametrize(("pause", "counts"), [(2400, HALF + 4200), (2399, 4201)])
def test_a_break_ends_a_stretch_and_another_begins_after_it(pause: int, counts: int) -> None:
    """Free 600-2,400 and 3,000-7,200; of a break a second earlier and as long the second alone."""
    assert free(cell(shift(7200, (pause, pause + 600)))) == (counts,)


def test_stretches_of_all_days_add_up() -> None:
    """Monday 600-4,200, Tuesday and Wednesday 0-4,200."""
    assert free(cell(shift(4200, days=(0, 1, 2)))) == (3600 + 4200 + 4200,)


def test_a_stretch_still_going_on_counts_as_soon_as_it_is_long_enough() -> None:
    one = cell(shift(7200))
    assert free(one, 600 + HALF - 1) == (0,)
    assert free(one, 600 + HALF) == (HALF,)
    # Of a window the whole of what has come to count in it, then what is added.
    assert free(one, 600 + HALF + 900, since=600 + 900) == (HALF + 900,)
    assert free(one, 600 + HALF + 900, since=600 + HALF) == (900,)


def test_who_is_in_the_middle_of_something_is_not_free_after_a_break() -> None:
    """Visit 0-300 and, after the break, 900-1,200; free 1,200-3,000."""
    assert free(cell(shift(3000, (300, 900)))) == (HALF,)
    assert free(cell(shift(2999, (300, 900)))) == (0,)
    # Nor where the shift ends before it is done.
    assert free(cell(shift(7200, (300, 900)), making=replace(ENDLESS, load=7000))) == (0,)


def test_what_a_shift_cut_off_comes_before_being_free() -> None:
    """All of Monday's 3,600 s and 1,800 s of Tuesday's; free 1,800-3,600. A second more: not."""
    long = replace(ENDLESS, load=5400)
    assert free(cell(shift(3600, days=(0, 1)), making=long)) == (HALF,)
    longer = replace(long, load=5401)
    assert free(cell(shift(3600, days=(0, 1)), making=longer)) == (0,)


ONE_PIECE = Making(cycle=600, load=600, unload=60)


@pytest.mark.parametrize(("length", "counts"), [(2260 + HALF, HALF), (2259 + HALF, 0)])
def test_bench_work_is_no_free_time(length: int, counts: int) -> None:
    """Visit 0-600, cut -1,200, visit -1,260, bench -2,260: before, 600 s free are too few."""
    assert free(cell(shift(length), making=ONE_PIECE, bench=1000)) == (counts,)


def test_bench_work_left_over_is_done_first_in_the_persons_next_shift() -> None:
    """Bench 1,260-2,600 on Monday, 660 s more on Tuesday; free 660-2,600 and all of Wednesday."""
    found = counted(cell(shift(2600, days=(0, 1, 2)), making=ONE_PIECE, bench=2000), WEEK)
    assert found.free_stretches == (1940 + 2600,)
    assert found.busy_by_job[0][Job.BENCH] == 2000
    assert found.busy == (600 + 60 + 2000,)


def test_who_changed_tools_that_others_leave_new_is_free_from_then_on() -> None:
    """Visit 0-600, free while it is cut to 6,600, visit -7,200, change from 7,200 on, which the
    others drop at 9,000, the end of their shift; free 9,000-10,800.

    In a break then: free from the end of the break on, if it does end.
    """
    slow = Making(cycle=6000, load=600, unload=0)

    def both(*breaks: tuple[int, int]) -> Tally:
        first, other = shift(10800, *breaks), replace(shift(9000), id="tools", does=("tools",))
        two = {"batch": 2, "weekly": Fraction(2), "tool_life": 1, "tool_change": 3000}
        return counted(cell(first, other, making=slow, **two), DAY)

    found = both()
    assert found.free_stretches == (6000 + HALF, 9000)
    assert found.busy_by_job[0][Job.TOOL_CHANGE] == HALF
    assert both((8900, 9100)).free_stretches == (6000, 9000)
    assert both((8900, 9000)).free_stretches == (6000 + HALF, 9000)
    assert both((8900, 10800)).free_stretches == (6000, 9000)


def test_work_in_hand_is_counted_up_to_now() -> None:
    found = counted(cell(shift(7200)), SIX + 300)
    assert found.busy == (300,)
    assert found.busy_by_job[0] == tuple(300 if job is Job.VISIT else 0 for job in Job)
    assert found.free_stretches == (0,)
    # Through a break that has begun: what was done before it.
    assert counted(cell(shift(7200, (200, 500))), SIX + 400).busy == (200,)
