"""Cash over the years: amounts by hand, letters at their places, ends that do not touch."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples

from whatif.telling.amounts import grouped, priced
from whatif.telling.money.curve import CashLine, cash_plot, set_apart


def line(
    letter: str, laid_out: float, yearly: float, back: float | None, ramp: float = 0
) -> CashLine:
    return CashLine(letter, letter.lower(), laid_out, yearly, ramp, back)


def test_amounts_in_groups_of_three_that_hold_together() -> None:
    """A space between groups of three digits, neither comma nor point: ISO 80000-1, 7.3."""
    assert grouped(1_041_547.28) == "1\u00a0041\u00a0547"
    assert grouped(-38_000) == "-38\u00a0000"
    assert grouped(999.4) == "999"
    assert priced(18_000, "EUR") == "EUR\u00a018\u00a0000"


def test_cash_by_hand() -> None:
    """200 invested, 100 a year; with a ramp of 2 years 25 t^2 have come in, then 100 (t - 1)."""
    plain = line("A", 200, 100, 2.0)
    assert [plain.at(years) for years in (0, 1, 2, 4)] == [-200, -100, 0, 200]
    ramped = line("B", 100, 100, 2.0, ramp=2)
    assert [ramped.at(years) for years in (0, 1, 2, 4)] == [-100, -75, 0, 200]


def test_a_line_is_to_scale_and_its_letter_stands_where_the_money_is_back() -> None:
    """From -200 at once to 200 after 4 years, over 9 rows of 50: nothing is in the fifth."""
    drawn = cash_plot([line("A", 200, 100, 2.0)], 4, 41, 9)
    assert drawn.zero == 4
    assert drawn.ends == {"A": 0}
    back = drawn.plot.rows[4]
    assert [at for at, cell in enumerate(back) if cell.sign == "A"] == [21]  # the axis is before it
    assert {cell.ink for cell in drawn.plot.rows[8][1:3]} == {"A"}
    assert drawn.plot.labels[0] == "200"
    assert drawn.plot.labels[8] == "-200"
    years = [(placed.begin, placed.word.text) for placed in drawn.years]
    assert years == [(0, "0"), (10, "1"), (20, "2"), (30, "3"), (40, "4")]


def test_the_axis_has_the_lowest_amount_where_no_round_one_lies_below_nothing() -> None:
    """525 000 laid out, 320 000 a year, 7 years: a step of the axis is a million."""
    drawn = cash_plot([line("A", 525_000, 320_000, 1.6)], 7, 41, 9)
    below = [label for label in drawn.plot.labels if label.startswith("-")]
    assert below == ["-525\u00a0000"]
    at = drawn.plot.labels.index("-525\u00a0000")
    assert at > drawn.zero
    assert drawn.plot.rows[at][0].sign == "┤"
    # A round one there is enough.
    plain = cash_plot([line("A", 200, 100, 2.0)], 4, 41, 9)
    assert [label for label in plain.plot.labels if label.startswith("-")] == ["-200", "-100"][::-1]


def test_what_comes_back_after_the_years_counted_is_not_marked() -> None:
    drawn = cash_plot([line("A", 1000, 100, 10.0)], 4, 40, 8)
    assert all(cell.sign != "A" for cell in drawn.plot.rows[drawn.zero])


def test_letters_of_lines_that_lie_on_each_other_are_all_seen() -> None:
    lines = [line(letter, 200, 100, None) for letter in "ABC"]
    signs = [cell.sign for row in cash_plot(lines, 4, 60, 10).plot.rows for cell in row]
    assert [signs.count(letter) for letter in "ABC"] == [3, 3, 3]


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ({"A": 0, "B": 5}, {"A": 0, "B": 5}),
        ({"A": 3, "B": 3, "C": 3}, {"A": 3, "B": 4, "C": 5}),
        ({"A": 7, "B": 7}, {"A": 6, "B": 7}),
    ],
)
def test_titles_stand_next_to_the_ends_of_their_lines(
    wanted: dict[str, int], found: dict[str, int]
) -> None:
    assert set_apart(wanted, 8) == found


@examples(100)
@given(rows=st.lists(st.integers(0, 9), max_size=14))
def test_no_two_titles_share_a_row(rows: list[int]) -> None:
    found = set_apart({str(place): row for place, row in enumerate(rows)}, 10)
    assert len(set(found.values())) == len(found) == min(10, len(rows))
    assert all(0 <= row < 10 for row in found.values())
