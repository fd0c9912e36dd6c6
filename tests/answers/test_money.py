"""Money: cash flows against published values, capital and a year by hand (rule `money.year`)."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy_financial  # type: ignore[import-untyped]  # it comes without types
import pytest
from answer_studies import CHILD, figured, plan_of, sound, today
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples

from whatif.answers.compare import Comparison, compare
from whatif.answers.money import (
    MoneyFigures,
    money_of,
    payback,
    present_value,
    rate_of_return,
)
from whatif.plan.build import plans_of
from whatif.session.calculate.memory import Memory

# --- cash flows ----------------------------------------------------------------------------


def test_a_loan_paid_off_in_equal_payments() -> None:
    """Payments of 1854.02472 for 200 000 over 180 months at 7.5 %: numpy-financial 1.0.0, pmt."""
    rate, months, payment, loan = 0.075 / 12, 180, 1854.02472, 200_000
    assert present_value(payment, rate, months) == pytest.approx(loan, rel=1e-8)
    assert rate_of_return(loan, payment, months) == pytest.approx(100 * rate, rel=1e-7)


def uneven(rate: float, *flows: float) -> float:
    """Worth today of flows that are not level, laid in level layers of which each begins later.

    The documented example of ``irr`` in numpy-financial (-250k, 100k .. 300k: .5672303344) has
    no level amount, so that our rate of return does not apply to it.
    """
    years, total, before = len(flows), 0.0, 0.0
    for begun, flow in enumerate(flows):
        step, before = flow - before, flow
        total += present_value(step, rate, years) - present_value(step, rate, begun)
    return total


def test_present_value_of_flows_laid_in_level_layers() -> None:
    """npv(.08, [-40k, 5k, 8k, 12k, 30k]) = 3065.22267: numpy-financial 1.0.0, npv."""
    found = uneven(0.08, 5_000, 8_000, 12_000, 30_000) - 40_000
    assert found == pytest.approx(3065.22267, abs=5e-6)
    # irr(-250k, 100k, 150k, 200k, 250k, 300k) = .5672303344: there the present value is 0.
    found = uneven(0.5672303344, 100_000, 150_000, 200_000, 250_000, 300_000)
    assert found == pytest.approx(250_000, abs=1e-3)


def test_a_machine_with_a_market_value_at_the_end() -> None:
    """-25 000, 8000 x 4, 8000 + 5000 at 20 %: Sullivan, Engineering Economy, Ex. 5-13.

    Results as published, the row of cash flows from memory. The last year is not level, so our
    rate of return does not apply; that the present value is 0 at the published one, does.
    """
    flows = (8_000, 8_000, 8_000, 8_000, 13_000)
    assert uneven(0.20, *flows) - 25_000 == pytest.approx(934.28, abs=0.02)
    assert uneven(0.21575, *flows) > 25_000 > uneven(0.21585, *flows)  # 21.58 %
    # It pays back in the fourth of four level years; the book counts whole years.
    years = payback(25_000, 8_000)
    assert years is not None
    assert math.ceil(years) == 4


LEVEL = {
    "capital": st.integers(1_000, 1_000_000),
    "yearly": st.integers(1_000, 1_000_000),
    "years": st.integers(1, 25),
}


@examples(60)
@given(rate=st.floats(-0.5, 2), **LEVEL)
def test_present_value_is_that_of_the_library(
    rate: float, capital: int, yearly: int, years: int
) -> None:
    theirs = float(numpy_financial.npv(rate, [-capital, *[yearly] * years]))
    ours = present_value(yearly, rate, years) - capital
    assert ours == pytest.approx(theirs, rel=1e-6, abs=1e-3)


@examples(60)
@given(**LEVEL)
def test_rate_of_return_is_that_of_the_library(capital: int, yearly: int, years: int) -> None:
    ours = rate_of_return(capital, yearly, years)
    if capital > present_value(yearly, -0.9, years):
        assert ours is None
        return
    assert ours is not None
    # Their roots of a polynomial lose digits at 25 years; ours has to be a root all the same.
    assert present_value(yearly, ours / 100, years) == pytest.approx(capital, rel=1e-9)
    theirs = float(numpy_financial.irr([-capital, *[yearly] * years]))
    assert ours == pytest.approx(100 * theirs, rel=1e-4, abs=1e-4)


def test_a_begun_year_counts_by_its_share() -> None:
    assert present_value(100, 0, 2.5) == 250
    assert present_value(100, 0.1, 0.5) == pytest.approx(50 / 1.1**0.5)
    assert present_value(100, 0.1, 2.5) == pytest.approx(100 / 1.1 + 100 / 1.21 + 50 / 1.1**2.5)
    assert present_value(100, 0.1, 0) == 0


def test_payback_is_undiscounted() -> None:
    assert payback(1000, 500) == 2
    assert payback(500, 1000) == 0.5


@pytest.mark.parametrize(
    ("capital", "yearly", "back"),
    [
        (0, 500, 0),  # nothing is laid out, so there is nothing to come back
        (-200, 500, 0),
        (0, 0, None),
        (-200, -5, None),
        (1000, 0, None),
        (1000, -5, None),
    ],
)
def test_where_there_is_no_rate_of_return(
    capital: float, yearly: float, back: float | None
) -> None:
    assert payback(capital, yearly) == back
    assert rate_of_return(capital, yearly, 5) is None


def test_a_rate_of_return_below_nothing() -> None:
    """1000 laid out, 400 for two years: 200 are lost, and 1000 = 400 v + 400 v^2."""
    v = (-1 + math.sqrt(1 + 4 * 2.5)) / 2
    assert rate_of_return(1000, 400, 2) == pytest.approx(100 * (1 / v - 1))
    assert rate_of_return(1000, 0.01, 1) is None  # worse than -90 % a year
    assert rate_of_return(1000, 400, 0) is None


# --- a year --------------------------------------------------------------------------------

PAID = "part.body.contribution = 10"


def test_a_year_by_hand() -> None:
    """100 of 130 pieces a week sold at 10; 80 h paid at 3; 20 square metres at 7.

    46 weeks x (100 x 10 - 80 x 3) - 20 x 7 = 34 820.
    """
    text = today(
        PAID,
        "money.wage = 3",
        "money.weeks_per_year = 46",
        "money.floor_price = 7",
        'machine.mill.floor = "20 m^2"',
    )
    plan, one = plan_of(text), figured(text, cut=(260,))
    assert money_of(plan, one, {}, plan, one, {}).year == pytest.approx(34_820)
    without = replace(one, floor=None)
    assert money_of(plan, without, {}, plan, one, {}).year == pytest.approx(34_960)


def test_a_gain_in_money_and_what_follows_from_it() -> None:
    """Twice the pieces for 10 000: 50 x 10 x 50 = 25 000 a year more, less nothing."""
    text = today(PAID) + CHILD + "money.one_off = 10000\nmoney.years = 2\n"
    plans = plans_of(sound(text))
    base, more = figured(text, cut=(100,)), figured(text, cut=(200,))
    found = money_of(plans["child"], more, {}, plans["today"], base, {})
    assert (found.year, found.year_gain, found.capital) == (50_000, 25_000, 10_000)
    assert found.payback_years == 0.4
    assert found.net_present_value == pytest.approx(25_000 / 1.08 + 25_000 / 1.08**2 - 10_000)
    # 10 000 q^2 = 25 000 q + 25 000
    assert found.rate_of_return_percent == pytest.approx(100 * ((2.5 + math.sqrt(16.25)) / 2 - 1))


# --- capital -------------------------------------------------------------------------------

PRICES = (
    PAID,
    "machine.mill.count = 3",
    "machine.mill.price = 100000",
    "machine.mill.resale = 40000",
    "machine.mill.pallet_price = 5000",
    "machine.mill.pallet_system_price = 30000",
    "part.body.fixture_price = 700",
)


def priced(
    *child: str,
    head: tuple[str, ...] = PRICES,
    held: int = 0,
    held_there: int = 0,
    scenario: str = "child",
) -> MoneyFigures:
    text = "\n".join([today(*head), CHILD, *child, ""])
    plans, one = plans_of(sound(text)), figured(today(*head))
    at, there = plans[scenario], plans["today"]
    return money_of(at, one, {"body": held}, there, one, {"body": held_there})


@pytest.mark.parametrize(
    ("child", "capital"),
    [
        ((), 0),
        # Machines beyond those of the reference, and given up.
        (("machine.mill.count = 5",), 2 * 100_000),
        (("machine.mill.count = 2",), -40_000),
        (("machine.mill.count = 0",), -3 * 40_000),
        (("machine.mill.count = 2", "machine.mill.resale = 1"), -40_000),  # the reference's
        # Entered: four are there, and one more stands idle for the reference.
        (("machine.mill.count = 5", "machine.mill.owned = 4"), 100_000),
        (("machine.mill.count = 5", "machine.mill.owned = 9"), 0),
        (("machine.mill.count = 3", "machine.mill.owned = 1"), 2 * (100_000 - 40_000)),
        # Both prices entered and differing: new machines, the three old ones are given up.
        (("machine.mill.count = 2", "machine.mill.price = 150000"), 2 * 150_000 - 3 * 40_000),
        (("machine.mill.count = 2", "machine.mill.price = 100000"), -40_000),
        (
            ("machine.mill.count = 3", "machine.mill.price = 150000", "machine.mill.owned = 3"),
            0,
        ),
        (("machine.mill.price = ''",), 0),  # not entered here, so it is the same machine
        # A group that the reference lacks, one of its machines being there already.
        (("machine.lathe.price = 80000", "machine.lathe.count = 2"), 2 * 80_000),
        (
            ("machine.lathe.price = 80000", "machine.lathe.count = 2", "machine.lathe.owned = 1"),
            80_000,
        ),
        # One for the other.
        (
            ("machine.lathe.price = 80000", "machine.mill.count = 0", "machine.lathe.resale = 9"),
            80_000 - 3 * 40_000,
        ),
        # Pallets beyond each machine's first, and what moves them.
        (("machine.mill.pallets = 4",), 3 * (3 * 5_000 + 30_000)),
        (
            ("machine.mill.pallets = 4", "machine.mill.count = 1"),
            3 * 5_000 + 30_000 - 2 * 40_000,
        ),
        (("money.one_off = 12345.5",), 12_345.5),
    ],
)
def test_capital_by_hand(child: tuple[str, ...], capital: float) -> None:
    assert priced(*child).capital == pytest.approx(capital)


@pytest.mark.parametrize(
    ("child", "capital"),
    [
        ((), 0),
        (("machine.mill.pallets = 6",), 3 * 2 * 5_000),  # they have their pallet systems
        (("machine.mill.pallets = 2",), 0),  # nobody buys old pallets
        # One more machine has 3 pallets beyond its first, and a system.
        (("machine.mill.count = 4",), 100_000 + 3 * 5_000 + 30_000),
        # Two with 7 have 12 beyond the first, where the reference has 9.
        (("machine.mill.count = 2", "machine.mill.pallets = 7"), 3 * 5_000 - 40_000),
    ],
)
def test_pallets_beyond_those_of_the_reference(child: tuple[str, ...], capital: float) -> None:
    head = (*PRICES, "machine.mill.pallets = 4")
    assert priced(*child, head=head).capital == pytest.approx(capital)


@pytest.mark.parametrize(
    ("held", "held_there", "capital"), [(5, 2, 2_100), (2, 2, 0), (1, 2, 0), (3, 0, 2_100)]
)
def test_fixtures_at_most_held_beyond_those_of_the_reference(
    held: int, held_there: int, capital: int
) -> None:
    assert priced(held=held, held_there=held_there).capital == capital


def test_the_reference_lays_out_nothing() -> None:
    head = (*PRICES, "money.one_off = 999", "machine.mill.owned = 1", "machine.mill.pallets = 3")
    found = priced(head=head, scenario="today", held=4, held_there=4)
    assert (found.capital, found.year_gain, found.net_present_value) == (0, 0, 0)
    assert (found.payback_years, found.rate_of_return_percent) == (None, None)


# --- through the whole comparison ----------------------------------------------------------


def compared(text: str, memory: Memory | None = None) -> Comparison:
    return compare(sound(text), memory or Memory())


def test_fixtures_that_a_run_held_are_paid_for() -> None:
    """The table held one; each of four pallets holds its own, and 100 a week keep all going."""
    text = today(PAID, "part.body.fixture_price = 700") + CHILD + "machine.mill.pallets = 4\n"
    found = compared(text).answers["child"].money
    assert found is not None
    assert found.capital == 3 * 700
    limited = compared(text + "part.body.fixtures = 2\n").answers["child"].money
    assert limited is not None
    assert limited.capital == 700


def test_the_currency_is_the_references() -> None:
    text = today(PAID, 'money.currency = "EUR"') + CHILD + 'money.currency = "JPY"\n'
    for answer in compared(text).answers.values():
        assert answer.money is not None
        assert answer.money.currency == "EUR"


def test_no_money_without_a_contribution() -> None:
    text = today("machine.mill.price = 5", "money.wage = 10") + CHILD
    assert all(one.money is None for one in compared(text).answers.values())
    # A part of any scenario will do, and then all are told in money.
    paid = compared(text + "part.body.contribution = 1\n")
    assert all(one.money is not None for one in paid.answers.values())


def test_a_price_asks_for_no_new_run() -> None:
    memory = Memory()
    cells = []
    for lines in ((), ("money.wage = 30", "machine.mill.price = 9", "part.body.contribution = 7")):
        text = today(*lines)
        cells.append(plan_of(text).cell)
        compared(text, memory)
    assert cells[0] == cells[1]
    assert memory.ran == 1
