"""Gains in percent and their likely ranges as people read them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from whatif.answers.ranks import Range
from whatif.telling.amounts import NOTHING, rounded, signed

NOT_CLEAR = "no clear difference"
"""Of a gain in whose likely range 0 lies (rule `likely.difference`)."""

SAME = "no difference"
"""Of a gain that is 0, in every draw too."""


IN_A_WORD: Final = {SAME: "no change", NOT_CLEAR: "not clear"}
"""Both where there are a few cells."""

CHANGES_NOTHING = "changes nothing"
"""Of a scenario that enters nothing of its own: less than a change that brings no difference."""


def same_as_sentence(title: str) -> str:
    """The same with which it is as, and what to do."""
    return (
        f"Same as {title}: it changes nothing yet, or any more. Enter its change, or remove it (x)."
    )


def gain_text(gain: float | None, likely: Range | None) -> str:
    """A gain in percent with its sign, by itself; where it is none, that."""
    from whatif.answers.gains import is_difference, is_nothing

    if gain is None:
        return NOTHING
    if is_difference(gain, likely):
        return percent_text(gain, likely)
    return SAME if likely is None or is_nothing(likely) else NOT_CLEAR


def leading_text(gain: float | None, likely: Range | None) -> str:
    """What leads of a gain, alone, wherever it stands: the gain, or the range it lies outside of.

    The same text in the strip, the tree, above a view, in the meeting (rule `likely.told`).
    """
    from whatif.answers.gains import is_difference, lies_outside

    if likely is not None and lies_outside(gain, likely) and is_difference(gain, likely):
        return f"{leading_range_text(likely, gain)} %"
    return gain_text(gain, likely)


def likely_gain_text(gain: float | None, likely: Range | None) -> str:
    """The same with its likely range: "+18 % (likely 12 to 24)"; the range first if outside."""
    from whatif.answers.gains import lies_outside

    text = gain_text(gain, likely)
    if gain is None or likely is None or text == SAME:
        return text
    typed = percent_text(gain, likely)
    if not lies_outside(gain, likely):
        return f"{text} (likely {range_text(likely, gain)})"
    ends = leading_range_text(likely, gain)
    if text == NOT_CLEAR:
        return f"{text} (likely {ends}; as typed {typed})"
    return f"likely {ends} % (as typed {typed})"


def short_gain_texts(gain: float | None, likely: Range | None) -> tuple[str, ...]:
    """The same, and ever shorter: where it has to fit into a few cells the first that does."""
    from whatif.answers.gains import lies_outside

    texts = [likely_gain_text(gain, likely)]
    plain = gain_text(gain, likely)
    if gain is not None and likely is not None and plain != SAME:
        ends, leads = range_text(likely, gain), leading_range_text(likely, gain)
        if plain == NOT_CLEAR:
            texts += [f"{IN_A_WORD[NOT_CLEAR]}, {ends}", IN_A_WORD[NOT_CLEAR]]
        elif lies_outside(gain, likely):
            texts += [f"likely {leads} %", f"{leads} %", leads]
        else:
            typed = percent_text(gain, likely)
            texts += [f"{typed} ({ends})", f"{typed.removesuffix(' %')} ({ends})"]
            # What leads stays, as it does wherever a gain stands alone: in the tree.
            texts.append(typed)
    return tuple(texts)


_BARE: Final = re.compile(r"^(?:! )?(?:said )?[+-][\d.]+ (?:\(|to [+-]?[\d.]+$)")
_UNIT: Final = re.compile(r"(?<=\d) %(?= \(|$)")


def lacks_unit(text: str) -> bool:
    """Whether a gain with its range is in so few cells that the percent sign went."""
    return _BARE.match(text) is not None


def without_unit(text: str) -> str:
    """A gain with its range as others of its row that lack their unit have it, below a head that
    has it: "+11 (9 to 17)". One alone keeps its own."""
    return _UNIT.sub("", text) if " to " in text else text


def range_text(likely: Range, gain: float | None = None) -> str:
    """The ends of a likely range as they stand behind a gain: "12 to 24", "-3 to +5".

    Args:
        gain: as typed, where it stands beside them.
    """
    return without_plus(_signed_ends(likely, gain))


def leading_range_text(likely: Range, gain: float | None = None) -> str:
    """A range that stands in a gain's place, with signs as it has them: "+12 to +24"."""
    return " to ".join(dict.fromkeys(_signed_ends(likely, gain)))


