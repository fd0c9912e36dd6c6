"""The night's clock and its minutes: what a sentence tells adds up."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

import pytest

from whatif.answers.night.night import NightsAfter
from whatif.cell.model import HOUR
from whatif.telling.night import at_clock, by_clock, duration


@pytest.mark.parametrize("seconds", [0, 29, 31, 215, 239, 241, 3569])
def test_the_clock_is_the_end_of_the_shift_and_the_minutes_told(seconds: int) -> None:
    night = cast("NightsAfter", SimpleNamespace(start=15 * HOUR, days=(0, 1)))
    minutes = int(duration(seconds / HOUR).removesuffix(" min"))
    assert at_clock(night, seconds / HOUR) == f"at 15:{minutes:02}"
    assert by_clock(night, seconds / HOUR) == f"15:{minutes:02}"
