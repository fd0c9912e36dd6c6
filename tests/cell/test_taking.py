"""What a pallet takes: part numbers, fixtures of each, stock in fractions (rule `orders.take`).

One person round the clock, no walks, cuts of an hour; part a is due every four hours.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from whatif.cell.codes import VISITED
from whatif.cell.model import ALL_DAYS, HOUR, WEEK, Cell, MachineGroup, Making, Part, Shift
from whatif.cell.orders import lacks_only_fixture, lacks_stock
from whatif.cell.run import Run
from whatif.cell.wanted import Order

EVERY_FOUR_HOURS = Fraction(42)


def part(id_: str, *machines: int, **changes: Any) -> Part:
    """A part of orders of one piece, made on machine 0 and on those given."""
    making = Making(cycle=HOUR, load=60, unload=60)
    groups = machines or (0,)
    made = tuple(making if place in groups else None for place in range(2))
    return replace(Part(id_, made, EVERY_FOUR_HOURS, batch=1), **changes)


def cell(*parts: Part, pallets: int = 1, lathes: int = 0, **changes: Any) -> Cell:
    return replace(
        Cell(
            shifts=(Shift("always", ALL_DAYS, 0, 24 * HOUR),),
            groups=(
                MachineGroup("mill", pallets=pallets, pallet_change=0),
                MachineGroup("lathe", count=lathes),
            ),
            parts=parts,
            walk=0,
        ),
        **changes,
    )


def run_to(of: Cell, second: int) -> Run:
    run = Run(of)
    run.advance(second)
    return run


def on_pallets(run: Run) -> list[tuple[int, int] | None]:
    """By pallet, the part and number of the order that is on it."""
    return [None if pallet.load is None else pallet.load.order for pallet in run.floor.pallets]


# --- part numbers -----------------------------------------------------------------------


def test_an_order_whose_number_has_no_fixture_is_passed_over() -> None:
    """Three numbers, one fixture of each: orders 1, 2 and 3 are of numbers 1, 2 and 0; of order 4,
    number 1 again, none is free, and with order 4 every number has been asked for."""
    run = run_to(cell(part("a", numbers=3, fixtures=1), pallets=4), 5 * 60)
    assert on_pallets(run) == [(0, 1), (0, 2), (0, 3), None]
    assert lacks_only_fixture(run.floor, run.floor.spindles[0])
    assert run.tally().most_held == (1,)


def test_a_later_order_is_opened_before_one_that_was_passed_over() -> None:
    """Two numbers with one fixture each, two pallets, orders 1 and 2. Round 10 hours pallet A has
    taken 3 and 5, number 1 both; number 2's go to B alone, 2, 4 and 6, whoever comes first."""
    run = run_to(cell(part("a", numbers=2, fixtures=1), pallets=2), 10 * HOUR)
    taken: list[set[int]] = [set(), set()]
    run = Run(run.cell)
    while run.now < 10 * HOUR:
        run.advance(run.next_event() + 1)
        for pallet in run.floor.pallets:
            if pallet.load is not None:
                taken[pallet.index].add(pallet.load.order[1])
    assert {number % 2 for number in taken[0]} == {1}
    assert {number % 2 for number in taken[1]} == {0}
    assert len(taken[0] | taken[1]) >= 9


def test_orders_passed_over_hold_up_no_number() -> None:
    """Order 1 is cut on the mill for weeks, with the fixture of number 1; the lathe goes on with
    those of number 0, an hour and two minutes each: 2, 4, .. 20 in ten hours."""
    body = part("a", 0, 1, numbers=2, fixtures=1, weekly=Fraction(1000))
    slow, quick = body.making
    assert slow is not None
    body = replace(body, making=(replace(slow, cycle=4 * WEEK), quick))
    run = run_to(cell(body, lathes=1), 10 * (HOUR + 120) + 1)
    assert run.tally().cut == (10,)
    assert on_pallets(run) == [(0, 1), (0, 20)]


