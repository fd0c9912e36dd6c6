"""The curve of cash over the years, to scale, held against counting by hand."""

from __future__ import annotations

import math
from functools import partial

from hypothesis import given
from hypothesis import strategies as st
from lengths import examples

from whatif.answers.money.flows import brought
from whatif.telling.amounts import grouped, priced
from whatif.telling.money.curve import (
    ABOVE,
    BACK,
    BELOW,
    HALF_ABOVE,
    HALF_BELOW,
    CashCurve,
    cash_curve,
)


def curve(
    capital: float,
    yearly: float,
    years: float,
    back: float | None,
    width: int,
    height: int,
    ramp: float = 0,
) -> CashCurve:
    return cash_curve(capital, partial(brought, yearly, ramp), years, back, width, height)


def test_amounts_in_groups_of_three_that_hold_together() -> None:
    """A space between groups of three digits, neither comma nor point: ISO 80000-1, 7.3."""
    assert grouped(1_041_547.28) == "1\u00a0041\u00a0547"
    assert grouped(-38_000) == "-38\u00a0000"
    assert grouped(999.4) == "999"
    assert priced(18_000, "EUR") == "EUR\u00a018\u00a0000"


def test_a_curve_by_hand() -> None:
    """200 laid out, 100 a year for 4 years: -200, -100, 0, 100, 200 at 0, 1, 2, 3 and 4 years.

    With 9 cells a cell is half a year; five rows of 100 hold it, two on each side of nothing.
    """
    found = curve(200, 100, 4, 2.0, 9, 5)
    assert found.row_stands_for == 100
    assert found.has_back
    assert [one.label for one in found.rows] == ["200", "100", "0", "-100", "-200", "years"]
    assert [one.cells for one in found.rows] == [
        "       ▄█",
        "     ▄███",
        "────┼────",
        "▒▒▒▀     ",
        "▒▀       ",
        "0   2   4",
    ]


def test_a_ramp_bends_the_curve() -> None:
    """100 a year over a ramp of 2 years: 25 t^2 have come in, then 100 (t - 1)."""
    found = curve(100, 100, 4, 2.0, 9, 5, ramp=2)
    assert [one.cells for one in found.rows[:-1]] == [
        "       ▄█",
        "     ▄███",
        "────┼────",
        "▒▒▀▀     ",
    ]


def test_years_stand_at_their_places() -> None:
    found = curve(200, 100, 4, 2.0, 41, 5)
    years = found.rows[-1].cells
    assert [years[at] for at in (0, 10, 20, 30, 40)] == list("01234")
    assert found.rows[2].cells.index(BACK) == 20


def test_what_comes_back_after_the_years_counted_is_not_marked() -> None:
    found = curve(1000, 100, 4, 10.0, 40, 8)
    assert not found.has_back
    assert not any(BACK in one.cells for one in found.rows)
    assert not any(one.sense == "good" for one in found.rows)


@examples(200)
@given(
    capital=st.floats(-1e7, 1e7),
    yearly=st.floats(-1e7, 1e7),
    years=st.floats(0.5, 40),
    width=st.integers(8, 150),
    height=st.integers(4, 30),
)
def test_every_bar_is_as_long_as_its_amount(
    capital: float, yearly: float, years: float, width: int, height: int
) -> None:
    found = curve(capital, yearly, years, None, width, height)
    assert len(found.rows) <= height + 1  # and the years
    wholes = {ABOVE: 1.0, HALF_ABOVE: 0.5, BELOW: -1.0, HALF_BELOW: -0.5}
    for at in range(width):
        drawn = sum(wholes.get(one.cells[at : at + 1], 0.0) for one in found.rows[:-1])
        amount = brought(yearly, 0, years * at / (width - 1)) - capital
        assert math.isclose(
            drawn * found.row_stands_for, amount, abs_tol=0.2501 * found.row_stands_for
        )
