"""The units a shop writes, under every spelling that is accepted, and what each is worth.

The table is an allow list: what is not here is refused, whatever else a unit
library may make of it.
"""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from threading import Lock
from typing import Final

from whatif.records import dataclass
from whatif.units.dimension import Dimension


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: how it is shown, said and spelled, and what may stand after it.

    `family` tells which units may stand together in a compound: "5 ft 6 in" is
    one length, "5 ft 6 mm" a slip. `below` is the symbol of the unit that
    customarily follows in a compound, "" where there is none. `library_name` is
    the unit's name in the registry.
    """

    symbol: str
    name: str
    dimension: Dimension
    family: str
    library_name: str
    below: str
    spellings: tuple[str, ...]


def _unit(
    symbol: str,
    name: str,
    dimension: Dimension,
    family: str,
    library_name: str,
    below: str,
    spellings: str,
) -> Unit:
    spelled = (symbol, *spellings.split())
    return Unit(symbol, name, dimension, family, library_name, below, spelled)


_TIME, _LENGTH, _MASS = Dimension.TIME, Dimension.LENGTH, Dimension.MASS

_PLAIN: Final = (
    _unit("week", "weeks", _TIME, "time", "week", "d", "weeks wk wks"),
    _unit("d", "days", _TIME, "time", "day", "h", "day days"),
    _unit("h", "hours", _TIME, "time", "hour", "min", "hr hrs hour hours"),
    _unit("min", "minutes", _TIME, "time", "minute", "s", "mins minute minutes"),
    _unit("s", "seconds", _TIME, "time", "second", "ms", "sec secs second seconds"),
    _unit("ms", "milliseconds", _TIME, "time", "millisecond", "", "millisecond milliseconds"),
    _unit("m", "metres", _LENGTH, "metric", "meter", "cm", "meter meters metre metres"),
    _unit(
        "dm", "decimetres", _LENGTH, "metric", "decimeter", "cm",
        "decimeter decimeters decimetre decimetres",
    ),
    _unit(
        "cm", "centimetres", _LENGTH, "metric", "centimeter", "mm",
        "centimeter centimeters centimetre centimetres",
    ),
    _unit(
        "mm", "millimetres", _LENGTH, "metric", "millimeter", "µm",
        "millimeter millimeters millimetre millimetres",
    ),
    _unit(
        "µm", "micrometres", _LENGTH, "metric", "micrometer", "",
        "um micron microns micrometer micrometers micrometre micrometres",
    ),
    _unit("yd", "yards", _LENGTH, "inch", "yard", "ft", "yds yard yards"),
    _unit("ft", "feet", _LENGTH, "inch", "foot", "in", "foot feet ' ′ ’"),
    _unit("in", "inches", _LENGTH, "inch", "inch", "", "inch inches \" ″ ” '' ′′"),
    _unit("thou", "thousandths of an inch", _LENGTH, "inch", "thou", "", ""),
    _unit("t", "tonnes", _MASS, "metric", "metric_ton", "kg", "tonne tonnes"),
    _unit(
        "kg", "kilograms", _MASS, "metric", "kilogram", "g",
        "kgs kilogram kilograms kilogramme kilogrammes",
    ),
    _unit("g", "grams", _MASS, "metric", "gram", "mg", "gram grams gramme grammes"),
    _unit("mg", "milligrams", _MASS, "metric", "milligram", "", "milligram milligrams"),
    _unit("lb", "pounds", _MASS, "inch", "pound", "oz", "lbs pound pounds"),
    _unit("oz", "ounces", _MASS, "inch", "ounce", "", "ounce ounces"),
)  # fmt: skip
_PERCENT: Final = Unit(
    "%", "percent", Dimension.PERCENT, "", "percent", "", ("%", "percent", "per cent", "pct")
)
_SQUARED: Final = ("m", "dm", "cm", "mm", "yd", "ft", "in")


def _square(side: Unit) -> Unit:
    """The area whose side is one unit of length, as "ft²", "sq ft", "sqft", "square feet"."""
    words = [spelling for spelling in side.spellings if spelling.isalpha()]
    spellings = [f"{word}²" for word in words]
    for square in ("sq ", "sq", "square "):
        spellings.extend(f"{square}{word}" for word in words)
    return Unit(
        f"{side.symbol}²",
        f"square {side.name}",
        Dimension.AREA,
        side.family,
        f"{side.library_name} ** 2",
        "",
        tuple(spellings),
    )


def _all_units() -> Iterator[Unit]:
    yield from _PLAIN
    yield _PERCENT
    yield from (_square(unit) for unit in _PLAIN if unit.symbol in _SQUARED)


UNITS: Final[dict[str, Unit]] = {unit.symbol: unit for unit in _all_units()}
"""Every unit by its symbol."""

SPELLINGS: Final[dict[str, Unit]] = {
    spelling: unit for unit in UNITS.values() for spelling in unit.spellings
}
"""Every accepted spelling, in lower case, with its unit."""

# A capital M says mega; UM could be anything.
_CAPITALS_MEAN_SOMETHING_ELSE: Final = frozenset({"Mm", "Mm²", "Ms", "MS", "Mg", "MG", "Um", "UM"})

_ABBREVIATED_WITH_A_DOT: Final = frozenset(
    {"in", "ft", "yd", "lb", "lbs", "oz", "sec", "min", "hr", "hrs", "wk", "sq in", "sq ft",
     "sq yd", "pct"}
)  # fmt: skip


def tidy(written: str) -> str:
    """One form for the variants of a spelling: "m^2" and "m2" to "m²", "sq. ft." to "sq ft"."""
    word = " ".join(written.replace("μ", "µ").split())
    if word.endswith("2"):
        word = word.removesuffix("2").removesuffix("^") + "²"
    if word.lower().startswith(("sq.", "square.")):
        word = " ".join(word.replace(".", " ", 1).split())
    if word.endswith(".") and word[:-1].lower() in _ABBREVIATED_WITH_A_DOT:
        word = word[:-1]
    return word


def find_unit(written: str) -> Unit | None:
    """The unit a user wrote, or None.

    A single letter counts exactly as written (S is siemens, M is mega, H is
    henry to others); a longer spelling also in capitals or with a first capital.
    """
    word = tidy(written)
    if word in SPELLINGS:
        return SPELLINGS[word]
    if len(word.rstrip("²")) == 1 or word in _CAPITALS_MEAN_SOMETHING_ELSE:
        return None
    small = word.lower()
    if word in (small.upper(), small.capitalize(), small.title()):
        return SPELLINGS.get(small)
    return None


_EXACT: Final = {
    symbol: Fraction(worth)
    for symbol, worth in {
        "ms": "0.001", "s": "1", "min": "60", "h": "3600", "d": "86400", "week": "604800",
        "µm": "0.001", "mm": "1", "cm": "10", "dm": "100", "m": "1000",
        "in": "25.4", "ft": "304.8", "g": "0.001", "kg": "1", "t": "1000",
        "lb": "0.45359237", "oz": "0.028349523125", "m²": "1", "ft²": "0.09290304", "%": "0.01",
    }.items()
}  # fmt: skip
"""What nearly every study is written in, so that it need not wait for the unit library.

Source: definition of the SI units, and of the inch and the pound of 1959 (NIST SP 811).
"""

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

    What is not among the exact ones comes from pint, whose definitions follow NIST SP 811.
    """
    exact = _EXACT.get(unit.symbol)
    return library_factor(unit) if exact is None else exact


def library_factor(unit: Unit) -> Fraction:
    """What the unit library says one `unit` is, in base units.

    Its registry is built once, behind a lock: its own lazy one races between threads. Only names
    from our own table reach it, never a user's text.
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
