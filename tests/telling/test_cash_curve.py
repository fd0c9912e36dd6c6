"""Cash over the years: amounts by hand, letters at their places, ends that do not touch."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples

from whatif.telling.amounts import grouped, priced, result_told, to_four_figures
from whatif.telling.money.curve import (
    CHOSEN,
    CashLine,
    cash_plot,
    come_in_texts,
    drawn_lines,
    set_apart,
)
from whatif.telling.plot import ZERO, Canvas, Trace, scale


def line(
    letter: str, laid_out: float, yearly: float, back: float | None, ramp: float = 0
) -> CashLine:
    return CashLine(letter, letter.lower(), laid_out, yearly, ramp, back)


REFERENCE = CashLine("R", "now", 0, 0, 0, None, is_reference=True)


def test_amounts_in_groups_of_three_that_hold_together() -> None:
    """A space between groups of three digits, neither comma nor point: ISO 80000-1, 7.3."""
    assert grouped(1_041_547.28) == "1\u00a0041\u00a0547"
    assert grouped(-38_000) == "-38\u00a0000"
    assert grouped(999.4) == "999"
    assert priced(18_000, "EUR") == "EUR\u00a018\u00a0000"


def test_what_hangs_on_what_is_simulated_is_told_with_four_figures() -> None:
    """All digits of 1 084 612 pretended that they were known."""
    told = {1_084_612.4: 1_085_000, 820_910: 820_900, -38_456: -38_460, 9_999.6: 10_000}
    assert {amount: to_four_figures(amount) for amount in told} == told
    assert [to_four_figures(each) for each in (9_876.4, -0.4, 999.5)] == [9_876, 0, 1_000]
    assert to_four_figures(12_345) == 12_350
    assert result_told(1_084_612) == grouped(1_085_000)


def test_cash_by_hand() -> None:
    """200 invested, 100 a year; with a ramp of 2 years 25 t^2 have come in, then 100 (t - 1)."""
    plain = line("A", 200, 100, 2.0)
    assert [plain.at(years) for years in (0, 1, 2, 4)] == [-200, -100, 0, 200]
    ramped = line("B", 100, 100, 2.0, ramp=2)
    assert [ramped.at(years) for years in (0, 1, 2, 4)] == [-100, -75, 0, 200]


def test_a_line_is_to_scale_and_its_letter_stands_where_the_money_is_back() -> None:
    """From -200 at once to 200 after 4 years, over 9 rows of 50: nothing is in the fifth."""
    drawn = cash_plot([line("A", 200, 100, 2.0), REFERENCE], 4, 41, 9, chosen="a")
    assert drawn.ends == {"a": 0, "now": 4}
    back = drawn.plot.rows[4]
    assert [at for at, cell in enumerate(back) if cell.sign == "A"] == [21]  # the axis is before it
    assert {cell.ink for cell in drawn.plot.rows[8][1:3]} == {CHOSEN}
    assert drawn.plot.labels[0] == "200"
    assert drawn.plot.labels[8] == "-200"
    years = [(placed.begin, placed.word.text) for placed in drawn.years]
    assert years == [(0, "0"), (10, "1"), (20, "2"), (30, "3"), (40, "4")]


def test_a_line_that_invests_nothing_begins_at_nothing_and_ends_in_the_row_of_its_amount() -> None:
    """It looked like an investment that is back within the year, while the words say at once."""
    lines = [line("A", 0, 70_000, 0.0), line("B", 0, 58_750, 0.0), REFERENCE]
    drawn = cash_plot(lines, 8, 60, 13, chosen="a")
    nothing = drawn.plot.labels.index("0")
    begins = [at for at, cells in enumerate(drawn.plot.rows) if cells[1].ink == CHOSEN]
    assert begins == [nothing]
    # No dot below the stroke, which is in the middle.
    assert not (ord(drawn.plot.rows[nothing][1].sign) - 0x2800) & (0x04 | 0x20 | 0x40 | 0x80)
    ticks = {
        int(label.replace("\u00a0", "")): at for at, label in enumerate(drawn.plot.labels) if label
    }
    assert len(ticks) >= 3
    (low, under), (high, over) = sorted(ticks.items())[:2]
    a_row = (high - low) / (under - over)
    for each in lines[:2]:
        nearest = ticks[0] - round(each.at(8) / a_row)
        letters = [at for at, cells in enumerate(drawn.plot.rows) if cells[-1].sign == each.letter]
        assert letters == [drawn.ends[each.scenario]] == [nearest]


def test_the_axis_has_the_lowest_amount_where_no_round_one_lies_below_nothing() -> None:
    """525 000 laid out, 320 000 a year, 7 years: a step of the axis is a million."""
    drawn = cash_plot([line("A", 525_000, 320_000, 1.6), REFERENCE], 7, 41, 9)
    below = [label for label in drawn.plot.labels if label.startswith("-")]
    assert below == ["-525\u00a0000"]
    at = drawn.plot.labels.index("-525\u00a0000")
    assert at > drawn.ends["now"]
    assert drawn.plot.rows[at][0].sign == "┤"
    # A round one there is enough.
    plain = cash_plot([line("A", 200, 100, 2.0)], 4, 41, 9)
    assert [label for label in plain.plot.labels if label.startswith("-")] == ["-200", "-100"][::-1]


def test_what_comes_back_after_the_years_counted_is_not_marked() -> None:
    drawn = cash_plot([line("A", 1000, 100, 10.0), REFERENCE], 4, 40, 8, chosen="a")
    assert all(cell.sign != "A" for cell in drawn.plot.rows[drawn.ends["now"]])


def test_letters_of_lines_that_lie_on_each_other_are_all_seen() -> None:
    lines = [line(letter, 200, 100, None) for letter in "ABC"]
    signs = [cell.sign for row in cash_plot(lines, 4, 60, 10, "a").plot.rows for cell in row]
    assert [signs.count(letter) for letter in "ABC"] == [3, 1, 1]


def test_the_letter_where_the_money_is_back_stands_alone() -> None:
    """Two of one line side by side would be looked at as two lines."""
    plot = cash_plot([line("A", 200, 100, 2.0)], 14, 60, 10, "a").plot
    assert [cell.sign for row in plot.rows for cell in row].count("A") == 3
    # A sixth of 14 years is 2.3, next to the 2 at which it is back.
    nothing = plot.rows[plot.labels.index("0")]
    assert [cell.sign for cell in nothing].count("A") == 1


def test_titles_stand_in_the_order_of_height_also_where_lines_end_in_one_row() -> None:
    lines = [line("A", 200, 100, 2.0), line("B", 199, 100, 2.0), line("C", 100, 0, None)]
    lines.append(REFERENCE)
    drawn = drawn_lines(lines, 4, "c", 10)
    assert [each.letter for each in drawn] == ["B", "A", "R", "C"]
    assert list(cash_plot(drawn, 4, 41, 9).ends) == ["b", "a", "now", "c"]
    # Of fewer titles than lines the chosen one's is among them, and the reference's.
    assert [each.letter for each in drawn_lines(lines, 4, "c", 3)] == ["B", "R", "C"]


def test_the_reference_is_drawn_through_along_nothing_where_it_is_chosen() -> None:
    """With it chosen no line was solid, though the help says that the chosen one is."""
    lines = [line("A", 200, 100, 2.0), REFERENCE]

    def nothing(chosen: str) -> tuple[set[str], int]:
        plot = cash_plot(lines, 4, 60, 10, chosen).plot
        cells = plot.rows[plot.labels.index("0")][1:]
        return {cell.ink for cell in cells}, [cell.sign for cell in cells].count("R")

    assert nothing("now") == ({CHOSEN}, 3)
    inks, letters = nothing("a")
    assert ZERO in inks
    assert letters == 1


def test_the_axis_stays_whichever_line_is_drawn() -> None:
    lines = [line("A", 200, 100, 2.0), line("B", 5000, 4000, 1.2)]
    labels = {cash_plot([each], 4, 41, 9, every=lines).plot.labels for each in lines}
    assert len(labels) == 1


def test_a_line_drawn_through_covers_the_stroke_of_nothing_and_a_light_one_lies_below_it() -> None:
    """Dots of a line and of the stroke in one cell read as signs of their own."""
    up = scale(-10.0, 10.0, 9)
    points = [(0.0, -2.0), (4.0, 2.0)]

    def nothing(trace: Trace, *, stroke: bool) -> str:
        canvas = Canvas((0.0, 4.0), up, 40, 9)
        if stroke:
            canvas.level(0.0)
            canvas.line(trace, level=0.0)
        else:
            canvas.line(trace)
        plot = canvas.done()
        return "".join(cell.sign for cell in plot.rows[plot.labels.index("0")][1:])

    drawn = nothing(Trace(points, CHOSEN), stroke=False)
    assert drawn.strip()
    assert nothing(Trace(points, CHOSEN), stroke=True) == drawn.replace(" ", "─")
    assert set(nothing(Trace(points, "", is_light=True), stroke=True)) == {"─"}


def test_the_letter_of_the_chosen_line_stands_at_its_end() -> None:
    """It stood along the line alone, and at the end the letters of others beside it."""
    lines = [line("A", 20, 10, 2.0), line("B", 20, 10.2, 2.0), line("C", 20, 10.1, 2.0)]
    for chosen in "abc":
        plot = cash_plot(lines, 4, 40, 9, chosen).plot
        last = {cells[-1].sign: cells[-1].ink for cells in plot.rows if cells[-1].sign in "ABC"}
        assert last == {chosen.upper(): CHOSEN}


def test_an_amount_at_the_end_is_in_thousands_where_there_is_little_room() -> None:
    million = line("A", 200_000, 171_000, 1.2)
    more = line("A", 200_000, 271_000, 1.2)
    assert come_in_texts([million, more], 7, 11) == [grouped(997_000), grouped(1_697_000)]
    # All of them, though one would have room in full.
    small = line("A", 20_000, 5_000, 1.2)
    assert come_in_texts([small], 7, 6) == [grouped(15_000)]
    assert come_in_texts([small, more, REFERENCE], 7, 6) == ["15k", f"{grouped(1_697)}k", "0"]


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
