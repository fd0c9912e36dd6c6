"""Hours of machines and people in columns: hours, percent, and how many more than elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from whatif.answers.answer import Answer
from whatif.answers.shares import Band, Share, duties_hours
from whatif.telling.amounts import NO_MORE, ROUNDED, rounded, shown_difference
from whatif.telling.said import NOTHING_SAID, Said
from whatif.telling.table import busy_by_shift

_LEAST = 0.05
"""Hours below which a difference would be told as 0.0."""


SHARE_TITLES: Final = ("h", "%", "more")
"""What stands above the three columns of a scenario."""


def has_hours(share: Share) -> bool:
    """Whether its hours would not be told as 0.0."""
    return share.hours >= _LEAST


def share_said(share: Share) -> tuple[Said, Said, Said]:
    """Hours, their percent, and what there is more of them than in the reference.

    None of them is good or bad by itself: fewer hours in cycle with people there, and more at
    night, may be a gain.
    """
    more = _more(share.hours, share.more)
    if not has_hours(share) and abs(more) < _LEAST:
        return NOTHING_SAID, Said(""), Said("")
    return (
        Said(_few_signs(share.hours)),
        Said("" if share.percent is None else percent_of(share.percent), "none"),
        Said("" if share.more is None else _more_text(more)),
    )


def _more_text(more: float) -> str:
    """How much more there is; an empty cell would leave open whether that is known."""
    return NO_MORE if abs(more) < _LEAST else _few_signs(more, "+")


def _more(hours: float, more: float | None) -> float:
    """What there is more than in the reference, by the hours that stand in both columns."""
    return 0.0 if more is None else shown_difference(hours, hours - more)


BAND_WORDS: Final[dict[Band, str]] = {
    "cutting": "in cycle",
    "unsold": "unsold",
    "serving": "loaded, set up",
    "waiting": "waiting",
    "resting": "nobody there",
}
"""What is written into a bar that stands by itself."""


BAND_LEGENDS: Final[dict[Band, str]] = {
    "cutting": "in cycle",
    "unsold": "cuts unsold pieces",
    "serving": "being loaded, set up, warmed",
    "waiting": "waiting",
    "resting": "nobody or not allowed",
}
"""What parts of a bar below rows of states are: those rows together, in their order."""


def shift_said(answer: Answer) -> dict[str, tuple[Said, Said, Said]]:
    """Of each shift the hours for which its people are busy, and their share of those on duty."""
    figures = answer.figures
    return {
        shift: (
            Said(_few_signs(figures.shifts.busy[shift])),
            Said(percent_of(percent), "none"),
            Said(""),
        )
        for shift, percent in busy_by_shift(answer).items()
        if figures is not None
    }


DUTIES_TITLE: Final = "of this other duties"
"""What stands before those hours, below the ones that people are busy."""


def duties_said(answer: Answer) -> tuple[Said, Said, Said] | None:
    """The hours of people's busy ones that other duties take, and their share; None for none."""
    if answer.figures is None or not (hours := duties_hours(answer.plan, answer.figures)):
        return None
    share = 100 * hours / answer.figures.people.busy
    return Said(_few_signs(hours)), Said(percent_of(share), "none"), Said("")


def duties_sentence(answer: Answer) -> str:
    """The same in a sentence; "" where they take nothing."""
    told = duties_said(answer)
    if told is None or answer.figures is None:
        return ""
    hours, share, _ = (said.text for said in told)
    return (
        f"of the {rounded(answer.figures.people.busy)} h a week that people are busy {hours} h are "
        f"other duties ({share} %), and so is that share of loading, changing and proving out."
    )


ALL_HOURS: Final = "all, 168 h per machine"
"""What stands before the sum of a week's hours."""

WEEK_TITLE: Final = "all hours of the week"
"""What stands before the hours of the whole week, below the sum of a part of them."""


def week_said(answer: Answer) -> tuple[Said, Said, Said] | None:
    """All machines' hours of the week, which a part of them is of."""
    if answer.figures is None:
        return None
    return Said(_few_signs(sum(answer.figures.by_state.values()))), Said(""), Said("")


def shares_total(shares: Sequence[Share] | None) -> tuple[Said, Said, Said]:
    """All hours together, which are a hundred percent, and how many more than in the reference."""
    if not shares or not (hours := sum(share.hours for share in shares)):
        return NOTHING_SAID, Said(""), Said("")
    more = _more(hours, sum(share.more or 0.0 for share in shares))
    is_compared = any(share.more is not None for share in shares)
    text = _more_text(more) if is_compared else ""
    return Said(_few_signs(hours)), Said("100", "none"), Said(text)


def total_title(columns: Iterable[Sequence[Share]]) -> str:
    """What stands before that sum: where a column as it reads adds up to another one, why."""
    return f"all of them{ROUNDED}" if any(map(_is_off, columns)) else "all of them"


def _is_off(shares: Sequence[Share]) -> bool:
    """Whether hours or percents, as they read, add up to another sum than the one below them."""
    told = [share_said(share) for share in shares]
    whole = shares_total(shares)[0].text
    if whole == NOTHING_SAID.text:
        return False
    hours = sum(float(said.text) for said, *_ in told if said.text != NOTHING_SAID.text)
    percents = [said.text for _, said, _ in told if said.text]
    few = percents.count("<1")
    percent = sum(int(text) for text in percents if text != "<1")
    is_other = rounded(hours, 1 if "." in whole else 0) != whole
    return is_other or not percent <= _HUNDRED <= percent + few


_HUNDRED: Final = 100
"""Percent of all hours together."""


def percent_of(share: float) -> str:
    """A whole percent; what is not nothing never reads as 0."""
    text = rounded(share, 0)
    return "<1" if text == "0" and share > 0 else text


def _few_signs(hours: float, sign: str = "") -> str:
    """Hours in no more than five signs, their own included, so that columns stay apart."""
    text = rounded(hours, 0 if abs(hours) >= (99.95 if sign else 999.95) else 1)
    return text if hours < 0 else sign + text
