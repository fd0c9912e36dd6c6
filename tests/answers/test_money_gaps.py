"""What is not entered, or not alike, is warned of in every format; an entered 0 is a price."""

from __future__ import annotations

import pytest
from answer_studies import CHILD, sound, today
from json_told import json_of

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS
from whatif.session.calculate.memory import Memory
from whatif.telling.meeting.page import headline
from whatif.telling.money.blocks import money_blocks
from whatif.telling.money.rests import rests_sentence
from whatif.telling.money.sentences import money_sentences, takes_sentences
from whatif.telling.warnings import warnings_of

PAID = "part.body.contribution = 10"
WAGE = "money.wage = 0"
LID = ("part.lid.cycle = '6 min'", "part.lid.weekly = 100")


def found_of(base: tuple[str, ...], *child: str) -> Comparison:
    wage = () if any("money.wage" in line for line in base) else (WAGE,)
    text = today(*base, *wage, "part.body.weekly = 3000") + CHILD + "\n".join(child) + "\n"
    return compare(sound(text), Memory())


def warned(base: tuple[str, ...], *child: str) -> tuple[str, ...]:
    return warnings_of(found_of(base, *child).answers["child"])


@pytest.mark.parametrize(
    ("there", "here", "said"),
    [
        ((), "20", "20 here and not given in today: the gains compare different prices; enter it"),
        (("part.body.contribution = 0",), "20", "20 here and 0 in today"),
        ((PAID,), "12.5", "12.5 here and 10 in today"),
        ((PAID,), "0", "0 here and 10 in today"),
    ],
)
def test_two_prices_of_a_part(there: tuple[str, ...], here: str, said: str) -> None:
    found = found_of(there, f"part.body.contribution = {here}")
    text = warnings_of(found.answers["child"])[-1]
    assert text.startswith(f"The contribution of body is {said}")
    assert not any("differ" in one for one in warnings_of(found.answers["today"]))
    for form, write in WRITERS.items():
        assert f"The contribution of body is {said}" in write(comparison_report(found)), form


@pytest.mark.parametrize("child", [("part.body.contribution = 10",), ("money.wage = 3",), ()])
def test_one_price_needs_no_word(child: tuple[str, ...]) -> None:
    assert warned((PAID,), *child) == ()


def test_a_part_that_only_one_scenario_wants_compares_no_prices() -> None:
    assert warned((PAID,), *LID, "part.lid.contribution = 4") == ()


def test_a_part_without_contribution_beside_one_that_has() -> None:
    found = found_of((PAID, *LID))
    said = "lid has no contribution, so its pieces count as nothing; enter one."
    assert [warnings_of(one) for one in found.answers.values()] == [(said,), (said,)]


def test_several_without_one_are_told_in_one_sentence() -> None:
    pin = ("part.pin.cycle = '6 min'", "part.pin.weekly = 100")
    (said,) = warned((PAID, *LID, *pin))
    assert said.startswith(("lid and pin have no", "pin and lid have no"))


def test_an_entered_0_may_be_meant_so_nobody_is_asked_to_enter_one() -> None:
    said = warned((PAID, *LID, "part.lid.contribution = 0"))
    assert said == ("lid has a contribution of 0, so its pieces count as nothing.",)


def test_nothing_is_said_where_nothing_is_in_money() -> None:
    assert warned(LID, "machine.mill.pallets = 6") == ()


MORE = ("machine.mill.count = 2", "machine.mill.pallets = 6")


def test_all_that_is_added_without_a_price() -> None:
    found = found_of((PAID,), *MORE)
    child, base = found.answers["child"], found.answers["today"]
    fixtures = child.held["body"] - base.held["body"]
    things = (
        f"machines of mill (1), pallets of mill (5), handling systems of mill (1), "
        f"fixtures of body ({fixtures})"
    )
    assert warnings_of(child) == (
        f"Not priced yet: {things}; counted as 0. Fixtures are not entered, so as many are counted "
        "as are held at once: enter how many there are. The payback is at least, present value "
        "and rate are at most what is shown. Enter 0 where another sum, such as the one-off cost, "
        "holds it.",
    )
    assert warnings_of(base) == ()
    text = " ".join(money_sentences(child, "Now"))
    assert text.startswith("Nothing is priced yet: what has to be invested is not known, and ")
    assert "Nothing has to be invested" not in text
    assert "no rate of return: nothing is priced yet." in text
    assert f"not priced yet: {things}." in text
    rows = {one.label: one for block in money_blocks([child]) for one in block.rows}
    assert rows["payback"].cells[0].text == "not priced"
    assert rows["investment"].cells[0].text == "not priced"
    assert rows["net present value"].cells[0].text.startswith("! at most +")
    told = json_of(found)["scenarios"]
    assert told["child"]["money"]["not_priced"] == things.split(", ")
    assert told["today"]["money"]["not_priced"] == []
    for form, write in WRITERS.items():
        if form != "json":
            assert f"not priced yet: {things}" in write(comparison_report(found)), form


