"""What each unit is worth in the base unit, exactly, from the unit library.

The library's registry is built once, behind a lock: its own lazy registry races
between threads, and it takes a tenth of a second, so importing this module does
not build it. Only names from our own table reach it, never a user's text.
"""

from fractions import Fraction
from functools import cache
from threading import Lock
from typing import Final

from whatif.units.dimension import Dimension
from whatif.units.table import UNITS, Unit

_LIBRARY_BASE: Final = {
    Dimension.TIME: "second",
    Dimension.LENGTH: "millimeter",
    Dimension.MASS: "kilogram",
    Dimension.AREA: "meter ** 2",
    Dimension.PERCENT: "dimensionless",
}
_building: Final = Lock()


def factor(unit: Unit) -> Fraction:
    """How many base units (s, mm, kg, m², share of one) one `unit` is, exactly.

    Source: the definitions that come with pint, which follow NIST SP 811.
    """
    with _building:
        return _factors()[unit.symbol]


@cache
def _factors() -> dict[str, Fraction]:
    from pint import UnitRegistry  # here, because importing it takes longer than all of ours

    registry: UnitRegistry[Fraction] = UnitRegistry(non_int_type=Fraction)
    return {
        symbol: Fraction(
            registry.Quantity(Fraction(1), unit.library_name)
            .to(_LIBRARY_BASE[unit.dimension])
            .magnitude
        )
        for symbol, unit in UNITS.items()
    }
