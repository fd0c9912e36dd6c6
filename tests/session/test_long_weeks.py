"""A week that takes long holds nobody up: whoever waits is heard in it."""

from __future__ import annotations

import time

import pytest
from stop_studies import study

from whatif.cell.model import WEEK, Cell
from whatif.cell.run import Run
from whatif.cell.weeks import Weeks
from whatif.plan.build import plans_of
from whatif.session.calculate import memory
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.file.reading import read_text


class GivenUp(Exception):
    """Somebody wants something else."""


@pytest.fixture(autouse=True)
def real_weeks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Weeks that are run here, and not those that another test has run."""
    monkeypatch.setattr(memory, "Weeks", Weeks)


def cell_of(*lines: str) -> Cell:
    checked = check(read_text(study(*lines)))
    assert checked.study is not None
    return plans_of(checked)["today"].cell


@pytest.mark.long
def test_a_week_of_millions_of_stops_is_given_up_in_a_moment() -> None:
    cell = cell_of(
        "machine.mill.count = 200",
        'stop.chips.every = "1 s"',
        "stop.chips.needs_person = false",
        'stop.chips.repair = "1 s"',
    )
    began = time.monotonic()

    def heard() -> None:
        if time.monotonic() > began + 0.5:
            raise GivenUp

    with pytest.raises(GivenUp):
        Memory(within_week=heard)(cell, 0, 1)
    # Some hundred times as long where the week is run in one go.
    assert time.monotonic() < began + 10


def test_a_week_in_parts_is_the_week() -> None:
    cell = cell_of(
        "machine.mill.count = 3", 'stop.chips.every = "5 h"', 'stop.chips.repair = "1 h"'
    )
    run, weeks, parts = Run(cell), Weeks(cell), 0
    run.advance(2 * WEEK)
    for _ in range(2):
        while not weeks.run_on(50_000):
            parts += 1
    assert parts == 2 * (WEEK // 50_000)
    assert weeks.tally(2) == run.tally()
    assert Memory()(cell, 0, 2) == run.tally()