def test_one_sum_for_a_whole_cell_is_priced_once_0_says_that_it_holds_the_rest() -> None:
    """As a one-off cost it leaves the machines open, and the words say what to enter for them."""
    sum_of_all = (*MORE, "money.one_off = 300000")
    open_ = warned((PAID, WAGE), *sum_of_all)
    assert any("Enter 0 where another sum, such as the one-off cost, holds it." in w for w in open_)
    closed = (*sum_of_all, *(f"{price} = 0" for price in PRICES))
    found = found_of((PAID, WAGE), *closed)
    money = found.answers["child"].money
    assert money is not None
    assert (money.not_priced, float(money.capital)) == ((), 300000)
    assert "not priced yet" not in rests_sentence(money)


def test_a_wage_that_is_missing_is_held_by_no_other_sum() -> None:
    said = warned((PAID, 'money.wage = ""'), "shift.early.people = 3")
    assert any("wage" in each for each in said)
    assert not any("Enter 0" in each for each in said)


def test_the_meeting_has_no_free_machines() -> None:
    """It said "no capital" over machines without a price."""
    found = found_of((PAID,), *MORE)
    takes = takes_sentences(found.answers["child"])
    assert takes.startswith("It brings ")
    assert takes.endswith("; what it takes is not known.")
    said = " ".join(headline(found.answers["child"], found.answers["today"]).sentences)
    assert said.count("not priced") == said.count("not priced yet: machines of mill (1), ") == 1
    assert "no capital" not in said


PRICES = (
    "machine.mill.price",
    "machine.mill.pallet_price",
    "machine.mill.pallet_system_price",
    "part.body.fixture_price",
)


def test_entered_0s_are_prices() -> None:
    found = found_of((PAID,), *MORE, *(f"{one} = 0" for one in PRICES))
    child = found.answers["child"]
    assert warnings_of(child) == ()
    assert money_sentences(child, "Now")[0].startswith("Nothing has to be invested")
    assert takes_sentences(child).startswith("It takes no capital and brings USD\u00a0")
    # The figures stay as they are, whatever the words say.
    shown = [
        json_of(one)["scenarios"]["child"]["money"] for one in (found, found_of((PAID,), *MORE))
    ]
    for money in shown:
        del money["not_priced"], money["rests_on"]
    assert shown[0] == shown[1]


def test_pallets_at_0_beside_a_machine_that_is_there() -> None:
    """One of two is bought, and its price covers its five pallets; the other's cost 0."""
    there = ("machine.mill.owned = 1", "machine.mill.price = 9", "part.body.fixture_price = 1")
    free = ("machine.mill.pallet_price = 0", "machine.mill.pallet_system_price = 0")
    assert warned((PAID,), *MORE, *there, *free) == ()
    (said,) = warned((PAID,), *MORE, *there)
    assert said.startswith("Not priced yet: pallets of mill (5), handling systems of mill (1); ")


@pytest.mark.parametrize("bare", PRICES)
def test_one_price_that_is_missing_among_others(bare: str) -> None:
    others = (f"{one} = 90" for one in PRICES if one != bare)
    found = found_of((PAID,), *MORE, "machine.mill.owned = 1", *others)
    child = found.answers["child"]
    assert child.money is not None
    years, rate = child.money.payback_years, child.money.rate_of_return_percent
    assert years is not None
    assert rate is not None
    (said,) = warnings_of(child)
    assert said.count(" (") == 1
    rows = {one.label: one for block in money_blocks([child]) for one in block.rows}
    assert rows["payback"].cells[0].text == f"at least {years:.1f} years"
    assert rows["rate of return a year"].cells[0].text == f"at most {rate:.1f} %"
    assert rows["investment"].cells[0].text.startswith("at least ")
    sentences = money_sentences(child, "Now")
    assert f"after at least {years:.1f} years it has come back" in sentences[0]
    assert f"paid back in at least {years:.1f} years" in takes_sentences(child)
    text = WRITERS["text"](comparison_report(found))
    assert f"at least {years:.1f}" in text
    assert f"at most {rate:.1f}" in text


