"""What takes less time for nothing that is laid out has no price (rule `money.shorter`)."""

from __future__ import annotations

import pytest
from answer_studies import CHILD, sound, today

from whatif.answers.answer import Answer, Comparison
from whatif.answers.compare import compare
from whatif.answers.money.money import MoneyFigures
from whatif.answers.takes import takes_of
from whatif.session.calculate.memory import Memory
from whatif.telling.money.ranges import payback_texts, worth_texts
from whatif.telling.money.rests import missing_words, rests_sentence
from whatif.telling.money.sentences import money_sentences, takes_sentences
from whatif.telling.warnings import warnings_of

BASE = (
    "part.body.contribution = 10",
    "money.wage = 30",
    "part.body.weekly = 3000",
    "part.body.setup = '40 min'",
    "part.body.prove_out = '20 min'",
    "part.body.batch = 10",
    "part.body.bench = '2 min'",
    "handling.other_duties = '20 %'",
)
QUICK = "part.body.setup = '10 min'"


def found_of(*child: str, base: tuple[str, ...] = BASE, more: str = "") -> Comparison:
    text = today(*base) + CHILD + "\n".join(child) + "\n" + more
    return compare(sound(text), Memory())


def money_of(answer: Answer) -> MoneyFigures:
    assert answer.money is not None
    return answer.money


def missing(found: Comparison, id_: str = "child") -> list[str]:
    return [missing_words(each) for each in money_of(found.answers[id_]).not_priced]


@pytest.mark.parametrize(
    ("child", "said"),
    [
        (QUICK, "shorter set-up of body"),
        ("part.body.prove_out = '5 min'", "shorter prove-out of body"),
        ("part.body.cycle = '8 min'", "shorter cycle of body"),
        ("handling.other_duties = '5 %'", "fewer other duties"),
        ("handling.walk = '20 s'", "shorter walks"),
        ("part.body.load = '1 min'", "shorter loading of body"),
        ("part.body.unload = '10 s'", "shorter loading of body"),
        ("part.body.bench = '1 min'", "less bench work of body"),
        ("part.body.per_pallet = 2", "more pieces per load of body"),
        # Both together take as long as before.
        ("part.body.load = '1 min'\npart.body.unload = '2 min'", None),
        ("part.body.setup = '50 min'", None),
        ("handling.other_duties = '30 %'", None),
        ("handling.walk = '2 min'", None),
        ("part.body.bench = '3 min'", None),
    ],
)
def test_what_takes_less_time_for_nothing_is_not_priced(child: str, said: str | None) -> None:
    found = found_of(child)
    assert missing(found) == ([] if said is None else [said])
    takes = takes_of(found.answers["child"], found.answers["today"], found.answers["today"])
    assert takes is not None
    assert takes.is_priced is (said is None)
    assert takes.buys_unpriced is (said is not None)


@pytest.mark.parametrize(
    "paid",
    [
        "money.one_off = 5000",
        "money.one_off = 0",
        "money.yearly = 3000",
        "machine.mill.price = 900\nmachine.mill.count = 2\npart.body.fixture_price = 1",
    ],
)
def test_what_is_laid_out_or_said_to_be_nothing_prices_it(paid: str) -> None:
    assert missing(found_of(QUICK, paid)) == []


def test_a_one_off_cost_of_today_says_nothing_of_what_is_shorter() -> None:
    assert missing(found_of(QUICK, base=(*BASE, "money.one_off = 0"))) == ["shorter set-up of body"]


def test_to_go_back_to_what_the_shop_has_takes_nothing() -> None:
    more = '[scenario.slow]\nparent = "today"\npart.body.setup = "50 min"\n'
    text = today(*BASE).replace("format = 1", 'format = 1\nreference = "slow"') + more
    found = compare(sound(text), Memory())
    assert found.reference == "slow"
    assert missing(found, "today") == []


def test_a_reference_with_unpriced_times_makes_the_others_better() -> None:
    text = today(*BASE).replace("format = 1", 'format = 1\nreference = "child"')
    found = compare(sound(text + CHILD + QUICK + "\n"), Memory())
    (said,) = missing(found, "today")
    assert said.startswith("shorter set-up of body in ")
    assert money_of(found.answers["today"]).lean == "better"


def test_money_of_it_is_up_to_what_is_shown_and_its_payback_unknown_wherever_it_is_told() -> None:
    found = found_of(QUICK)
    answer = found.answers["child"]
    money = money_of(answer)
    assert payback_texts(money, None) == ("not priced",)
    assert worth_texts(money, None)[0].startswith("at most +")
    assert answer.caveats
    assert "not priced yet: shorter set-up of body" in rests_sentence(money)
    said = " ".join(money_sentences(answer, "Today"))
    for text in (said, takes_sentences(answer)):
        assert "everything priced" not in text
        assert "Nothing has to be invested" not in text
        assert "It takes no capital" not in text
    assert (
        "Not priced yet: shorter set-up of body; counted as 0. The payback is at least, present "
        "value and rate are at most what is shown. What takes less time, or holds more, is priced "
        "by the one-off cost, be it 0."
    ) in warnings_of(answer)
