"""Capital against what stands in the shop today, by hand (rule `money.capital`)."""

from __future__ import annotations

import pytest
from answer_studies import CHILD, figured, sound, today

from whatif.answers.compare import compare
from whatif.answers.money.capital import Costed, given_up
from whatif.answers.money.money import MoneyFigures, money_of
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.session.calculate.memory import Memory

PRICES = (
    "part.body.contribution = 10",
    "money.wage = 1",
    "machine.mill.count = 3",
    "machine.mill.price = 100000",
    "machine.mill.resale = 40000",
    "machine.mill.pallet_price = 5000",
    "machine.mill.pallet_system_price = 30000",
    "part.body.fixture_price = 700",
)


def plans(*child: str, head: tuple[str, ...] = PRICES) -> dict[str, Plan]:
    return plans_of(sound("\n".join([today(*head), CHILD, *child, ""])))


def priced(
    *child: str,
    head: tuple[str, ...] = PRICES,
    held: int = 0,
    held_there: int = 0,
    scenario: str = "child",
) -> MoneyFigures:
    """A scenario as busy as today, which is the reference too."""
    found, figures = plans(*child, head=head), figured(today(*head))
    there = Costed(found["today"], figures, {"body": held_there})
    here = Costed(found[scenario], figures, {"body": held}) if scenario != "today" else there
    return money_of(here, there, there)


