"""A figure that stands beside its range reads as one that lies within it."""

from __future__ import annotations

import re
from itertools import product

import pytest

from whatif.answers.gains import lies_outside
from whatif.answers.money.returns import Terms, likely_returns
from whatif.telling.gain_texts import (
    between_text,
    digits_of,
    percent_text,
    range_text,
    short_gain_texts,
)
from whatif.telling.money.ranges import years_between, years_text

_BESIDE = re.compile(r"^(?P<gain>[+-][\d.]+) % \((?:likely )?(?P<low>\S+) to (?P<high>[^\s)]+)\)$")

HALVES = (1.9, 2.04, 2.25, 2.449, 2.45, 2.5, 2.551, 5.44, 5.46)
"""What reads otherwise in whole percent, or in tenths by another rule for halves."""


def is_within(text: str) -> bool:
    """Whether the figure of a text lies in the range behind it, as both read."""
    found = _BESIDE.match(text)
    return found is None or float(found["low"]) <= float(found["gain"]) <= float(found["high"])


def test_what_stands_beside_a_range_reads_as_within() -> None:
    seen = 0
    for low, gain, high in product(HALVES, repeat=3):
        if low > high:
            continue
        for text in short_gain_texts(gain, (low, (low + high) / 2, high)):
            seen += bool(_BESIDE.match(text))
            assert is_within(text), (low, gain, high, text)
    assert seen > 200


def test_a_rounded_gain_beside_a_rounded_range() -> None:
    # 2.5 reads as 3 in whole percent, and its range as 2 to 2.
    assert short_gain_texts(2.5, (1.9, 2.2, 2.46))[1:] == (
        "+2.5 % (1.9 to 2.5)",
        "+2.5 (1.9 to 2.5)",
        "+2.5 %",
    )
    # In whole percent 12.5 would lie outside of 9 to 12.4.
    assert short_gain_texts(12.41, (9.0, 11.0, 12.4))[0] == "+12 % (likely 9 to 12)"
    assert short_gain_texts(12.52, (9.0, 11.0, 12.48))[0] == "+12.5 % (likely 9.0 to 12.5)"
    # "+13 % (13 to 13)" was read as a mistake.
    assert short_gain_texts(13.1, (12.9, 13.1, 13.4))[1] == "+13.1 % (12.9 to 13.4)"
    assert percent_text(40.0, (40.0, 40.0, 40.0)) == "+40 %"
    # As typed it lies outside, and reads so.
    likely = (9.0, 11.0, 12.2)
    assert short_gain_texts(12.4, likely)[0] == "likely +9.0 to +12.2 % (as typed +12.4 %)"


def test_what_lies_within_a_range_has_its_decimals() -> None:
    """ "+11 to +19 %" stood below "11.1 to 18.5 %", which was said to hold it."""
    assert between_text(11.1, 18.5) == "+11 to +19 %"
    assert between_text(11.1, 18.5, 1) == "+11.1 to +18.5 %"
    assert between_text(5.0, 5.0) == "+5.0 %"


@pytest.mark.parametrize("gain", [1.96, 4.04])
def test_money_of_what_reads_as_an_end_lies_within_too(gain: float) -> None:
    likely = (2.0, 3.0, 4.0)
    assert not lies_outside(gain, likely)
    found = likely_returns(0.0, 1000.0, 100.0, Terms(5, 0, 0), gain, likely)
    low, _, high = found.year_gain
    assert low <= 1000 <= high
    digits = digits_of(gain, likely)
    assert (percent_text(gain, likely), range_text(likely, gain)) == (
        (f"+{gain:.{digits}f} %", "2.0 to 4.0")
    )


def test_a_payback_is_told_to_a_hundred_years() -> None:
    """A machine does not last as long, and an axis of twenty million years tells nothing."""
    assert [years_text(years) for years in (1.94, 100.0, 100.1, 2e7)] == [
        "1.9",
        "100.0",
        "over 100",
        "over 100",
    ]
    assert years_between(2e7, 3.0) == "3.0 to over 100"
    assert years_between(2e7, 3e7) == "over 100"
