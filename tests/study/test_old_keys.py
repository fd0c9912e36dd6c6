"""Keys that files had before: each is an error that names the key that says it now."""

from __future__ import annotations

import pytest
from study_texts import today

from whatif.study.check.check import check
from whatif.study.problem import ProblemKind
from whatif.telling.problems import problem_sentence


@pytest.mark.parametrize(
    ("line", "now", "says"),
    [
        ('claimed.attended_hours = "8 h"', "said.with_people.hours", ""),
        ('claimed.attended_utilization = "30 %"', "said.with_people.cutting", ""),
        ('claimed.unattended_hours = "2 h"', "said.with_nobody.hours", ""),
        ('claimed.unattended_utilization = "90 %"', "said.with_nobody.cutting", ""),
        ("claimed.machines = 2", "said.machines", ""),
        ("shift.early.breaks_paid = false", "shift.early.unpaid_breaks", "not paid are listed"),
        ("shift.early.inspects = false", "shift.early.does", '"release"'),
    ],
)
def test_an_old_key_is_an_error_that_names_the_new_one(line: str, now: str, says: str) -> None:
    hours = (
        'shift.early.days = ["mon"]',
        'shift.early.start = "06:00"',
        'shift.early.end = "14:00"',
    )
    (problem,) = check(today(*hours, line)).problems
    assert (problem.kind, problem.nearest) == (ProblemKind.OLD_KEY, now)
    assert f"this key is now {now}" in problem_sentence(problem)
    assert says in problem_sentence(problem)
