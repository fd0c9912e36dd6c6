"""Money side by side and in sentences: the items add up, and each case has its words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from answer_studies import CHILD, sound, today

from whatif.answers.compare import Answer, Comparison, compare_wholly
from whatif.answers.gains import Likely
from whatif.answers.money import capital_of, year_of
from whatif.session.calculate.memory import Memory
from whatif.telling.amounts import grouped
from whatif.telling.money import likely_year, money_blocks, money_sentences

PAID = "part.body.contribution = 10"


def found_of(text: str) -> Comparison:
    memory = Memory()
    return compare_wholly(sound(text), memory, memory.pause)


def told(*lines: str) -> tuple[Answer, Answer]:
    """Child and reference; the child has these lines."""
    text = today(PAID, "money.wage = 1", "machine.mill.resale = 900", "part.body.weekly = 3000")
    found = found_of(text + CHILD + "\n".join(lines) + "\n")
    return found.answers["child"], found.answers["today"]


def said(*lines: str) -> str:
    child, base = told(*lines)
    return " ".join(money_sentences(child, base, "Now")).replace("\u00a0", " ")


def test_the_parts_of_a_year_and_of_the_capital_add_up() -> None:
    child, base = told(
        "machine.mill.count = 2",
        "machine.mill.price = 5000",
        "machine.mill.pallets = 3",
        "machine.mill.pallet_price = 70",
        "machine.mill.pallet_system_price = 400",
        "money.one_off = 11",
        "part.body.fixture_price = 13",
    )
    assert child.figures is not None
    assert child.money is not None
    year = year_of(child.plan, child.figures)
    assert child.money.year == pytest.approx(year.contribution - year.wages - year.floor)
    assert year.wages == 50 * child.figures.people.paid
    capital = capital_of(child.plan, child.held, base.plan, base.held)
    # One machine more; two pallets beyond the first on each of two; two with what moves them.
    assert float(capital.machines) == 5000
    assert float(capital.pallets) == 4 * 70
    assert float(capital.systems) == 2 * 400
    assert capital.fixtures == 13 * (child.held["body"] - base.held["body"])
    assert child.money.capital == float(capital.total) == 5000 + 280 + 800 + 11 + capital.fixtures
    rows = {one.label: one for block in money_blocks([base, child], base) for one in block.rows}
    assert rows["machines bought"].cells[1].text == grouped(5000)
    assert rows["machines bought"].cells[0].text == "-"
    assert "machines given up" not in rows
    assert rows["capital to be laid out"].cells[0].text == "reference"
    assert rows["capital to be laid out"].cells[1].text == grouped(child.money.capital)


def test_what_pays_back_is_told_with_its_years() -> None:
    child, _ = told("machine.mill.count = 2", "machine.mill.price = 5000")
    assert child.money is not None
    assert child.money.payback_years is not None
    text = said("machine.mill.count = 2", "machine.mill.price = 5000")
    assert "EUR" not in text  # the currency is the reference's, and that is the assumed one
    assert text.startswith("USD 5 000 is laid out at once; every year brings USD ")
    assert f"after {child.money.payback_years:.1f} years it has come back." in text
    assert "at 8 % a year" in text


def test_what_never_pays_back() -> None:
    text = said("money.one_off = 5000", "money.wage = 2")
    assert "it never comes back" in text
    assert "no rate of return: a year brings no more than in the reference." in text


def test_what_needs_no_capital() -> None:
    text = said("money.wage = 0")
    assert text.startswith("Nothing has to be laid out, and every year brings USD ")
    assert "no rate of return: nothing has to be laid out." in text


def test_machines_given_up_and_a_worse_year() -> None:
    """Each hour paid costs 1 more, 50 weeks a year."""
    child, base = told("money.wage = 2", "machine.mill.owned = 1")
    assert child.money is not None
    freed = replace(child, money=replace(child.money, capital=-900.0))
    assert child.figures is not None
    assert child.money.year_gain == pytest.approx(-50 * child.figures.people.paid)
    text = " ".join(money_sentences(freed, base, "Now")).replace("\u00a0", " ")
    assert text.startswith("Machines given up leave USD 900 over; every year brings USD ")
    assert f"after {900 / -child.money.year_gain:.1f} years that is used up." in text
    assert "a loan and no investment" in text


def test_the_reference_is_what_others_are_held_against() -> None:
    _, base = told()
    (text,) = money_sentences(base, base, "Now")
    assert text.startswith("This is what the others are held against")


def test_a_gain_in_whose_range_nothing_lies_is_no_clear_difference() -> None:
    child, base = told("money.one_off = 10")
    assert child.gains.saleable is not None
    assert child.money is not None
    assert base.figures is not None
    contribution = year_of(base.plan, base.figures).contribution
    gain = child.gains.saleable

    def likely(*more: float) -> Likely:
        """So much money a year more or less than as typed."""
        low, middle, high = (gain + 100 * each / contribution for each in more)
        return Likely(saleable=(low, middle, high))

    coarse = replace(
        child,
        money=replace(child.money, year_gain=30.0),
        likely=likely(-40, -10, 40),
    )
    assert likely_year(coarse, base) == pytest.approx((-10, 20, 70))
    row = money_blocks([coarse], base)[0].rows[0]
    assert row.cells[0].text == "no clear difference"
    assert "no clear difference" in " ".join(money_sentences(coarse, base, "Now"))
    fine = replace(coarse, likely=likely(-20, -10, 20))
    assert money_blocks([fine], base)[0].rows[0].cells[0].text == "+30"