def _signed_ends(likely: Range, gain: float | None) -> tuple[str, str]:
    digits = digits_of(gain, likely)
    return _end(likely[0], digits), _end(likely[2], digits)


def without_plus(ends: Sequence[str]) -> str:
    """A range behind its figure: what is above 0 on both sides needs no signs."""
    text = " to ".join(ends)
    return text.replace("+", "") if all(end.startswith("+") for end in ends) else text


def between_text(low: float, high: float, least: int = 0) -> str:
    """Two gains between which one lies: "+12 to +24 %"; one of them where they read the same.

    Args:
        least: decimals at least, those of a range beside it, which has to be read as holding them.
    """
    digits = max(least, digits_of(None, (low, low, high)))
    return f"{' to '.join(dict.fromkeys(_end(each, digits) for each in (low, high)))} %"


def _holds(likely: Range, gain: float, digits: int) -> bool:
    """Whether a gain lies in its range as both read with so many decimals."""
    low, typed, high = (float(rounded(each, digits)) for each in (likely[0], gain, likely[2]))
    return low <= typed <= high


def _end(value: float, digits: int) -> str:
    """An end of a range; nothing has no sign."""
    return signed(value, digits) if _reads(value, digits) else rounded(value, digits)


def _reads(value: float, digits: int) -> bool:
    """Whether a figure with so many decimals does not read as 0."""
    return float(rounded(value, digits)) != 0


def digits_of(gain: float | None, likely: Range | None) -> int:
    """Decimals of a gain in percent and its range, wherever they stand (rule `likely.told`).

    None from ten percent on, or where the range is wider than what they would tell; one more, and
    one more again, where what is not 0 would read as 0; tenths too where a gain would read as
    within its range and is not, or the other way round, or both ends behind it would read alike.
    """
    from whatif.answers.gains import LARGE, is_coarse, is_naught, lies_outside

    shown = [] if gain is None else [gain]
    digits = 0 if shown and max(map(abs, shown)) >= LARGE else 1
    if likely is not None:
        low, _, high = likely
        shown += [low, high]
        digits = 0 if is_coarse(likely, gain) else 1
        if gain is not None and _holds(likely, gain, digits) is lies_outside(gain, likely):
            digits = 1
        is_beside = gain is not None and not lies_outside(gain, likely)
        is_one = rounded(low, digits) == rounded(high, digits) and rounded(low) != rounded(high)
        if is_beside and is_one:
            # In brackets two ends that read as one would look like a mistake; a range that leads
            # is told as one number.
            digits = 1
    return next(
        (
            more
            for more in range(digits, _MOST_DIGITS)
            if all(_reads(value, more) or is_naught(value) for value in shown)
        ),
        _MOST_DIGITS,
    )


_MOST_DIGITS = 3
"""Decimals with which whatever counts as more than nothing can be told from it."""


def percent_text(gain: float, likely: Range | None = None) -> str:
    """A percentage with its sign and as many digits as it takes not to read "-0.0 %"."""
    digits = digits_of(gain, likely)
    return f"{_end(gain, digits)} %"


def bare_percent_text(gain: float, likely: Range | None = None) -> str:
    """The same without its unit, below a head that has it."""
    return percent_text(gain, likely).removesuffix(" %")


def tenths_text(gain: float) -> str:
    """A percentage with tenths: of one beside what it is short of a target, to the same tenth."""
    return f"{signed(gain, max(1, digits_of(gain, None)))} %"
