"""Plots held against counting dots and cells by hand."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples

from whatif.telling.plot import (
    AmountScale,
    Canvas,
    Plot,
    Trace,
    Upright,
    Word,
    amount_at,
    in_a_line,
    plot_of,
    pointing,
    scale,
    scale_across,
)


def rows(plot: Plot) -> list[str]:
    return ["".join(cell.sign for cell in row) for row in plot.rows]


def test_a_line_is_true_to_scale() -> None:
    """From 0 to 7 in 4 cells of 2 dots and 2 rows of 4: a dot up for each dot across.

    Dots count from the top: 0 is in dot 7, 7 in dot 0, so that column k has dot 7 - k.
    """
    trace = Trace([(0, 0.0), (7, 7.0)], "line")
    _, plot = plot_of([trace], [], (0, 7), AmountScale(0, 7, (0, 7)), 4, 2)
    # Of a cell's dots the two lowest, then the two highest ones but one.
    low, high = chr(0x2800 + 0x40 + 0x20), chr(0x2800 + 0x02 + 0x08)
    assert rows(plot) == [f"┤  {low}{high}", f"┤{low}{high}──"]
    assert plot.labels == ("7", "0")


def test_a_gap_is_left_where_there_is_no_amount() -> None:
    trace = Trace([(0, 1.0), (1, None), (2, 1.0), (3, 1.0)], "line")
    _, plot = plot_of([trace], [], (0, 3), AmountScale(0, 2, (0, 2)), 7, 2)
    drawn = [at for row in plot.rows for at, cell in enumerate(row) if cell.ink == "line"]
    assert drawn
    assert min(drawn) > 3


def test_a_band_lies_below_its_line_and_reads_lighter() -> None:
    """Full height from 0 to 2 all along: every second dot of each cell; the line lies above it."""
    band = [(0.0, 2.0), (0.0, 2.0)]
    trace = Trace([(0, 0.0), (1, 0.0)], "line", band, "band")
    _, plot = plot_of([trace], [], (0, 1), AmountScale(0, 2, (0, 2)), 3, 2)
    assert rows(plot)[0] == "┤" + 3 * chr(0x2800 + 0x01 + 0x10 + 0x04 + 0x80)
    assert {cell.ink for cell in plot.rows[0][1:]} == {"band"}
    assert {cell.ink for cell in plot.rows[1][1:]} == {"line"}


def test_both_edges_of_a_band_are_drawn_also_in_the_cells_of_its_line() -> None:
    """From 0 to 7 in 2 rows of 4 dots the line is in dot 4 from the top, the band in 2 to 6.

    The dots 3 and 5 touch the line, on either side of it, whether in its own cells or not.
    """
    trace = Trace([(0, 3.0), (7, 3.0)], "line", [(1.0, 5.0), (1.0, 5.0)], "band")
    _, plot = plot_of([trace], [], (0, 7), AmountScale(0, 7, (0, 7)), 4, 2)
    above, line, below = chr(0x2800 + 0x04), 0x01 + 0x08, 0x04
    assert rows(plot) == ["┤" + 4 * above, "┤" + 4 * chr(0x2800 + line + below)]
    assert {(cell.ink, cell.beside) for cell in plot.rows[1][1:]} == {("line", chr(0x2800 + below))}


def test_where_a_band_goes_on_beyond_a_cell_of_its_line_that_is_free_of_it() -> None:
    """In the middle of 3 rows of 4 dots the line is in dot 5 from the top, the band in 1 to 7."""
    trace = Trace([(0, 6.0), (7, 6.0)], "line", [(4.0, 10.0), (4.0, 10.0)], "band")
    _, plot = plot_of([trace], [], (0, 7), AmountScale(0, 11, (0, 11)), 4, 3)
    assert {cell.ink for cell in plot.rows[0][1:]} == {"band"}
    line, below = 0x02 + 0x10, 0x80
    assert rows(plot)[1] == "│" + 4 * chr(0x2800 + line + below)


def test_a_sign_stands_on_its_line_and_is_lit_under_the_cursor() -> None:
    trace = Trace([(0, 0.0), (4, 8.0)], "line", signs=[(0, "A"), (2, "B")])
    strokes = [Upright(2, "now")]
    _, plot = plot_of([trace], strokes, (0, 4), AmountScale(0, 8, (0, 8)), 9, 9, lit=2)
    assert (plot.rows[4][5].sign, plot.rows[4][5].lit) == ("B", True)
    assert (plot.rows[8][1].sign, plot.rows[8][1].lit) == ("A", False)
    assert plot.rows[0][5].ink == "now"


def test_amounts_between_points_lie_on_the_straight_line() -> None:
    points = [(0.0, 0.0), (4.0, 8.0), (5.0, None)]
    assert amount_at(points, 1) == 2
    assert amount_at(points, 4) == 8
    assert amount_at(points, 4.5) is None
    assert amount_at(points, -1) is None


@pytest.mark.parametrize(
    ("low", "high", "many", "texts"),
    [
        (0, 41.8, 9, ["0", "10", "20", "30", "40"]),
        (0, 43.1, 9, ["0", "25", "50"]),
        (0, 43.1, 2, ["0", "50"]),
        (-203_000, 606_000, 9, ["-200 000", "0", "200 000", "400 000", "600 000"]),
        (0, 1.3, 6, ["0.0", "0.5", "1.0"]),
        (5, 5, 7, ["4", "5", "6"]),
    ],
)  # fmt: skip
def test_ticks_are_round(low: float, high: float, many: int, texts: list[str]) -> None:
    found = [text.replace("\u00a0", " ") for text in scale(low, high, many).text_of.values()]
    assert found == texts


@examples(300)
@given(low=st.floats(-1e7, 1e7), long=st.floats(1e-3, 1e7), height=st.integers(2, 40))
def test_a_scale_holds_both_ends_and_two_ticks_at_least(
    low: float, long: float, height: int
) -> None:
    found = scale(low, low + long, height)
    assert found.low <= low
    assert found.high >= low + long
    assert 2 <= len(found.ticks) <= max(4, height)
    assert all(found.low - long / 1e6 <= tick <= found.high + long / 1e6 for tick in found.ticks)


@examples(300)
@given(low=st.floats(-1e7, 1e7), long=st.floats(1e-3, 1e7), height=st.integers(2, 40))
def test_ticks_that_are_equally_apart_stand_equally_many_rows_apart(
    low: float, long: float, height: int
) -> None:
    for begin in (low, 0.0):
        up = scale(begin, begin + long, height)
        canvas = Canvas((0, 1), up, 2, height)
        rows_of = [canvas.row(tick) for tick in up.ticks]
        assert len({before - after for before, after in pairwise(rows_of)}) == 1


@examples(300)
@given(low=st.floats(-1e4, 1e4), long=st.floats(1, 1e4), height=st.integers(2, 40))
def test_what_lies_at_a_tick_lies_at_its_stroke(low: float, long: float, height: int) -> None:
    """Lines that invest nothing began in the lowest dots of the row of 0, below its stroke."""
    for begin in (low, 0.0, -long):
        up = scale(begin, begin + long, height)
        canvas = Canvas((0, 1), up, 2, height)
        for tick in up.ticks:
            canvas.line(Trace([(0, tick), (1, tick)], "line"))
            # The upper of the two dots beside the middle of a cell, at the left and at the right.
            drawn = canvas.done().rows[canvas.row(tick)]
            assert [cell.sign for cell in drawn] == ["┤", *2 * chr(0x2800 + 0x02 + 0x10)]
            # The nearer row is the one that an amount stands in.
            a_row = 4 * (up.high - up.low) / (4 * height - 1)
            for off, rows_off in ((0.45, 0), (-0.45, 0), (0.55, 1), (-0.55, -1)):
                row = canvas.row(tick - off * a_row)
                assert row in {canvas.row(tick) + rows_off, 0, height - 1}


def test_across_there_are_as_many_ticks_as_have_room() -> None:
    """Rows have nothing to do with it: to 229 000 only 0 and 200 000 were told."""
    assert scale_across(0.0, 229_000.0, 6).ticks == (0, 50_000, 100_000, 150_000, 200_000)
    assert scale_across(-30.0, 100.0, 2).ticks == (0, 100)


@examples(200)
@given(low=st.floats(-1e6, 0), long=st.floats(1, 1e7), height=st.integers(8, 40))
def test_there_are_three_ticks_at_least_from_eight_rows_on(
    low: float, long: float, height: int
) -> None:
    """Of two alone, 0 and a million, the amounts between them were guessed."""
    assert len(scale(low, low + long, height).ticks) >= 3


def line(placed: list, width: int) -> str:  # type: ignore[type-arg]
    text = " " * width
    for each in placed:
        text = text[: each.begin] + each.word.text + text[each.end :]
    return text.rstrip()


def test_values_below_the_axis_never_touch_and_the_first_always_stands() -> None:
    words = [Word(at, text) for at, text in ((0, "100"), (5, "200"), (8, "300"))]
    assert line(in_a_line(words, 10), 10) == "100 200"
    words[2] = Word(8, "300", first=True)
    assert line(in_a_line(words, 10), 10) == "100    300"


def test_words_point_at_their_values_in_as_many_lines_as_they_need() -> None:
    words = [Word(1, "now"), Word(4, "demand met"), Word(19, "break-even")]
    lines = [line(each, 20) for each in pointing(words, 20, 3)]
    assert lines == [" ▲ now  break-even ▲", "    ▲ demand met"]
    assert len(pointing(words, 20, 1)) == 1
