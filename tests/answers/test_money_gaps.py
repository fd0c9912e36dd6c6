"""What is not entered, or not alike, is warned of in every format; an entered 0 is a price."""

from __future__ import annotations

import pytest
from answer_studies import CHILD, sound, today
from json_told import json_of

from whatif.answers.compare import Comparison, compare
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS
from whatif.session.calculate.memory import Memory
from whatif.telling.money import money_blocks, money_sentences
from whatif.telling.warnings import warnings_of

PAID = "part.body.contribution = 10"
LID = ("part.lid.cycle = '6 min'", "part.lid.weekly = 100")


def found_of(base: tuple[str, ...], *child: str) -> Comparison:
    text = today(*base, "part.body.weekly = 3000") + CHILD + "\n".join(child) + "\n"
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
    (text,) = warnings_of(found.answers["child"])
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


def test_an_entered_0_is_meant() -> None:
    assert warned((PAID, *LID, "part.lid.contribution = 0")) == ()


def test_nothing_is_said_where_nothing_is_in_money() -> None:
    assert warned(LID, "machine.mill.pallets = 6") == ()


MORE = ("machine.mill.count = 2", "machine.mill.pallets = 6")


def test_all_that_is_added_without_a_price() -> None:
    found = found_of((PAID,), *MORE)
    child, base = found.answers["child"], found.answers["today"]
    fixtures = child.held["body"] - base.held["body"]
    assert warnings_of(child) == (
        "Not priced yet, counted as 0: machines (1 more), pallets (10 more), what moves the "
        f"pallets (2 more), fixtures ({fixtures} more). The payback is too good until they are "
        "entered.",
    )
    assert warnings_of(base) == ()
    text = " ".join(money_sentences(child, base, "Now"))
    assert text.startswith("Nothing is priced yet: what has to be laid out is not known, and ")
    assert "Nothing has to be laid out" not in text
    assert "no rate of return: nothing is priced yet." in text
    rows = {one.label: one for block in money_blocks([child], base) for one in block.rows}
    assert rows["payback"].cells[0].text == "not priced"
    assert rows["capital to be laid out"].cells[0].text == "not priced"
    assert rows["net present value"].cells[0].text.startswith("< +")


PRICES = (
    "machine.mill.price",
    "machine.mill.pallet_price",
    "machine.mill.pallet_system_price",
    "part.body.fixture_price",
)


def test_entered_0s_are_prices() -> None:
    found = found_of((PAID,), *MORE, *(f"{one} = 0" for one in PRICES))
    child, base = found.answers["child"], found.answers["today"]
    assert warnings_of(child) == ()
    assert money_sentences(child, base, "Now")[0].startswith("Nothing has to be laid out")
    # The object (rule `json.money`) stays as it is, whatever the words say.
    shown = [
        json_of(one)["scenarios"]["child"]["money"] for one in (found, found_of((PAID,), *MORE))
    ]
    assert shown[0] == shown[1]


@pytest.mark.parametrize("bare", PRICES)
def test_one_price_that_is_missing_among_others(bare: str) -> None:
    found = found_of((PAID,), *MORE, *(f"{one} = 90" for one in PRICES if one != bare))
    child, base = found.answers["child"], found.answers["today"]
    (said,) = warnings_of(child)
    assert said.count(" more)") == 1
    rows = {one.label: one for block in money_blocks([child], base) for one in block.rows}
    assert rows["payback"].cells[0].text.startswith("> ")
    assert " is laid out at once" in money_sentences(child, base, "Now")[0]


def test_the_group_without_a_price_is_named_beside_one_that_has() -> None:
    pool = ("machine.pool.count = 1", "machine.pool.pallets = 1", "machine.pool.owned = 0")
    (said,) = warned((PAID,), "machine.mill.count = 2", "machine.mill.price = 9", *pool)
    assert "machines for pool (1 more)" in said


def test_what_never_comes_back_has_no_payback_to_be_too_good() -> None:
    (said,) = warned((PAID,), "machine.mill.count = 2", "money.wage = 900",
                     "part.body.fixture_price = 0")  # fmt: skip
    assert said.endswith("machines (1 more). More has to be laid out once they are entered.")


def test_more_people_without_a_wage_cost_nothing_and_that_is_said() -> None:
    (said,) = warned((PAID,), "shift.early.people = 3")
    assert "people are paid for 40.0 h a week more than in today" in said
    assert "costs nothing here; enter one" in said
    assert warned((PAID, "money.wage = 0"), "shift.early.people = 3") == ()
    assert warned((PAID,), "shift.early.people = 1") == (
        said.replace("more", "less").replace("costs", "saves"),
    )


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
    today_ = found_of((PAID, *entered)).answers["today"]
    (told,) = money_sentences(today_, today_, "today")
    assert said in told


def test_a_worse_year_for_nothing_is_no_loan() -> None:
    base = (PAID, "money.wage = 30")
    found = found_of(base, "shift.early.people = 3", "machine.mill.owned = 1")
    child, today_ = found.answers["child"], found.answers["today"]
    assert child.money is not None
    assert child.money.capital == 0
    assert child.money.year_gain < 0
    said = " ".join(money_sentences(child, today_, "today"))
    assert "no rate of return: nothing is laid out, and every year costs" in said
    assert "loan" not in said
