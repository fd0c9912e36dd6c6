"""What is said of a text that the grammar refuses.

Units that are not known or are units of something else; and ways of writing that other places
know and this one refuses, each with the cure. They are looked up only for a text that the grammar
has refused already, so they can be broad without refusing anything that is right.
"""

import re
from typing import Final

from whatif.records import dataclass
from whatif.units.dimension import Dimension, Unread
from whatif.units.table import SPELLINGS, Unit, tidy

_MONTH: Final = "a month has no fixed length, so say it in weeks or days"
_YEAR: Final = "a year has no fixed length, so say it in weeks or days"
_SHIFT: Final = "a shift has no fixed length, so say it in hours"
_TON: Final = "a ton is 1000 kg to some, 2000 lb or 2240 lb to others (1000 kg is t)"
_MIL: Final = "a mil is a thousandth of an inch (thou) to some, a millimetre to others"

# Words with more than one meaning: what is wrong with them, and the units to write instead.
_AMBIGUOUS: Final[dict[str, tuple[Dimension, str, tuple[str, ...]]]] = {
    **dict.fromkeys(("mil", "mils"), (Dimension.LENGTH, _MIL, ("thou", "mm"))),
    **dict.fromkeys(("ton", "tons"), (Dimension.MASS, _TON, ("t", "lb"))),
}

# Times of no fixed length: the reason, and an example of what to write.
_UNFIXED: Final[dict[str, tuple[str, str]]] = {
    **dict.fromkeys(("month", "months", "mo", "mth"), (_MONTH, "4 weeks")),
    **dict.fromkeys(("year", "years", "yr", "yrs", "y"), (_YEAR, "52 weeks")),
    **dict.fromkeys(("shift", "shifts"), (_SHIFT, "8 h")),
}

# What a slip of a wrong or unknown unit most likely meant, by the kind that is wanted.
_MEANT: Final[dict[Dimension, dict[str, tuple[str, ...]]]] = {
    Dimension.TIME: {
        "m": ("min",), "M": ("min",), "mm": ("min",), "'": ("min",), "′": ("min",),
        "’": ("min",), '"': ("s",), "″": ("s",), "”": ("s",), "in": ("min",),
    },
    Dimension.LENGTH: {"min": ("mm", "in")},
    Dimension.MASS: dict.fromkeys(("k", "K", "kilo", "kilos"), ("kg",)),
    Dimension.AREA: {},
    Dimension.PERCENT: {},
}  # fmt: skip


def wrong_unit(line: str, span: tuple[int, int], unit: Unit, wanted: Dimension) -> Unread:
    """The fault of a known unit of another kind: "5 m" where a time is wanted."""
    written = line[slice(*span)]
    meant = _MEANT[wanted].get(written) or _MEANT[wanted].get(unit.symbol) or ()
    if wanted is Dimension.AREA and unit.dimension is Dimension.LENGTH:
        meant = (f"{unit.symbol}²",)
    if wanted is Dimension.LENGTH and unit.dimension is Dimension.AREA:
        meant = (unit.symbol.removesuffix("²"),)
    is_a_word = len(written) > 3
    meaning = f"a unit of {unit.dimension.noun}" if is_a_word else unit.name
    return Unread(
        f"{written} is {meaning}, and {wanted.a_noun} is wanted", _swap(line, span, meant)
    )


def unknown_unit(line: str, span: tuple[int, int], wanted: Dimension) -> Unread:
    """The fault of a word that is no unit, with the nearest one of the wanted kind."""
    written = line[slice(*span)]
    word = tidy(written)
    small = word.lower()
    if small in _AMBIGUOUS and _AMBIGUOUS[small][0] is wanted:
        _, reason, instead = _AMBIGUOUS[small]
        return Unread(reason, _swap(line, span, instead))
    if small in _UNFIXED and wanted is Dimension.TIME:
        reason, example = _UNFIXED[small]
        return Unread(reason, example=example)
    reason = f'"{written}" is no unit of {wanted.noun} known here'
    same = SPELLINGS.get(small)
    if same is not None and same.dimension is wanted:
        return Unread(
            f"{written} is not {small}: small and capital letters differ",
            _swap(line, span, (small,)),
        )
    if meant := _MEANT[wanted].get(word):
        return Unread(reason, _swap(line, span, meant))
    from difflib import get_close_matches  # only now: few studies have a unit that is none

    of_kind = [spelling for spelling, unit in SPELLINGS.items() if unit.dimension is wanted]
    near = get_close_matches(small, of_kind, n=1, cutoff=0.75)
    return Unread(reason, _swap(line, span, tuple(near)))