@pytest.mark.parametrize(("numbers", "second"), [(1, (0, 2)), (2, (1, 1))])
def test_a_setup_is_kept_for_the_same_number_alone(numbers: int, second: tuple[int, int]) -> None:
    """Order 2 of a is due at 8 h, order 1 of b at 5: a's setup is kept, since its order before was
    due at 4, unless order 2 is of another number."""
    parts = part("a", numbers=numbers), part("b", weekly=Fraction(168, 5))
    run = run_to(cell(*parts, run_ahead=WEEK), HOUR + 5 * 60)
    assert on_pallets(run) == [second]


# --- machines that starve ---------------------------------------------------------------


def test_no_machine_starves_for_an_order_that_is_at_as_many_pallets_as_may_be() -> None:
    """An order of two is at the mill's first pallet, the one that may be at it; the lathe, which
    makes a too, could not take that order with a fixture either, and the next opens in 8 h. So none
    is kept for it: cut at 3660 s, the first pallet gets the second a with the one fixture, while b
    is cut from the other."""
    parts = part("a", 0, 1, batch=2, fixtures=1), part("b", weekly=Fraction(20))
    run = run_to(cell(*parts, pallets=2, lathes=1, run_ahead=0), HOUR + 180 + 60)
    assert run.tally().cut == (1, 0)
    assert on_pallets(run) == [(0, 1), (1, 1), None]


# --- stock ------------------------------------------------------------------------------


def sides(**changes: Any) -> tuple[Part, Part]:
    """First sides on the mill, a third of them scrap, and second sides on the lathe, in twos."""
    first = part("first", scrap=Fraction(1, 3), **changes)
    second = part("second", 1, batch=2, after=0)
    making = second.making[1]
    assert making is not None
    return first, replace(second, making=(None, replace(making, per_pallet=2)))


def test_stock_is_counted_in_exact_fractions() -> None:
    """Three firsts of which a third is scrap are two good ones, and just cover a load of two: the
    lathe's visit begins in the very second in which the third is off."""
    run = run_to(cell(*sides(), lathes=1), 60 + 2 * (HOUR + 120) + HOUR)
    assert on_pallets(run)[1] is None
    assert lacks_stock(run.floor, run.floor.spindles[1])
    run.advance(run.now + 121)
    # Off after a minute and the next one on in the second minute: stock comes when both are done.
    assert run.floor.pallets[1].at == VISITED
    assert run.floor.book.stock[0] == 0


def test_stock_at_the_start_is_used_first() -> None:
    run = run_to(cell(*sides(stock=2), lathes=1), 5 * 60)
    assert on_pallets(run) == [(0, 1), (1, 1)]


def test_no_more_seconds_than_good_firsts() -> None:
    tally = run_to(cell(*sides(weekly=Fraction(200)), lathes=3), 2 * WEEK).tally()
    firsts, seconds = tally.cut
    assert 0 < seconds <= firsts * Fraction(2, 3)


# --- copies -----------------------------------------------------------------------------


def waiting(run: Run) -> list[tuple[Order, int, int, int]]:
    """The endless orders that wait: which, pieces left, pallets at it, its opening."""
    endless = [orders.waiting for orders in run.floor.book.endless if orders is not None]
    return [(one.key, one.left, one.at, one.opened) for orders in endless for one in orders]


def test_a_copy_has_orders_fixtures_and_stock_of_its_own() -> None:
    run = run_to(cell(*sides(numbers=3, fixtures=1), pallets=2, lathes=1), 3 * HOUR)
    copied = run.copy()
    copied.advance(WEEK)
    run.advance(WEEK)
    assert copied.tally() == run.tally()
    assert waiting(copied) == waiting(run)
    assert copied.floor.book.held == run.floor.book.held
    assert copied.floor.book.stock == run.floor.book.stock
