"""The results that never scroll away, a row for each, and what limits a scenario below them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from math import floor, log10
from typing import TYPE_CHECKING, Final

from whatif.answers.per import Per
from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, number, rounded
from whatif.telling.blocks import LIKELY
from whatif.telling.said import NOTHING_SAID, Said, gain_said

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.figures import Figures
    from whatif.answers.ranks import Range
    from whatif.telling.said import Sense

Ends = tuple[float, float, float]
"""A gain in percent as it is drawn: the low end of its likely range, itself, the high end."""


@dataclass(frozen=True, slots=True)
class Scale:
    """What the bars of all scenarios reach from and to, in percent: round numbers, 0 within."""

    low: float
    high: float

    @property
    def text(self) -> str:
        """As it is said beside the bars: "0..100 %".

        Not with a "to", which stands between the ends of a likely range: a scale from below 0 is
        no gain that is not clear.
        """
        return f"{self.low:g}..{self.high:g} %"


def scale_for(drawn: Iterable[Ends | None]) -> Scale | None:
    """The least round scale that holds all gains with their ranges; None where there are none."""
    known = [ends for ends in drawn if ends is not None]
    if not known:
        return None
    low, high = (
        _round_up(-min(low for low, _, _ in known)),
        _round_up(max(ends[2] for ends in known)),
    )
    if not (low or high):
        high = _LEAST_SCALE
    # Of a range in which 0 lies both sides are seen, also where it ends there: what may be nothing
    # is no gain.
    if any(low < gain == 0 or gain == 0 < high for low, gain, high in known):
        low, high = max(low, _LEAST_SCALE), max(high, _LEAST_SCALE)
    # However little is lost, or gained beside a loss, there is room for it.
    if low and high:
        low, high = max(low, _round_up(high / 5)), max(high, _round_up(low / 5))
    return Scale(-low if low else 0.0, high)


def bar_labels(scale: Scale | None, *, is_dotted: bool) -> tuple[str, ...]:
    """What stands before bars of gains: their scale, and what their dots are; the longest first."""
    if scale is None:
        return ("gain",)
    whole = f"scale {scale.text}"
    # The row above has the unit.
    alone = (whole, whole.removesuffix(" %"))
    if not is_dotted:
        return alone
    dots = ((0, "likely range"), (0, "likely"), (1, "likely"))
    return (*(f"{alone[place]}, {LIKELY} {word}" for place, word in dots), *alone)


def is_dotted(drawn: Iterable[Ends | None]) -> bool:
    """Whether any of the bars has a likely range to be drawn in dots."""
    return any(ends is not None and ends[0] < ends[2] for ends in drawn)


_LEAST_SCALE = 1.0
_ROUND: Final = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)


def _round_up(value: float) -> float:
    """The least round number that is not below a value; 0 for one that reads as nothing."""
    if value < _READS:
        return 0.0
    power = 10.0 ** floor(log10(max(value, _LEAST_SCALE)))
    return next(
        step * power for step in _ROUND if step * power >= max(value, _LEAST_SCALE) - _READS
    )


_READS = 0.05
"""Percent below which a gain reads as nothing."""


@dataclass(frozen=True, slots=True)
class StripRow:
    """A label and what each scenario shows for it, given whether it is the reference.

    Attributes:
        bar: whether the gain is drawn as a bar instead.
        in_words: whether it is no figure, and may stand beyond the room of figures.
        shorter: the label for fewer cells.
    """

    label: str
    said: Callable[[Answer, bool], Said]
    bar: bool = False
    in_words: bool = False
    shorter: str = ""

    @property
    def labels(self) -> tuple[str, ...]:
        """The label, and the shorter one where there is one."""
        return (self.label, self.shorter) if self.shorter else (self.label,)


NOTHING_TO_SIMULATE = (
    "Nothing to simulate yet: add a machine, a shift and a part with a weekly demand."
)


def leading_gain(answer: Answer) -> tuple[float | None, Range | None, bool]:
    """The gain that leads, its likely range, and whether it is only said."""
    if answer.plan.cell is None and answer.said is not None:
        return answer.said.gain, None, True
    return answer.gains.saleable, answer.judged, False


def drawn_ends(answer: Answer) -> Ends | None:
    """The gain that leads with the ends of its likely range, as a bar has them."""
    _, likely, _ = leading_gain(answer)
    gain = drawn_gain(answer)
    if gain is None or likely is None:
        return None if gain is None else (gain, gain, gain)
    return min(likely[0], gain), gain, max(likely[2], gain)


def drawn_gain(answer: Answer) -> float | None:
    """The gain that leads as one number, for a bar and for the tree.

    The middle of its likely range where it lies outside of that as typed, 0 where it is no
    difference.
    """
    from whatif.answers.gains import is_difference, lies_outside

    gain, likely, _ = leading_gain(answer)
    if gain is None or not is_difference(gain, likely):
        return None if gain is None else 0.0
    return likely[1] if likely is not None and lies_outside(gain, likely) else gain


def leading_gain_text(answer: Answer) -> str:
    """The gain that leads, whoever says so, in no more than a few words."""
    from whatif.telling.caveats import caveat_mark
    from whatif.telling.gain_texts import CHANGES_NOTHING, leading_text

    if changes_nothing(answer):
        return CHANGES_NOTHING
    gain, likely, _ = leading_gain(answer)
    return caveat_mark(answer) + leading_text(gain, likely)


def changes_nothing(answer: Answer) -> bool:
    """Whether a scenario enters nothing of its own, and so brings no difference either."""
    return bool(answer.plan.same_as) and not drawn_gain(answer)


def leading_sense(answer: Answer) -> Sense:
    """Whether that is good or bad, and clearly so."""
    return _saleable(answer, False).sense


def gain_in_a_word(answer: Answer, cells: int | None = None) -> str:
    """The same where it has a few cells: that it is none, or not clear, in a word.

    Of a range that takes more than so many its unit is left out.
    """
    from whatif.telling.gain_texts import IN_A_WORD

    text = leading_gain_text(answer)
    text = IN_A_WORD.get(text, text)
    if _is_open(answer):
        return f"{text} ..."
    is_wide = cells is not None and len(text) > cells and " to " in text
    return text.removesuffix(" %") if is_wide else text


def held_sentence(answer: Answer, *, per: Per = Per.WEEK, in_brief: bool = False) -> str:
    """What holds a scenario back, in a sentence or some; what is not made and said first.

    Args:
        per: the time that its hours are told for.
        in_brief: what limits it in as few words as a line has room for.
    """
    from whatif.telling.caveats import (
        caveat_sentences,
        out_of_step_sentence,
        unclear_sentence,
    )
    from whatif.telling.gain_texts import same_as_sentence
    from whatif.telling.warnings import said_warning

    said = [same_as_sentence(answer.plan.same_as)] if answer.plan.same_as else []
    said += caveat_sentences(answer)
    if answer.figures is None and answer.said is not None:
        hours = rounded(answer.said.hours_per_day)
        said.append(f"Only said: {hours} spindle hours a day; enter parts to have it simulated.")
    elif answer.figures is None:
        said.append(NOTHING_TO_SIMULATE)
    said += [unclear_sentence(answer), out_of_step_sentence(answer), said_warning(answer)]
    said += [_limit(answer, per, in_brief=in_brief)]
    return " ".join(sentence for sentence in said if sentence)


def _limit(answer: Answer, per: Per, *, in_brief: bool) -> str:
    """What holds it back; what is not made has been said."""
    from whatif.telling.limits import held_back_per, limit_in_brief, limit_text

    held, per = held_back_per(answer, per)
    tell = limit_in_brief if in_brief else limit_text
    return tell(None if held is None else replace(held, unmade=()), answer.could_make, per)


def _saleable(answer: Answer, is_reference: bool) -> Said:
    from whatif.telling.caveats import caveat_mark, sense_of
    from whatif.telling.gain_texts import CHANGES_NOTHING

    gain, likely, is_said = leading_gain(answer)
    if is_reference:
        return Said("reference", "none")
    if changes_nothing(answer):
        return Said(CHANGES_NOTHING, "none")
    word = "said " if is_said else ""
    if gain is None:
        return NOTHING_SAID
    said = gain_said(gain, likely, caveat_mark(answer) + word)
    said = replace(said, sense=sense_of(answer, said.sense), is_marked=bool(answer.caveats))
    return _so_far(said) if _is_open(answer) else said


def _is_open(answer: Answer) -> bool:
    """Whether a gain's likely range is still being worked out.

    Also while it has that of the draws alone: what hour meters leave open may make it wider.
    """
    from whatif.answers.gains import is_difference

    gain, _, is_said = leading_gain(answer)
    is_known = answer.likely is not None and not answer.is_gap_awaited
    return not (is_known or is_said) and is_difference(gain, None)


def _so_far(said: Said) -> Said:
    """A gain of which the whole likely range is not known yet: never as one that is settled.

    Whether it is better or worse at all its range may still leave open.
    """
    shorter = (f"{text} ..." for text in (said.text, *said.shorter))
    sense: Sense = "plain" if said.sense in ("good", "bad") else said.sense
    return replace(said, text=f"{said.text} so far", shorter=(*shorter, "..."), sense=sense)


_INHERITED: Final = "↑"


def _said_in_meeting(answer: Answer, is_reference: bool) -> Said:
    from whatif.telling.gain_texts import percent_text

    if answer.said is None:
        return Said(NOTHING, "none")
    text = rounded(answer.said.hours_per_day)
    if not is_reference and answer.said.gain is not None:
        text = f"{text}, {percent_text(answer.said.gain)}"
    # As the sheet marks what stands above, where there is room for it.
    return Said(f"{text} {_INHERITED}", shorter=(text,)) if answer.plan.said_of else Said(text)


def _held(answer: Answer, _: bool) -> Said:
    from whatif.telling.limits import limit_in_short, limits_in_column

    held = answer.held_back
    if held is None:
        return Said(NOTHING)
    return Said(limit_in_short(held), shorter=limits_in_column(held))


def _fit(answer: Answer, _: bool) -> Said:
    from whatif.telling.fit import fit_in_short, fit_text

    is_left_out = any(part.unmade for part in answer.plan.parts)
    return Said(fit_text(answer), "bad" if is_left_out else "plain", fit_in_short(answer))


def _of_figures(label: str, text: Callable[[Figures], str], shorter: str = "") -> StripRow:
    """A row of what is simulated, with a dash where nothing is."""

    def said(answer: Answer, _: bool) -> Said:
        return Said(NOTHING if answer.figures is None else text(answer.figures))

    return StripRow(label, said, shorter=shorter)


def _met(figures: Figures) -> str:
    from whatif.telling.limits import met_percent

    return NOTHING if figures.least_met is None else f"{met_percent(figures.least_met)} %"


def _people(figures: Figures) -> str:
    return f"{number(figures.people.paid)} / {number(figures.people.busy)}"


def _spindle(figures: Figures) -> str:
    return f"{number(figures.spindle.attended)} / {number(figures.spindle.unattended)}"


_SALEABLE = StripRow("gain in saleable output, %", _saleable, shorter="saleable output, %")
_BAR = StripRow("gain", _saleable, bar=True)
_MET = _of_figures("demand met, part furthest behind", _met, "demand met, lowest part")
_HELD = StripRow(
    "limited by, % of attended h", _held, in_words=True, shorter="limit, % of attended h"
)
_FIT = StripRow("parts", _fit, in_words=True)

SAID = StripRow(
    "h a day said in the meeting, gain", _said_in_meeting, shorter="meeting: h a day, gain"
)
"""What somebody says beside what is simulated."""

LEAST = (_SALEABLE,)
"""Where there are hardly any lines."""

SHORT = (_SALEABLE, _BAR, _HELD)
"""Above a view."""

LOW = (
    _SALEABLE,
    _BAR,
    _of_figures("spindle h attended / unattended", _spindle, "spindle h attended/other"),
    _MET,
    _of_figures("people h, paid / busy", _people),
    _HELD,
    _FIT,
)
"""For screens of few lines."""

HIGH = (
    _SALEABLE,
    _BAR,
    _of_figures("spindle h, attended", lambda figures: number(figures.spindle.attended)),
    _of_figures("spindle h, unattended", lambda figures: number(figures.spindle.unattended)),
    _of_figures("    of it after hours", lambda figures: number(figures.spindle.after_hours)),
    _of_figures("  for unsold pieces", lambda figures: number(figures.unsold_hours)),
    _MET,
    _of_figures("people h, paid / busy", _people),
    _HELD,
    _FIT,
)
"""For screens with room."""
