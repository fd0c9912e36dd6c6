"""Real and rush orders of the engine held against the plain second model, on random cells.

As in `test_against_oracle`, every cell goes the whole way from a study file, and what is compared
is equal to the second: with real orders all that is compared without them, and for each order its
first and last piece off and how late it is; for a rush order the time from its arrival until it
is off, and the spindle time that other work loses over the two weeks after it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from both_models import Both, as_wanted, both, one_shift, only, the_accounts_close, the_models_agree
from cells import stopping_cells, stops_of, trying
from hypothesis import given
from oracle.model import Rushed, rushed
from oracle.results import OrderResult
from oracle.specs import Spec, cells, luck, study_text
from oracle.specs_orders import with_orders, with_rush

from whatif.answers.orders.orders import ordered
from whatif.answers.orders.rush import RushArrival, try_rush
from whatif.plan.build import plans_of
from whatif.study.check.check import check
from whatif.study.file.reading import read_text

HOUR = 3600


def seconds(hours: float | None) -> int | None:
    """Whole seconds again of what was turned into hours."""
    if hours is None:
        return None
    assert abs(hours * HOUR - round(hours * HOUR)) < 1e-3
    return round(hours * HOUR)


# --- real orders ------------------------------------------------------------------------


def assert_promises_held(spec: Spec) -> Both:
    found = both(spec)
    the_accounts_close(found)
    the_models_agree(found)
    mine = {
        id_: OrderResult(seconds(one.first_off), seconds(one.last_off), seconds(one.late_hours))
        for id_, one in ordered(found.plan, [found.tally]).items()
    }
    assert mine == found.plain.orders
    return found


@trying(30)
@given(with_orders(cells(stops=False)))
def test_real_orders_in_cells_with_everything_but_stops(spec: dict[str, Any]) -> None:
    assert_promises_held(spec)


@trying(12)
@given(with_orders(stopping_cells()))
def test_real_orders_in_cells_with_stops(spec: dict[str, Any]) -> None:
    assert_promises_held(spec)


@trying(25)
@given(with_orders(only("second_shift", "pallets", "sequence", "choice", "setups", "fixtures")))
def test_real_orders_among_pallets_and_fixtures(spec: dict[str, Any]) -> None:
    assert_promises_held(spec)


@trying(25)
@given(with_orders(only("duties", "pallets", "setups", "first_pieces", "prove_outs")))
def test_real_orders_with_first_pieces(spec: dict[str, Any]) -> None:
    assert_promises_held(spec)


# --- rush orders ------------------------------------------------------------------------


def assert_rush_held(spec: Spec) -> Rushed:
    checked = check(read_text(study_text(spec)))
    assert not checked.problems
    (plan,) = plans_of(checked).values()
    assert plan.cell is not None
    # As in `both`, stops are given to the cell itself.
    plan = replace(plan, cell=replace(plan.cell, stops=stops_of(spec), luck=1))
    (one,) = plan.rush
    found = try_rush(plan, one, lambda: None)
    plain = rushed(as_wanted(spec, plan.cell), one.id, 1, luck(spec))
    if found is None:  # its part is not made
        assert (plain.seconds, plain.lost) == (None, 0)
        return plain
    assert isinstance(found, RushArrival)
    assert (seconds(found.hours), seconds(found.lost_spindle_hours)) == (plain.seconds, plain.lost)
    return plain


@pytest.mark.long
@trying(8)
@given(with_rush(cells()))
def test_a_rush_order_in_cells_with_everything(spec: dict[str, Any]) -> None:
    assert_rush_held(spec)


@trying(8)
@given(with_rush(with_orders(cells(stops=False))))
def test_a_rush_order_among_real_ones(spec: dict[str, Any]) -> None:
    assert_rush_held(spec)


@pytest.mark.long
@trying(10)
@given(with_rush(only("pallets", "setups", "fixtures", "choice", "nights")))
def test_a_rush_order_among_pallets_and_fixtures(spec: dict[str, Any]) -> None:
    assert_rush_held(spec)


@trying(10)
@given(with_rush(only("pallets", "setups", "prove_outs", "tools")))
def test_a_rush_order_that_is_proved_and_needs_tools(spec: dict[str, Any]) -> None:
    assert_rush_held(spec)


# --- with a pencil ----------------------------------------------------------------------


def a_mill(pallets: int, **body: Any) -> Spec:
    """Round the clock: bodies of an hour, and plates of half an hour that only orders ask for.

    A minute to walk, two to load, one to unload; a plate's setup takes five.
    """
    spec = one_shift("00:00", "00:00")
    spec["machine"]["mill"] = {"pallets": pallets, "pallet_change": 30}
    spec["part"]["body"] = {"cycle": 3600, "batch": 5000, "weekly": 1000, "at_once": 4, **body}
    spec["part"]["plate"] = {"cycle": 1800, "weekly": 0, "setup": 300}
    return spec


def test_a_real_order_goes_ahead_of_the_order_the_table_works_on() -> None:
    """Minutes: 0-3 visit, -63 cut of a body; the first order has come by then, so -72 (walk 1,
    unload 1, setup 5, load 2), -102 cut, -106, -136; the second, due earlier, came at 80, yet the
    first is gone on with: its last piece is off at 140 (walk 1, unload 1, load 2), -170, -174."""
    spec = a_mill(1)
    spec["order"] = {
        "first": {"part": "plate", "pieces": 2, "arrives": 3600, "due": 7200},
        "second": {"part": "plate", "pieces": 1, "arrives": 4800, "due": 6000},
    }
    found = assert_promises_held(spec).plain.orders
    assert found == {
        "first": OrderResult(106 * 60, 140 * 60, 20 * 60),
        "second": OrderResult(174 * 60, 174 * 60, 74 * 60),
    }


def test_pallets_make_way_whose_fixture_a_rush_order_wants() -> None:
    """Four pallets, one fixture for plates, the times in minutes.

    A loaded 0-3, in -3.5, cut -63.5; B 3-6; an order of a plate has come and takes the fixture on C
    6-14; D 14-17. The rush order of another plate comes at 30. At 63.5 C goes in before B, is cut
    64-94 and visited -98 (walk 1, unload 1, load 2); B is in the spindle -154.5, then C before D,
    155-185, and it is visited -189.
    """
    spec = a_mill(4)
    spec["part"]["plate"]["fixtures"] = 1
    spec["order"] = {"c": {"part": "plate", "pieces": 1, "arrives": 240, "due": 21600}}
    spec["rush"] = {"now": {"part": "plate", "pieces": 1, "arrives": 1800}}
    assert assert_rush_held(spec).seconds == (189 - 30) * 60


def on_three_tables(lathe: dict[str, Any], plate: dict[str, Any], mills: int) -> Spec:
    """One person round the clock, tables that take an hour to load, a rush job on the lathe."""
    spec = one_shift("00:00", "00:00")
    spec["warm_up"] = 0
    spec["machine"] = {"mill": {"count": mills}, "lathe": {"pallet_change": 0, **lathe}}
    spec["part"]["body"] = {
        "cycle": 3600, "load": 3600, "unload": 60, "batch": 5000, "weekly": 1000, "at_once": 3,
        "machines": ["mill"],
    }  # fmt: skip
    spec["part"]["plate"] = {
        "cycle": 1800, "load": 120, "unload": 60, "weekly": 0, "machines": ["lathe"], **plate,
    }  # fmt: skip
    return spec


def test_a_rush_orders_prove_out_goes_ahead_of_loading() -> None:
    """Minutes: mill 1 is loaded 0-61. The plate goes on 61-64 and asks for its prove-out, ahead of
    mill 2, which has asked since 0: 64-74; cut to 104; mill 2 74-135; off 135-137, 77 after 60."""
    spec = on_three_tables({"pallets": 1}, {"prove_out": 600}, 2)
    spec["rush"] = {"now": {"part": "plate", "pieces": 1, "arrives": 3600}}
    assert assert_rush_held(spec).seconds == 77 * 60


def test_a_rush_orders_tools_go_ahead_of_loading() -> None:
    """Minutes: mill 1 0-61; two pallets on 61-64 and 64-67; the first is cut at 94. Its visit and
    the tools of the second are asked for then, tools first; mill 2 has the person 67-128. Tools
    128-133, visit 133-135, mill 3 135-196, second cut 133-163, off 196-198, 138 after 60."""
    spec = on_three_tables({"pallets": 2}, {"tool_life": 1, "tool_change": 300, "per_pallet": 1}, 3)
    spec["rush"] = {"now": {"part": "plate", "pieces": 2, "arrives": 3600}}
    assert assert_rush_held(spec).seconds == 138 * 60


def test_a_rush_order_of_the_first_second_is_taken_first() -> None:
    """Minutes: walk 1, setup 5 and load 2 to 8, cut to 38, walk and the next load: off at 42.

    The visit that takes it off walks 1, unloads 1 and puts a body on, 2.
    """
    spec = a_mill(1)
    spec["warm_up"] = 0
    spec["rush"] = {"now": {"part": "plate", "pieces": 1, "arrives": 0}}
    assert assert_rush_held(spec).seconds == 42 * 60
