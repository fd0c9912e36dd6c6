"""Very many random cells, all keys of the book: each ends, accounts close, both models agree.

``WHATIF_CELLS=5000 pytest --long -n 0 -s tests/cell/test_many_cells.py
tests/compile/test_compiled_cell.py`` runs as many against the independent model, a hundred a seed,
and as many plain and compiled; of each seed it prints what was drawn and counted. Two cells in ten
cut so many pieces that the independent model needs seconds for one of them: here nine in ten of
those are passed over and others drawn, since small cells hold as many kinds of shop, and the long
sets try large ones.
"""

from __future__ import annotations

import os
from zlib import crc32

import hypothesis
import pytest
from both_models import both, plan_of, the_accounts_close, the_models_agree
from cells import stopping_cells
from hypothesis import HealthCheck, Phase, given, settings
from oracle.specs import Spec, cells, study_text
from oracle.specs_orders import with_orders
from oracle.specs_setters import with_setters_staying

from whatif.cell.model import WEEK
from whatif.cell.run import Run

pytestmark = pytest.mark.long

LARGE = 150
"""Pieces cut, from which on a cell is a large one."""

A_SEED = 100
SEEDS = max(1, int(os.environ.get("WHATIF_CELLS", "100")) // A_SEED)

KINDS = {
    "everything": cells(stops=False),
    "stops": stopping_cells(),
    "orders": with_orders(cells(stops=False)),
    "setters stay": with_setters_staying(cells(stops=False)),
}


@pytest.mark.parametrize("seed", range(SEEDS))
def test_both_models_agree(seed: int, capsys: pytest.CaptureFixture[str]) -> None:
    kind = list(KINDS)[seed % len(KINDS)]
    drawn: set[str] = set()
    pieces = 0

    @hypothesis.seed(seed)
    @settings(
        max_examples=A_SEED,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(KINDS[kind])
    def hold(spec: Spec) -> None:
        nonlocal pieces
        if is_passed_over(spec):
            hypothesis.reject()
        found = both(spec)
        the_accounts_close(found)
        the_models_agree(found)
        drawn.add(repr(spec))
        pieces += sum(found.tally.cut)

    hold()
    assert len(drawn) > A_SEED * 0.7
    with capsys.disabled():
        print(f"\nseed {seed}, {kind}: {len(drawn)} cells, {pieces} pieces", end="")


def is_passed_over(spec: Spec) -> bool:
    """Whether this is one of nine in ten large cells."""
    plan = plan_of(study_text(spec))
    assert plan.cell is not None
    run = Run(plan.cell)
    run.advance((plan.warm_up + plan.weeks) * WEEK)
    return sum(run.tally().cut) > LARGE and crc32(repr(spec).encode()) % 10 > 0
