"""The pages of "what moves it" on a demo; apart from the others, so that its snapshots are too."""

from __future__ import annotations

import pytest
from looks import MOVES_PAGES, ONE, Looking
from screen import SIZES
from syrupy.assertion import SnapshotAssertion


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_three_pages_of_a_demo(size: tuple[int, int], snapshot: SnapshotAssertion) -> None:
    looking = Looking(ONE, "moves", size)
    for key, page in MOVES_PAGES.items():
        assert looking.press(key).text == snapshot(name=page)
        assert len(looking.rows) <= looking.height
