"""Values and answers in few cells: shortened by words, never cut in the middle of one."""

from __future__ import annotations

import pytest
from answer_studies import sound, today

from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.telling.fit import fit_in_short, fit_text
from whatif.telling.sheet_cell import spans_in_short
from whatif.telling.strip import LOW


@pytest.mark.parametrize(
    ("text", "short"),
    [
        ("09:00-09:15, 12:00-12:30", "in all 45 min"),
        ("23:45-00:15, 03:00-03:30", "in all 60 min"),  # 30 min over midnight and 30 min
        ("09:00-09:15", "09:00-09:15"),
        ("mill_a, mill_b, mill_c", "mill_a, mill_b, mill_c"),
    ],
)
def test_breaks_that_are_cut_else_are_told_in_all(text: str, short: str) -> None:
    assert spans_in_short(text, 15) == short
    assert spans_in_short(text, 30) == text


def test_parts_that_do_not_fit_are_counted_where_their_names_are_too_long() -> None:
    lines = (
        'machine.mill.table = ["20 in", "10 in"]',
        'machine.large.table = ["60 in", "30 in"]',
        "machine.large.count = 1",
        'part.body.size = ["30 in", "9 in", "2 in"]',
    )
    answer = compare(sound(today(*lines)), Memory()).answers["today"]
    assert fit_text(answer) == "body not on mill"
    assert fit_in_short(answer) == ("1 not on mill", "1 not on all")
    said = LOW[-1].said(answer, False)
    assert [said.within(cells) for cells in (16, 15, 12)] == [
        "body not on mill",
        "1 not on mill",
        "1 not on all",
    ]
