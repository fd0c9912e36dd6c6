"""A load takes no more work in a large cell than in a small one, counted in calls, not in time."""

from __future__ import annotations

import sys
from dataclasses import replace
from fractions import Fraction
from types import FrameType
from typing import Any

import pytest

import whatif.cell.run
from whatif.cell.model import HOUR, WEEK, Cell, MachineGroup, Making, Part, Shift
from whatif.cell.run import Run

pytestmark = pytest.mark.skipif(
    not str(whatif.cell.run.__file__).endswith(".py"), reason="compiled, nobody can count its calls"
)


def cell(machines: int = 2, pallets: int = 4, parts: int = 5, people: int = 1) -> Cell:
    """Made flat out in one shift of twenty hours, a piece a load, seldom two things at a second."""
    made = []
    for i in range(parts):
        making = Making(cycle=1800 + 37 * i, load=120 + i, unload=60, setup=300)
        made.append(Part(f"part{i}", (making,), Fraction(40 + i % 7), batch=5, at_once=99))
    return Cell(
        shifts=(Shift("early", tuple(range(7)), 0, 20 * HOUR, people),),
        groups=(MachineGroup("mill", machines, pallets),),
        parts=tuple(made),
        to_order=False,
    )


def calls_a_load(tried: Cell) -> float:
    """Calls of functions, our own and built in, in a week, for each load cut in it."""
    run = Run(tried)
    run.advance(WEEK)
    before = sum(run.tally().cut)
    counted = 0

    def count(frame: FrameType, event: str, arg: Any) -> None:
        nonlocal counted
        counted += event in ("call", "c_call")

    sys.setprofile(count)
    try:
        run.advance(2 * WEEK)
    finally:
        sys.setprofile(None)
    return counted / (sum(run.tally().cut) - before)


@pytest.mark.parametrize(
    ("few", "many"),
    [
        (cell(machines=2, people=1), cell(machines=16, people=8)),
        (cell(machines=1, pallets=4), cell(machines=1, pallets=64)),
        (cell(parts=5), cell(parts=50)),
    ],
    ids=["machines", "pallets", "parts"],
)
def test_a_load_takes_as_much_work_in_a_large_cell_as_in_a_small_one(few: Cell, many: Cell) -> None:
    small, large = calls_a_load(few), calls_a_load(many)
    assert 0.8 * small <= large <= 1.25 * small


def test_resting_pallets_cost_nothing_while_all_of_them_lack_the_same() -> None:
    """Two pallets at a time hold the fixtures of a part; the others rest, and are not asked."""

    def short(pallets: int) -> Cell:
        tried = cell(machines=1, pallets=pallets, parts=1)
        return replace(tried, parts=(replace(tried.parts[0], fixtures=2, at_once=99),))

    assert calls_a_load(short(64)) <= 1.25 * calls_a_load(short(8))
