"""What real orders together are told as."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from whatif.telling.promised import TOGETHER, together_text

LATE_A_DAY = TOGETHER[-1]


@pytest.mark.parametrize(
    ("pieces", "told"),
    [(0.0, "0.0"), (0.01, "under 0.1"), (0.06, "0.1"), (None, "–")],
)
def test_pieces_late_that_are_not_0_do_not_read_as_0(pieces: float | None, told: str) -> None:
    of = cast("Any", SimpleNamespace(pieces_late=pieces, worst_pieces_late=pieces))
    assert together_text(of, LATE_A_DAY) == told
