"""Quantities as people write them: read, kept as written, and shown."""

from whatif.units.dimension import Dimension, UnitsError
from whatif.units.quantity import Quantity, parse
from whatif.units.show import show

__all__ = ["Dimension", "Quantity", "UnitsError", "parse", "show"]
