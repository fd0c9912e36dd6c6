"""What is said of a loss where no more is wanted than is made (rule `limits.held-back`)."""

from __future__ import annotations

import re
from dataclasses import replace
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import pytest
from answer_studies import TODAY, figured, plan_of, sound, today

from whatif.answers.account import notes
from whatif.answers.compare import compare
from whatif.answers.limits import is_all_met, what_holds_back
from whatif.answers.moves.break_even import Target
from whatif.answers.moves.trial import Outcome
from whatif.answers.moves.vary import all_met
from whatif.answers.orders.orders import Ordered, OrderRun
from whatif.answers.search.goal import Aim, Goal, goal_for, reaches
from whatif.answers.search.measure import Brought
from whatif.cell.calendar import ATTENDED
from whatif.cell.states import State
from whatif.reports.comparison import comparison_report
from whatif.reports.document import as_markdown, as_text
from whatif.session.calculate.memory import Memory
from whatif.telling.limits import limit_in_short, limit_text, loss_in_short, met_percent
from whatif.telling.moves.tried import outcome_words
from whatif.telling.warnings import said_warning

if TYPE_CHECKING:
    from whatif.answers.account.case import Case

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
        # 99.5 % is no 100.0 %.
        (199, None, "demand nearly met"),
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
        "demand nearly met": f"Nearly all that is wanted is made (body, {cut / 2:.1f} %), with",
    }.get(short, "Of 40.0 attended")
    assert limit_text(found).startswith(begins)
    assert ("loading at the spindle takes 10.0 h" in limit_text(found)) == (
        begins == "Of 40.0 attended"
    )


@pytest.mark.parametrize("most", [96.4, 100.0])
def test_all_is_all_whatever_a_run_flat_out_makes(most: float) -> None:
    """The strip said "demand all met" beside the sentence that nearly all is made."""
    found = what_holds_back(plan_of(TODAY), figured(TODAY, cut=(200,), spent=FULL), {})
    assert limit_text(found, most).startswith("All that is wanted is made, with")
    assert limit_in_short(found) == "demand all met"


@pytest.mark.parametrize(
    ("share", "is_met", "told"),
    [
        # A little is not nothing.
        (0.3, False, "<1"),
        (92.6, False, "93"),
        (99.5, False, "99.5"),
        (99.94, False, "99.9"),
        (99.96, True, "100"),
    ],
)
def test_one_place_decides_that_a_demand_is_met(share: float, is_met: bool, told: str) -> None:
    """99.9 % was "all met" in one place, 100 % in another and short of it in a third."""
    goal, outcome = Goal(Aim.DEMAND), Outcome(least_met=share)
    brought = Brought(None, 0.0, share, None, 0.0, 0.0, 0.0, None)
    assert is_all_met(share) is is_met
    assert all_met(outcome) is is_met
    assert reaches(goal, brought) is is_met
    assert (goal_for(brought) != goal) is is_met
    assert met_percent(share) == told
    assert f"demand met, lowest part: {told} % of wanted pieces" in outcome_words(outcome)
    answer = compare(sound(TODAY), Memory()).answers["today"]
    assert answer.figures is not None
    figures = replace(answer.figures, demand_met={"body": share})
    margin = Target("met", 100.0).margin(replace(answer, figures=figures))
    assert margin is not None
    assert (margin >= 0) is is_met
    held = what_holds_back(plan_of(TODAY), figured(TODAY, cut=(200,), spent=FULL), {})
    case = SimpleNamespace(figures=figures, answer=SimpleNamespace(held_back=held))
    (note,) = notes.demand_met(cast("Case", case))
    # "Less than is wanted: there the cell is the limit" stood beside "all that is wanted is made".
    assert note.id == ("met" if is_met else "nearly met")


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
