"""The four figures of a scenario that are drawn large, each with what it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from whatif.answers.gains import is_difference, is_nothing, lies_outside
from whatif.answers.money.shorter import SHORTENED
from whatif.records import dataclass
from whatif.telling.amounts import grouped, priced, rounded, to_four_figures
from whatif.telling.caveats import sense_of
from whatif.telling.gain_texts import (
    CHANGES_NOTHING,
    IN_A_WORD,
    NOT_CLEAR,
    SAME,
    between_text,
    digits_of,
    leading_text,
    percent_text,
    range_text,
)
from whatif.telling.limits import met_percent
from whatif.telling.money.blocks import told_of
from whatif.telling.money.ranges import (
    AT_ONCE,
    LONGEST_YEARS,
    NEVER,
    NOT_PRICED,
    payback_texts,
    years_between,
    years_text,
)
from whatif.telling.money.rests import least, missing_words, most
from whatif.telling.said import Sense
from whatif.telling.strip import changes_nothing

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.ranks import Range
    from whatif.telling.money.blocks import MoneyTold


@dataclass(frozen=True, slots=True)
class Large:
    """A figure to be drawn large.

    Attributes:
        text: of digits, signs, a point and "%"; "" where there is no figure.
        word: what stands in its place where there is none, in a word or two.
        caption: what it is, and what is to be known of it, in short lines.
        shorter: the middle, where the text is a range and there is no room to draw it large.
    """

    text: str
    sense: Sense
    caption: tuple[str, ...]
    shorter: str = ""
    word: str = ""


def large_figures(answer: Answer, base: Answer | None) -> Iterator[Large]:
    """Those of a scenario against ``base``, or of the reference itself, which has None.

    The gain, the spindle hours, what a year brings more and when what is laid out is back; where
    there is no money hours with nobody there and hours paid.
    """
    if base is not None:
        yield _gain(answer)
    figures = answer.figures
    if figures is None:
        if answer.said is not None:
            yield Large(
                rounded(answer.said.hours_per_day),
                "plain",
                ("spindle hours a day", "said in the meeting"),
            )
        return
    there = None if base is None else base.figures
    before = None if there is None else there.spindle.total
    yield _hours(figures.spindle.total, "spindle hours a week", before)
    money = told_of(answer)
    if money is not None and base is not None:
        year = _year(money, answer)
        # Beside what it costs once, which stands in the next one.
        yield replace(year, caption=(*year.caption, *_yearly(answer, base, money.money.currency)))
        yield _payback(money)
        return
    before = None if there is None else there.spindle.unattended
    yield _hours(figures.spindle.unattended, "of them unattended", before)
    before = None if there is None else there.people.paid
    yield _hours(figures.people.paid, "hours paid a week", before, by_model=False)
    if base is None and figures.least_met is not None:
        yield _plain(f"{met_percent(figures.least_met)} %", "made of the part furthest behind")


_CLOSE: Final = 2.0
"""Hours a week that two figures are apart, below which whole hours would tell them wrongly."""


_FEW: Final = 10.0
"""Hours a week below which a whole number would tell more or less than there is."""


def _hours(hours: float, what: str, before: float | None, *, by_model: bool = True) -> Large:
    """Hours, and beside them what they were in the reference.

    Few hours keep their decimal, and those that somebody has entered, which are known to it.
    """
    is_close = before is not None and abs(hours - before) < _CLOSE
    is_few = 0 < min(hours, hours if before is None else before) < _FEW
    digits = 1 if is_close or is_few or not by_model else 0
    text = rounded(hours, digits)
    if before is None:
        return _plain(text, what)
    was = rounded(before, digits)
    if text == was:
        return _plain(rounded(hours, 0) if by_model else text, what, "as before")
    return _plain(text, what, f"instead of {was}")


def _plain(text: str, *caption: str) -> Large:
    return Large(text, "plain", tuple(line for line in caption if line))


def _in_words(word: str, sense: Sense, *caption: str) -> Large:
    """What has no figure: why, in its place."""
    return Large("", sense, caption, word=word)


# -- the gain ----------------------------------------------------------------------------------


def _gain(answer: Answer) -> Large:
    if answer.figures is None:
        said = None if answer.said is None else answer.said.gain
        if said is None:
            return _in_words("not known yet", "none", "saleable output")
        return Large(percent_text(said), "plain", ("spindle hours", "said in the meeting"))
    gain = answer.gains.saleable
    likely = answer.judged
    if gain is None:
        return _in_words("none in percent", "none", "saleable output")
    if not is_difference(gain, likely):
        word = SAME if likely is None or is_nothing(likely) else NOT_CLEAR
        word = CHANGES_NOTHING if changes_nothing(answer) else word
        if word == NOT_CLEAR:
            # What cannot be told is no gain of nothing.
            return _in_words(IN_A_WORD[word], "unsure", "saleable output", *_likely(likely, gain))
        return Large("±0 %", "unsure", ("saleable output", word, *_likely(likely, gain)))
    outside = likely is not None and lies_outside(gain, likely)
    leads = likely[1] if likely is not None and outside else gain
    sense: Sense = "plain" if likely is None else "good" if leads > 0 else "bad"
    typed = (f"as typed {percent_text(gain, likely)}",) if outside else ()
    rests = ("rests on what is below",) if answer.caveats else ()
    caption = ("saleable output", *_likely(likely, gain), *typed, *_by_meters(answer), *rests)
    middle = percent_text(leads, likely) if outside else ""
    return Large(leading_text(gain, likely), sense_of(answer, sense), caption, middle)


def _likely(likely: Range | None, gain: float | None = None) -> tuple[str, ...]:
    if likely is None or likely[0] == likely[2]:
        return ()
    return (f"likely {range_text(likely, gain)} %",)


def _by_meters(answer: Answer) -> tuple[str, ...]:
    """Between what gains the hour meters leave it, where that is told apart."""
    between = answer.gain_range
    if between is None or not answer.is_gap_open:
        return ()
    least = digits_of(answer.gains.saleable, answer.judged)
    return (f"by hour meters {between_text(*between, least)}",)


# -- money -------------------------------------------------------------------------------------


def _year(told: MoneyTold, answer: Answer) -> Large:
    """What a year brings more, in thousands or millions where that is large."""
    money, likely = told.money, told.likely
    if told.standing == "unclear":
        return _in_words(IN_A_WORD[NOT_CLEAR], "unsure", f"{money.currency} a year")
    if told.standing == "nothing":
        return Large("±0", "unsure", (f"{money.currency} a year", SAME))
    # From what every other place tells, or one amount would be rounded in two ways.
    gain = to_four_figures(money.leading(likely).year_gain)
    per, unit, digits = _scale(gain, money.currency)
    ends = [] if likely is None else [abs(to_four_figures(end)) for end in likely.year_gain]
    low, high = (rounded(end / per, digits) for end in (min(ends), max(ends))) if ends else ("", "")
    bound = (most if gain > 0 else least)(money.leans.year_gain)
    caption = (
        f"{bound}{unit} {'more' if gain > 0 else 'less'} a year",
        *([f"likely {low} to {high}"] if low != high else []),
    )
    is_open = money.lean in ("worse", "either")
    sense: Sense = "plain" if is_open else "good" if gain > 0 else "bad"
    return Large(rounded(abs(gain) / per, digits), sense_of(answer, sense), caption)


def _scale(amount: float, currency: str) -> tuple[int, str, int]:
    """What to divide an amount by for four digits at most, what it is then, and its decimals."""
    if abs(amount) < _FOUR_DIGITS:
        return 1, currency, 0
    if abs(amount) < _FOUR_DIGITS * 1000:
        return 1000, f"thousand {currency}", 0
    return 1_000_000, f"million {currency}", 1


_FOUR_DIGITS = 9_999.5


def _yearly(answer: Answer, base: Answer, currency: str) -> tuple[str, ...]:
    """What it costs every year, which is taken off, where nothing that is missing moves it."""
    here, there = answer.money, base.money
    if here is None or there is None or here.leans.year_gain != "none":
        return ()
    more = here.of_year.paid - there.of_year.paid
    if abs(more) < _SHOWN:
        return ()
    return (f"costs: {priced(abs(more), currency)} {'more' if more > 0 else 'less'}",)


_SHOWN: Final = 0.5
"""Of the currency, from which on an amount is not told as nothing."""


def _payback(told: MoneyTold) -> Large:
    """When it is back; never at once where what it takes has no price."""
    money, likely = told.money, told.likely
    is_open = money.leans.capital in ("worse", "either")
    if money.more_capital <= 0 and is_open and told.standing in ("typed", "outside"):
        # What is bought for nothing is seen at the machines; what takes less time is named.
        open_ = [
            missing_words(each)
            for each in money.not_priced
            if each.what in SHORTENED or not money.is_bare
        ]
        if open_:
            return _in_words(NOT_PRICED, "unsure", "payback", ", ".join(open_))
    takes = f"{least(money.leans.capital)}{money.currency} {grouped(money.more_capital)}"
    taken = () if money.is_bare or money.more_capital <= 0 else (f"for {takes}",)
    years = None if money.is_bare else money.leading(likely).payback_years
    if years == 0:
        return _plain("0", "years until back", AT_ONCE)
    if years is None:
        word = payback_texts(money, likely, "")[0]
        return _in_words(word, _OF_NO_PAYBACK.get(word, "none"), "payback", *taken)
    ends = () if likely is None else (likely.low.payback_years, likely.high.payback_years)
    known = [end for end in ends if end is not None]
    between = years_between(*known) if known else ""
    likely_too = (f"likely {between}",) if between not in ("", years_text(years)) else ()
    if years > LONGEST_YEARS:
        return _in_words(years_text(years), "none", "years until back", *likely_too, *taken)
    return Large(
        rounded(years),
        "plain",
        (f"{least(money.lean)}years until back", *likely_too, *taken),
    )


_OF_NO_PAYBACK: Final[dict[str, Sense]] = {
    NEVER: "bad",
    IN_A_WORD[NOT_CLEAR]: "unsure",
    NOT_PRICED: "unsure",
}
"""Why there is none, as in the verdict's column."""
