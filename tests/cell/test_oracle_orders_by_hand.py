"""Orders, numbers, fixtures and operations of the plain second model, with pencil and paper.

How times are told and what visits take is said in `plain_cells`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from both_models import both, the_models_agree
from oracle.hours import DAYS, WEEK, Hours
from oracle.model import rushed, simulate
from oracle.parts import weekly_of
from oracle.results import Result
from plain_cells import BEFORE, TWO_PALLETS, only, part, shift, spent, week

ONE_ORDER: dict[str, Any] = {"run_ahead": 0}
"""With batch = weekly order 1 may be opened at once, order 2 a week later."""


# --- orders -----------------------------------------------------------------------------


def test_an_order_is_on_one_table_at_a_time() -> None:
    # An order of four for the week. Mill 1 cuts from 180, 1020, 1860 and 2700, the last is off at
    # 3420. Mill 2 has its turn at 180; it may not join in, and no other order is open.
    cell = week(
        shift={"early": shift(end="14:00")},
        machine={"mill": {"count": 2}},
        part={"body": part(batch=4, weekly=4)},
        sequence=ONE_ORDER,
    )
    first, second = simulate(cell).machines
    assert first.cut == {"body": 4}
    assert spent(first)["nothing_due"] == WEEK - BEFORE - 3420
    assert spent(second) == {
        "nobody_on_duty": BEFORE,
        "waiting_for_person": 180,
        "nothing_due": WEEK - BEFORE - 180,
    }


def test_an_order_is_on_two_tables_where_it_may_be() -> None:
    # Mill 2 is loaded from 180 to 360, cut at 960, waits for the visit at mill 1 (780 to 1020), is
    # visited till 1260, cut at 1860 and taken off at 1980.
    cell = week(
        shift={"early": shift(end="14:00")},
        machine={"mill": {"count": 2}},
        part={"body": part(batch=4, weekly=4, at_once=2)},
        sequence=ONE_ORDER,
    )
    first, second = simulate(cell).machines
    assert (first.cut, second.cut) == ({"body": 2}, {"body": 2})
    assert spent(second) == {
        "nobody_on_duty": BEFORE,
        "waiting_for_person": 180 + 60,
        "load": 180 + 240 + 120,
        "in_cycle": 1200,
        "nothing_due": WEEK - BEFORE - 1980,
    }


def test_an_order_is_on_one_pallet_at_a_time() -> None:
    # Pallet 2 rests from 180 on, pallet 1 goes to and fro: in at 180, cut from 210 to 810, visited
    # till 1050, and so on four times.
    cell = week(
        shift={"early": shift(end="14:00")},
        machine=TWO_PALLETS,
        part={"body": part(batch=4, weekly=4)},
        sequence=ONE_ORDER,
    )
    alone = only(simulate(cell))
    assert spent(alone) == {
        "nobody_on_duty": BEFORE,
        "load": 180 + 3 * 240 + 120,
        "pallet_change": 4 * 30,
        "in_cycle": 2400,
        "nothing_due": WEEK - BEFORE - (180 + 4 * 630 + 3 * 240 + 120),
    }


def test_scrap_is_made_good_to_order_and_then_nothing_is_due() -> None:
    # Nine wanted, one in ten is scrap: ten are made. Cut n begins at 180 + 840 (n - 1), the tenth
    # at 7740; it is off at 8340 + 120.
    cell = week(
        shift={"early": shift(end="14:00")},
        part={"body": part(batch=9, weekly=9, scrap=10)},
        sequence=ONE_ORDER,
    )
    result = simulate(cell)
    assert (result.cut, result.good) == ({"body": 10}, {"body": 9})
    assert spent(only(result))["nothing_due"] == WEEK - BEFORE - 8460


def test_eight_pieces_and_a_ninth_in_part_are_nine() -> None:
    # 7 / 0.8 = 8.75: nine pieces, of which 7.2 are good.
    cell = week(
        shift={"early": shift(end="14:00")},
        part={"body": part(batch=7, weekly=7, scrap=20)},
        sequence=ONE_ORDER,
    )
    result = simulate(cell)
    assert (result.cut, result.good) == ({"body": 9}, {"body": Fraction(36, 5)})


def test_flat_out_goes_on_where_to_order_stands() -> None:
    # As with one table and no breaks: 35 pieces in eight hours, whatever is due.
    cell = week(
        shift={"early": shift(end="14:00")},
        part={"body": part(batch=9, weekly=9, scrap=10)},
        sequence={**ONE_ORDER, "make": "flat_out"},
    )
    result = simulate(cell)
    assert result.cut == {"body": 35}
    assert "nothing_due" not in spent(only(result))


def test_pieces_are_told_week_by_week() -> None:
    # The first hour of each week: five cuts, from 180, 1020, 1860, 2700 and 3540; in the second
    # week the table holds a cut piece, so that they begin at 240 + 840 n up to 3600: four of them.
    result = simulate({**week(), "weeks": 2})
    assert result.cut_by_week == {"body": [5, 4]}


# --- part numbers -----------------------------------------------------------------------


def test_every_part_number_is_set_up_anew() -> None:
    # Orders of one piece, in turn of number 1 and number 0. Visits: 60 + 300 + 120 = 480, then
    # 540 with the piece taken off. Cuts from 480, 1620 and 2760; of the visit begun at 3360 the
    # shift lets 240 s be done.
    alike = week(part={"body": part(batch=1, setup=300, numbers=2)})
    result = simulate(alike)
    assert result.cut == {"body": 3}
    assert only(result).states["setup"] == 3 * 300 + Fraction(240 * 300, 540)
    assert result.fixtures_held == {"body": 1}
    # A single number is set up once.
    assert only(simulate(week(part={"body": part(batch=1, setup=300)}))).states["setup"] == 300


def test_a_number_without_a_fixture_is_passed_over() -> None:
    # Two numbers with one fixture each, orders of one piece. Pallet 1 takes order 1 (number 1),
    # pallet 2 order 2 (number 0); at 360 pallet 3 could open orders 3 and 4, but their fixtures
    # are held.
    cell = week(
        machine={"mill": {"pallets": 3, "pallet_change": 30}},
        part={"body": part(batch=1, numbers=2)},
    )
    result = simulate(cell, trace=True)
    assert (BEFORE + 360, "mill 1 pallet 3: nothing may be taken, it rests") in result.trace
    # Three numbers: pallet 3 has order 3 (number 0). At 840 pallet 1 is visited: orders 4 and 5 are
    # open to it, 4 of number 1, whose fixture it holds itself.
    cell["part"]["body"]["numbers"] = 3
    result = simulate(cell, trace=True)
    assert [
        text for second, text in result.trace if second == BEFORE + 360 and "opened" in text
    ] == [f"order 3 of body is opened, due {3 * WEEK // 1000}"]
    assert (BEFORE + 810, f"order 4 of body is opened, due {4 * WEEK // 1000}") in result.trace


def test_a_later_order_is_opened_where_the_earlier_one_has_no_fixture() -> None:
    # Number 0 goes on the lathe with order 2 and stays there. The mill, with number 1, passes over
    # orders 4, 6 and 8 at 1620, 2460 and 3300.
    cell = week(
        machine={"mill": {}, "lathe": {}},
        part={"body": part(batch=1, numbers=2, fixtures=1, on={"lathe": {"cycle": 6000}})},
    )
    trace = simulate(cell, trace=True).trace
    opened = [int(text.split()[1]) for _, text in trace if "is opened" in text]
    assert opened == [1, 2, 3, 5, 7, 9]


# --- fixtures are shared out ------------------------------------------------------------


def test_a_starving_machine_gets_a_fixture_of_one_that_has_two() -> None:
    # Both persons load the mill's pallets till 180; then the lathe has its turn and no fixture.
    # Pallet 1 is cut from 210 to 810. Since the lathe starves and pallet 2 holds a fixture too,
    # pallet 1 is only unloaded, till 930, and rests. Then the lathe takes its fixture: loaded
    # till 1110, cuts from 1110, 1950 and 2790. Pallet 2 alone is cut from 840, 1710, 2580, 3450.
    cell = week(
        shift={"early": shift(people=2)},
        machine={"mill": {"pallets": 2, "load_stations": 2, "pallet_change": 30}, "lathe": {}},
        part={"body": part(fixtures=2, at_once=3)},
    )
    result = simulate(cell, trace=True)
    mill, lathe = result.machines
    assert (BEFORE + 930, "mill 1 pallet 1: its fixture for body is taken by lathe 1 pallet 1") in (
        result.trace
    )
    assert spent(lathe) == {
        "waiting_for_person": 180,
        "no_fixture": 930 - 180,
        "load": 180 + 240 + 240 + 210,
        "in_cycle": 3 * 600,
        "nobody_on_duty": WEEK - 3600,
    }
    assert (mill.cut, lathe.cut) == ({"body": 5}, {"body": 3})
    assert result.fixtures_held == {"body": 2}


def test_a_machine_keeps_the_only_fixture_that_it_has() -> None:
    # The mill holds one fixture on one table: mill 2 starves all week, mill 1 goes on.
    cell = week(machine={"mill": {"count": 2}}, part={"body": part(fixtures=1, at_once=3)})
    first, second = simulate(cell).machines
    assert first.cut == {"body": 5}
    assert second.states["no_fixture"] == WEEK - BEFORE - 180


# --- operations -------------------------------------------------------------------------


def operations(**blank: Any) -> dict[str, Any]:
    """A saw for blanks and a mill that makes bodies of them, two at a time."""
    return week(
        shift={"early": shift(people=2)},
        machine={"saw": {}, "mill": {}},
        part={
            "blank": {"cycle": 600, "machines": ["saw"], **blank},
            "body": part(after="blank", per_pallet=2, batch=4, machines=["mill"]),
        },
    )


def test_a_machine_waits_for_stock() -> None:
    # Blanks are off at 1020, 1860, 2700 and 3540. The mill is loaded with two from 1860 to 2160
    # (60 + 240), cuts till 3360; one blank is too few for a load, so that its visit takes off only,
    # till 3540 (60 + 120). Then there are two again: 60 s of loading till the shift ends.
    result = simulate(operations())
    _, mill = result.machines
    assert spent(mill) == {
        "no_stock": 1860,
        "load": 300 + 180 + 60,
        "in_cycle": 1200,
        "nobody_on_duty": WEEK - 3600,
    }
    assert result.stock == {"blank": 0}


def test_scrapped_blanks_are_no_stock() -> None:
    # Every other blank is good: two of them lie there at 3540. None is left.
    result = simulate(operations(scrap=50))
    assert spent(result.machines[1])["no_stock"] == 3540
    assert result.stock == {"blank": 0}


def test_stock_at_the_start_is_used_up_first() -> None:
    # Three blanks: a load at once, till 300, cut till 1500. With the blank off at 1020 there are
    # two: a visit of 60 + 120 + 240 = 420 till 1920, cut till 3120. With those off at 1860 and 2700
    # there are two again: visited till 3540, a piece till 4140; the other is not begun.
    result = simulate(operations(stock=3))
    mill = result.machines[1]
    assert spent(mill) == {
        "load": 300 + 420 + 420,
        "in_cycle": 5 * 600,
        "outside_running_hours": WEEK - BEFORE - 4140,
        "nobody_on_duty": BEFORE,
    }
    assert result.stock == {"blank": 3 + 4 - 6}


def test_an_operation_is_wanted_as_often_as_the_next_one_takes_pieces() -> None:
    # 40 good of c are 50 cut, so 50 good of b; those are 100 cut. What a scraps is its own affair.
    parts = {
        "c": {"after": "b", "weekly": 40, "scrap": 20},
        "b": {"after": "a", "scrap": 50},
        "a": {"scrap": 90},
    }
    assert [weekly_of(parts, name) for name in "cba"] == [40, 50, 100]


def test_what_nobody_may_do_is_not_made_nor_what_comes_after_it() -> None:
    cell = operations(prove_out=60)
    cell["shift"]["early"]["does"] = ["load", "setup"]
    assert not Hours(cell).somebody_does("prove_out")
    result = simulate(cell)
    assert result.cut == {"blank": 0, "body": 0}
    assert spent(result.machines[1]) == {
        "nobody_on_duty": BEFORE,
        "nothing_due": WEEK - BEFORE,
    }


# --- rush orders ------------------------------------------------------------------------


def test_a_rush_order_is_on_both_tables_though_others_may_not() -> None:
    # It arrives as the shift starts. One piece is cut on mill 1 from 180 to 780 and off at 1020,
    # the other on mill 2 from 360 to 960, where the person comes at 1020: off at 1260.
    cell = week(
        machine={"mill": {"count": 2}},
        rush={"now": {"part": "body", "pieces": 2, "arrives": BEFORE}},
    )
    assert rushed(cell, "now").seconds == 1260


def test_real_orders_keep_to_the_tables_that_an_order_may_be_on() -> None:
    # As the rush order, but bound to one table: the second piece is cut on mill 1 from 1020 to
    # 1620; its visit ends at 1860.
    cell = week(
        machine={"mill": {"count": 2}},
        order={"bolts": {"part": "body", "pieces": 2, "due": WEEK}},
    )
    found = simulate(cell).orders["bolts"]
    assert (found.first_off, found.last_off) == (BEFORE + 1020, BEFORE + 1860)


@pytest.mark.parametrize("scrap", [0, 50])
def test_an_operation_is_made_as_often_as_the_next_one_needs_it(scrap: int) -> None:
    # 90 good bodies a week, 1 in 10 scrapped: 100 are cut, of 100 good blanks. An order of ten
    # bodies asked for is of 9 / 0.9 = 10 cut, one of 10 blanks of 20 where every other is scrap.
    # Round the clock there is time: 100 x 10 min of mill, 200 x 10 min of saw, in 168 h.
    # Wanted after the blank's own scrap there would be 180 a week, of which 80 would pile up; not
    # wanted for the body's, 90, of which 81 bodies come.
    cell = operations(scrap=scrap, batch=10)
    cell["shift"]["early"] = shift("00:00", "00:00", days=list(DAYS), people=2)
    cell["part"]["body"] |= {"weekly": 90, "batch": 9, "scrap": 10}
    result = both_run_alike({**cell, "warm_up": 1, "weeks": 4})
    assert abs(result.good["body"] - 90 * 4) <= 9
    assert abs(result.good["blank"] - 100 * 4) <= 10
    assert 0 <= result.stock["blank"] <= 2 * 10


def test_what_lacks_a_fixture_and_stock_lacks_stock() -> None:
    # One fixture for bodies. Mill 1 takes the blanks of 1020, 2700 and 3540. That of 1860 comes
    # while its body is taken off, 1800 to 1920, and for that minute mill 2 lacks a fixture alone;
    # all the rest of the week there is neither a fixture nor a blank for it.
    cell = operations(batch=1)
    cell["machine"] = {"saw": {}, "mill": {"count": 2}}
    cell["part"]["body"] |= {"fixtures": 1, "per_pallet": 1, "batch": 1}
    found = both_run_alike(cell)
    assert spent(found.machines[2]) == {
        "nobody_on_duty": BEFORE,
        "no_fixture": 60,
        "no_stock": WEEK - BEFORE - 60,
    }


def both_run_alike(cell: dict[str, Any]) -> Result:
    """What both models say."""
    found = both(cell)
    the_models_agree(found)
    return found.plain