def _swap(line: str, span: tuple[int, int], instead: tuple[str, ...]) -> tuple[str, ...]:
    start, end = span
    # A mark stands close to its number (5'), a word does not.
    begun = line[:start] if line[start].isalpha() else line[:start].rstrip() + " "
    return tuple(f"{begun}{unit}{line[end:]}" for unit in instead)


@dataclass(frozen=True, slots=True)
class _Habit:
    """A pattern, what is wrong with it, and what may stand in its place instead."""

    written: str
    reason: str
    instead: tuple[str, ...] = ()

    @property
    def pattern(self) -> re.Pattern[str]:
        """The pattern, compiled when a text is refused first."""
        return re.compile(self.written, re.IGNORECASE)


def _habit(pattern: str, reason: str, *instead: str) -> _Habit:
    return _Habit(pattern, reason, instead)


_HABITS: Final = (
    _habit(
        r"([0-9]),([0-9]{3})(?![0-9,])",
        "a comma is neither a decimal mark nor a separator",
        r"\1\2",
        r"\1.\2",
    ),
    _habit(r"([0-9]),([0-9])", "the decimal mark is a point, not a comma", r"\1.\2"),
    _habit(r" *[,;] *", "a quantity has no comma or semicolon in it", " "),
    _habit(
        r"(?<![0-9])([0-9]{1,3})[ '’_]([0-9]{3})(?:[ '’_]([0-9]{3}))?(?![0-9/⁄])",
        "the digits of a number stand together, with nothing between them",
        r"\1\2\3",
    ),
    _habit(r"[0-9]:[0-9]", "a colon stands in a time of day only"),
    _habit(
        r"[0-9] *(?:\.\.+|–|—) *[0-9]|[0-9] +- +[0-9]|[0-9]-[0-9]+(?![0-9/⁄])| to ",
        "one value is wanted, no range",
    ),
    _habit(r"[0-9]e[+-]?[0-9]", "a number is written out, without a power of ten"),
    _habit(r"\b0x", "a number is written with the digits 0 to 9, by tens"),
    _habit(r"\*|\^(?!2)", "nothing is calculated in a quantity"),
    _habit(r"[0-9][/⁄][0-9]+[/⁄]", "a fraction has one stroke"),
    _habit(r"[0-9] +[/⁄]|[0-9][/⁄] ", "a fraction has no spaces beside its stroke"),
    _habit(r"[0-9a-z] *[x×] *[0-9]", "one length at a time: each has a place of its own"),
    _habit(r"[~≈<>≤≥±]|\b(?:about|approx|ca)\b", "one plain value is wanted"),
    _habit(r"^[+-]?(?:nan|inf)", "it has no number in it"),
    _habit(
        r"(?:(?<=[a-z%.²])|(?<=[a-z]2))(?: */ *| +per +| +an? +| +each +)[a-z]+$",
        "nothing is written after the unit",
        "",
    ),
    _habit(
        r"(?<=[a-z'\"%]) *(?:\+|&|\band\b) *(?=[0-9.])",
        "nothing stands between the parts of a quantity",
        " ",
    ),
    _habit(r"[0-9] +[0-9]+(?![0-9/⁄])", "more than one number stands before a unit"),
    _habit(r"[0-9]\.[0-9]*\.", "a number has one decimal point"),
)


def habit_in(line: str) -> Unread | None:
    """The first known habit in a refused text, as a fault with its cures, or None."""
    for habit in _HABITS:
        pattern = habit.pattern
        if pattern.search(line):
            cures = tuple(pattern.sub(text, line).strip() for text in habit.instead)
            return Unread(habit.reason, cures)
    return None
