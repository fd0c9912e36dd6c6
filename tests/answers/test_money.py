"""Money: cash flows against published values, a year and what is measured by it by hand."""

from __future__ import annotations

import math

import numpy_financial  # type: ignore[import-untyped]  # it comes without types
import pytest
from answer_studies import CHILD, figured, plan_of, sound, today
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.answers.figures import Figures
from whatif.answers.money.capital import Costed
from whatif.answers.money.flows import (
    Flow,
    at_year_ends,
    brought,
    investment,
    net_present_value,
    payback,
    rate_of_return,
)
from whatif.answers.money.money import money_of
from whatif.cell.states import State
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.session.calculate.memory import Memory

# --- published cash flows, as they are printed ----------------------------------------------


@pytest.mark.outside("numpy-financial 1.0.0: npv of uneven flows, 3065.22267")
def test_present_value_of_uneven_flows() -> None:
    """npv(.08, [-40k, 5k, 8k, 12k, 30k]) = 3065.22267: numpy-financial 1.0.0, npv."""
    flows = at_year_ends((-40_000, 5_000, 8_000, 12_000, 30_000))
    assert f"{net_present_value(flows, 0.08):.5f}" == "3065.22267"


@pytest.mark.outside("numpy-financial 1.0.0: irr of uneven flows, .5672303344")
def test_rate_of_return_of_uneven_flows() -> None:
    """irr([-250k, 100k, 150k, 200k, 250k, 300k]) = .5672303344: numpy-financial 1.0.0, irr."""
    flows = at_year_ends((-250_000, 100_000, 150_000, 200_000, 250_000, 300_000))
    rate = rate_of_return(flows)
    assert rate is not None
    assert f"{rate / 100:.10f}" == "0.5672303344"


@pytest.mark.outside("numpy-financial 1.0.0: pmt, 1854.02472, and its rate", values=2)
def test_a_loan_paid_off_in_equal_payments() -> None:
    """Payments of 1854.02472 for 200 000 over 180 months at 7.5 %: numpy-financial 1.0.0, pmt."""
    rate, months, loan = 0.075 / 12, 180, 200_000
    one = net_present_value((Flow(1, 1, months),), rate)
    assert f"{loan / one:.5f}" == "1854.02472"
    found = rate_of_return((Flow(0, -loan), Flow(1, 1854.02472, months)))
    assert found is not None
    assert f"{12 * found:.4f}" == "7.5000"


@pytest.mark.outside("Sullivan: present worth 934.28, rate 21.58 %, payback 4 years", values=3)
def test_a_machine_with_a_market_value_at_the_end() -> None:
    """-25 000, 8000 x 4, 8000 + 5000 at 20 %: Sullivan, Engineering Economy, Ex. 5-13.

    Results as published, the row of cash flows from memory. It pays back in the fourth year.
    """
    flows = at_year_ends((-25_000, 8_000, 8_000, 8_000, 8_000, 8_000 + 5_000))
    rate, years = rate_of_return(flows), payback(25_000, 8_000)
    assert f"{net_present_value(flows, 0.20):.2f}" == "934.28"
    assert rate is not None
    assert f"{rate:.2f}" == "21.58"
    assert years is not None
    assert math.ceil(years) == 4


FLOWS = st.lists(st.integers(1_000, 1_000_000), min_size=1, max_size=20)


@pytest.mark.outside("numpy-financial: npv of random flows")
@examples(60)
@given(rate=st.floats(-0.5, 2), capital=st.integers(1_000, 1_000_000), each=FLOWS)
def test_present_value_is_that_of_the_library(rate: float, capital: int, each: list[int]) -> None:
    ours = net_present_value(at_year_ends((-capital, *each)), rate)
    theirs = float(numpy_financial.npv(rate, [-capital, *each]))
    assert ours == pytest.approx(theirs, rel=1e-6, abs=1e-3)


@pytest.mark.outside("numpy-financial: irr of random flows")
@examples(60)
@given(capital=st.integers(1_000, 1_000_000), each=FLOWS)
def test_rate_of_return_is_that_of_the_library(capital: int, each: list[int]) -> None:
    flows = at_year_ends((-capital, *each))
    ours = rate_of_return(flows)
    if ours is None:
        assert net_present_value(flows, -0.9) < 0
        return
    # Their roots of a polynomial lose digits at many years; ours has to be a root all the same.
    assert net_present_value(flows, ours / 100) == pytest.approx(0, abs=1e-9 * capital)
    theirs = float(numpy_financial.irr([-capital, *each]))
    assert ours == pytest.approx(100 * theirs, rel=1e-4, abs=1e-4)


@pytest.mark.parametrize(
    "flows",
    [(), (0.0, 5.0), (5.0,), (-5.0,), (5.0, -9.0), (-100.0, 300.0, -150.0), (-5.0, -1.0)],
)
def test_flows_without_a_single_rate(flows: tuple[float, ...]) -> None:
    """Nothing is laid out, nothing comes back, a loan, or more than one change of sign."""
    assert rate_of_return(at_year_ends(flows)) is None


