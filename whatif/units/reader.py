"""The grammar of a quantity: a sign, then numbers with their units.

    quantity = [sign] part { part }
    part     = number unit
    number   = "12" | "12.5" | ".5" | "3/4" | "½" | "1 1/2" | "1-1/2" | "1½"

Parts stand in falling order, each unit once, all of one family ("12 ft 6 in",
not "12 ft 6 mm"); only the last number may have a fraction or a decimal.
"""

import re
import unicodedata
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

from whatif.records import dataclass
from whatif.units.dimension import Dimension, Unread
from whatif.units.refused import unknown_unit, wrong_unit
from whatif.units.table import UNITS, Unit, factor, find_unit

GLYPHS: Final = {
    glyph: Fraction(unicodedata.normalize("NFKC", glyph).replace("⁄", "/"))
    for glyph in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
}

# Compiled when they are needed, which a number and a unit's symbol are not: `re` keeps them.
_NUMBER: Final = (
    r"(?:(?P<whole>[0-9]+)(?:\ +|-))?(?P<top>[0-9]+)[/⁄](?P<bottom>[0-9]+)"
    rf"|(?:(?P<count>[0-9]+)(?:\ *|-))?(?P<glyph>[{''.join(GLYPHS)}])"
    r"|(?P<decimal>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
)


def _unit_pattern(square: str) -> str:
    return (
        r"(?i:per\ +cent)"
        r"|(?:(?i:square|sq)\.?\ *)?[A-Za-zµμ]+(?:\.(?![0-9]))?"
        rf"(?:{square}|²)?"
        r"|''|′′|[%'\"′″’”]"
    )


# The 2 of "m2" belongs to an area's unit; in "1ft2 in" and "1h2min" a number begins with it.
_UNIT_OF_AREA: Final = _unit_pattern(r"\^?2(?!\w|\.[0-9])")
_UNIT: Final = _unit_pattern(r"\^2|2(?=\ *$)")
_SIGN: Final = r"([+−-]?) *"
_GAP: Final = r" *"
_GAP_AFTER_FEET: Final = r" *(?:- *)?"  # 12'-6" is how drawings write it
_CUSTOMARY: Final = {
    Dimension.TIME: ("min", "h"),
    Dimension.LENGTH: ("mm", "in"),
    Dimension.MASS: ("kg", "lb"),
    Dimension.AREA: ("m²", "ft²"),
    Dimension.PERCENT: ("%",),
}


@dataclass(frozen=True, slots=True)
class AmountPart:
    """One number with its unit, and where it stands in the text."""

    number: Fraction
    whole: bool
    unit: Unit
    spelt: str
    start: int
    end: int


def value_of(line: str, dimension: Dimension) -> Fraction:
    """The value of `line` in the base unit of `dimension`; raises `Unread`.

    `line` has plain spaces only, none at its ends.
    """
    plain = _plain_value(line, dimension)
    if plain is not None:
        return plain
    sign, parts = _split(line, dimension)
    _check_order(line, parts)
    total = sum((part.number * factor(part.unit) for part in parts), Fraction(0))
    return -total if sign in ("-", "−") else total


def _plain_value(line: str, dimension: Dimension) -> Fraction | None:
    """The same of digits, a space and a unit's symbol, as nearly all are written; else None."""
    number, _, symbol = line.partition(" ")
    unit = UNITS.get(symbol)
    is_plain = number.isascii() and number.replace(".", "", 1).isdecimal()
    if unit is None or unit.dimension is not dimension or not is_plain:
        return None
    return Fraction(number) * factor(unit)


def units_of(line: str, dimension: Dimension) -> tuple[Unit, ...]:
    """The units that stand in `line`, the largest first; raises `Unread`."""
    return tuple(part.unit for part in _split(line, dimension)[1])


def leading_unit(line: str, dimension: Dimension) -> str:
    """The largest unit in `line` as it is spelt there; raises `Unread`."""
    return _split(line, dimension)[1][0].spelt


