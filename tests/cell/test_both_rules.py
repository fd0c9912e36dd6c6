"""Where keeping a setup is never another choice than the earliest due date, one run tells both."""

from __future__ import annotations

from dataclasses import replace

import pytest
from cells import cell_of, small_cell
from hypothesis import given
from lengths import examples
from oracle.specs import Spec, cells

from whatif.cell.model import Cell
from whatif.cell.weeks import Weeks
from whatif.session.calculate import memory


def with_both(cell: Cell, most: int) -> bool:
    """Hold the weeks of a cell with either rule against each other; whether the rules part."""
    kept, dated = (Weeks(replace(cell, keep_setup=rule)) for rule in (True, False))
    for week in range(1, most + 1):
        for weeks in (kept, dated):
            while not weeks.knows(week):
                weeks.advance()
        assert kept.rules_part == dated.rules_part, week
        if not kept.rules_part:
            assert kept.tally(week) == dated.tally(week), week
    return kept.rules_part


@pytest.mark.long
@pytest.mark.examples
def test_rules_count_the_same_until_they_part() -> None:
    part: list[bool] = []

    @examples(120, shrinks=False)
    @given(cells(stops=False))
    def hold(spec: Spec) -> None:
        part.append(with_both(cell_of(spec), 3))

    hold()
    assert any(part)
    assert not all(part)


def test_a_memory_runs_one_of_two_rules_that_do_not_part(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(memory, "Weeks", Weeks)
    two = small_cell()
    cell = replace(two, parts=two.parts[:1])  # of one number there is nothing to choose
    remembers = memory.Memory()
    kept, dated = (replace(cell, keep_setup=rule) for rule in (True, False))
    assert remembers(kept, 1, 2) == remembers(dated, 1, 2)
    assert remembers.ran == 1
    # More weeks are run where they are asked for, by whichever rule asks.
    assert remembers(dated, 1, 4) == memory.Memory()(dated, 1, 4) == remembers(kept, 1, 4)
    assert remembers.ran == 2


def test_a_memory_runs_both_rules_where_they_part(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(memory, "Weeks", Weeks)
    two = replace(small_cell(), orders=())
    few = tuple(replace(part, batch=7) for part in two.parts)
    kept, dated = (replace(two, parts=few, keep_setup=rule) for rule in (True, False))
    assert with_both(kept, 3)
    remembers = memory.Memory()
    assert remembers(kept, 1, 2) != remembers(dated, 1, 2)
    assert remembers.ran == 2