def test_a_row_of_flows_is_each_of_them() -> None:
    row, single = (Flow(2, 7, 3),), (Flow(2, 7), Flow(3, 7), Flow(4, 7))
    for rate in (-0.3, 0.0, 0.08, 4.0):
        assert net_present_value(row, rate) == pytest.approx(net_present_value(single, rate))


def test_centuries_have_a_rate_too() -> None:
    """1000 for 100 a year for ever: 10 %; 1000 for 1 a year in 400 years: below nothing."""
    for yearly, least, most in ((100, 9.999, 10.001), (1, -1, 0)):
        rate = rate_of_return((Flow(0, -1000), Flow(1, yearly, 400)))
        assert rate is not None
        assert least <= rate <= most


# --- capital now, and a gain a year ----------------------------------------------------------


def test_a_begun_year_counts_by_its_share() -> None:
    def worth(rate: float, years: float) -> float:
        return net_present_value(investment(0, 100, 0, years), rate)

    assert worth(0, 2.5) == 250
    assert worth(0.1, 0.5) == pytest.approx(50 / 1.1**0.5)
    assert worth(0.1, 2.5) == pytest.approx(100 / 1.1 + 100 / 1.21 + 50 / 1.1**2.5)
    assert worth(0.1, 0) == 0


def test_a_ramp_within_the_first_year_costs_half_of_it() -> None:
    """Gain 1000, ramp half a year: 1000 x 0.5 / 2 = 250 are lacking in the first year."""
    flows = investment(2_000, 1_000, 0.5, 3)
    assert flows == (Flow(0, -2_000), Flow(1, 750), Flow(2, 1_000, 2))
    expected = -2_000 + 750 / 1.1 + 1_000 / 1.21 + 1_000 / 1.331
    assert net_present_value(flows, 0.1) == pytest.approx(expected)


def test_a_longer_ramp_costs_each_year_what_it_lacks() -> None:
    """Gain 1000 over a ramp of 2 years: 1000 t^2 / 4 has come in: 250, 1000, then 1000 a year."""
    flows = investment(0, 1_000, 2, 3.5)
    assert [(flow.at, flow.amount) for flow in flows[1:]] == [
        (1, 250), (2, 750), (3, 1_000), (3.5, 500),
    ]  # fmt: skip
    assert sum(flow.amount for flow in flows) == brought(1_000, 2, 3.5) == 1_000 * (3.5 - 1)


def test_a_small_gain_has_its_ramp_too() -> None:
    """1 a year over a ramp of 2 years: 2^2 / 4 = 1 has come in when it is over."""
    assert brought(1, 2, 2) == 1
    assert brought(1, 0.5, 2) == 1.75


def test_a_loss_begins_at_once() -> None:
    assert investment(0, -1_000, 2, 2) == (Flow(0, 0), Flow(1, -1_000, 2))
    assert brought(-1_000, 2, 2.5) == -2_500


@pytest.mark.parametrize(
    ("capital", "yearly", "ramp", "back"),
    [
        (1000, 500, 0, 2),
        (500, 1000, 0, 0.5),
        (0, 500, 0, 0),  # nothing is laid out, so there is nothing to come back
        (0, 500, 1, 0),
        (-200, 500, 0, 0),
        (0, 0, 0, None),
        (-200, -5, 0, None),
        (1000, 0, 0, None),
        (1000, -5, 0, None),
        (1000, 500, 1, 2.5),  # half of the ramp later
        (250, 500, 1, 1.0),  # just when the ramp is over: 500 x 1^2 / 2 have come in
        (62.5, 500, 1, 0.5),  # within it: 500 x 0.5^2 / 2
        (62.5, 500, 4, 1.0),  # 500 x 1^2 / 8
    ],
)
def test_payback_counts_from_the_start(
    capital: float, yearly: float, ramp: float, back: float | None
) -> None:
    assert payback(capital, yearly, ramp) == back
    if back:
        assert brought(yearly, ramp, back) == pytest.approx(capital)


def test_a_rate_of_return_below_nothing() -> None:
    """1000 laid out, 400 for two years: 200 are lost, and 1000 = 400 v + 400 v^2."""
    v = (-1 + math.sqrt(1 + 4 * 2.5)) / 2
    assert rate_of_return(investment(1000, 400, 0, 2)) == pytest.approx(100 * (1 / v - 1))
    assert rate_of_return(investment(1000, 0.01, 0, 1)) is None  # worse than -90 % a year
    assert rate_of_return(investment(1000, 400, 0, 0)) is None


# --- a year --------------------------------------------------------------------------------

PAID = "part.body.contribution = 10"


def side(plan: Plan, figures: Figures | None = None, held: int = 0) -> Costed:
    return Costed(plan, figures, {"body": held} if held else {})


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
    here = side(plan_of(text), figured(text, cut=(260,)))
    assert money_of(here, here, here).year == pytest.approx(34_820)


