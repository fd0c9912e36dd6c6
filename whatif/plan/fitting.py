"""The question of fit for a part on a machine (rule `fit.made`)."""

from __future__ import annotations

from fractions import Fraction

from whatif.cell.fit.fit import Face, Fit, Limit, Piece
from whatif.study.schema.models import Machine, On, Part
from whatif.units import Quantity


def question(part: Part, on: On | None, machine: Machine) -> tuple[Piece, Face]:
    """What :func:`whatif.cell.fit.fit.fit` is asked: the piece and the face it is to stand on."""
    stated = on.per_pallet if on is not None and on.per_pallet is not None else part.per_pallet
    piece = Piece(
        size=None if part.size is None else _three(part.size),
        mass=part.mass.value,
        fixture_mass=part.fixture_mass.value,
        turn=part.turn,
        gap=part.gap.value,
        edge=part.edge.value,
        fixture_height=part.fixture_height.value,
        wanted=stated,
    )
    face = Face(
        table=None if machine.table is None else _two(machine.table),
        travel=None if machine.travel is None else _two(machine.travel),
        work_height=None if machine.work_height is None else machine.work_height.value,
        table_load=None if machine.table_load is None else machine.table_load.value,
        faces=machine.faces,
    )
    return piece, face


def _two(sides: tuple[Quantity, ...]) -> tuple[Fraction, Fraction]:
    return sides[0].value, sides[1].value


def _three(sides: tuple[Quantity, ...]) -> tuple[Fraction, Fraction, Fraction]:
    return sides[0].value, sides[1].value, sides[2].value


def not_allowed() -> Fit:
    """The answer for a machine that the part's ``machines`` leaves out."""
    return Fit(
        fits=False,
        per_pallet=0,
        most=None,
        cut_down=False,
        limits=(Limit("machine", "missed"),),
        layout=(),
        standing=2,
        free_face=None,
    )
