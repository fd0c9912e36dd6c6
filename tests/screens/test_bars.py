"""Bars of gains: one scale for all, the likely range lighter."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples
from rich.cells import cell_len

from whatif.screens.widgets.bars import bar
from whatif.telling.strip import Ends, Scale, scale_for


def drawn(ends: Ends | None, scale: Scale | None, width: int = 21) -> str:
    return "".join(span.text for span in bar(ends, scale, width, "gain"))


@pytest.mark.parametrize(
    ("ends", "text"),
    [
        ([(37, 38, 39), (93, 96, 99)], "0..100 %"),
        ([(37, 38, 39), (93, 96, 100.04)], "0..100 %"),  # reads as 100.0
        ([(93, 96, 101)], "0..150 %"),
        ([(1.2, 1.4, 1.6)], "0..2 %"),
        ([(-30, -26, -22)], "-30..0 %"),
        ([(-7, -6, -5), (9, 11, 12)], "-8..15 %"),
        ([(-1, 0, 1), (60, 70, 80)], "-20..80 %"),  # a fifth of the other side at least: 16
        ([(0, 0, 0), None], "0..1 %"),
        # A range that ends at 0 is not clear: no gain, nor a loss.
        ([(0, 0, 17), None], "-4..20 %"),
        ([(-17, 0, 0), (0, 0, 0)], "-20..4 %"),
        ([(600, 700, 1100)], "0..1500 %"),
    ],
)
def test_the_scale_is_round_and_holds_all(ends: list[Ends | None], text: str) -> None:
    scale = scale_for(ends)
    assert scale is not None
    assert scale.text == text


def test_where_nothing_is_known_there_is_no_scale() -> None:
    assert scale_for([None]) is None
    assert drawn(None, None) == " " * 21


@pytest.mark.parametrize(
    ("ends", "wanted"),
    [
        # Twenty cells for 100 %: 5 % each.
        ((25, 25, 25), "│" + "█" * 5),
        ((25, 30, 35), "│" + "█" * 5 + "⢕" * 2),
        ((100, 100, 100), "│" + "█" * 20),
        ((90, 95, 100), "│" + "█" * 18 + "⢕" * 2),
        # From 8.8 to 9.4 cells, and from 11 to 12.2: as wide as each other, rounded.
        ((44, 46, 47), "│" + "█" * 9 + "⢕"),
        ((55, 57, 61), "│" + "█" * 11 + "⢕"),
        # Less than half a cell apart: as long as the gain, 26.25 % are 5 cells and a quarter.
        ((26, 26.25, 26.5), "│" + "█" * 5 + "▎"),
        ((0.1, 0.1, 0.1), "│▏"),
        ((0, 0, 0), "│"),
        (None, "│"),
    ],
)
def test_a_gain_is_solid_to_the_low_end_of_its_range(ends: Ends | None, wanted: str) -> None:
    assert drawn(ends, Scale(0, 100)) == wanted.ljust(21)


@pytest.mark.parametrize(
    ("ends", "wanted"),
    [
        # Ten cells on each side for 50 %.
        ((-25, -25, -25), "     █████│          "),
        ((-35, -30, -25), "   ⢕⢕█████│          "),
        ((-50, -45, -40), "⢕⢕████████│          "),
        ((10, 12, 15), "          │██⢕       "),
        # 0 within the range: nothing is sure.
        ((-10, 0, 15), "        ⢕⢕│⢕⢕⢕       "),
        ((-0.2, -0.2, -0.2), "         ▕│          "),
        # Half a cell in all, though no side of it.
        ((-1, 0, 1.5), "          │⢕         "),
    ],
)
def test_a_loss_goes_to_the_left_of_nothing(ends: Ends, wanted: str) -> None:
    assert drawn(ends, Scale(-50, 50)) == wanted


def test_all_bars_have_the_same_cell_for_nothing_and_the_same_percent_a_cell() -> None:
    scale = Scale(-20, 80)
    texts = [drawn(ends, scale) for ends in ((-20, -20, -20), (20, 20, 20), (80, 80, 80))]
    assert {text.index("│") for text in texts} == {4}
    assert [text.count("█") for text in texts] == [4, 4, 16]


@pytest.mark.parametrize("scale", [Scale(0, 100), Scale(-20, 80), Scale(-30, 0), Scale(-50, 50)])
@pytest.mark.parametrize("width", [1, 2, 3, 7, 15])
def test_a_bar_fills_its_cells_however_few(scale: Scale, width: int) -> None:
    for ends in ((-20, -10, 60), (80, 80, 80), (-30, -25, -20), None):
        assert cell_len(drawn(ends, scale, width)) == width


@examples(300)
@given(
    low=st.floats(-100, 60),
    wide=st.floats(0, 40),
    wider=st.floats(0, 40),
    begins=st.floats(-100, 60),
)
def test_the_wider_range_never_has_fewer_dots_wherever_it_begins(
    low: float, wide: float, wider: float, begins: float
) -> None:
    """Dots went by the place in a cell: +46 (44 to 47) had some, +57 (55 to 61) none.

    Forty cells for 200 %: 5 % each.
    """
    scale = Scale(-100, 100)
    wide, wider = sorted((wide, wider))

    def dots(low: float, wide: float) -> int:
        return drawn((low, low + wide / 2, low + wide), scale, 41).count("⢕")

    few, many = dots(low, wide), dots(begins, wider)
    assert few <= many
    # Sums of floats may fall short of what they are by a hair.
    assert few >= (wide >= 2.5 + 1e-9)
    assert not (few and wide < 2.5 - 1e-9)
