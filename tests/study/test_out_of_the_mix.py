"""Real orders for an operation whose pieces the one before makes for the endless mix alone.

Raw comes before body, 100 of which are wanted a week; an order asks for 30 pieces of body.
"""

from __future__ import annotations

import pytest
from answer_studies import plan_of, today

from whatif.study.problem import Problem, ProblemKind
from whatif.telling.problems import problem_sentence

CHAIN = ('part.body.after = "raw"', 'part.raw.cycle = "5 min"')
ORDER = ('order.big.part = "body"', "order.big.pieces = 30", 'order.big.due = "fri 12:00"')
BEFORE = ('order.raw.part = "raw"', 'order.raw.due = "thu 12:00"')


def told(*lines: str) -> list[str]:
    found = plan_of(today(*lines, head=today(*CHAIN))).warnings
    return [
        problem_sentence(each)
        for each in found
        if isinstance(each, Problem) and each.kind is ProblemKind.OUT_OF_THE_MIX
    ]


def test_the_mix_lacks_what_an_order_takes() -> None:
    assert told(*ORDER) == [
        'Scenario today, order.big.part = "body": the 30 pieces ordered are made of what raw makes '
        "for the weekly pieces, and those will lack them; enter an order for raw of 30 pieces too, "
        "due earlier."
    ]
    (some,) = told(*ORDER, *BEFORE, "order.raw.pieces = 29")
    assert "will lack them (only 29 of raw are ordered); enter an order for raw" in some


@pytest.mark.parametrize(
    "lines",
    [
        (*ORDER, *BEFORE, "order.raw.pieces = 30"),
        # For 100 good ones of which a fifth is scrapped 125 are needed.
        (*ORDER, "part.raw.weekly = 126", 'part.body.scrap = "20 %"'),
        # With no body by the week there is no mix, and without an order nothing else takes any.
        (*ORDER, "part.body.weekly = 0", "part.raw.weekly = 40"),
        (),
        (*BEFORE, "order.raw.pieces = 30"),
    ],
)
def test_nothing_is_lacking(lines: tuple[str, ...]) -> None:
    assert told(*lines) == []


def test_as_many_as_are_needed_are_not_plenty() -> None:
    assert len(told(*ORDER, "part.raw.weekly = 125", 'part.body.scrap = "20 %"')) == 1
    assert len(told(*ORDER, 'part.body.scrap = "20 %"')) == 1
