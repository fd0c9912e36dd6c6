"""A run may be advanced in any steps, copied on its way and remembered by what it ran."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from cells import cell_of, few, small_cell, stopping_cells
from hypothesis import given
from hypothesis import strategies as st
from oracle.specs import Spec, cells

from whatif.cell.model import (
    DAY,
    HOUR,
    WEEK,
    Cell,
    RealOrder,
)
from whatif.cell.run import Run
from whatif.cell.tally import Tally
from whatif.session.calculate.memory import Memory

END = 2 * WEEK

sizes = st.sampled_from((0, 1, 2, 59, 1800, HOUR, 12_345, DAY, 100_003, 400_001))
instants = st.builds(
    lambda day, second: day * DAY + second, st.sampled_from(range(14)), st.integers(0, DAY - 1)
)


def in_one_go(cell: Cell) -> Tally:
    run = Run(cell)
    run.advance(END)
    return run.tally()


# --- steps ------------------------------------------------------------------------------


@few
@given(cells(), st.lists(sizes, min_size=3, max_size=30))
def test_steps_of_any_size_lead_to_the_same_as_one_go(spec: Spec, steps: list[int]) -> None:
    cell = cell_of(spec)
    run = Run(cell)
    for size in steps:
        run.advance(min(run.now + size, END))
    run.advance(END)
    assert run.now == END
    assert run.tally() == in_one_go(cell)


def test_single_seconds_lead_to_the_same_as_one_go() -> None:
    run, other = Run(small_cell()), Run(small_cell())
    start = 6 * HOUR
    run.advance(start)
    for second in range(start, start + 3 * HOUR):
        run.advance(second + 1)
    other.advance(start + 3 * HOUR)
    assert run.tally() == other.tally()
    assert sum(run.floor.counted.cut) > 0


def test_looking_at_a_run_does_not_move_it() -> None:
    run = Run(small_cell())
    for day in range(1, 15):
        run.advance(day * DAY)
        assert run.tally() == run.tally()
        assert run.tally().seconds == day * DAY
    assert run.tally() == in_one_go(small_cell())


def test_two_windows_make_up_the_whole() -> None:
    run = Run(small_cell())
    run.advance(WEEK)
    first = run.tally()
    run.advance(END)
    whole = run.tally()
    second = whole.since(first)
    assert second.seconds == WEEK
    assert first.cut[0] + second.cut[0] == whole.cut[0] > first.cut[0] > 0
    assert [a + b for a, b in zip(first.busy, second.busy, strict=True)] == list(whole.busy)


# --- copies -----------------------------------------------------------------------------


@few
@given(stopping_cells(), instants, instants)
def test_a_copy_and_its_original_go_on_equally(spec: Spec, at: int, apart: int) -> None:
    cell = cell_of(spec)
    run = Run(cell)
    run.advance(at)
    then = run.tally()
    copied = run.copy()
    assert copied.cell is cell
    copied.advance(END)
    # The original has not been moved by what its copy went through ...
    assert (run.now, run.tally()) == (at, then)
    # ... nor is the copy moved by the original, which stops somewhere else on its way.
    reached = copied.tally()
    run.advance(max(at, apart))
    run.advance(END)
    assert run.tally() == copied.tally() == reached == in_one_go(cell)


def test_a_copy_meets_the_same_stops() -> None:
    run = Run(small_cell())
    run.advance(6 * HOUR + 2 * HOUR + 7)
    copied = run.copy()
    run.advance(END)
    assert copied.now == 6 * HOUR + 2 * HOUR + 7
    copied.advance(END)
    assert copied.tally() == run.tally()
    assert copied.floor.spindles[0].to_stop == run.floor.spindles[0].to_stop
    # Stops there are, or the equality would say little.
    without = in_one_go(small_cell(stops=()))
    assert run.tally().cut != without.cut


def test_a_copy_keeps_the_real_orders_on_hand() -> None:
    cell = small_cell(
        orders=(
            RealOrder("small", part=1, pieces=9, arrives=8 * HOUR, due=2 * DAY),
            RealOrder("rush", part=0, pieces=4, arrives=DAY + 9 * HOUR, due=DAY, rush=True),
        )
    )
    run = Run(cell)
    run.advance(DAY + 10 * HOUR)  # the one is under way, the other has just come
    copied = run.copy()
    run.advance(END)
    assert [order.last_off for order in copied.floor.book.real] != [
        order.last_off for order in run.floor.book.real
    ]
    copied.advance(END)
    assert copied.tally() == run.tally() == in_one_go(cell)
    ends = [order.last_off for order in run.floor.book.real]
    assert [order.last_off for order in copied.floor.book.real] == ends
    assert None not in ends


def test_copies_of_copies_keep_their_own_second() -> None:
    run = Run(small_cell())
    seen = []
    for day in range(1, 15):
        seen.append(run.copy())
        run.advance(day * DAY)
    assert [one.now for one in seen] == [day * DAY for day in range(14)]
    for one in seen:
        one.advance(END)
    assert {one.tally() for one in seen} == {run.tally()}


# --- equal cells ------------------------------------------------------------------------


@few
@given(cells())
def test_equal_cells_have_equal_tallies(spec: Spec) -> None:
    one, other = cell_of(spec), cell_of(spec)
    assert one is not other
    assert (one, hash(one)) == (other, hash(other))
    assert in_one_go(one) == in_one_go(other)


def test_other_luck_is_another_run() -> None:
    tallies = {in_one_go(small_cell(luck=luck)) for luck in range(1, 6)}
    assert len(tallies) == 5


def test_without_stops_luck_changes_nothing() -> None:
    tallies = {in_one_go(small_cell(stops=(), luck=luck)) for luck in range(1, 4)}
    assert len(tallies) == 1


# --- memory -----------------------------------------------------------------------------


def windows(memory: Memory, cell: Cell, warm_up: int, weeks: int) -> Tally:
    """The window as a plain run gives it, held against what the memory says."""
    run = Run(cell)
    run.advance(warm_up * WEEK)
    before = run.tally()
    run.advance((warm_up + weeks) * WEEK)
    assert memory(cell, warm_up, weeks) == run.tally().since(before)
    return memory(cell, warm_up, weeks)


@pytest.mark.parametrize(("warm_up", "weeks"), [(0, 1), (1, 1), (2, 3)])
def test_memory_measures_the_weeks_after_the_warm_up(warm_up: int, weeks: int) -> None:
    assert windows(Memory(), small_cell(), warm_up, weeks).seconds == weeks * WEEK


def test_memory_knows_an_equal_cell_again() -> None:
    memory = Memory()
    first = memory(small_cell(), 1, 1)
    assert memory.ran == 1
    assert memory(small_cell(), 1, 1) is first
    assert memory.ran == 1


@pytest.mark.parametrize(
    ("cell", "warm_up", "weeks"),
    [
        (small_cell(walk=61), 1, 1),
        (small_cell(luck=2), 1, 1),
        (small_cell(), 0, 1),
    ],
)
def test_memory_runs_what_differs(cell: Cell, warm_up: int, weeks: int) -> None:
    memory = Memory()
    first = memory(small_cell(), 1, 1)
    assert memory(cell, warm_up, weeks) != first
    assert memory.ran == 2


def test_memory_goes_on_with_a_run_of_which_more_weeks_are_asked_for() -> None:
    calls: list[int] = []
    memory = Memory(between_weeks=counting(calls, up_to=99))
    memory(small_cell(), 1, 1)
    windows(memory, small_cell(), 1, 4)
    windows(memory, small_cell(), 2, 3)
    assert (memory.ran, len(calls)) == (1, 5)
    # A week that was passed without a look is past.
    windows(memory, small_cell(), 3, 2)
    assert (memory.ran, len(calls)) == (2, 8)


def test_memory_keeps_few_runs_going() -> None:
    memory = Memory(going=1)
    memory(small_cell(walk=10), 0, 1)
    memory(small_cell(walk=20), 0, 1)
    windows(memory, small_cell(walk=10), 0, 2)
    assert memory.ran == 3


def test_memory_forgets_what_was_asked_for_longest_ago() -> None:
    memory = Memory(most=2)
    for walk in (10, 20):
        memory(small_cell(walk=walk), 0, 1)
    memory(small_cell(walk=10), 0, 1)  # asked for again, so 20 is now the older
    memory(small_cell(walk=30), 0, 1)
    assert memory.ran == 3
    memory(small_cell(walk=10), 0, 1)
    assert memory.ran == 3
    memory(small_cell(walk=20), 0, 1)
    assert memory.ran == 4


class GivenUp(Exception):
    """A newer question has come."""


def counting(calls: list[int], up_to: int) -> Callable[[], None]:
    """Counts the calls, and gives up at one of them."""

    def between_weeks() -> None:
        calls.append(len(calls) + 1)
        if calls[-1] == up_to:
            raise GivenUp

    return between_weeks


def test_memory_asks_before_every_week_and_not_for_what_it_knows() -> None:
    calls: list[int] = []
    memory = Memory(between_weeks=counting(calls, up_to=99))
    memory(small_cell(), 2, 3)
    memory(small_cell(), 2, 3)
    assert calls == [1, 2, 3, 4, 5]


@pytest.mark.parametrize("week", [1, 3, 5])
def test_a_run_given_up_leaves_nothing_behind(week: int) -> None:
    calls: list[int] = []
    memory = Memory(between_weeks=counting(calls, up_to=week))
    with pytest.raises(GivenUp):
        memory(small_cell(), 2, 3)
    assert (memory.ran, len(calls)) == (0, week)
    # Asked for again it is run from its begin, not taken for known.
    assert memory(small_cell(), 2, 3) == Memory()(small_cell(), 2, 3)
    assert (memory.ran, len(calls)) == (1, week + 5)
