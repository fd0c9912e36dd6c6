"""Hours in columns: what stands there is never nothing where there is something."""

from __future__ import annotations

import pytest

from whatif.answers.shares import Share
from whatif.answers.states import IN_CYCLE, STATE_ROWS
from whatif.telling.amounts import shown_difference
from whatif.telling.shares import share_said


def test_a_difference_is_that_of_the_hours_that_stand_there() -> None:
    """53.46 and 72.35 read as 53.5 and 72.4, and whoever takes one from the other finds 18.9."""
    share = Share(STATE_ROWS[IN_CYCLE], 72.35, 93.0, 72.35 - 53.46)
    assert [said.text for said in share_said(share, is_gain=True)] == ["72.4", "93", "+18.9"]
    alike = Share(STATE_ROWS[IN_CYCLE], 53.54, 93.0, 0.08)
    assert [said.text for said in share_said(alike, is_gain=True)] == ["53.5", "93", ""]
    assert (shown_difference(37.15, 33.94), shown_difference(37.15, 33.94, 0)) == (3.3, 3.0)


@pytest.mark.parametrize(
    ("percent", "told"), [(0.0, "0"), (0.01, "<1"), (0.49, "<1"), (0.5, "1"), (24.6, "25")]
)
def test_a_percent_that_is_not_nothing_never_reads_as_0(percent: float, told: str) -> None:
    said = share_said(Share(STATE_ROWS[IN_CYCLE], 1.7, percent, None), is_gain=False)
    assert said[1].text == told
