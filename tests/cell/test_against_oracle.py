"""The engine held against the plain second model, on random small cells.

Each cell goes the whole way: written as a study file, read, checked, planned and run. The
agreement asked for is that hours differ by no more than 0.5 % or 0.1 h a week, whichever is
more. What holds, and is asserted here, is stricter: every state, the in-cycle seconds by mode
and by part, the pieces and the people's seconds are equal to the second.

They could differ only where several things happen in one second: visits asked for at once by
equally loaded machines, pallets ready or resting equally long, two free persons, orders due at
once, work of 0 s. The book gives a rule for each of these (first of all `people.line`); one read in
two ways would show here as a few visits that go another way round, and hours that drift apart.

What is compared, and what is rounded, stands in `support/both_models.py`.
"""

from __future__ import annotations

from typing import Any

import pytest
from both_models import both, one_shift, only, the_accounts_close, the_models_agree
from cells import stopping_cells, trying
from hypothesis import given
from oracle.specs import Spec, cells
from oracle.specs_setters import with_setters_staying

from whatif.cell.states import State

# --- what chance draws ------------------------------------------------------------------


def assert_held(spec: Spec) -> None:
    found = both(spec)
    the_accounts_close(found)
    the_models_agree(found)


@trying(60)
@given(cells(stops=False))
def test_cells_with_everything_but_stops(spec: dict[str, Any]) -> None:
    assert_held(spec)


@trying(70)
@given(stopping_cells())
def test_cells_with_stops_that_meet_the_same_luck(spec: dict[str, Any]) -> None:
    assert_held(spec)


@trying(30)
@given(only("stops", "pallets", "nights", "breaks"))
def test_stops_and_nights_alone(spec: dict[str, Any]) -> None:
    assert_held(spec)


@trying(50)
@given(only("second_shift", "breaks", "nights", "handling", "warming", "attended_only", "bench"))
def test_tables_shifts_and_nights(spec: dict[str, Any]) -> None:
    assert_held(spec)


@trying(50)
@given(only("second_shift", "pallets", "sequence", "choice", "setups", "fixtures", "overrides"))
def test_pallets_orders_and_fixtures(spec: dict[str, Any]) -> None:
    assert_held(spec)


@trying(40)
@given(only("second_shift", "duties", "pallets", "setups", "first_pieces", "fixtures"))
def test_first_pieces_and_fixtures(spec: dict[str, Any]) -> None:
    assert_held(spec)


@trying(50)
@given(only("second_shift", "breaks", "pallets", "setups", "prove_outs", "tools", "nights"))
def test_tools_and_prove_outs(spec: dict[str, Any]) -> None:
    assert_held(spec)


@trying(60)
@given(with_setters_staying(stopping_cells()))
def test_setters_who_stay_for_their_prove_outs(spec: dict[str, Any]) -> None:
    assert_held(spec)


@trying(60)
@given(with_setters_staying(only("second_shift", "breaks", "duties", "pallets", "setups", "bench")))
def test_setters_who_stay_and_what_their_shifts_leave(spec: dict[str, Any]) -> None:
    assert_held(spec)


# --- what chance seldom draws -----------------------------------------------------------


@pytest.mark.parametrize(("back", "warms_up"), [("13:59", 0), ("14:00", 0), ("14:01", 97 * 7)])
def test_a_piece_held_for_four_hours_and_for_more(back: str, warms_up: int) -> None:
    spec = one_shift("06:00", "18:00", breaks=[f"10:00-{back}"])
    spec["machine"]["mill"]["warm_up"] = 97
    spec["unattended"] = {"at_limit": "hold", "through_breaks": False}
    assert_held(spec)
    # Over night it stands for twelve hours, so it warms up every morning in any case.
    assert both(spec).spent(0, State.WARM_UP) == 97 * 7 + warms_up


@pytest.mark.parametrize("release", [3600, 3601, 20011])
def test_a_release_that_takes_weeks(release: int) -> None:
    """Inspecting hours are one a week; the wait counts on over as many weeks as it takes."""
    spec = one_shift("06:00", "07:00", days=("mon",))
    spec["part"]["body"] |= {"cycle": 600, "first_piece": release}
    assert_held({**spec, "weeks": 9})


def test_a_number_whose_turn_is_with_another_is_not_wanted() -> None:
    """A cover lies there for a first piece, but the earliest order has a fixture and asks for more.

    The mill rests. A fixture of a later number would change nothing for it, so none is kept for it.
    """
    spec = one_shift("08:00", "16:00", days=("mon", "tue", "wed"))
    spec["machine"] = {"mill": {"count": 3, "pallets": 2}, "borer": {}}
    spec["part"] = {
        "body": {"cycle": 300, "fixtures": 2, "batch": 8},
        "cover": {"cycle": 611, "weekly": 200, "batch": 7, "first_piece": 600, "numbers": 2}
        | {"fixtures": 2, "on": {"mill": {"per_pallet": 4}}, "after": "body"},
        "plate": {"cycle": 700, "weekly": 40, "fixtures": 1, "batch": 4},
    }
    assert_held({**spec, "weeks": 1, "warm_up": 0})


def test_a_machine_may_want_the_fixture_of_its_own_pallet() -> None:
    """A cover lies there for a first piece, but not for the load of the pallet with the fixture.

    That one asks, and gives the fixture up for its neighbour as for a pallet elsewhere.
    """
    spec = one_shift("08:00", "12:00", days=("mon", "tue", "wed"))
    spec["machine"] = {"mill": {"count": 3, "pallets": 2}, "borer": {}}
    spec["part"] = {
        "body": {"cycle": 300, "fixtures": 1, "batch": 2},
        "cover": {"cycle": 200, "weekly": 60, "batch": 3, "first_piece": 600, "numbers": 2}
        | {"fixtures": 1, "on": {"mill": {"per_pallet": 6}}, "after": "body"},
        "plate": {"cycle": 700, "weekly": 40, "fixtures": 1, "batch": 4},
    }
    assert_held({**spec, "weeks": 1, "warm_up": 0})
