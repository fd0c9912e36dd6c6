"""Orders and rush jobs at three sizes: whole lines, units on every figure, nothing empty."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from looks import Looking
from moving_studies import study
from screen import SCENARIOS

from whatif.study.file.writing import to_text

SIZES = [(80, 24), (120, 32), (200, 50)]


def _lines(size: tuple[int, int]) -> list[str]:
    return Looking(SCENARIOS / "small-orders.toml", "orders", size, column=2).text.splitlines()


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_due_dates_and_lateness_are_whole(size: tuple[int, int]) -> None:
    lines = _lines(size)
    for label in ("mill_house: 8 pieces ", "due tue 12:00 ", "pump: 4 pieces, wanted from tue"):
        assert any(label in line for line in lines)
    assert any(" late" in line for line in lines)
    assert not any("…" in line or ".." in line.replace("...", "") for line in lines)


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_every_figure_has_its_unit(size: tuple[int, int]) -> None:
    """What ends in a bare number is no cell."""
    told = [line for line in _lines(size) if re.match(r" +(late|off|other|orders on)", line)]
    assert len(told) >= 5
    for line in told:
        for cell in re.split(r"  +", line.strip())[1:]:
            assert re.search(r"(\d (h|%|pieces)|loss)$", cell), cell


@pytest.mark.parametrize(
    ("view", "steps"),
    [("orders", ["Esc", "Esc"]), ("money", ["c", "w"]), ("meters", ["o", "c", "w"])],
)
def test_a_view_without_anything_to_show_says_what_to_enter_and_by_which_key(
    view: str, steps: list[str], tmp_path: Path
) -> None:
    path = tmp_path / "study.toml"
    path.write_text(to_text(study()))
    rows = Looking(path, view).rows
    keys = [span.text.strip() for spans in rows for span in spans if span.tone == "key"]
    assert keys == steps
