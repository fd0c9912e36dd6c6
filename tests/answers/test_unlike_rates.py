"""What two scenarios are counted by, by pencil."""

from __future__ import annotations

from fractions import Fraction

from alternatives import PRICED
from answer_studies import CHILD, sound, today

from whatif.answers.answer import Answer
from whatif.answers.compare import compare_wholly
from whatif.answers.money.unlike import CountedBy, Unlike
from whatif.session.calculate.memory import Memory
from whatif.telling.money.rests import rests_sentence


def child(*lines: str) -> Answer:
    memory = Memory()
    text = today(*PRICED) + CHILD + "\n".join(lines) + "\n"
    return compare_wholly(sound(text), memory, memory.pause).answers["child"]


def test_rates_that_one_scenario_alone_has_are_told() -> None:
    money = child('money.rate = "12 %"', "part.body.contribution = 10").money
    assert money is not None
    assert set(money.unlike) == {
        Unlike(CountedBy.RATE, "", Fraction(12, 100), Fraction(8, 100)),
        Unlike(CountedBy.CONTRIBUTION, "body", Fraction(10), Fraction(9)),
    }
    told = rests_sentence(money)
    assert "discount rate 12 % instead of 8 %" in told
    assert "contribution of body 10 instead of 9" in told


def test_what_is_bought_and_what_is_the_same_is_none_of_it() -> None:
    money = child("machine.mill.price = 2000", 'money.rate = "8 %"').money
    assert money is not None
    assert not money.unlike
    assert "other rates" not in rests_sentence(money)