def is_bare(line: str) -> bool:
    """Whether `line` is one number without a unit, with a sign or without."""
    signed = re.match(_SIGN, line)
    return re.compile(_NUMBER).fullmatch(line, signed.end() if signed else 0) is not None


def _split(line: str, dimension: Dimension) -> tuple[str, Sequence[AmountPart]]:
    signed = re.match(_SIGN, line)
    sign, place = (signed[1], signed.end()) if signed else ("", 0)
    parts: list[AmountPart] = []
    while place < len(line) or not parts:
        part = _part(line, place, dimension, parts)
        parts.append(part)
        gap = _GAP_AFTER_FEET if part.unit.symbol == "ft" else _GAP
        after = re.compile(gap).match(line, part.end)
        place = after.end() if after else part.end
    if line.endswith("-"):
        raise Unread("there is a dash at its end")
    return sign, parts


def _part(line: str, start: int, dimension: Dimension, before: Sequence[AmountPart]) -> AmountPart:
    matched = re.compile(_NUMBER).match(line, start)
    if matched is None:
        raise _no_number(line, start, before)
    number = _number(matched)
    gap = re.compile(_GAP).match(line, matched.end())
    place = gap.end() if gap else matched.end()
    pattern = _UNIT_OF_AREA if dimension is Dimension.AREA else _UNIT
    named = re.compile(pattern).match(line, place)
    if named is None:
        raise _no_unit(line, matched, number, dimension, before)
    unit = find_unit(named[0])
    if unit is None:
        raise unknown_unit(line, named.span(), dimension)
    if unit.dimension is not dimension:
        raise wrong_unit(line, named.span(), unit, dimension)
    return AmountPart(number, _is_whole(matched), unit, named[0], start, named.end())


def _is_whole(matched: re.Match[str]) -> bool:
    return (matched["decimal"] or ".").isdigit()


def _number(matched: re.Match[str]) -> Fraction:
    if matched["decimal"] is not None:
        return Fraction(matched["decimal"])
    if matched["glyph"] is not None:
        return int(matched["count"] or 0) + GLYPHS[matched["glyph"]]
    whole, top, bottom = (int(matched[name] or 0) for name in ("whole", "top", "bottom"))
    if bottom == 0:
        raise Unread("nothing can be divided by 0")
    if matched["whole"] is not None and top >= bottom:
        raise Unread("the fraction after a whole number must be smaller than one")
    return whole + Fraction(top, bottom)


def _no_number(line: str, start: int, before: Sequence[AmountPart]) -> Unread:
    rest = line[start:]
    if not before:
        return Unread("it begins with no number")
    if find_unit(rest):
        return Unread("it has a unit twice", (line[:start].strip(),))
    return Unread(f"'{rest}' does not belong there")


def _no_unit(
    line: str,
    matched: re.Match[str],
    number: Fraction,
    dimension: Dimension,
    before: Sequence[AmountPart],
) -> Unread:
    begun, rest = line[: matched.end()], line[matched.end() :]
    symbols = (before[-1].unit.below,) if before else _CUSTOMARY[dimension]
    fixes = tuple(f"{begun} {symbol}{rest}" for symbol in symbols if symbol)
    if dimension is Dimension.PERCENT and matched["decimal"] and 0 < number < 1:
        # 0.85 may have been meant as a share of one.
        fixes = (f"{line[: matched.start()]}{float(100 * number):.15g} %", *fixes)
    return Unread(f"{matched[0]} has no unit", fixes)


def _check_order(line: str, parts: Sequence[AmountPart]) -> None:
    for larger, smaller in pairwise(parts):
        first, second = larger.unit, smaller.unit
        if first.family != second.family:
            raise Unread(f"{first.name} and {second.name} do not go together in one quantity")
        if factor(first) < factor(second):
            falling = sorted(parts, key=lambda part: -factor(part.unit))
            fix = line[: parts[0].start] + " ".join(line[p.start : p.end] for p in falling)
            raise Unread(f"the larger unit comes first, {second.name} before {first.name}", (fix,))
        if first == second:
            raise Unread(f"it has {first.name} twice")
        if not larger.whole:
            raise Unread("only its last number may have a decimal point or a fraction")
