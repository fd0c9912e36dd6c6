"""Break-evens, and values from which on a wanted gain is reached, in words."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import Final

from whatif.answers.moves.break_even import BreakEven, Crossing
from whatif.answers.moves.inputs import Value
from whatif.telling.amounts import rounded, to_two_figures
from whatif.telling.gain_texts import (
    tenths_text,
)
from whatif.telling.moves.tried import CANNOT_BE_TOLD, moved_words, resting_words, worked_from

TARGET_UNITS = {
    "gain": "%",
    "hours": "h a week",
    "pieces": "a week",
    "met": "%",
    "payback": "years",
    "said": "h a day",
}
"""The unit of a target's amount and of margins."""


def target_words(found: BreakEven) -> str:
    """What is to be reached, as it stands in a sentence."""
    target = found.target
    amount = f"{target.amount:g}"
    return {
        "gain": _gain_words(found),
        "hours": f"{amount} spindle hours a week",
        "pieces": f"{amount} good pieces of {target.part} a week",
        "met": f"{amount} % of the demand of {target.part or 'every part'}",
        "payback": f"a payback of {amount} years or less",
        "said": f"{amount} h a day as said in the meeting",
    }[target.kind]


def _gain_words(found: BreakEven) -> str:
    """A gain to be reached; none is being level."""
    of = f"the saleable output of {found.asked.against}"
    itself = " as it stands" if found.asked.is_reference else ""
    return f"{found.target.amount:g} % more than {of}{itself}" if found.target.amount else of


def wanted_words(found: BreakEven, drawn: Sequence[Value] = ()) -> str:
    """From which values on a gain that is wanted is reached, in one sentence.

    ``drawn`` are the values beside which it stands: what lies beyond them is said to.
    """
    what = f"+{found.target.amount:g} %"
    if found.in_doubt is not None:
        return f"Whether {what} is reached at {found.in_doubt.text} {CANNOT_BE_TOLD}."
    if found.always is True:
        return f"{what} is reached with every value{_looked_at(found, drawn)}."
    if found.always is False:
        near = ""
        if found.nearest is not None:
            reached = tenths_text(found.target.amount + found.margin)
            near = f"; nearest is {found.nearest.text}, with {reached}"
        return f"{what} is reached with no value{_looked_at(found, drawn)}{near}."
    clear = [crossing for crossing in found.crossings if crossing.is_clear]
    if not clear:
        near = _near(found, found.crossings[0].at)
        return f"Whether {what} is reached near {near} {CANNOT_BE_TOLD}."
    places = "; ".join(_from(each, drawn) for each in clear)
    many = f" in {len(clear)} places, it goes both ways:" if clear[1:] else ""
    return f"{what} is reached{many} {places}."


def wanted_then_words(wanted: float) -> str:
    """That a gain that is wanted is looked for once there is a curve."""
    return f"From which value on +{wanted:g} % is reached is told then."


def level_words(found: BreakEven, drawn: Sequence[Value] = ()) -> str:
    """Every break-even of the range in one sentence, or that there is none.

    ``drawn`` are the values beside which it stands: what lies beyond them is said to.
    """
    what = target_words(found)
    is_gain = found.target.kind == "gain"
    if is_gain:
        # The reference moves too: that is not where its output as it stands is met.
        same = " with the same value" if found.varied.moved.is_in_reference else ""
        what = f"{found.asked.against}{same}"
    reached = f"makes as much as {what}" if is_gain else f"reaches {what}"
    if found.in_doubt is not None:
        return _left_open(_near(found, found.in_doubt), reached)
    if found.always is True:
        brings = "brings at least as much" if is_gain else "reaches it"
        return f"No break-even with {what}: every value{_looked_at(found, drawn)} {brings}."
    if found.always is False:
        near = ""
        if found.nearest is not None:
            near = f"; nearest is {found.nearest.text}{_short_of(found)}"
        brings = "brings as much" if is_gain else "reaches it"
        return f"No break-even with {what}: no value{_looked_at(found, drawn)} {brings}{near}."
    clear = [crossing for crossing in found.crossings if crossing.is_clear]
    if not clear:
        return _left_open(_near(found, found.crossings[0].at), reached)
    listed = "; ".join(_from(each, drawn) for each in clear)
    many = f"in {len(clear)} places, it goes both ways: " if clear[1:] else ""
    return f"Break-even with {what} {many}{listed}."


def _left_open(near: str, reached: str) -> str:
    return f"Near {near} the likely range leaves open whether it {reached}: no sure break-even."


def _from(crossing: Crossing, drawn: Sequence[Value]) -> str:
    """From which value on, which way, and how sure that is."""
    beyond = _beyond(crossing.at, drawn)
    return f"from {crossing.at.text} {_way(crossing)}{_between(crossing)}{beyond}"


def _near(found: BreakEven, value: Value) -> str:
    """A value about which nothing is certain: no more of it than two figures."""
    about = to_two_figures(value.number)
    if found.varied.is_clock or found.varied.whole or about == value.number:
        return value.text
    unit = f" {value.unit}" if value.unit and value.text.endswith(value.unit) else ""
    return f"{about:.15g}{unit}"


