"""Cells that tests of the engine run: random ones, small ones, and what they count."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st
from lengths import examples
from oracle.specs import Spec, cells, some_stops, study_text

from whatif.cell.model import HOUR, Cell, MachineGroup, Making, Part, Shift, StopKind
from whatif.cell.run import Run
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.study.check.check import check
from whatif.study.file.reading import read_text


def trying(most: int) -> Callable[[Any], Any]:
    """As many random cells; one is small already, and shrinking it would cost minutes."""
    return examples(most, shrinks=False)


few = trying(40)


@st.composite
def stopping_cells(draw: st.DrawFn) -> Spec:
    """Cells with everything, each with a kind of stop or two."""
    spec: Spec = draw(cells(stops=False))
    spec["stop"] = draw(some_stops())
    return spec


def stops_of(spec: Spec) -> tuple[StopKind, ...]:
    return tuple(StopKind(id_, **entry) for id_, entry in spec.get("stop", {}).items())


def cell_of(spec: Spec) -> Cell:
    """The cell of a random study, with its stops."""
    (plan,) = plans_of(check(read_text(study_text(spec)))).values()
    assert plan.cell is not None
    return replace(plan.cell, stops=stops_of(spec), luck=1)


def small_cell(**changes: Any) -> Cell:
    """Two mills with three pallets each, two parts and a stop every hour or so."""
    making = Making(cycle=611, load=97, unload=45, setup=450, per_pallet=3)
    cell = Cell(
        shifts=(Shift("early", (0, 1, 2, 3, 4), 6 * HOUR, 8 * HOUR, breaks=((9000, 10800),)),),
        groups=(MachineGroup("mill", count=2, pallets=3, warm_up=900),),
        parts=(
            Part("body", (making,), Fraction(200), bench=60),
            Part("cover", (making,), Fraction(150), batch=7),
        ),
        stops=(StopKind("jam", HOUR, 300), StopKind("alarm", 2 * HOUR, 600, needs_person=False)),
        after_shift=5 * HOUR,
        luck=1,
    )
    return replace(cell, **changes)


def counted(cell: Cell, until: int, since: int = 0) -> Tally:
    """What a cell's run counts from one second to another."""
    run = Run(cell)
    run.advance(since)
    before = run.tally()
    run.advance(until)
    return run.tally().since(before)


def plain(tally: Tally) -> list[Any]:
    """What machines and people did, whoever of them did it."""
    return [
        sorted(tally.spent),
        tally.cut,
        sorted(tally.busy),
        sorted(tally.cycle),
        tally.most_held,
    ]