def test_all_that_is_paid_of_a_year_by_hand() -> None:
    """Of 80 pieces cut a week a quarter is scrap: 60 are sold at 10, 20 have cost 4 of material.

    30 hours in cycle at 2; 80 h paid in the early shift at 3, 10 in the night (one person, 10
    hours on Saturday) at 5. 50 x (600 - 80 - 60 - 240 - 50) = 8 500, less 900 a year, less two
    machines at 350 each: 6 900.
    """
    night = (
        "[scenario.today.shift.night]\ndays = ['sat']\nstart = '20:00'\nend = '06:00'\nwage = 5\n"
    )
    text = (
        today(
            PAID,
            "part.body.scrap = '25 %'",
            "part.body.material = 4",
            "money.wage = 3",
            "money.spindle_hour = 2",
            "money.yearly = 900",
            "machine.mill.count = 2",
            "machine.mill.yearly = 350",
        )
        + night
    )
    figures = figured(text, cut=(160,), spent={(0, State.IN_CYCLE): 60})
    here = side(plan_of(text), figures)
    found = money_of(here, here, here)
    assert found.of_year.scrap == pytest.approx(50 * 80)
    assert found.of_year.wages == 50 * (240 + 50)
    assert found.year == pytest.approx(6_900)


def test_a_shift_that_costs_nothing_more_than_its_own_wage() -> None:
    """An entered 0 is a wage, and is not the one of all shifts."""
    text = today(PAID, "money.wage = 3") + "wage = 0\n"
    here = side(plan_of(text), figured(text))
    found = money_of(here, here, here)
    assert found.of_year.wages == 0
    assert found.not_priced == ()


def test_a_gain_in_money_and_what_follows_from_it() -> None:
    """Twice the pieces for 10 000: 50 x 10 x 50 = 25 000 a year more, less nothing."""
    text = today(PAID) + CHILD + "money.one_off = 10000\nmoney.years = 2\n"
    plans = plans_of(sound(text))
    base, more = figured(text, cut=(100,)), figured(text, cut=(200,))
    there = side(plans["today"], base)
    found = money_of(side(plans["child"], more), there, there)
    assert (found.year, found.year_gain, found.capital) == (50_000, 25_000, 10_000)
    assert found.payback_years == 0.4
    assert found.net_present_value == pytest.approx(25_000 / 1.08 + 25_000 / 1.08**2 - 10_000)
    # 10 000 q^2 = 25 000 q + 25 000
    assert found.rate_of_return_percent == pytest.approx(100 * ((2.5 + math.sqrt(16.25)) / 2 - 1))


def test_a_ramp_of_the_scenario() -> None:
    """As above with a ramp of 73.05 days, a fifth of a year of 365.25 days.

    25 000 x 0.2 / 2 = 2 500 are lacking: 22 500, then 25 000; 0.4 + 0.1 years until 10 000 are in.
    """
    text = today(PAID) + CHILD + "money.one_off = 10000\nmoney.years = 2\n"
    plans = plans_of(sound(text + "money.ramp = '73.05 d'\n"))
    there = side(plans["today"], figured(text, cut=(100,)))
    found = money_of(side(plans["child"], figured(text, cut=(200,))), there, there)
    assert found.year_gain == 25_000
    assert found.payback_years == pytest.approx(0.5)
    assert found.net_present_value == pytest.approx(22_500 / 1.08 + 25_000 / 1.08**2 - 10_000)
    assert found.rests.ramp == pytest.approx(0.2)


@pytest.mark.outside("numpy-financial: npv and irr of a gain with ramp and yearly costs", values=2)
def test_a_ramp_and_yearly_costs_are_worth_what_the_library_says() -> None:
    """As above over 7 years at 8 %, with 900 a year for service and 350 for each of two machines:
    25 000 - 900 - 700 = 23 400 a year, of which the ramp costs 23 400 x 0.2 / 2 in the first year.
    The row of cash flows is ours; npv and irr of it are numpy-financial's."""
    text = today(PAID) + CHILD + "money.one_off = 50000\nmoney.ramp = '73.05 d'\n"
    text += "money.yearly = 900\nmachine.mill.count = 2\nmachine.mill.yearly = 350\n"
    text += "machine.mill.price = 10000\n"
    plans = plans_of(sound(text))
    there = side(plans["today"], figured(text, cut=(100,)))
    found = money_of(side(plans["child"], figured(text, cut=(200,))), there, there)
    assert (found.year_gain, found.capital) == (pytest.approx(23_400), 60_000)
    flows = [-60_000, 23_400 * 0.9, *[23_400] * 6]
    assert found.net_present_value == pytest.approx(float(numpy_financial.npv(0.08, flows)))
    rate = 100 * float(numpy_financial.irr(flows))
    assert found.rate_of_return_percent == pytest.approx(rate)


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
    cells, ran = [], []
    for lines in ((), ("money.wage = 30", "machine.mill.price = 9", "part.body.contribution = 7")):
        text = today(*lines)
        cells.append(plan_of(text).cell)
        compared(text, memory)
        ran.append(memory.ran)
    assert cells[0] == cells[1]
    assert ran[0] == ran[1] > 0
