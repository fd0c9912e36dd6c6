"""Quantities as people write them: read, kept as written, shown, and written anew."""

from whatif.units.dimension import Dimension, UnitsError
from whatif.units.quantity import Quantity, parse, printable, with_unit_of
from whatif.units.shares import share_of, share_typed
from whatif.units.texts import decimal, in_unit, is_exact, show, write

__all__ = [
    "Dimension",
    "Quantity",
    "UnitsError",
    "decimal",
    "in_unit",
    "is_exact",
    "parse",
    "printable",
    "share_of",
    "share_typed",
    "show",
    "with_unit_of",
    "write",
]
