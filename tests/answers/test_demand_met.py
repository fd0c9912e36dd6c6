"""What is said of a loss where no more is wanted than is made (rule `limits.held-back`)."""

from __future__ import annotations

import re

import pytest
from answer_studies import TODAY, figured, plan_of, sound, today

from whatif.answers.compare import compare
from whatif.answers.limits import what_holds_back
from whatif.answers.orders.orders import Ordered, OrderRun
from whatif.cell.calendar import ATTENDED
from whatif.cell.states import State
from whatif.reports.comparison import comparison_report
from whatif.reports.document import as_markdown, as_text
from whatif.session.calculate.memory import Memory
from whatif.telling.limits import limit_in_short, limit_text, loss_in_short
from whatif.telling.warnings import said_warning

FULL = {(ATTENDED, State.IN_CYCLE): 60, (ATTENDED, State.LOAD): 20}
"""Of two weeks: loading takes a quarter."""

PROMISE = ('order.big.part = "body"', "order.big.pieces = 5", 'order.big.due = "fri 12:00"')


def off(last: float | None, late: float = 0.0) -> Ordered:
    """An order of 5 pieces in its one run; not off by the end, it was not due either."""
    hours = None if last is None else late
    return Ordered(5, (OrderRun(1.0, last, hours, is_late=late > 0, pieces_late=0),))


@pytest.mark.parametrize(
    ("cut", "late", "short"),
    [
        # Of 200 in two weeks one order of 20 and 5 % may be lacking.
        (169, None, "loading 25 %"),
        (170, None, "demand nearly met"),
        (198, None, "demand nearly met"),
        # 99.5 % is told as 100.
        (199, None, "demand all met"),
        (200, None, "demand all met"),
        (300, None, "demand all met"),
        (200, off(2.0), "demand all met"),
        (200, off(99.0, late=3.0), "loading 25 %"),
        (200, off(None), "loading 25 %"),
    ],
)
def test_where_no_more_is_wanted_that_is_said(cut: int, late: Ordered | None, short: str) -> None:
    orders = {} if late is None else {"big": late}
    found = what_holds_back(plan_of(TODAY), figured(TODAY, cut=(cut,), spent=FULL), orders)
    assert (limit_in_short(found), loss_in_short(found)) == (short, "loading 25 %")
    assert found.state == "load"
    begins = {
        "demand all met": "All that is wanted is made, with",
        "demand nearly met": f"Nearly all that is wanted is made (body, {cut // 2}.0 %), with",
    }.get(short, "Of 40.0 attended")
    assert limit_text(found).startswith(begins)
    assert ("loading at the spindle takes 10.0 h" in limit_text(found)) == (
        begins == "Of 40.0 attended"
    )


def test_what_is_nearly_all_is_not_told_as_all() -> None:
    found = what_holds_back(plan_of(TODAY), figured(TODAY, cut=(200,), spent=FULL), {})
    assert limit_text(found, 96.4).startswith("Nearly all that is wanted is made, with")
    assert limit_text(found, 100.0).startswith("All that is wanted is made")


def test_the_part_furthest_behind_is_named_where_several_are() -> None:
    """Of 200 of each in two weeks 196 are 98 %, and 193 are 96.5 %."""
    two = today("part.cover.cycle = '5 min'", "part.cover.weekly = 100")
    found = what_holds_back(plan_of(two), figured(two, cut=(196, 193), spent=FULL), {})
    assert limit_text(found).startswith(
        "Nearly all that is wanted is made (least of body, 96.5 %), with"
    )


def short_of(text: str, cut: int) -> str:
    return limit_in_short(what_holds_back(plan_of(text), figured(text, cut=(cut, 200), spent=FULL)))


def test_one_part_that_is_behind_is_held_back() -> None:
    two = today("part.cover.cycle = '5 min'", "part.cover.weekly = 100")
    assert short_of(two, 169) == "loading 25 %"
    assert short_of(two, 170) == "demand nearly met"


def test_a_promise_that_is_missing_is_not_met() -> None:
    def said(*lines: str) -> str:
        held = (
            compare(sound(today("part.body.weekly = 1", *lines)), Memory())
            .answers["today"]
            .held_back
        )
        assert held is not None
        return limit_in_short(held)

    assert said() == "demand all met"
    assert said(*PROMISE) == "demand all met"
    assert said(*PROMISE[:2], 'order.big.due = "mon 06:20"') != "demand all met"


def test_a_spindle_that_cuts_nearly_all_the_time_says_so() -> None:
    full = {(ATTENDED, State.IN_CYCLE): 78, (ATTENDED, State.LOAD): 2}
    found = what_holds_back(plan_of(TODAY), figured(TODAY, spent=full))
    assert limit_in_short(found) == "too few hours"
    assert loss_in_short(found) == "hardly anything: it cuts 98 % of the time"


def test_what_is_wanted_is_said_in_every_report_and_holds_back_what_is_spoken_of() -> None:
    spoken_of = today(
        "part.body.weekly = 1",
        'said.with_people.hours = "24 h"',
        'said.with_people.cutting = "100 %"',
    )
    found = compare(sound(spoken_of), Memory())
    for said in (as_text(comparison_report(found)), as_markdown(comparison_report(found))):
        assert re.search(r"limited by\W+demand all met", said)
        assert "All that is wanted is made" in said
    answer = found.answers["today"]
    assert answer.held_back is not None
    assert answer.said is not None
    assert "What limits it: no more is wanted." in said_warning(answer)
