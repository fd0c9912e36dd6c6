"""What goes into the cell and comes out is sent between processes, plain or compiled."""

from __future__ import annotations

import copy
import inspect
import pickle
from dataclasses import is_dataclass
from fractions import Fraction
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

import whatif.cell
from whatif.cell.fit.fit import Face, Piece, fit
from whatif.cell.frozen import Frozen
from whatif.cell.model import Cell, MachineGroup, Making, Part, Shift, StopKind
from whatif.cell.run import Run

FOLDER = Path(inspect.getfile(whatif.cell)).parent
MODULES = sorted(
    ".".join(("whatif.cell", *path.relative_to(FOLDER).with_suffix("").parts))
    for path in FOLDER.rglob("*.py")
    if path.stem != "__init__"
)


def a_cell() -> Cell:
    return Cell(
        shifts=(Shift("day", (0, 1), 21600, 28800, breaks=((7200, 8100),)),),
        groups=(MachineGroup("mill", pallets=2),),
        parts=(Part("body", (Making(600, setup=900),), Fraction(40)),),
        stops=(StopKind("jam", 7200, 300),),
        luck=3,
    )


def a_tally() -> Frozen:
    run = Run(a_cell())
    run.advance(200_000)
    return run.tally()


def a_fit() -> Frozen:
    half = Fraction(1, 2)
    face = Face((650 * half, 450 * half), None, None, Fraction(80), 2)
    size = (Fraction(100), Fraction(90), Fraction(40))
    return fit(Piece(size, Fraction(9), Fraction(2), "any", half, half, Fraction(0), None), face)


@pytest.mark.parametrize("made", [a_cell, a_tally, a_fit])
def test_a_record_can_be_sent_and_copied(made: Any) -> None:
    record = made()
    for other in (pickle.loads(pickle.dumps(record)), copy.deepcopy(record)):
        assert other == record
        assert other is not record
        assert hash(other) == hash(record)


@pytest.mark.parametrize("module", MODULES)
def test_what_others_see_of_frozen_records_can_all_be_sent(module: str) -> None:
    """A frozen dataclass that is not :class:`Frozen` could not, once it is compiled."""
    for name, found in vars(import_module(module)).items():
        if inspect.isclass(found) and is_dataclass(found) and not name.startswith("_"):
            frozen = found.__dataclass_params__.frozen  # type: ignore[attr-defined]
            assert issubclass(found, Frozen) == frozen, name
