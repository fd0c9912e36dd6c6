"""A load takes no more work in a large cell than in a small one, counted in calls, not in time."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from types import FrameType
from typing import Any

import pytest
from support.effort import lines_run

import whatif.cell.run
from whatif.cell.at_hand import AtHand
from whatif.cell.book import new_book
from whatif.cell.model import HOUR, WEEK, Cell, MachineGroup, Making, Part, RealOrder, Shift
from whatif.cell.run import Run

pytestmark = pytest.mark.skipif(
    not str(whatif.cell.run.__file__).endswith(".py"), reason="compiled, nobody can count its calls"
)


def cell(machines: int = 2, pallets: int = 4, parts: int = 5, people: int = 1) -> Cell:
    """Made flat out in one shift of twenty hours, a piece a load, seldom two things at a second."""
    made = []
    for i in range(parts):
        making = Making(cycle=1800 + 37 * i, load=120 + i, unload=60, setup=300)
        made.append(Part(f"part{i}", (making,), Fraction(40 + i % 7), batch=5, at_once=99))
    return Cell(
        shifts=(Shift("early", tuple(range(7)), 0, 20 * HOUR, people),),
        groups=(MachineGroup("mill", machines, pallets),),
        parts=tuple(made),
        to_order=False,
    )


def calls_a_load(tried: Cell, week: int = 1) -> float:
    """Calls of functions, our own and built in, in a week, for each load cut in it.

    Args:
        week: which one, the first is 0.
    """
    run = Run(tried)
    run.advance(week * WEEK)
    before = sum(run.tally().cut)
    counted = calls_of(lambda: run.advance((week + 1) * WEEK))
    return counted / (sum(run.tally().cut) - before)


def calls_of(work: Callable[[], object]) -> int:
    """Calls of functions, our own and built in, while something is done."""
    counted = 0

    def count(frame: FrameType, event: str, arg: Any) -> None:
        nonlocal counted
        counted += event in ("call", "c_call")

    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(None)
    return counted


def test_a_run_is_begun_with_as_few_calls_a_part_of_many_as_of_few() -> None:
    small, large = cell(parts=10), cell(parts=50)
    few, many = calls_of(lambda: new_book(small)) / 10, calls_of(lambda: new_book(large)) / 50
    assert many <= 1.25 * few


@pytest.mark.long
@pytest.mark.parametrize(
    ("few", "many"),
    [
        (cell(machines=2, people=1), cell(machines=16, people=8)),
        (cell(machines=1, pallets=4), cell(machines=1, pallets=64)),
        (cell(parts=5), cell(parts=50)),
    ],
    ids=["machines", "pallets", "parts"],
)
def test_a_load_takes_as_much_work_in_a_large_cell_as_in_a_small_one(few: Cell, many: Cell) -> None:
    small, large = calls_a_load(few), calls_a_load(many)
    assert 0.8 * small <= large <= 1.25 * small


def test_resting_pallets_cost_nothing_while_all_of_them_lack_the_same() -> None:
    """Two pallets at a time hold the fixtures of a part; the others rest, and are not asked."""

    def short(pallets: int) -> Cell:
        tried = cell(machines=1, pallets=pallets, parts=1)
        return replace(tried, parts=(replace(tried.parts[0], fixtures=2, at_once=99),))

    assert calls_a_load(short(64)) <= 1.25 * calls_a_load(short(8))


@pytest.mark.long
def test_what_is_asked_for_at_one_instant_is_not_sorted_whenever_somebody_is_free() -> None:
    """At the begin of a run all pallets ask at once, here for one person."""
    few, many = cell(machines=8, pallets=4), cell(machines=8, pallets=48)
    assert calls_a_load(many, week=0) <= 1.25 * calls_a_load(few, week=0)


def lines_a_load(tried: Cell) -> float:
    """Lines of Python run in the second week, for each load cut in it."""
    run = Run(tried)
    run.advance(WEEK)
    before = sum(run.tally().cut)
    lines = lines_run(lambda: run.advance(2 * WEEK))
    return lines / (sum(run.tally().cut) - before)


def test_visits_that_go_on_with_their_orders_let_no_pallet_at_rest_be_looked_at() -> None:
    """Two fixtures a part: of 4 pallets none rests for long, of 64 more than fifty always do."""

    def short(pallets: int) -> Cell:
        tried = cell(machines=1, pallets=pallets)
        parts = tuple(replace(part, batch=20, at_once=1, fixtures=2) for part in tried.parts)
        return replace(tried, parts=parts)

    assert lines_a_load(short(64)) <= 1.25 * lines_a_load(short(4))


@pytest.mark.long
def test_a_load_takes_as_much_work_with_a_thousand_real_orders_as_with_ten() -> None:
    """A thousand that arrive in five weeks, of a piece each."""

    def ordered(orders: int) -> Cell:
        each = 5 * WEEK // orders
        real = tuple(
            RealOrder(f"order{i}", i % 5, 1, arrives=i * each, due=i * each + 30 * HOUR)
            for i in range(orders)
        )
        return replace(cell(), orders=real)

    assert lines_a_load(ordered(1000)) <= 1.25 * lines_a_load(ordered(10))


@pytest.mark.long
def test_at_a_border_of_hours_machines_that_wait_for_a_person_are_not_looked_at() -> None:
    """One person, who has a break in each hour, for two machines and for thirty-two."""

    def interrupted(machines: int) -> Cell:
        tried = cell(machines=machines, people=1)
        breaks = tuple((hour * HOUR, hour * HOUR + 300) for hour in range(2, 19))
        return replace(tried, shifts=(replace(tried.shifts[0], breaks=breaks),))

    assert lines_a_load(interrupted(32)) <= 1.3 * lines_a_load(interrupted(2))


@pytest.mark.long
@pytest.mark.parametrize("to_order", [False, True], ids=["flat out", "to order"])
def test_a_part_comes_to_its_turn_without_a_look_at_all_parts(to_order: bool) -> None:
    """Orders of two pieces of parts that are all due alike, some always too early to be opened."""

    def mixed(parts: int) -> Cell:
        tried = cell(machines=4, parts=parts)
        each = Fraction(1600, parts)
        made = tuple(replace(part, weekly=each, batch=2, at_once=1) for part in tried.parts)
        return replace(tried, parts=made, to_order=to_order, run_ahead=8 * HOUR)

    assert lines_a_load(mixed(50)) <= 1.1 * lines_a_load(mixed(5))


@pytest.mark.long
def test_when_time_opens_an_order_is_known_without_a_look_at_all_parts() -> None:
    """Pallets rest most of the time: less is wanted than the machines might make."""

    def slack(parts: int) -> Cell:
        tried = cell(machines=4, parts=parts)
        made = tuple(
            replace(part, weekly=Fraction(300 + i, parts), batch=1, at_once=1)
            for i, part in enumerate(tried.parts)
        )
        return replace(tried, parts=made, to_order=True, run_ahead=8 * HOUR)

    assert lines_a_load(slack(50)) <= 1.1 * lines_a_load(slack(5))


def test_real_orders_that_are_on_pallets_or_made_elsewhere_are_not_looked_through() -> None:
    """Orders of many pieces, each on a pallet, and a group with so many orders of its own."""

    def ordered(orders: int) -> Cell:
        tried = cell(machines=1, pallets=4)
        mill, lathe = tried.groups[0], MachineGroup("lathe", 1, 64)
        turned = Part("turned", (None, Making(cycle=1800, load=120, unload=60)), Fraction(0))
        made = tuple(replace(part, making=(*part.making, None)) for part in tried.parts)
        real = tuple(RealOrder(f"order{i}", len(made), 99, arrives=0) for i in range(orders))
        return replace(tried, groups=(mill, lathe), parts=(*made, turned), orders=real)

    assert lines_a_load(ordered(1000)) <= 1.1 * lines_a_load(ordered(100))


def test_rush_orders_that_are_off_or_never_come_cost_nothing() -> None:
    """Two that come at once, and others that nobody lets arrive."""

    def rushed(orders: int) -> Cell:
        arrive = [HOUR, HOUR, None, *[None] * orders]
        real = tuple(
            RealOrder(f"rush{i}", 0, 1, arrives=arrives, rush=True)
            for i, arrives in enumerate(arrive[:orders])
        )
        return replace(cell(), orders=real)

    assert lines_a_load(rushed(1000)) <= 1.05 * lines_a_load(rushed(3))


class Looked(list[int]):
    """A list that counts how often somebody looks at one of its places."""

    looks = 0

    def __getitem__(self, place: Any) -> Any:
        self.looks += 1
        return super().__getitem__(place)


def test_a_real_order_finds_its_place_without_a_look_at_the_ranks_of_others() -> None:
    """A thousand arrive, the last one due first, get room, and are loaded."""
    count = 1000
    ranks = Looked(reversed(range(count)))
    at_hand = AtHand(
        rank=ranks,
        ranked=list(reversed(range(count))),
        made=[[0]] * count,
        orders=[],
        room=[[]],
        has_room=[False] * count,
        rushes=[],
        rushing=[],
    )
    for place in range(count):
        at_hand.arrives(place, rush=True)
        at_hand.notes_room(place, room=True)
    assert at_hand.orders == at_hand.rushes == at_hand.room[0] == list(range(count))
    for place in range(count):
        at_hand.is_loaded(place, rush=True)
        at_hand.notes_room(place, room=False)
    assert at_hand.orders == at_hand.rushes == at_hand.room[0] == []
    assert ranks.looks <= 4 * count


def test_visits_that_go_on_with_real_orders_let_no_pallet_at_rest_be_looked_at() -> None:
    """Two fixtures a part: of 64 pallets more than fifty rest, while orders lack a fixture."""

    def short(pallets: int) -> Cell:
        tried = cell(machines=1, pallets=pallets)
        parts = tuple(
            replace(part, at_once=1, fixtures=2, weekly=Fraction(0)) for part in tried.parts
        )
        real = tuple(RealOrder(f"order{i}", i % 5, 99, arrives=0, due=i) for i in range(30))
        return replace(tried, parts=parts, orders=real)

    assert lines_a_load(short(64)) <= 1.25 * lines_a_load(short(4))


def test_real_orders_are_copied_with_few_calls() -> None:
    real = tuple(RealOrder(f"order{i}", 0, 1, arrives=0) for i in range(1000))
    book = new_book(replace(cell(), orders=real))
    assert calls_of(book.copy) <= 3 * len(real)
