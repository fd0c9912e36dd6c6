"""Hours in columns: what stands there is never nothing where there is something."""

from __future__ import annotations

import pytest

from whatif.answers.shares import Share
from whatif.answers.states import IN_CYCLE, STATE_ROWS
from whatif.telling.shares import share_said


@pytest.mark.parametrize(
    ("percent", "told"), [(0.0, "0"), (0.01, "<1"), (0.49, "<1"), (0.5, "1"), (24.6, "25")]
)
def test_a_percent_that_is_not_nothing_never_reads_as_0(percent: float, told: str) -> None:
    said = share_said(Share(STATE_ROWS[IN_CYCLE], 1.7, percent, None), is_gain=False)
    assert said[1].text == told
