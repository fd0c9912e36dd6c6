"""The units a shop writes, under every spelling that is accepted.

The table is an allow list: what is not here is refused, whatever else a unit
library may make of it. How much a unit is worth is not told here (see `factors`).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

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


def find(written: str) -> Unit | None:
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
