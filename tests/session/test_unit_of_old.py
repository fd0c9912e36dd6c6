"""A number without a unit takes that of the value it replaces, where there is one."""

from __future__ import annotations

import pytest

from whatif.session.session import with_unit


@pytest.mark.parametrize(
    ("typed", "now", "means"),
    [
        ("12", "14 min", "12 min"),
        (" 12.5 ", "14min", "12.5 min"),
        ("80", "85 %", "80 %"),
        ("18", "17 1/2 in", "18 in"),
        ("12", "1 h 30 min", "12"),
        ("12", "", "12"),
        ("12", "3", "12"),
        ("12 s", "14 min", "12 s"),
        ("1/2", "14 min", "1/2"),
        ("300", "300 mm x 200 mm", "300"),
    ],
)
def test_it_takes_the_unit_that_stands_there(typed: str, now: str, means: str) -> None:
    assert with_unit(typed, now) == means
