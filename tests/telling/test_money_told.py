"""Money side by side and in sentences: the items add up, and each case has its words."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from answer_studies import CHILD, sound, today

from whatif.answers.account.account import Note
from whatif.answers.answer import Answer, Comparison
from whatif.answers.compare import compare_wholly
from whatif.answers.gains import Likely
from whatif.answers.money.capital import MoreFixtures
from whatif.answers.money.missing import Leans
from whatif.answers.money.money import MoneyFigures
from whatif.answers.money.returns import returns_of
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS
from whatif.session.calculate.memory import Memory
from whatif.telling.account.sentences import note_sentence
from whatif.telling.amounts import grouped
from whatif.telling.meeting.page import headline
from whatif.telling.money.blocks import figure_row, likely_row, money_blocks
from whatif.telling.money.curve import cash_lines
from whatif.telling.money.ranges import payback_texts, rate_texts
from whatif.telling.money.rests import fixtures_words, more_fixtures_sentence, rests_parts
from whatif.telling.money.sentences import money_sentences, returns_sentences, takes_sentences
from whatif.telling.said import NOTHING_SAID, Said, SaidRow, alike_within
from whatif.telling.table import table_rows
from whatif.telling.warnings import warnings_of

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
    child, _ = told(*lines)
    return " ".join(money_sentences(child, "Now")).replace("\u00a0", " ")


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
    rows = {one.label: one for block in money_blocks([base, child]) for one in block.rows}
    assert rows["machines bought"].cells[1].text == grouped(5000)
    assert rows["machines bought"].cells[0].text == "–"
    assert "machines given up" not in rows
    assert rows["investment"].cells[0].text == "reference"
    assert rows["investment"].cells[1].text == grouped(child.money.capital)


def test_what_pays_back_is_told_with_its_years() -> None:
    """A second mill, and a fixture for it."""
    child, _ = told("machine.mill.count = 2")
    assert child.money is not None
    assert child.money.payback_years is not None
    text = said("machine.mill.count = 2")
    assert "EUR" not in text  # the currency is the reference's, and that is the assumed one
    assert text.startswith("USD 5 013 is invested at once; every year brings USD ")
    assert f"after {child.money.payback_years:.1f} years it has come back." in text
    assert "at 8 % a year" in text


def test_what_never_pays_back() -> None:
    text = said("money.one_off = 5000", "money.wage = 2")
    assert "it never comes back" in text
    assert "no rate of return: a year brings no more than in today." in text


def test_what_needs_no_capital() -> None:
    text = said("money.wage = 0")
    assert text.startswith("Nothing has to be invested, and every year brings USD ")
    assert "no rate of return: nothing has to be invested." in text


@pytest.mark.parametrize(
    ("lines", "rate"),
    [
        # Paid for, and a year brings no more; more comes in for nothing; only costs.
        (("money.one_off = 5000", "money.wage = 2"), "no return"),
        (("money.wage = 0",), "nothing invested"),
        (("money.yearly = 500",), "only costs"),
    ],
)
def test_why_there_is_no_rate_of_return_is_told_apart(lines: tuple[str, ...], rate: str) -> None:
    """All of them read "none", though one never pays and another costs nothing."""
    child, _ = told(*lines)
    assert answer_rows(child)["rate of return a year"] == rate
    table = {row.label.strip(): row.cells[0] for row in table_rows(alone(child))}
    assert table["rate of return"] == rate


def test_half_a_year_is_told_as_half_a_year() -> None:
    """80 h a week at 1 less are 4 000 a year: of 5 000 laid out half of that is back by then, and
    worth 2 000 / 1.08 ^ 0.5 = 1 924.5 today."""
    text = said("money.wage = 0", "money.one_off = 5000", "money.years = 0.5")
    assert "Over the 0.5 years counted USD 3 000 less comes in than is invested; " in text
    assert "all of it is worth USD -3 075 today." in text


@pytest.mark.parametrize(
    ("wage", "bound", "more"), [("0", "", "more"), ("2", "", "less"), ("''", "at most ", "more")]
)
def test_where_nothing_is_laid_out_nobody_speaks_of_paying_back(
    wage: str, bound: str, more: str
) -> None:
    """A wage that is not given is none of what has to be invested, but costs a year."""
    takes = takes_sentences(told(f"money.wage = {wage}")[0]).replace("\u00a0", " ")
    assert takes.startswith(f"It takes no capital and brings {bound}USD 4 000 a year {more}.")


def test_machines_given_up_and_a_worse_year() -> None:
    """Today's mill is sold and a lathe that is owned stands in; each hour paid costs 1 more.

    900 are freed, 50 weeks x 80 h x 1 = 4 000 a year are lost: used up after 900 / 4 000 years.
    """
    child, _ = told("money.wage = 2", "money.one_off = 0")
    assert child.money is not None
    assert child.money.year_gain == pytest.approx(-50 * 80)
    text = today(PAID, "machine.mill.count = 2", "machine.mill.resale = 900", "money.wage = 1")
    found = found_of(f"{text}{CHILD}machine.mill.count = 1\nmoney.wage = 2\n").answers
    freed = " ".join(money_sentences(found["child"], "Now")).replace("\u00a0", " ")
    assert freed.startswith("USD 900 comes free at once; every year brings USD ")
    money = found["child"].money
    assert money is not None
    assert money.more_capital == -900
    assert f"after {900 / -money.year_gain:.1f} years that is used up." in freed
    assert "a loan and no investment" in freed


def test_the_reference_is_what_others_are_held_against() -> None:
    _, base = told()
    (text,) = money_sentences(base, "Now")
    assert text.startswith("This is what the others are held against")


POINT = 100.0
"""What a percent of the reference's saleable output contributes a year, by hand below."""


