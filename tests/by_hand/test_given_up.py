"""Money: what is bought, what is given up, and what a year brings."""

from __future__ import annotations

import pytest

from .pencil import sheets

MILLS = """\
shift.early = { days = ["mon"], start = "06:00", end = "14:00", people = 2 }
money = { wage = 20, weeks_per_year = 50, rate = "8 %", years = 7, floor_price = 100 }
machine.mill.count = 2
machine.mill.resale = 10000
machine.mill.floor = "10 m^2"
part.body = { cycle = "10 min", weekly = 40, contribution = 10, fixture_price = 500 }
"""

CELL = (
    MILLS
    + """\
[scenario.cell]
parent = "today"
shift.early.people = 1
money.one_off = 3000
machine.mill.count = 0
machine.cell.pallets = 2
machine.cell.price = 51500
machine.cell.pallet_price = 2000
machine.cell.pallet_system_price = 5000
machine.cell.floor = "15 m^2"
machine.cell.pallet_floor = "2 m^2"
[scenario.keep_one]
parent = "cell"
machine.mill.count = 1
"""
)


def test_a_year_of_today() -> None:
    """Two tables make 35 pieces each (visits of 4 and cuts of 10 min in 480), 40 are wanted.

    50 weeks x (40 x 10 - 20 x 16 paid hours) - 2 x 10 m2 x 100 = 50 x 80 - 2,000 = 2,000.
    """
    money = sheets(CELL)["today"].told["money"]
    assert (money["currency"], money["year"], money["year_gain"]) == ("USD", 2000, 0)
    assert (money["capital"], money["payback_years"]) == (0, None)


def test_a_cell_for_which_owned_machines_are_given_up() -> None:
    """One machine with two pallets: 40 pieces and more (one every 10.5 min), one person.

    Year: 50 x (400 - 20 x 8) - (15 + 2) x 100 = 10,300: 8,300 more than today.
    Capital: 51,500 for the machine, 2,000 for its second pallet, 5,000 for what moves them, 3,000
    one-off, less two mills given up, 20,000: 41,500. Fixtures: two are held, as today.
    Payback: 41,500 / 8,300 = 5 years.
    Present value of 1 a year for 7 years at 8 %: (1 - 1.08^-7) / 0.08 = 5.20637.
    Rate of return: that factor is 5.0330 at 9 % and 4.8684 at 10 % (interest tables of engineering
    economy, computed anew), and 5 between them, at 9 + 0.0330 / 0.1646 = 9.2 %.
    """
    cell = sheets(CELL)["cell"]
    assert cell.met["body"] > 100
    money = cell.told["money"]
    assert (money["year"], money["year_gain"]) == (10_300, 8_300)
    assert (money["capital"], money["payback_years"]) == (41_500, 5)
    assert money["net_present_value"] == pytest.approx(8300 * 5.20637 - 41_500, abs=0.05)
    assert money["rate_of_return_percent"] == pytest.approx(9.2, abs=0.01)


def test_a_mill_that_is_kept() -> None:
    """Only one is given up: 41,500 + 10,000; the other stands on 10 m2, 1,000 a year: 7,300 more
    than today. A third fixture is held, 500."""
    money = sheets(CELL)["keep_one"].told["money"]
    assert money["year_gain"] == 7_300
    assert money["capital"] == 41_500 + 10_000 + 500
    assert money["payback_years"] == pytest.approx(52_000 / 7_300, abs=1e-6)


def test_pallets_for_a_machine_that_is_there() -> None:
    """Two mills get three pallets each: four more at 1,500, two systems at 4,000. Orders 1 to 3 may
    be opened on Monday, as those before them are due after 0, a half and one week; each is at one
    pallet, so that three fixtures are held, one more than today at 500: 14,500 together.

    One person instead of two: 50 x 20 x 8 = 8,000 more a year, floor for four pallets of 1 m2
    less, 400: 7,600. Payback 14,500 / 7,600 years.
    """
    prices = """\
machine.mill.pallet_price = 1500
machine.mill.pallet_system_price = 4000
machine.mill.pallet_floor = "1 m^2"
"""
    text = (
        MILLS
        + prices
        + (
            '[scenario.pallets]\nparent = "today"\nshift.early.people = 1\n'
            "machine.mill.pallets = 3\n"
        )
    )
    money = sheets(text)["pallets"].told["money"]
    assert (money["capital"], money["year_gain"]) == (14_500, 7_600)
    assert money["payback_years"] == pytest.approx(14_500 / 7_600, abs=1e-6)


def test_what_brings_nothing_is_never_paid_back() -> None:
    """A third mill at 30,000: 40 pieces are wanted and made already; its floor costs 1,000 a year,
    a third fixture 500."""
    text = (
        MILLS
        + "machine.mill.price = 30000\n"
        + ('[scenario.three]\nparent = "today"\nmachine.mill.count = 3\n')
    )
    money = sheets(text)["three"].told["money"]
    assert (money["capital"], money["year_gain"]) == (30_500, -1_000)
    assert (money["payback_years"], money["rate_of_return_percent"]) == (None, None)
    assert money["net_present_value"] == pytest.approx(-1000 * 5.20637 - 30_500, abs=0.05)
