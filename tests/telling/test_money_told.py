"""Money side by side and in sentences: the items add up, and each case has its words."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from answer_studies import CHILD, sound, today

from whatif.answers.compare import Answer, Comparison, compare_wholly
from whatif.answers.gains import Likely
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS
from whatif.session.calculate.memory import Memory
from whatif.telling.amounts import grouped, priced
from whatif.telling.meeting import headline
from whatif.telling.money.blocks import money_blocks
from whatif.telling.money.rests import rests_parts
from whatif.telling.money.sentences import money_sentences, takes_sentences

PAID = "part.body.contribution = 10"


def found_of(text: str) -> Comparison:
    memory = Memory()
    return compare_wholly(sound(text), memory, memory.pause)


def told(*lines: str) -> tuple[Answer, Answer]:
    """Child and reference; the child has these lines."""
    text = today(
        PAID,
        "money.wage = 1",
        "machine.mill.price = 5000",
        "machine.mill.resale = 900",
        "part.body.fixture_price = 13",
        "part.body.weekly = 3000",
    )
    found = found_of(text + CHILD + "\n".join(lines) + "\n")
    return found.answers["child"], found.answers["today"]


def said(*lines: str) -> str:
    child, base = told(*lines)
    return " ".join(money_sentences(child, base, "Now")).replace("\u00a0", " ")


def test_the_parts_of_a_year_and_of_the_capital_add_up() -> None:
    child, base = told(
        "machine.mill.count = 2",
        "machine.mill.pallets = 3",
        "machine.mill.pallet_price = 70",
        "machine.mill.pallet_system_price = 400",
        "money.one_off = 11",
    )
    assert child.figures is not None
    assert child.money is not None
    year = child.money.of_year
    assert child.money.year == pytest.approx(year.contribution - year.wages - year.floor)
    assert year.wages == 50 * child.figures.people.paid
    capital = child.money.of_capital
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
    """A second mill, and a fixture for it."""
    child, _ = told("machine.mill.count = 2")
    assert child.money is not None
    assert child.money.payback_years is not None
    text = said("machine.mill.count = 2")
    assert "EUR" not in text  # the currency is the reference's, and that is the assumed one
    assert text.startswith("USD 5 013 is laid out at once; every year brings USD ")
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


def test_half_a_year_is_told_as_half_a_year() -> None:
    """80 h a week at 1 less are 4 000 a year: of 5 000 laid out half of that is back by then, and
    worth 2 000 / 1.08 ^ 0.5 = 1 924.5 today."""
    text = said("money.wage = 0", "money.one_off = 5000", "money.years = 0.5")
    assert "Over the 0.5 years counted USD 3 000 less comes in than is laid out; " in text
    assert "all of it is worth USD -3 075 today." in text


@pytest.mark.parametrize(("wage", "more"), [("0", "more"), ("2", "less"), ("''", "more")])
def test_where_nothing_is_laid_out_nobody_speaks_of_paying_back(wage: str, more: str) -> None:
    """A wage that is not given is none of what has to be laid out."""
    takes = takes_sentences(*told(f"money.wage = {wage}")).replace("\u00a0", " ")
    assert takes.startswith(f"It takes no capital and brings USD 4 000 a year {more}. ")


def test_machines_given_up_and_a_worse_year() -> None:
    """Today's mill is sold and a lathe that is owned stands in; each hour paid costs 1 more.

    900 are freed, 50 weeks x 80 h x 1 = 4 000 a year are lost: used up after 900 / 4 000 years.
    """
    child, _ = told("money.wage = 2", "money.one_off = 0")
    assert child.money is not None
    assert child.money.year_gain == pytest.approx(-50 * 80)
    text = today(PAID, "machine.mill.count = 2", "machine.mill.resale = 900", "money.wage = 1")
    found = found_of(f"{text}{CHILD}machine.mill.count = 1\nmoney.wage = 2\n").answers
    freed = " ".join(money_sentences(found["child"], found["today"], "Now")).replace("\u00a0", " ")
    assert freed.startswith("USD 900 comes free at once; every year brings USD ")
    money = found["child"].money
    assert money is not None
    assert money.more_capital == -900
    assert f"after {900 / -money.year_gain:.1f} years that is used up." in freed
    assert "a loan and no investment" in freed


def test_the_reference_is_what_others_are_held_against() -> None:
    _, base = told()
    (text,) = money_sentences(base, base, "Now")
    assert text.startswith("This is what the others are held against")


def test_a_gain_within_its_likely_range_is_no_clear_difference() -> None:
    """20 % more at 10 a piece; the range from -5 % to 45 % is 25 points of a year either way."""
    child, base = told("money.one_off = 10")
    assert base.money is not None
    assert child.money is not None
    point = base.money.of_year.contribution / 100
    unclear = replace(
        child,
        gains=replace(child.gains, saleable=20.0),
        money=replace(child.money, year_gain=20 * point),
        likely=Likely(saleable=(-5.0, 20.0, 45.0)),
    )
    row = money_blocks([unclear], base)[0].rows[0]
    assert row.cells[0].text == "no clear difference"
    text = " ".join(money_sentences(unclear, base, "Now"))
    assert f"between {priced(-5 * point, 'USD')} and {priced(45 * point, 'USD')} more" in text
    clear = replace(unclear, likely=Likely(saleable=(5.0, 20.0, 45.0)))
    assert money_blocks([clear], base)[0].rows[0].cells[0].text == f"+{grouped(20 * point)}"


# --- what a payback rests on -----------------------------------------------------------------


def rests(*lines: str, base: str = "") -> str:
    text = today(PAID, "money.wage = 1", "part.body.weekly = 100", base or "notes = ''")
    found = found_of(text + CHILD + "\n".join(lines) + "\n").answers
    money = found["child"].money
    assert money is not None
    return "; ".join(rests_parts(money)).replace("\u00a0", " ")


def test_all_that_a_payback_rests_on() -> None:
    assert rests("money.one_off = 5") == (
        "100 pieces a week sold, 100 wanted in today; no stops; the full gain from the first day; "
        "everything priced"
    )


def test_more_pieces_than_are_wanted_today_must_be_sold() -> None:
    said = rests("part.body.weekly = 120", "machine.mill.pallets = 4", "part.lid.cycle = '1 min'",
                 "part.lid.weekly = 7", "part.lid.contribution = 1",
                 "machine.mill.price = 1")  # fmt: skip
    assert said.startswith("127 pieces a week sold, 100 wanted in today (more of body: 120 for 100 "
                           "and lid: 7 for 0); ")  # fmt: skip


def test_pieces_of_an_operation_before_another_are_not_sold() -> None:
    first = "part.first.cycle = '1 min'\npart.body.after = 'first'\npart.first.stock = 500"
    assert rests(base=first).startswith("100 pieces a week sold, 100 wanted in today; ")


def test_a_ramp_is_told_in_weeks() -> None:
    assert "the full gain after 13 weeks" in rests("money.ramp = '13 weeks'")


def test_stops_are_told_with_their_runs() -> None:
    assert "stops, 3 runs" in rests("stop.jam = { every = '9 h', repair = '20 min' }")


@pytest.mark.parametrize(
    ("gap", "said"),
    [
        ("people", r"the gap to the hour meters laid to people, \d+ s a visit"),
        ("machine", r"the gap to the hour meters laid to machines, \d+ s a load"),
        ("show", "the gap to the hour meters left open"),
    ],
)
def test_a_gap_that_is_laid_is_told_with_its_size(gap: str, said: str) -> None:
    meters = f"""hour_meters = {{ switched_on = '400 h', in_cut = '60 h', gap = '{gap}' }}"""
    assert re.search(said, rests("machine.mill.pallets = 3", base=meters))


def test_the_meeting_and_the_exports_say_what_it_rests_on() -> None:
    text = today(PAID, "money.wage = 1") + CHILD + "money.ramp = '4 weeks'\n"
    found = found_of(text)
    child, base = found.answers["child"], found.answers["today"]
    said = "the full gain after 4 weeks; everything priced"
    assert said in takes_sentences(child, base)
    assert said in " ".join(headline(child, base, "today").sentences)
    report = comparison_report(found)
    for form, write in WRITERS.items():
        assert said.split("; ")[0] in write(report), form
