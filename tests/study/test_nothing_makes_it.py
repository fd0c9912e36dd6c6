"""An order of an operation whose pieces nothing makes: warned of at the check, and run.

Raw comes before body; of body nothing is wanted by the week, an order asks for 30 pieces.
"""

from __future__ import annotations

import pytest
from answer_studies import plan_of, sound, today

from whatif.answers.answer import Answer
from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.telling.problems import problem_sentence
from whatif.telling.warnings import warnings_of

CHAIN = (
    "part.body.weekly = 0",
    'part.body.after = "raw"',
    'part.raw.cycle = "5 min"',
)
ORDER = ('order.big.part = "body"', "order.big.pieces = 30", 'order.big.due = "fri 12:00"')
RUSH = ('rush.now.part = "body"', "rush.now.pieces = 30", 'rush.now.arrives = "tue 08:00"')
NOTHING = "Scenario today, part.raw.weekly: nothing makes pieces of raw for body"


def told(*lines: str) -> list[str]:
    found = plan_of(today(*lines, head=today(*CHAIN))).warnings
    return [text for each in found if (text := str(problem_sentence(each))).startswith("Scenario")]


def answer(*lines: str) -> Answer:
    return compare(sound(today(*lines, head=today(*CHAIN))), Memory()).answers["today"]


@pytest.mark.parametrize("asks", [ORDER, RUSH], ids=["order", "rush"])
def test_nothing_makes_the_pieces_that_an_order_begins_with(asks: tuple[str, ...]) -> None:
    assert told(*asks) == [f"{NOTHING}: enter weekly of raw, or stock."]
    assert told(*asks, "part.raw.stock = 29") == [
        f"{NOTHING} beyond the 29 in stock: enter weekly of raw, or more stock."
    ]
    assert told(*asks, "part.raw.stock = 30") == []
    assert told(*asks, "part.raw.weekly = 40") == []


def test_nor_may_the_mix_live_on_stock() -> None:
    assert len(told("part.body.weekly = 5", "part.raw.weekly = 0", "part.raw.stock = 900")) == 1
    assert told("part.body.weekly = 5") == []


def test_an_order_for_the_operation_before_makes_pieces() -> None:
    before = [line.replace(".big", ".first").replace("body", "raw") for line in ORDER]
    assert told(*ORDER, *before) == []


def test_the_machine_waits_for_stock_and_says_so() -> None:
    waits = answer(*ORDER)
    assert waits.figures is not None
    assert waits.figures.spindle.total == 0
    assert waits.figures.by_state["no_stock"] > 60
    assert waits.orders["big"].last_off is None
    assert any("nothing makes pieces of raw" in text for text in warnings_of(waits))


@pytest.mark.parametrize("mends", ["part.raw.weekly = 40", "part.raw.stock = 30"])
def test_weekly_of_it_or_stock_mends_that(mends: str) -> None:
    assert answer(*ORDER, mends).orders["big"].last_off is not None
