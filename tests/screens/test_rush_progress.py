"""How far the trials of rush orders are, where they are waited for."""

from __future__ import annotations

import pytest
from looks import Looking, Silent
from screen import SCENARIOS

from whatif.answers.compare import compare_quickly
from whatif.answers.progress import Progress
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.requests import Reply
from whatif.study.check.check import check
from whatif.study.file.reading import read_file

DEMO = SCENARIOS / "small-orders.toml"


@pytest.mark.parametrize(
    ("view", "before"), [("orders", "being tried out, "), ("account", "rush jobs: ")]
)
@pytest.mark.long
def test_trials_tell_how_far_they_are(view: str, before: str) -> None:
    looking = Looking(DEMO, view, calculator=Silent)
    calculation, revision = looking.controllers.calculation, looking.state.session.revision
    found = compare_quickly(check(read_file(DEMO).draft), Memory())
    calculation.take(Reply(revision, found))
    assert looking.rows
    looking.press(*["pagedown"] * 9)
    assert "being tried out" in looking.words
    calculation.take(Reply(revision, progress=Progress(7, 80, 95.0), is_of_rush=True))
    assert f"{before}7 of 80, about 2 min left" in looking.words
    # Weeks that are simulated are no trials.
    calculation.take(Reply(revision, progress=Progress(9, 800, 5.0)))
    assert "9 of 800" not in looking.words
