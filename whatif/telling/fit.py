"""What limits a part on a machine, and why a part is not made, in sentences."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from whatif.cell.fit.fit import Lack, Limit
from whatif.plan.model import NotMade
from whatif.units import Dimension, show

WANTING: dict[Lack, str] = {
    "table or travel": "the machine's table or travel",
    "table": "the machine's table",
    "travel": "the machine's travel",
    "size": "the part's size",
    "work height": "the machine's work height",
    "table load": "the machine's table load",
    "mass": "the part's mass",
}
"""What is to be entered, so that what lacks it can be checked."""


def not_made_sentence(unmade: NotMade) -> str:
    """Why a part is not made; where it fits no machine, by how much it misses on each."""
    part = unmade.part
    match unmade.why:
        case "no machine":
            return f"{part} is not made: there is no machine; enter a machine's count."
        case "no release":
            return (
                f"{part} is not made: its first piece waits for a release, and no shift with "
                "people releases first pieces; let a shift inspect, or set first_piece to 0 min."
            )
        case "no fit":
            told = [
                f"on {group}: "
                + " ".join(fit_limit_words(limit, part, group, unmade.units) for limit in missed)
                for group, missed in unmade.missed
            ]
            return f"{part} is not made, it fits no machine; {'; '.join(told)}"


def fit_limit_words(limit: Limit, part: str, group: str, units: str) -> str:
    """One limit of a part on a machine group, met, missed or unchecked; `units` as in a study."""
    if limit.has is None or limit.needs is None:
        return _unchecked(limit, part, group)
    words = {"face": _face, "height": _height, "load": _load}[limit.kind]
    measure = mass if limit.kind == "load" else length
    margin = limit.has - limit.needs
    if margin < 0:
        return f"{words(limit, units)}: it misses by {measure(-margin, units)}."
    text = f"{words(limit, units)}: {measure(margin, units)} to spare."
    if limit.room is not None:
        text += f" One more would be too heavy; there is room for {limit.room}."
    return text


def _unchecked(limit: Limit, part: str, group: str) -> str:
    if limit.lacks is None:
        return f"{part} is not to be made on {group}: its list of machines leaves it out."
    if limit.lacks == "table or travel":
        missing, enter = "the machine's table and travel are", "one of them"
    else:
        missing, enter = f"{WANTING[limit.lacks]} is", "it"
    what = {"table": "Table", "travel": "Reach"}.get(limit.lacks, limit.kind.capitalize())
    return f"{what}: {missing} not given, so not checked: enter {enter}."


def _face(limit: Limit, units: str) -> str:
    assert limit.axis is not None
    assert limit.has is not None
    assert limit.needs is not None
    if limit.bound == "travel":
        there = f"the travel is {length(limit.has, units)}"
    elif limit.has <= 0:
        there = f"edges of {length(limit.edge, units)} leave nothing of the face"
    else:
        there = f"the face has {length(limit.has, units)} between its edges"
    where = " on one face" if limit.faces > 1 else ""
    need = "needs" if limit.pieces == 1 else "need"
    needed = length(limit.needs, units)
    return f"{limit.axis.capitalize()}: {pieces_text(limit.pieces)}{where} {need} {needed}, {there}"


def _height(limit: Limit, units: str) -> str:
    assert limit.has is not None
    return (
        f"Height: {length(limit.each, units)} of part{_fixture(limit, length, units)}, "
        f"the work height is {length(limit.has, units)}"
    )


def _load(limit: Limit, units: str) -> str:
    assert limit.has is not None
    assert limit.needs is not None
    return (
        f"Load: {pieces_text(limit.pieces)} of {mass(limit.each, units)}"
        f"{_fixture(limit, mass, units)} make {mass(limit.needs, units)}, "
        f"table or pallet may carry {mass(limit.has, units)}"
    )


def _fixture(limit: Limit, measure: Callable[[Fraction, str], str], units: str) -> str:
    return f" and {measure(limit.fixture, units)} of fixture" if limit.fixture else ""


def pieces_text(count: int) -> str:
    """A number of pieces."""
    return "1 piece" if count == 1 else f"{count} pieces"


def length(mm: Fraction, units: str) -> str:
    """A length given in mm."""
    return _measure(mm, "mm", Dimension.LENGTH, units)


def mass(kg: Fraction, units: str) -> str:
    """A mass given in kg."""
    return _measure(kg, "kg", Dimension.MASS, units)


def _measure(number: Fraction, unit: str, dimension: Dimension, units: str) -> str:
    """Up to three decimals of mm or kg, halves up; something is never told as nothing."""
    thousandths = (number * 2000 + 1) // 2
    less = "less than " if thousandths == 0 and number else ""
    shown = Fraction(1 if less else thousandths, 1000)
    if units != "metric":
        return less + show(shown, dimension, units)
    whole, rest = divmod(shown.numerator * 1000 // shown.denominator, 1000)
    return f"{less}{whole}.{rest:03}".rstrip("0").rstrip(".") + f" {unit}"