def ranged(likely: tuple[float, float, float], gain: float = 20.0, capital: float = 4000) -> Answer:
    """20 % more, as typed, are 2 000 a year more; of 4 000 laid out that is back in 2 years."""
    child, _ = told("money.one_off = 10")
    assert child.money is not None
    returns = returns_of(capital, gain * POINT, child.money.terms)
    money = replace(
        child.money,
        year_gain=gain * POINT,
        of_a_percent=POINT,
        more_capital=capital,
        payback_years=returns.payback_years,
        net_present_value=returns.net_present_value,
        rate_of_return_percent=returns.rate_of_return_percent,
    )
    gains = replace(child.gains, saleable=gain)
    return replace(child, gains=gains, money=money, likely=Likely(saleable=likely))


def answer_rows(answer: Answer) -> dict[str, str]:
    """The block of the answer, by its labels."""
    rows = money_blocks([answer])[0].rows
    return {row.label: row.cells[0].text.replace("\u00a0", " ") for row in rows}


def plainly(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_money_stands_with_its_likely_range() -> None:
    """10 to 25 % are 1 000 to 2 500 a year, and 4 000 back in 4.0 to 1.6 years."""
    answer = ranged((10.0, 18.0, 25.0))
    rows = answer_rows(answer)
    assert rows["yearly gain"] == "+2 000 (1 000 to 2 500)"
    assert rows["payback"] == "2.0 years (1.6 to 4.0)"
    # Seven years at 8 %: 5.20637 x 2 000 - 4 000 = 6 413, and 1 206 and 9 016 at the ends.
    assert rows["net present value"] == "+6 413 (1 206 to 9 016)"
    said = plainly(" ".join(money_sentences(answer, "Now")))
    assert said.startswith(
        "USD 4 000 is invested at once; every year brings USD 2 000 more than Now (likely 1 000 to "
        "2 500): after 2.0 years (likely 1.6 to 4.0) it has come back. "
    )
    assert "worth USD 6 413 today (likely 1 206 to 9 016)." in said
    assert plainly(takes_sentences(answer)).startswith(
        "It takes USD 4 000 and brings USD 2 000 a year more (likely 1 000 to 2 500): paid back in "
        "2.0 years (likely 1.6 to 4.0)."
    )


def test_a_payback_keeps_its_range_in_a_narrow_column() -> None:
    """Of 17 cells: without its unit, which its row has, before without its range."""
    payback = next(
        row.cells[0]
        for row in money_blocks([ranged((10.0, 18.0, 25.0))])[0].rows
        if row.label == "payback"
    )
    assert payback.within(17) == "2.0 (1.6 to 4.0)"
    assert payback.within(12) == "2.0 years"


def test_the_range_leads_where_the_gain_as_typed_lies_outside() -> None:
    """5 to 10 % are 500 to 1 000 a year: 4 000 are back in 8 to 4 years, not in 2."""
    answer = ranged((5.0, 8.0, 10.0))
    rows = answer_rows(answer)
    assert rows["yearly gain"] == "likely +500 to +1 000 (as typed +2 000)"
    assert rows["payback"] == "likely 4.0 to 8.0 years (as typed 2.0)"
    typed = (
        "As typed it is USD 2 000 a year more and a payback of 2.0 years, which lies outside the "
        "likely range: the range leads, and what stands item by item is as typed."
    )
    said = plainly(" ".join(money_sentences(answer, "Now")))
    assert said.startswith(
        "USD 4 000 is invested at once; every year is likely to bring USD 500 to 1 000 more than "
        f"Now: after 4.0 to 8.0 years it has come back. {typed} "
    )
    meeting = plainly(takes_sentences(answer))
    assert meeting.startswith(
        "It takes USD 4 000 and is likely to bring USD 500 to 1 000 a year more: paid back in 4.0 "
        f"to 8.0 years. {typed}"
    )
    assert plainly(returns_sentences(answer)).startswith(typed)
    table = {row.label.strip(): plainly(row.cells[0]) for row in table_rows(alone(answer))}
    assert table["yearly gain"] == "likely +500 to +1 000 (as typed +2 000)"
    assert table["payback"] == "likely 4.0 to 8.0 (as typed 2.0)"
    assert table["rate of return"].endswith(f"(as typed {rate_of(answer):.1f})")


def test_a_range_that_leads_has_its_bound_at_the_end_that_it_moves() -> None:
    """Prices that are missing: 4.0 to 8.0 years are at least that, and a rate at most."""
    answer = ranged((5.0, 8.0, 10.0))
    assert answer.money is not None
    money = replace(answer.money, leans=Leans("worse", "none", "worse"))
    likely = answer.likely_money
    assert payback_texts(money, likely)[0].startswith("likely at least 4.0 to 8.0 years (")
    *_, short = rate_texts(money, likely)
    low, high = short.split(" to ")
    assert high.startswith("at most ")
    assert low[-1].isdigit()
    # Never "≤16.3 to 20.0", of which nobody knows which of the two it is.
    assert not any(text.startswith(("at most", "likely at most")) for text in
                   rate_texts(money, likely))  # fmt: skip


def test_when_it_is_back_has_its_unit_beside_the_lines_where_a_range_leads_too() -> None:
    answer = ranged((5.0, 8.0, 10.0))
    assert answer.money is not None
    assert payback_texts(answer.money, answer.likely_money)[-1] == "4.0 to 8.0"
    _, (back,) = cash_lines({"child": answer})
    assert back.text == "4.0 to 8.0 years"


def test_a_range_beside_a_bound_has_the_bound_at_its_own_end_too() -> None:
    """It said "at least 2.0 years (1.3 to 4.0)", of which the one denies the other."""
    answer = ranged((10.0, 20.0, 30.0))
    assert answer.money is not None
    money = replace(answer.money, leans=Leans("worse", "none", "worse"))
    assert payback_texts(money, answer.likely_money)[0] == (
        "at least 2.0 years (at least 1.3 to 4.0)"
    )
    first = rate_texts(money, answer.likely_money)[0]
    assert first.startswith("at most ")
    assert " to at most " in first
    said = plainly(takes_sentences(replace(answer, money=money)))
    assert "paid back in at least 2.0 years (likely at least 1.3 to 4.0)" in said


def alone(answer: Answer) -> Comparison:
    return Comparison("", "today", {"child": answer})


def rate_of(answer: Answer) -> float:
    assert answer.money is not None
    assert answer.money.rate_of_return_percent is not None
    return answer.money.rate_of_return_percent


@pytest.mark.parametrize("capital", [4000.0, 0.0])
def test_of_what_is_not_clear_no_payback_is_told(capital: float) -> None:
    """From -5 to 45 %: -500 to 4 500 a year. It said "brings USD 150 a year more"."""
    answer = ranged((-5.0, 20.0, 45.0), capital=capital)
    rows = answer_rows(answer)
    assert rows["yearly gain"] == "no clear difference"
    for label in ("payback", "net present value", "rate of return a year"):
        assert rows[label] == "not clear", label
    said = plainly(" ".join(money_sentences(answer, "Now")))
    assert (
        "whether a year brings more than Now is not clear (likely USD -500 to 4 500 more)" in said
    )
    meeting = plainly(takes_sentences(answer))
    assert "; whether it brings more a year is not clear (likely USD -500 to 4 500)." in meeting
    for text in (said, meeting):
        assert "brings USD" not in text
        assert "come back" not in text
        assert "paid back" not in text
        assert "is worth" not in text
    table = {row.label.strip(): row.cells[0] for row in table_rows(alone(answer))}
    assert table["payback"] == table["net present value"] == "not clear"


def test_what_is_not_priced_and_brings_nothing_more_is_not_free() -> None:
    """It read "not priced" as capital and "nothing invested" as payback in one column."""
    child, _ = told("machine.mill.count = 2", "machine.mill.price = ''", "money.wage = 900",
                    "part.body.fixture_price = ''")  # fmt: skip
    assert child.money is not None
    assert child.money.year_gain < 0
    rows = answer_rows(child)
    assert rows["investment"] == "not priced"
    assert rows["payback"] == "never"
    assert rows["rate of return a year"] == "no return"
    table = {row.label.strip(): row.cells[0] for row in table_rows(alone(child))}
    assert (table["investment against today"], table["payback"]) == ("not priced", "never")
    more = told("machine.mill.count = 2", "machine.mill.price = ''", "part.body.fixture_price = ''")
    rows = answer_rows(more[0])
    assert rows["payback"] == rows["rate of return a year"] == "not priced"
    told_first = money_blocks([more[0]])[0].rows
    # Amounts are as the gain above them, and in place of others a word is grey.
    assert [(row.cells[0].sense, row.cells[0].text[:2]) for row in told_first] == [
        ("beware", "! "), ("unsure", "no"), ("unsure", "no"), ("beware", "! "), ("unsure", "no"),
    ]  # fmt: skip
    some = told("machine.mill.count = 2", "machine.mill.price = ''", "money.one_off = 9")[0]
    assert answer_rows(some)["investment"].startswith("at least ")
    assert "akes at least USD" in takes_sentences(some)
    assert money_sentences(some, "Now")[0].startswith("At least USD")


# --- what a payback rests on -----------------------------------------------------------------


RUNS_FREE = "no running costs"


def rests(*lines: str, base: str = "") -> str:
    text = today(PAID, "money.wage = 1", "part.body.weekly = 100", base or "notes = ''")
    found = found_of(text + CHILD + "\n".join(lines) + "\n").answers
    money = found["child"].money
    assert money is not None
    return "; ".join(rests_parts(money)).replace("\u00a0", " ")


def test_all_that_a_payback_rests_on() -> None:
    assert rests("money.one_off = 5") == (
        f"100 pieces a week sold, 100 wanted in today; no stops; no running-in; {RUNS_FREE}; "
        "all else priced"
    )
    # A cost of either sort is one.
    for cost in ("money.spindle_hour = 2", "money.yearly = 3", "machine.mill.yearly = 4"):
        assert rests("money.one_off = 5", cost).endswith("; no running-in; everything priced")
    # Of a group that is not there it is none.
    assert RUNS_FREE in rests("money.one_off = 5", "machine.old.count = 0\nmachine.old.yearly = 4")


def test_more_pieces_than_are_wanted_today_must_be_sold() -> None:
    said = rests("part.body.weekly = 120", "machine.mill.pallets = 4", "part.lid.cycle = '1 min'",
                 "part.lid.weekly = 7", "part.lid.contribution = 1",
                 "machine.mill.price = 1")  # fmt: skip
    assert said.startswith("127 pieces a week sold, 100 wanted in today (more of body: 120 for 100 "
                           "and lid: 7 for 0); ")  # fmt: skip


def test_own_real_orders_are_sold_beside_what_is_wanted_by_the_week() -> None:
    """An order of 4 pieces in two weeks is 2 a week, which today sells too: no more is told."""
    order = "order.big = { part = 'lid', pieces = 4, due = 'week 1 fri 12:00' }"
    lid = "part.lid.cycle = '1 min'\npart.lid.weekly = 7\npart.lid.contribution = 1"
    said = rests("part.body.weekly = 100", base=f"{lid}\n{order}")
    assert said.startswith(
        "109 pieces a week sold, 107 wanted in today and 2 a week for real orders there; no stops"
    )


def test_more_is_told_by_what_shows() -> None:
    """It read "more of base: 40 for 40"."""
    said = rests("part.body.weekly = 100.3", "part.lid.cycle = '1 min'", "part.lid.weekly = 7",
                 "part.lid.contribution = 1", "machine.mill.pallets = 4",
                 "machine.mill.price = 1")  # fmt: skip
    assert "body" not in said.split("; ")[0]
    assert "(more of lid: 7 for 0)" in said


def test_a_part_without_a_contribution_is_not_priced() -> None:
    """It read "everything priced" below "latch has no contribution"."""
    said = rests(base="part.lid.cycle = '1 min'\npart.lid.weekly = 7")
    assert said.endswith("; not priced yet: contribution of lid")


def test_a_part_that_is_wanted_and_not_made_is_told_with_the_money() -> None:
    text = today(PAID, "money.wage = 1", "part.lid.cycle = '1 min'", "part.lid.weekly = 7",
                 "part.lid.contribution = 1")  # fmt: skip
    found = found_of(f"{text}{CHILD}part.lid.machines = ['other']\nmachine.other.count = 0\n")
    child = found.answers["child"]
    assert child.money is not None
    assert "nothing is earned with lid, which is wanted and not made" in rests_parts(child.money)
    assert any("lid is wanted and not made here" in text for text in money_sentences(child, "Now"))


HELD = (
    "fixtures are not entered, so as many are counted as are held at once: enter how many there are"
)


def test_fixtures_that_nobody_entered_are_counted_as_held_at_once() -> None:
    """Nobody would buy them for a second person: it says why they are counted and what to do."""
    more = ("machine.mill.pallets = 3", "machine.mill.price = 1", "part.body.weekly = 3000")
    assert f"; {HELD} (more of body 2); {RUNS_FREE}; all else priced" in rests(
        *more, "part.body.fixture_price = 5", base="part.body.fixture_price = 5"
    )
    assert HELD not in rests(*more, "part.body.fixtures = 3", base="part.body.fixture_price = 5")
    bare = found_of(today(PAID, "money.wage = 1") + CHILD + "\n".join(more) + "\n")
    money = bare.answers["child"].money
    assert money is not None
    # Of 60 numbers each needs two more.
    many = replace(money.rests, fixtures=(MoreFixtures("body", 120, 60, None),))
    assert f"{HELD} (more of body 120: 60 part numbers, 2 each)" in rests_parts(
        replace(money, rests=many)
    )
    # Where one each is wanted of several parts that is said once.
    alike = tuple(MoreFixtures(part, 6, 6, None) for part in ("body", "lid"))
    assert f"{HELD} (more of body 6, lid 6, one for each part number)" in rests_parts(
        replace(money, rests=replace(money.rests, fixtures=alike))
    )
    warned = " ".join(warnings_of(bare.answers["child"]))
    assert f"fixtures of body (2); counted as 0. {HELD.capitalize()}. The payback" in warned


def test_why_more_fixtures_are_bought_is_told_beside_the_money() -> None:
    """Three pallets hold three of the one fixture that today has: two are bought at 5 each."""
    more = ("machine.mill.pallets = 3", "machine.mill.price = 1", "part.body.weekly = 3000")
    priced = "part.body.fixture_price = 5"
    base = today(PAID, "money.wage = 1", priced)
    bought = found_of(base + CHILD + "\n".join((*more, priced)) + "\n").answers["child"]
    (told,) = (each for each in money_sentences(bought, "Today") if "More fixtures" in each)
    assert told == (
        "More fixtures are bought, body 2 for USD\u00a010: up to 3 of one part number are in use "
        "at once, in today 1. Enter the fixtures that there are, and no more are used."
    )
    assert bought.money is not None
    rests = bought.money.rests
    two = (*rests.fixtures, MoreFixtures("lid", 4, 1, Fraction(2), 4, 0))
    told = more_fixtures_sentence(replace(rests, fixtures=two), "USD")
    assert "body 2 and lid 4 for USD\u00a018: up to so many" in told
    assert "at once, in brackets in today: body 3 (1) and lid 4 (0). Enter" in told
    same = replace(rests, fixtures=(replace(rests.fixtures[0], held_today=3),))
    assert more_fixtures_sentence(same, "USD") == ""


def test_fixtures_of_many_numbers_are_told_as_a_product() -> None:
    more = MoreFixtures("body", 60, 60, Fraction(900))
    told = "60 part numbers x 1 more fixture of body x 900 = 54 000"
    assert fixtures_words(more).replace("\u00a0", " ") == told
    assert fixtures_words(MoreFixtures("lid", 3, 1, None)) == "3 more fixtures of lid"


def test_fixtures_of_other_loads_at_todays_price_are_told() -> None:
    price = "part.body.fixture_price = 5"
    told = (
        "today's fixtures of body stay in use, for loads of another size, as their price is "
        "today's: where others are needed, enter what those cost"
    )
    # What is only assumed is not "priced".
    of_two = f"{price}\npart.body.per_pallet = 2"
    assert f"{told}; {RUNS_FREE}; all else priced" in rests("part.body.per_pallet = 1", base=of_two)
    more = "not priced yet: more pieces per load of body"
    assert f"{told}; {RUNS_FREE}; {more}" in rests("part.body.per_pallet = 2", base=price)
    assert told not in rests("part.body.per_pallet = 2", "part.body.fixture_price = 9", base=price)
    assert told not in rests("money.one_off = 1", base=price)


def test_pieces_of_an_operation_before_another_are_not_sold() -> None:
    first = "part.first.cycle = '1 min'\npart.body.after = 'first'\npart.first.stock = 500"
    assert rests(base=first).startswith("100 pieces a week sold, 100 wanted in today; ")


def test_a_ramp_is_told_in_weeks() -> None:
    assert "the full gain after 13 weeks" in rests("money.ramp = '13 weeks'")


def test_stops_are_told_with_their_runs() -> None:
    assert "stops as entered, the mean of 3 runs" in rests(
        "stop.jam = { every = '9 h', repair = '20 min' }"
    )


@pytest.mark.parametrize(
    ("gap", "said"),
    [
        ("people", r"the gap to the hour meters laid to people, (\d+ min )?\d+ s a visit"),
        ("machine", r"the gap to the hour meters laid to machines, (\d+ min )?\d+ s a load"),
        ("show", "the gap to the hour meters left open"),
    ],
)
@pytest.mark.long
def test_a_gap_that_is_laid_is_told_with_its_size(gap: str, said: str) -> None:
    meters = f"""hour_meters = {{ switched_on = '400 h', in_cut = '275 h', gap = '{gap}' }}"""
    assert re.search(said, rests("machine.mill.pallets = 3", base=meters))


def test_the_meeting_and_the_exports_say_what_it_rests_on() -> None:
    text = today(PAID, "money.wage = 1") + CHILD + "money.ramp = '4 weeks'\n"
    found = found_of(text)
    child, base = found.answers["child"], found.answers["today"]
    said = f"the full gain after 4 weeks; {RUNS_FREE}; all else priced"
    assert said in " ".join(headline(child, base).sentences)
    report = comparison_report(found)
    for form, write in WRITERS.items():
        assert said.split("; ")[0] in write(report), form


def test_a_range_in_a_row_of_its_own_is_never_cut() -> None:
    texts = (
        "+1\u00a0060\u00a0000 (+1\u00a0026\u00a0510 to +1\u00a0139\u00a0400)",
        "+1\u00a0060\u00a0000",
    )
    row = SaidRow("net present value", (NOTHING_SAID, Said(texts[0], "good", texts[1:])))
    assert [said.text for said in figure_row(row).cells] == ["–", texts[1]]
    likely = likely_row(row)
    assert likely is not None
    nothing, said = likely.cells
    assert nothing.within(17) == ""
    assert said.within(27) == "+1\u00a0026\u00a0510 to +1\u00a0139\u00a0400"
    assert said.within(18) == "+1\u00a0027k to +1\u00a0139k"
    assert said.within(17) == "+1.03M to +1.14M"
    assert said.within(15) == "+1.03 to +1.14M"
    assert likely_row(SaidRow("yearly result", (Said("+5"),))) is None


def test_all_ranges_of_a_row_are_in_one_unit() -> None:
    """1 085k stood beside 820 910."""
    small, large = (
        Said(
            f"+{grouped(most)} ({grouped(least)} to {grouped(most)})",
            "good",
            (f"+{grouped(most)}",),
        )
        for least, most in ((820_910, 900_100), (1_084_612, 1_184_612))
    )
    likely = likely_row(SaidRow("net present value", (small, large)))
    assert likely is not None
    full, short = ([said.text for said in alike_within(likely.cells, room)] for room in (30, 18))
    assert [text.replace("\u00a0", " ") for text in full] == [
        "820 910 to 900 100",
        "1 084 612 to 1 184 612",
    ]
    assert [text.replace("\u00a0", " ") for text in short] == ["821k to 900k", "1 085k to 1 185k"]


def test_beside_no_clear_difference_there_is_no_range_and_a_long_payback_has_a_sign() -> None:
    unclear = Said("no clear difference", "unsure", ("not clear",))
    long = Said("82.0 (26.5 to over 100)", "plain", ("82.0",))
    likely = likely_row(SaidRow("payback", (unclear, long)))
    assert likely is not None
    assert [said.within(15) for said in likely.cells] == ["", "26.5 to >100"]
    assert figure_row(SaidRow("payback", (unclear, long))).cells[0].within(15) == "not clear"


def test_fixtures_that_today_is_only_taken_to_have_are_told_and_not_called_priced() -> None:
    """Two machines are taken to have two fixtures of the lid, of which today uses one at once."""
    lines = (
        PAID,
        "money.wage = 1",
        "machine.mill.count = 2",
        "part.lid.cycle = '5 min'",
        "part.lid.weekly = 40",
        "part.lid.contribution = 3",
        "part.body.weekly = 50",
        "part.body.fixtures = 4",
    )
    pallets = (
        "machine.mill.pallets = 2\n"
        "machine.mill.pallet_price = 5\n"
        "machine.mill.pallet_system_price = 0\n"
    )

    def of_child(text: str) -> MoneyFigures:
        answers = found_of(text).answers
        assert (answers["today"].held["lid"], answers["child"].held["lid"]) == (1, 2)
        money = answers["child"].money
        assert money is not None
        return money

    money = of_child(today(*lines) + CHILD + pallets)
    assert money.rests.as_there == ("lid",)
    assert money.rests.entered_there == ("body",)
    *_, fixtures, there, runs, priced = rests_parts(money)
    assert fixtures == (
        "more fixtures of lid in use than today, taken as there: nobody has entered how many "
        "there are"
    )
    assert there == (
        "more fixtures of body in use than today, none to buy: as many are entered as there"
    )
    assert (runs, priced) == (RUNS_FREE, "all else priced")
    many = replace(money, rests=replace(money.rests, as_there=("a", "b", "c", "d", "e")))
    assert "more fixtures of a, b, c and 2 more parts in use" in "; ".join(rests_parts(many))
    # Entered, they are known to be there.
    known = of_child(today(*lines, "part.lid.fixtures = 2") + CHILD + pallets)
    assert rests_parts(known)[-3:] == (
        "more fixtures of body and lid in use than today, none to buy: as many are entered as "
        "there",
        RUNS_FREE,
        "all else priced",
    )
    # As many as in use today need no word.
    priced_alike = found_of(today(*lines) + CHILD).answers["child"].money
    assert priced_alike is not None
    assert priced_alike.rests.entered_there == ()


def test_a_year_that_does_not_add_up_as_it_reads_is_said_to_be_rounded() -> None:
    child, base = told("machine.mill.count = 2")
    assert child.money is not None

    def title(contribution: float, wages: float, left: float) -> str:
        assert child.money is not None
        year = replace(child.money.of_year, contribution=contribution, wages=wages, floor=0.0)
        money = replace(child.money, of_year=year, year=left)
        return money_blocks([base, replace(child, money=money)])[1].title

    assert title(100.0, 40.0, 60.0) == "A year, USD"
    # 100.4 less 39.6 is 60.8: 100, 40 and 61 as they read.
    assert title(100.4, 39.6, 60.8) == "A year, USD, rounded"
    # 274 510 less 153 000 is 121 510: with four figures 274 500, 153 000 and 121 500.
    assert title(274_510, 153_000, 121_510) == "A year, USD"
    assert title(274_540, 153_040, 121_500) == "A year, USD"
    assert title(1_274_540, 153_040, 1_121_400) == "A year, USD, rounded"


def test_that_first_pallets_cost_nothing_is_told_where_today_has_fixed_tables() -> None:
    """Six each on two machines are 12: 10 are paid for, and nobody would find out why not 12."""
    priced = ("machine.mill.pallet_price = 70", "machine.mill.pallet_system_price = 400")
    six = ("machine.mill.count = 2", "machine.mill.pallets = 6", *priced)
    child, base = told(*six)
    assert child.money is not None
    told_once = (
        "10 of 12 pallets of mill are bought: a machine's first pallet counts as part of it."
    )
    assert told_once in money_sentences(child, "Now")
    titles = [block.title for block in money_blocks([base, child])]
    assert titles[-1].endswith("(a machine's first pallet counts as part of it)")
    note = Note("first pallets", of=child.money)
    assert note_sentence(note) == told_once
    # Where today has them the first ones are there, and what has no price is no matter.
    for lines in (
        ("machine.mill.count = 1", "machine.mill.pallets = 6", "machine.mill.pallet_price = 0"),
        ("machine.mill.count = 2",),
        # All of the machines are bought.
        (*six, "machine.mill.price = 6000"),
    ):
        other, base = told(*lines)
        assert other.money is not None
        assert other.money.rests.first_pallets == ()
        assert not any("first pallet" in block.title for block in money_blocks([base, other]))
