"""What hour meters say against the model, in words and signs."""

from __future__ import annotations

import pytest
from alternatives import beside, one

from whatif.telling.meters import is_clearly


@pytest.mark.parametrize(
    ("read", "clear"),
    [
        (0.1, False),  # -0.9 to 1.1
        (1.2, True),  # 0.2 to 2.2
        (-0.5, False),  # -1.5 to 0.5
        (-1.5, True),  # -2.5 to -0.5
    ],
)
def test_a_gain_read_by_the_meters_is_coloured_beyond_the_width_of_its_range(
    read: float, clear: bool
) -> None:
    """A gain of 2, likely 1 to 3: a point to either side."""
    answer = beside(b=one(1, 2, 3))["b"]
    assert is_clearly(answer, read) == clear
    assert is_clearly(None, read)
