"""What makes the first alternative first no longer, by the pencil of `alternatives`.

Each is then made to cost so much more, or to bring so much less, and judged anew.
"""

from __future__ import annotations

import numpy_financial
import pytest
from alternatives import beside, drawing, one

from whatif.answers.answer import Answer
from whatif.answers.money.returns import Terms
from whatif.answers.turning import Then, Turn, turn_of
from whatif.answers.verdict import Conclusion, Verdict, verdict_of

ALMOST, OVER = 0.99, 1.01


def verdict(**others: Answer) -> Verdict:
    return verdict_of(beside(**others), "now")


def turn(**others: Answer) -> Turn:
    found = verdict(**others).turn
    assert found is not None
    return found


def test_what_alone_is_best_turns_where_its_low_end_meets_the_others_high_one() -> None:
    # 4000 to 5000 beside 2000 to 3000; a fifth of that a year, as five years are counted.
    found = turn(a=one(10, 11, 12, takes=1000), b=one(4, 5, 6))
    assert found == Turn(1000, pytest.approx(200), Then.NOT_ALONE, "b")
    for share, ends in ((ALMOST, Conclusion.BEST), (OVER, Conclusion.CHOSEN)):
        dearer = one(10, 11, 12, takes=1000 + share * found.once)
        assert verdict(a=dearer, b=one(4, 5, 6)).conclusion is ends
        less = one(10, 11, 12, takes=1000, yearly=share * found.a_year)
        assert verdict(a=less, b=one(4, 5, 6)).conclusion is ends


def test_what_is_told_apart_in_the_same_draws_turns_where_it_no_longer_is() -> None:
    b = drawing(one(9.5, 10.5, 11.5, takes=1500), (9.4, 10.5, 11.6))

    def a(takes: float = 1000, yearly: float = 0) -> Answer:
        return drawing(one(10, 11, 12, takes=takes, yearly=yearly), (10, 11, 12))

    # 500 a point: 200 to 300 more in the same draws, and 500 less to lay out.
    found = turn(a=a(), b=b)
    assert found == Turn(pytest.approx(700), pytest.approx(140), Then.NOT_ALONE, "b")
    for share, ends in ((ALMOST, Conclusion.BEST), (OVER, Conclusion.CHOSEN)):
        assert verdict(a=a(takes=1000 + share * found.once), b=b).conclusion is ends
        assert verdict(a=a(yearly=share * found.a_year), b=b).conclusion is ends


def test_what_is_alone_turns_where_it_may_not_come_back() -> None:
    found = turn(a=one(10, 11, 12, takes=1000))
    assert found == Turn(4000, pytest.approx(800), Then.NOT_BACK)
    for share, ends in ((ALMOST, Conclusion.BEST), (OVER, Conclusion.NONE)):
        assert verdict(a=one(10, 11, 12, takes=1000 + share * found.once)).conclusion is ends


def test_the_best_of_equals_turns_where_the_others_middle_is_ahead() -> None:
    found = turn(a=one(10, 11, 12, takes=1000), b=one(9.5, 10.5, 11.5, takes=1000))
    assert found == Turn(250, pytest.approx(50), Then.SECOND, "b")
    for share, first in ((ALMOST, "a"), (OVER, "b")):
        dearer = one(10, 11, 12, takes=1000 + share * found.once)
        assert verdict(a=dearer, b=one(9.5, 10.5, 11.5, takes=1000)).first == (first,)


def test_where_output_decides_or_nothing_is_first_nothing_turns() -> None:
    assert verdict(a=one(-2, 1, 4)).turn is None
    assert verdict(a=one(10, 11, 12, lean="worse")).turn is None


@pytest.mark.outside("numpy-financial 1.0.0: present value of 1 a year")
def test_less_a_year_is_discounted_as_an_annuity() -> None:
    found = turn_of(40_000, {}, Terms(8, 0.07, 0), is_alone=True)
    of_one_a_year = -numpy_financial.pv(0.07, 8, 1)
    assert found.a_year == pytest.approx(40_000 / of_one_a_year)