def _looked_at(found: BreakEven, drawn: Sequence[Value]) -> str:
    """Between which values it was looked for, behind "no value": no sentence holds beyond them.

    Where fewer are drawn that is said, since their own span stands in another sentence.
    """
    span = span_tried(found.low, found.high)
    alike = [each for each in drawn if each.unit == found.low.unit]
    if not alike or span_tried(*alike) == span:
        return f" tried from {span}"
    numbers = [each.number for each in alike]
    if found.low.number <= min(numbers) and max(numbers) <= found.high.number:
        return f" from {span} (more than are drawn)"
    return f" tried from {span} (drawn are {span_tried(*alike)})"


def _beyond(value: Value, drawn: Sequence[Value]) -> str:
    """That a value lies outside of those that are drawn; "" where it does not."""
    numbers = [each.number for each in drawn if each.unit == value.unit]
    if not numbers or min(numbers) <= value.number <= max(numbers):
        return ""
    return ", beyond what is drawn"


def span_tried(*ends: Value) -> str:
    """Between which values something was tried, the lower one first: "0 to 2 weeks".

    Their unit stands once, where each is a number with nothing but that behind it.
    """
    low, *_, high = sorted(ends, key=lambda value: value.number)
    bare, unit, of_high = low.text.partition(" ")[0], high.unit, high.text.partition(" ")[2]
    if not unit or of_high != unit or low.text != f"{bare} {unit}":
        return f"{low.text} to {high.text}"
    many = _MANY.get(unit, unit) if high.number > 1 else unit
    return f"{bare} to {high.text.removesuffix(unit)}{many}"


_MANY: Final = {"week": "weeks"}
"""Units that are words: of more than one they read otherwise."""


def _way(crossing: Crossing) -> str:
    return "up" if crossing.upward else "down"


def _between(crossing: Crossing) -> str:
    """Between which values it cannot be told, where these are not next to each other."""
    below, above = crossing.below, crossing.above
    if below is None or above is None or {below, above} == {crossing.at, crossing.beside}:
        return ""
    return f" (likely between {below.text} and {above.text})"


def break_even_sentences(found: BreakEven) -> tuple[str, ...]:
    """Whether and where the target is reached, and how sure that is."""
    what = target_words(found)
    span = span_tried(found.low, found.high)
    said = []
    if found.in_doubt is not None:
        each = "every value" if found.always else "no value tried"
        said.append(
            f"As entered {each} from {span} reaches {what}; whether {found.in_doubt.text} does "
            f"{CANNOT_BE_TOLD}, so whether there is a break-even is open."
        )
    elif found.always is True:
        said.append(f"Every value from {span} reaches {what}; there is no break-even in between.")
    elif found.always is False and found.nearest is not None:
        said.append(
            f"No value tried from {span} reaches {what}. Nearest is {found.nearest.text}"
            f"{_short_of(found)}."
        )
    elif len(found.crossings) > 1:
        said.append(f"From {span} there are {len(found.crossings)} places, so it goes both ways:")
    said += [_crossing(found, crossing) for crossing in found.crossings]
    if found.jumps:
        said.append(
            f"{found.tried} values were tried. What a cell reaches goes in jumps: between two "
            "values that were tried next to each other there may be more."
        )
    said += resting_words(found.caveats)
    said.append(f"Moved {moved_words(found.varied, found.asked)}.")
    return (*said, worked_from(found.asked)) if found.jumps else tuple(said)


def _short_of(found: BreakEven) -> str:
    """What the nearest value reaches, and how much of the target that is short of."""
    if not isfinite(found.margin):
        return ", which never pays back"
    target, short = found.target, rounded(-found.margin)
    reached = rounded(target.amount + found.margin)
    return {
        "gain": (
            f", with {tenths_text(target.amount + found.margin)}: {short} points short"
            if target.amount
            else f", with {tenths_text(found.margin)} of saleable output against it"
        ),
        "hours": f", with {reached} spindle hours a week: {short} short",
        "pieces": f", with {reached} pieces a week: {short} short",
        "met": f", with {reached} % of it met: {short} points short",
        "payback": f", with {rounded(target.amount - found.margin)} years: {short} too many",
        "said": f", with {reached} h a day: {short} short",
    }[target.kind]


def _crossing(found: BreakEven, crossing: Crossing) -> str:
    way = "more" if crossing.upward else "less"
    what = target_words(found)
    if not crossing.is_clear:
        return (
            f"As entered {crossing.at.text} reaches {what} and {crossing.beside.text} does not; "
            f"that {CANNOT_BE_TOLD}, so it is no break-even."
        )
    text = (
        f"With {crossing.at.text} and {way} it reaches {what}; with {crossing.beside.text} it does "
        "not."
    )
    if _between(crossing) and crossing.below and crossing.above:
        text += (
            f" Between {crossing.below.text} and {crossing.above.text} the likely range leaves "
            "open whether it does."
        )
    return text
