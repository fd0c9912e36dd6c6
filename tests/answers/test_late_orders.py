"""Why orders are late that go in many loads (rule `promises.loads`).

One mill, one person from Monday to Friday, 06:00 to 14:00. A piece is cut for 1 min and put on and
taken off in 15 min each, so that the person is never free and every pallet waits for its visit.
"""

from __future__ import annotations

import re

from answer_studies import sound, today

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.reports.comparison import comparison_report
from whatif.reports.document import as_text
from whatif.session.calculate.memory import Memory
from whatif.telling.orders import late_sentences

STUDY = """\
format = 1
title = "Late"
weeks = 1
warm_up = 0
runs = 1
[scenario.today]
shift.day = {days = ["mon", "tue", "wed", "thu", "fri"], start = "06:00", end = "14:00"}
handling.walk = "0 min"
machine.mill.pallets = 4
part.body.cycle = "1 min"
part.body.load = "15 min"
part.body.unload = "15 min"
part.body.weekly = 900
part.body.batch = 900
part.body.at_once = 60
part.arm.cycle = "1 min"
part.arm.load = "15 min"
part.arm.unload = "15 min"
part.arm.weekly = 0
order.quarry.part = "arm"
order.quarry.pieces = 6
order.quarry.due = "mon 08:00"
"""


def answered(*lines: str) -> Comparison:
    return compare(sound(today(*lines, head=STUDY)), Memory())


def said(*lines: str) -> list[str]:
    return late_sentences(answered(*lines).answers["today"])


def test_each_load_waits_for_its_visit_in_the_line() -> None:
    """The first is on at 06:15, the other pallets by 07:00; then every fourth visit of 30 min is
    its own: loads 2 to 5 at 07:00, 09:00, 11:00 and 13:00, the sixth on Tuesday at 07:00, taken off
    by 09:30: 25.5 h after Monday 08:00."""
    (found,) = said()
    assert found == (
        "quarry is 25.5 h late (6 pieces in 6 loads): on one pallet at a time (limited by pallets "
        "per order), and each load waits its turn: the same people serve 4 pallets and tables. "
        "What eases it: more pallets per order, more pieces per load, more people or fewer pallets."
    )
    (few,) = said("part.arm.fixtures = 1", "part.arm.at_once = 2")
    assert "on one pallet at a time (limited by fixtures), and" in few
    (two,) = said("part.arm.at_once = 2")
    assert "on up to 2 pallets at a time (limited by pallets per order), and" in two
    (pairs,) = said("part.arm.per_pallet = 4", 'part.arm.first_piece = "1 min"')
    assert "(6 pieces in 3 loads, the first piece alone)" in pairs  # then four and one


def test_where_people_have_time_the_line_is_not_blamed() -> None:
    (alone,) = said(
        "machine.mill.pallets = 1",
        "part.body.weekly = 1",
        "part.body.batch = 1",
        'part.arm.cycle = "2 h"',
    )
    assert alone.startswith("quarry is ")
    assert alone.endswith(
        "in 6 loads): on one table at a time. What eases it: more pieces per load."
    )


def test_like_orders_are_told_together() -> None:
    other = [f"order.ferry.{key}" for key in ('part = "arm"', "pieces = 9", 'due = "mon 07:00"')]
    (both,) = said(*other)
    assert both.count("the same people serve 4 pallets and tables") == 1
    assert re.match(
        r"ferry is [\d.]+ days late \(9 pieces in 9 loads\) and quarry is [\d.]+ h late "
        r"\(6 pieces in 6 loads\): on one",
        both,
    )


def test_nothing_is_said_of_what_is_in_time_or_in_one_load() -> None:
    assert said('order.quarry.due = "fri 12:00"') == []
    assert said("part.arm.per_pallet = 6") == []


def test_it_stands_in_a_comparison() -> None:
    assert "order: quarry is 25.5 h late" in as_text(comparison_report(answered()))