@pytest.mark.parametrize(
    ("child", "capital"),
    [
        ((), 0),
        # Machines beyond those of today, and given up.
        (("machine.mill.count = 5",), 2 * 100_000),
        (("machine.mill.count = 2",), -40_000),
        (("machine.mill.count = 0",), -3 * 40_000),
        (("machine.mill.count = 2", "machine.mill.resale = 1"), -40_000),  # today's
        # What is entered holds: one more is there than today has, or all that are not used.
        (("machine.mill.count = 5", "machine.mill.owned = 4"), 100_000),
        (("machine.mill.count = 5", "machine.mill.owned = 9"), 0),
        (("machine.mill.count = 2", "machine.mill.owned = 3"), 0),
        (("machine.mill.count = 3", "machine.mill.owned = 1"), 2 * (100_000 - 40_000)),
        (("machine.mill.count = 3", "machine.mill.owned = 0"), 3 * (100_000 - 40_000)),
        # Only the price is another one: the same machines, as the next one would cost.
        (("machine.mill.count = 4", "machine.mill.price = 150000"), 150_000),
        (("machine.mill.count = 2", "machine.mill.price = 150000"), -40_000),
        (("machine.mill.price = 0",), 0),
        # Only the machine is another one: a table is changed, at no price.
        (("machine.mill.faces = 4",), 0),
        # Both: new machines, and the three old ones are given up.
        (
            ("machine.mill.count = 2", "machine.mill.price = 150000", "machine.mill.faces = 4"),
            2 * 150_000 - 3 * 40_000,
        ),
        (("machine.mill.price = 150000", "machine.mill.pockets = 60"), 3 * 110_000),
        (("machine.mill.price = 150000", "machine.mill.work_height = '1 m'"), 3 * 110_000),
        (("machine.mill.price = 150000", "machine.mill.table = ['1 m', '1 m']"), 3 * 110_000),
        (("machine.mill.price = 150000", "machine.mill.travel = ['1 m', '1 m']"), 3 * 110_000),
        # A price of 0 is a price too: new machines, which cost nothing.
        (("machine.mill.price = 0", "machine.mill.faces = 4"), -3 * 40_000),
        # None is none, and no other price.
        (("machine.mill.price = ''", "machine.mill.faces = 4"), 0),
        (
            ("machine.mill.price = 150000", "machine.mill.faces = 4", "machine.mill.owned = 3"),
            0,
        ),
        # A group that today lacks, one of its machines being there already.
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


def test_a_size_in_another_unit_is_no_other_machine() -> None:
    head = (*PRICES, "machine.mill.table = ['900 mm', '500 mm']")
    same = ("machine.mill.price = 150000", "machine.mill.table = ['0.9 m', '50 cm']")
    assert priced(*same, head=head).capital == 0


@pytest.mark.parametrize(
    ("child", "capital"),
    [
        ((), 0),
        (("machine.mill.pallets = 6",), 3 * 2 * 5_000),  # they have their pallet systems
        (("machine.mill.pallets = 2",), 0),  # nobody buys old pallets
        # One more machine has 3 pallets beyond its first, and a system.
        (("machine.mill.count = 4",), 100_000 + 3 * 5_000 + 30_000),
        # Two with 7 have 12 beyond the first, where today has 9.
        (("machine.mill.count = 2", "machine.mill.pallets = 7"), 3 * 5_000 - 40_000),
        # Of new machines, nothing of the old ones is of use.
        (
            ("machine.mill.count = 2", "machine.mill.pallets = 7", "machine.mill.price = 150000"),
            2 * 150_000 + 12 * 5_000 + 2 * 30_000 - 3 * 40_000,
        ),
        # Two of them are said to be there: then their pallets are today's, 12 less 9 are bought.
        (
            (
                *("machine.mill.count = 2", "machine.mill.pallets = 7"),
                *("machine.mill.price = 150000", "machine.mill.owned = 2"),
            ),
            3 * 5_000 - 40_000,
        ),
    ],
)
def test_pallets_beyond_those_of_today(child: tuple[str, ...], capital: float) -> None:
    head = (*PRICES, "machine.mill.pallets = 4")
    assert priced(*child, head=head).capital == pytest.approx(capital)


def test_a_price_covers_pallets_that_have_none_of_their_own() -> None:
    head = tuple(line for line in PRICES if "pallet" not in line)
    found = priced("machine.mill.count = 4", "machine.mill.owned = 3", head=head)
    assert (found.capital, found.not_priced) == (100_000, ())
    cell = ("machine.cell.price = 400000", "machine.cell.pallets = 6", "machine.cell.owned = 0")
    found = priced(*cell, "machine.mill.count = 0", head=head)
    assert (found.capital, found.not_priced) == (400_000 - 3 * 40_000, ())
    # Of five machines with 3 pallets two are bought: theirs are covered, those of three are not.
    found = priced("machine.mill.count = 5", "machine.mill.pallets = 3", head=head)
    assert found.capital == 200_000
    assert [(one.what, one.of, one.count) for one in found.not_priced] == [
        ("pallets", "mill", 6),
        ("systems", "mill", 3),
    ]


@pytest.mark.parametrize(
    ("held", "held_there", "capital"), [(5, 2, 2_100), (2, 2, 0), (1, 2, 0), (3, 0, 2_100)]
)
def test_fixtures_at_most_held_beyond_those_of_today(
    held: int, held_there: int, capital: int
) -> None:
    assert priced(held=held, held_there=held_there).capital == capital


def test_fixtures_of_every_part_number() -> None:
    """Four numbers with 3 each at most, where one number held 2: 12 - 2 at 700."""
    assert priced("part.body.numbers = 4", held=3, held_there=2).capital == 10 * 700


def test_fixtures_at_another_price_are_others() -> None:
    assert priced("part.body.fixture_price = 900", held=3, held_there=2).capital == 3 * 900


TWO = (*PRICES, "part.body.numbers = 3", "part.body.fixtures = 2")
"""Two fixtures of each of three numbers stand in the rack."""


@pytest.mark.parametrize(
    ("child", "held", "bought"),
    [
        # Longer hours have both of a number on tables at once, where today had one: none is bought.
        (('unattended.after_shift = "4 h"',), 2, 0),
        # More are entered than today has: of these as many as are held at once.
        (("part.body.fixtures = 4",), 4, 3 * 2),
        (("part.body.fixtures = 4",), 2, 0),
        # A number more has fixtures of its own.
        (("part.body.numbers = 4",), 2, 2),
    ],
)
def test_fixtures_that_stand_in_the_rack_are_not_bought(
    child: tuple[str, ...], held: int, bought: int
) -> None:
    assert priced(*child, head=TWO, held=held, held_there=1).capital == 700 * bought
    unpriced = tuple(line for line in TWO if "fixture_price" not in line)
    found = priced(*child, head=unpriced, held=held, held_there=1)
    named = [("fixtures", "body", bought)] if bought else []
    assert [(one.what, one.of, one.count) for one in found.not_priced if one.of == "body"] == named


def test_fixtures_without_a_price_are_asked_for_only_where_pallets_are_added() -> None:
    """Nobody said how many there are: three tables have one each, whatever they held at once."""
    head = tuple(line for line in PRICES if "fixture_price" not in line)
    longer = priced('unattended.after_shift = "4 h"', head=head, held=3, held_there=1)
    assert [one for one in longer.not_priced if one.what == "fixtures"] == []
    more = priced("machine.mill.pallets = 3", head=head, held=7, held_there=1)
    assert [one.count for one in more.not_priced if one.what == "fixtures"] == [7 - 3]


# --- machines given up, all groups together ---------------------------------------------------

LATHES = (*PRICES, "machine.lathe.count = 2", "machine.lathe.resale = 9000")


@pytest.mark.parametrize(
    ("child", "gone", "capital"),
    [
        # A mill is turned into a cell: it is owned there, and not sold as well.
        (
            ("machine.mill.count = 2", "machine.cell.count = 1", "machine.cell.owned = 1"),
            {},
            0,
        ),
        # Two become one: the other is sold.
        (
            ("machine.mill.count = 1", "machine.cell.count = 1", "machine.cell.owned = 1"),
            {"mill": 1},
            -40_000,
        ),
        # Taken from the groups that have fewer, in the file's order: the lathes stand first here.
        (
            ("machine.mill.count = 1", "machine.lathe.count = 0", "machine.cell.owned = 1"),
            {"lathe": 2, "mill": 1},
            -2 * 9_000 - 40_000,
        ),
        (
            ("machine.mill.count = 1", "machine.lathe.count = 0", "machine.cell.owned = 3"),
            {"lathe": 1},
            -9_000,
        ),
        # More are there than today: none is sold.
        (("machine.mill.count = 1", "machine.cell.owned = 9"), {}, 0),
    ],
)
def test_machines_given_up(child: tuple[str, ...], gone: dict[str, int], capital: int) -> None:
    head = (
        (
            "machine.lathe.count = 2",
            "machine.lathe.resale = 9000",
            *PRICES,
        )
        if any("lathe" in line for line in child)
        else PRICES
    )
    child = (*child, "machine.cell.price = 0")
    found = plans(*child, head=head)
    here, there = found["child"].prices, found["today"].prices
    assert here is not None
    assert there is not None
    assert given_up(here, there) == gone
    assert priced(*child, head=head).capital == capital


# --- today, the reference, and others --------------------------------------------------------

THREE = """\
[scenario.five]
parent = "today"
machine.mill.count = 5
[scenario.six]
parent = "five"
machine.mill.count = 6
money.one_off = 1000
"""


def compared(head: str) -> dict[str, MoneyFigures]:
    text = today(*PRICES, "part.body.weekly = 3000").replace("[scenario.today]", head, 1)
    found = compare(sound(text + THREE), Memory())
    return {id_: one.money for id_, one in found.answers.items() if one.money is not None}


def test_capital_is_against_today_whatever_the_reference() -> None:
    found = compared('reference = "five"\n[scenario.today]')
    fixtures = {"five": 2, "six": 3}  # of 3 tables that hold one each today
    assert found["today"].capital == 0
    assert found["five"].capital == 200_000 + 700 * fixtures["five"]
    assert found["six"].capital == 301_000 + 700 * fixtures["six"]
    assert found["five"].more_capital == 0
    assert found["six"].more_capital == found["six"].capital - found["five"].capital == 101_700
    # Today is less of a capital than the reference, by what would have been laid out for it.
    assert found["today"].more_capital == -found["five"].capital
    six = found["six"]
    assert six.year_gain > 0
    assert six.payback_years == pytest.approx(101_700 / six.year_gain)


def test_today_may_be_another_scenario_than_the_first() -> None:
    found = compared('today = "five"\n[scenario.today]')
    assert found["five"].capital == 0
    assert found["today"].capital == -2 * 40_000  # two are sold
    assert found["today"].more_capital == 0  # it is the reference
    assert found["six"].capital == 101_000 + 700
    assert found["six"].more_capital == 101_700 + 80_000


def test_the_reference_is_measured_against_itself() -> None:
    head = (*PRICES, "money.one_off = 999", "machine.mill.pallets = 3")
    found = priced(head=head, scenario="today", held_there=4)
    assert (found.more_capital, found.year_gain, found.net_present_value) == (0, 0, 0)
    assert (found.payback_years, found.rate_of_return_percent) == (None, None)


# --- what was wrong once ---------------------------------------------------------------------


def test_machines_are_bought_though_those_owned_had_a_price_of_nothing() -> None:
    """Today's mill is written off: its price is 0. Two new ones at 350,000 are no less of them."""
    head = tuple(line.replace("100000", "0") for line in PRICES)
    new = ("machine.mill.price = 350000", "machine.mill.count = 2", "machine.mill.pallets = 6")
    covered = ("machine.mill.pallet_price = ''", "machine.mill.pallet_system_price = ''")
    assert priced(*new, *covered, head=head).capital == 700_000 - 3 * 40_000


def test_owned_of_a_machine_that_costs_nothing() -> None:
    """Bought at 0 and owned are not the same: what is bought leaves the old one to be sold."""
    free = ("machine.mill.price = 0", "machine.mill.faces = 4")
    assert priced(*free, "machine.mill.owned = 0").capital == -3 * 40_000
    assert priced(*free, "machine.mill.owned = 2").capital == -40_000
    assert priced(*free, "machine.mill.owned = 3").capital == 0
