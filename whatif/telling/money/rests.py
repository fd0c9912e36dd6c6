"""What is not priced yet, and what a payback rests on, in words (rule `money.rests`)."""

from __future__ import annotations

from collections.abc import Iterable

from whatif.answers.money.missing import Lean, Missing, NotPriced, Thing
from whatif.answers.money.money import MoneyFigures
from whatif.answers.money.rests import PartSold, RestsOn
from whatif.telling.amounts import grouped, listed, rounded

_WEEKS_A_YEAR = 365.25 / 7

_THINGS: dict[Thing, str] = {
    "machines": "machines",
    "pallets": "pallets",
    "systems": "pallet systems",
    "fixtures": "fixtures",
    "wage": "wage",
}

_LEAST: dict[Lean, str] = {
    "none": "",
    "worse": "at least ",
    "better": "at most ",
    "either": "about ",
}
_MOST: dict[Lean, str] = {**_LEAST, "worse": "at most ", "better": "at least "}


def least(lean: Lean) -> str:
    """Before a capital or a payback what missing prices make of it; "" where they move nothing."""
    return _LEAST[lean]


def most(lean: Lean) -> str:
    """The same before a gain, a present value or a rate, which move the other way."""
    return _MOST[lean]


# -- what is not priced -----------------------------------------------------------------------


def missing_words(missing: Missing) -> str:
    """One thing without a price: "pallets of mill (10)"."""
    of = f" of {missing.of}" if missing.of else ""
    count = f" ({rounded(missing.count, 0)})" if missing.what != "wage" else ""
    there = f" in {missing.reference}" if missing.reference else ""
    return f"{_THINGS[missing.what]}{of}{count}{there}"


def not_priced_words(missing: Iterable[Missing]) -> str:
    """All of it behind one colon; "" where everything has a price."""
    said = ", ".join(map(missing_words, missing))
    return f"not priced yet: {said}" if said else ""


def not_priced_sentence(gap: NotPriced) -> str:
    """The same as a warning, with what it does to the figures."""
    said = not_priced_words(gap.missing)
    return f"{said[0].upper()}{said[1:]}; counted as 0. {_MEANS[gap.lean]}".rstrip()


_MEANS: dict[Lean, str] = {
    "none": "",
    "worse": "The payback is at least, present value and rate are at most what is shown.",
    "better": "The payback is at most, present value and rate are at least what is shown.",
    "either": "Payback, present value and rate may move either way.",
}


# -- what a payback rests on ------------------------------------------------------------------


def rests_parts(money: MoneyFigures) -> tuple[str, ...]:
    """What a payback rests on, each for itself."""
    rests = money.rests
    said = (_sold(rests), _gap(rests), _stops(rests), _ramp(rests))
    bare = not_priced_words(money.not_priced) or "everything priced"
    return (*filter(None, said), bare)


def rests_sentence(money: MoneyFigures) -> str:
    """The same in one sentence."""
    return f"It rests on {'; '.join(rests_parts(money))}."


def _sold(rests: RestsOn) -> str:
    text = f"{_pieces(rests.pieces)} pieces a week sold, {_pieces(rests.wanted)} wanted in "
    more = [part for part in rests.sold if part.sold > part.wanted + _ALIKE]
    if not more or len(rests.sold) == 1:
        return f"{text}{rests.today}"
    return f"{text}{rests.today} (more of {listed([_part(part) for part in more])})"


_ALIKE = 0.05
"""Pieces a week that would be shown as none."""


def _part(part: PartSold) -> str:
    return f"{part.part}: {_pieces(part.sold)} for {_pieces(part.wanted)}"


def _pieces(count: float) -> str:
    return grouped(count) if count >= 10 or count == round(count) else rounded(count)


def _gap(rests: RestsOn) -> str:
    if rests.gap == "none":
        return ""
    if rests.gap == "show":
        return "the gap to the hour meters left open"
    if not rests.gap_seconds:
        return "no gap to the hour meters"
    each = "visit" if rests.gap == "people" else "load"
    to = "people" if rests.gap == "people" else "machines"
    return f"the gap to the hour meters laid to {to}, {rests.gap_seconds} s a {each}"


def _stops(rests: RestsOn) -> str:
    if not rests.runs:
        return "no stops"
    return "stops as entered, in one run" if rests.runs == 1 else f"stops, {rests.runs} runs"


def _ramp(rests: RestsOn) -> str:
    if not rests.ramp:
        return "the full gain from the first day"
    return f"the full gain after {rests.ramp * _WEEKS_A_YEAR:.3g} weeks"