def test_a_price_that_only_the_reference_lacks_makes_a_scenario_look_worse() -> None:
    """The reference buys two mills that nobody priced; the third scenario buys none of them."""
    text = today(PAID, WAGE, "part.body.weekly = 3000", "part.body.fixture_price = 0")
    text = text.replace("[scenario.today]", 'reference = "child"\n[scenario.today]', 1)
    other = '[scenario.other]\nparent = "today"\nmoney.one_off = 500\nshift.early.people = 3\n'
    found = compare(sound(f"{text}{CHILD}machine.mill.count = 3\n{other}"), Memory())
    money = found.answers["other"].money
    assert money is not None
    assert money.lean == "better"
    (one,) = money.not_priced
    assert (one.what, one.of, one.count, one.reference) == ("machines", "mill", 2, "child")
    rows = money_blocks([found.answers["other"]])[0].rows
    assert rows[3].cells[0].text.startswith("! at least ")


@pytest.mark.parametrize(("here", "lean"), [((), "none"), (("machine.mill.count = 2",), "worse")])
def test_the_wage_of_one_shift_that_is_not_given(here: tuple[str, ...], lean: str) -> None:
    """It is named; where nobody works longer than in the reference it moves nothing."""
    late = "[scenario.today.shift.late]\ndays = ['mon']\nstart = '14:00'\nend = '22:00'\n"
    text = today(PAID, "part.body.weekly = 3000") + "wage = 9\n" + late + CHILD
    found = compare(sound("\n".join([text, *here, ""])), Memory())
    money = found.answers["child"].money
    assert money is not None
    assert (money.not_priced[-1].what, money.not_priced[-1].of) == ("wage", "late")
    assert money.lean == lean
    assert "wage of late" in warnings_of(found.answers["child"])[0]


@pytest.mark.parametrize(
    ("people", "lean", "said"), [(3, "worse", "at most "), (1, "better", "at least ")]
)
def test_people_without_a_wage(people: int, lean: str, said: str) -> None:
    """One person more or less of a shift of 40 h costs or saves what is not known."""
    base = (PAID, "money.wage = ''")
    found = found_of(base, f"shift.early.people = {people}", "money.one_off = 100")
    child, there = found.answers["child"], found.answers["today"]
    assert child.money is not None
    assert child.money.lean == lean
    assert [one.count for one in child.money.not_priced] == [40 * people]
    assert warnings_of(child)[0].startswith("Not priced yet: wage; counted as 0. The payback is ")
    rows = money_blocks([child])[0].rows
    assert rows[3].cells[0].text.startswith(f"! {said}")
    assert warnings_of(there) == ("Not priced yet: wage; counted as 0.",)


def test_what_never_comes_back_has_no_payback_to_be_too_good() -> None:
    found = found_of((PAID, "money.wage = 900"), "machine.mill.count = 2", "shift.early.people = 3",
                     "part.body.fixture_price = 5")  # fmt: skip
    child = found.answers["child"]
    rows = {one.label: one for block in money_blocks([child]) for one in block.rows}
    assert rows["payback"].cells[0].text == "never"
    assert takes_sentences(child).endswith(" a year less: never paid back.")


def test_money_freed_is_nothing_to_pay_back() -> None:
    """The meeting said "paid back never" over a mill that is sold."""
    base = (PAID, "machine.mill.count = 2", "machine.mill.resale = 9000")
    found = found_of(base, "machine.mill.count = 1")
    child = found.answers["child"]
    said = takes_sentences(child).replace("\u00a0", " ")
    assert said.startswith("It leaves USD 9 000 over and brings USD ")
    assert "paid back" not in said
    rows = {one.label: one for block in money_blocks([child]) for one in block.rows}
    assert rows["payback"].cells[0].text == "nothing invested"


@pytest.mark.parametrize(
    ("entered", "said"),
    [
        ((), "before wages, of which none is entered, without"),
        (("money.wage = 30",), "after wages, without"),
        (("money.floor_price = 9", "machine.mill.floor = '6 m²'"), "after floor and before wages"),
        (
            ("money.wage = 30", "money.floor_price = 9", "machine.mill.floor = '6 m²'"),
            "after wages and floor, without",
        ),
    ],
)
def test_only_what_is_entered_is_said_to_be_taken_off(entered: tuple[str, ...], said: str) -> None:
    wage = () if any("money.wage" in line for line in entered) else ("money.wage = ''",)
    today_ = found_of((PAID, *wage, *entered)).answers["today"]
    (told,) = money_sentences(today_, "today")
    assert said in told


def test_a_worse_year_for_nothing_is_no_loan() -> None:
    base = (PAID, "money.wage = 30")
    found = found_of(base, "shift.early.people = 3", "machine.mill.owned = 1")
    child = found.answers["child"]
    assert child.money is not None
    assert child.money.capital == 0
    assert child.money.year_gain < 0
    said = " ".join(money_sentences(child, "today"))
    assert "no rate of return: nothing is invested, and every year costs" in said
    assert "loan" not in said
