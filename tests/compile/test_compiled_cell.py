"""The compiled cell counts what the plain one counts, to the last second.

Both run the same cells in processes of their own: the demos', and random ones with stops, real
orders, and visits that scatter. Cells go to them and tallies come back as they do between the
program's own processes, so that one that is sent by a plain process arrives in a compiled one.
"""

from __future__ import annotations

import os
import pickle
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from cells import cell_of, stopping_cells
from demos import DEMOS
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from oracle.specs import Spec, cells
from oracle.specs_orders import with_orders

from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.cell.watch import WeekRecord
from whatif.plan.build import plans_of
from whatif.study.check.check import check
from whatif.study.file.reading import read_file

pytestmark = pytest.mark.long

ROOT = Path(__file__).parents[2]
KINDS = 4
RANDOM = int(os.environ.get("WHATIF_CELLS", "160")) // KINDS
"""Random cells of each kind."""

INSTALLED = os.environ.get("WHATIF_COMPILED")
"""A folder with modules that have been compiled of these very sources, which takes a minute."""

Counted = tuple[Tally, Tally, Tally, WeekRecord]

RUN = """
import pickle, sys
from whatif import cell
from whatif.cell.model import WEEK
from whatif.cell.run import Run
from whatif.cell.watch import watch
from whatif.cell.weeks import Weeks

def counted(one):
    run = Run(one)
    for second in range(0, WEEK, 54_321):
        run.advance(second)
    run.advance(WEEK)
    other = run.copy()
    run.advance(3 * WEEK)
    other.advance(2 * WEEK + 4_321)
    weeks = Weeks(one)
    while not weeks.knows(6):
        weeks.advance()
    return run.tally(), other.tally(), weeks.tally(6), watch(one, 1)

with open(sys.argv[1], "rb") as told:
    cells = pickle.load(told)
found = cell.is_compiled(), [counted(one) for one in cells]
with open(sys.argv[2], "wb") as told:
    pickle.dump(found, told)
"""


@pytest.fixture(scope="module")
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a copy of the package whose cell is compiled: here, or when installed."""
    folder: Path = tmp_path_factory.mktemp("compiled")
    without = shutil.ignore_patterns("__pycache__", "compiled")
    shutil.copytree(ROOT / "whatif", folder / "whatif", ignore=without)
    into = folder / "whatif" / "cell" / "compiled"
    if INSTALLED:
        shutil.copytree(INSTALLED, into)
        return folder
    hook = pytest.importorskip("whatif.compile.hook", reason="hatchling is not here")
    why = hook._no_compiler()
    if why is not None:
        pytest.skip(f"nothing compiles here: {why}")
    why = hook._compile(folder, into, folder / "log")
    assert why is None, (folder / "log").read_text("utf-8")
    return folder


def random_cells(kind: st.SearchStrategy[Spec], change: Callable[[Cell], Cell]) -> list[Cell]:
    """Cells of a kind, the same ones every time."""
    found: list[Cell] = []

    @settings(
        max_examples=RANDOM,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(kind)
    def draw(spec: Spec) -> None:
        found.append(change(cell_of(spec)))

    draw()
    return found


def both(compiled: Path, cells: list[Cell]) -> tuple[list[Counted], list[Counted]]:
    """What the compiled and what the plain cell count, from the same folder."""

    def run(**env: str) -> Any:
        told, found = compiled / "cells", compiled / "found"
        told.write_bytes(pickle.dumps(cells))
        subprocess.run(
            [sys.executable, "-c", RUN, told, found],
            cwd=compiled,
            env={**os.environ, "PYTHONPATH": str(compiled), **env},
            check=True,
        )
        return pickle.loads(found.read_bytes())

    (is_compiled, fast), (is_not_plain, plain) = run(WHATIF_PLAIN=""), run(WHATIF_PLAIN="1")
    assert is_compiled
    assert not is_not_plain
    return fast, plain


def equal(compiled: Path, cells: list[Cell]) -> None:
    fast, plain = both(compiled, cells)
    assert len(fast) == len(plain) == len(cells)
    for cell, found, wanted in zip(cells, fast, plain, strict=True):
        assert found == wanted, cell
    assert any(sum(found[0].cut) for found in fast)


def test_the_demos(compiled: Path) -> None:
    plans = (plan for path in DEMOS for plan in plans_of(check(read_file(path).draft)).values())
    equal(compiled, [plan.cell for plan in plans if plan.cell is not None])


def test_cells_with_stops(compiled: Path) -> None:
    equal(compiled, random_cells(stopping_cells(), lambda cell: cell))


def test_cells_whose_weeks_may_repeat(compiled: Path) -> None:
    equal(compiled, random_cells(cells(stops=False), lambda cell: replace(cell, luck=0)))


def test_cells_with_real_orders(compiled: Path) -> None:
    equal(compiled, random_cells(with_orders(cells()), lambda cell: cell))


def test_cells_whose_visits_scatter(compiled: Path) -> None:
    scattered = random_cells(stopping_cells(), lambda cell: replace(cell, scatter=0.4, luck=7))
    equal(compiled, scattered)


def test_what_commands_print_has_the_same_schemas(compiled: Path) -> None:
    """A compiled record does not know the types of its fields, from which schemas are made."""
    told = "from whatif.reports.command_schemas import SCHEMAS as S; print({c: S[c]() for c in S})"

    def printed(**env: str) -> bytes:
        within = {**os.environ, "PYTHONPATH": str(compiled), **env}
        return subprocess.check_output([sys.executable, "-c", told], cwd=compiled, env=within)

    assert printed(WHATIF_PLAIN="") == printed(WHATIF_PLAIN="1")
