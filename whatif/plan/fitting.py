"""The question of fit for a part on a machine, and why the answer is no (rule `fit.made`)."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from whatif.cell.fit.fit import Face, Fit, Limit, Piece
from whatif.study.schema.models import Machine, On, Part
from whatif.units import Dimension, Quantity, show

_METRIC = re.compile(r"([0-9]+(?:\.[0-9]+)?) (mm|kg)")
"""A number in a fit's sentence; the engine words all of them alike, in mm and kg."""


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


def in_units(found: Fit, units: str) -> Fit:
    """The same fit with its sentences in the units that the study's reports show."""
    if units == "metric":
        return found
    limits = tuple(replace(limit, text=words_in_units(limit.text, units)) for limit in found.limits)
    return replace(found, limits=limits)


def words_in_units(text: str, units: str) -> str:
    """A sentence on a fit, which is in mm and kg, in the units that reports show."""
    return text if units == "metric" else _METRIC.sub(_in_inch, text)


def _in_inch(found: re.Match[str]) -> str:
    dimension = Dimension.LENGTH if found[2] == "mm" else Dimension.MASS
    return show(Fraction(found[1]), dimension, "inch")


def not_allowed(part: str, group: str) -> Fit:
    """The answer for a machine that the part's ``machines`` leaves out."""
    text = f"{part} is not to be made on {group}: its list of machines leaves it out."
    return Fit(
        fits=False,
        per_pallet=0,
        most=None,
        cut_down=False,
        limits=(Limit("machine", "missed", None, None, None, text),),
        layout=(),
        standing=2,
        free_face=None,
    )


def why_not(part: str, fits: dict[str, Fit]) -> str:
    """Why a part is not made, with by how much it misses on each machine."""
    misses = []
    for group, found in fits.items():
        missed = [limit.text for limit in found.limits if limit.state == "missed"]
        misses.append(f"on {group}: " + " ".join(missed))
    return f"{part} is not made, it fits no machine; " + "; ".join(misses)
