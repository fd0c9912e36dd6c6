"""Scenarios whose own output depends on the weeks measured (rule `results.drift`)."""

from __future__ import annotations

import pytest
from answer_studies import sound, today

from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.telling.warnings import warnings_of

BEHIND = (
    "part.body.weekly = 1000",
    "part.body.batch = 1000",
    "part.body.load = '0 min'",
    "part.body.unload = '0 min'",
    "handling.walk = '0 min'",
)
"""One table, 40 h a week less the breaks' 2.5: 187 pieces of 12 min, of 1000 that are wanted."""


def drift_of(*lines: str) -> tuple[float | None, tuple[str, ...]]:
    answer = compare(sound(today(*lines)), Memory()).answers["today"]
    assert answer.settled
    return answer.drift, tuple(text for text in warnings_of(answer) if "come to rest" in text)


def test_a_shop_that_does_not_come_to_rest_is_told() -> None:
    """A setup of 10 h at the start: 27.5 h of 37.5 cut in the first week, 137.5 pieces of 12 min,
    so 137 and 188 of the 325 that both make."""
    found, said = drift_of(*BEHIND, "part.body.setup = '10 h'")
    assert found == pytest.approx(100 * (188 / 137 - 1))
    assert said == (
        "today does not come to rest: its saleable output is 37.2 % more over the second half of "
        "the weeks measured than over the first. More is wanted than it can make, so the backlog "
        "grows, and the output depends on how many weeks are measured. Enter as weekly what is "
        'really made, or take "earliest_due_date" as the next order.',
    )


def test_its_money_drifts_too() -> None:
    lines = ("part.body.contribution = 1", 'sequence.rule = "earliest_due_date"')
    _, (said,) = drift_of(*BEHIND, "part.body.setup = '10 h'", *lines)
    assert said.endswith(
        "the output and the money a year depend on how many weeks are measured. Enter as weekly "
        "what is really made."
    )


def test_one_that_does_is_not() -> None:
    """Of 37.5 h a week 187.5 pieces: 187 and 188 differ by half a percent."""
    assert drift_of(*BEHIND) == (None, ())


def test_where_all_is_made_halves_may_differ() -> None:
    """Of 100 a week, in orders of 20, 10 h are lacking in the first week and nobody waits."""
    found, said = drift_of("part.body.setup = '24 h'")
    assert (found, said) == (None, ())
