"""The strip's rows as texts: results and gains of every scenario, most wanted first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, IntEnum

from whatif.answers.compare import Answer
from whatif.answers.gains import is_difference
from whatif.telling.limits import limit_in_short, limit_text
from whatif.telling.table import NOTHING, fit_text, gain_text, number, whole_percent_text
from whatif.telling.warnings import claim_warning

WAITING = "..."
NO_ANSWER = NOTHING
NO_FIGURES = "No figures before the problems of the file are put right: F3 lists them."
BAR_FULL = 50.0
"""Gain in percent at which a bar is full."""


class Room(IntEnum):
    """How much of the strip there is room for; beside a view only the gain and what limits."""

    LEAST = 0
    SHORT = 1
    LOW = 2
    HIGH = 3


_FROM_LINES = {Room.HIGH: 30, Room.LOW: 18, Room.SHORT: 13}
"""The screen's lines from which there is so much room, so that rows of the sheet are left."""


def room_for(lines: int) -> Room:
    """How much of the strip a screen of so many lines has room for."""
    return next((room for room, least in _FROM_LINES.items() if lines >= least), Room.LEAST)


class Tone(Enum):
    """How a text is coloured; sign and words tell the same without colour."""

    PLAIN = "plain"
    GAIN = "gain"
    LOSS = "loss"
    DIM = "dim"


@dataclass(frozen=True, slots=True)
class Shown:
    """One text of the strip."""

    text: str
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class StripRow:
    """A label and what each scenario shows for it; a bar row has gains instead of texts."""

    label: str
    text: Callable[[Answer, bool], Shown]
    bar: bool = False


def _plain(text: Callable[[Answer], str]) -> Callable[[Answer, bool], Shown]:
    return lambda answer, _: Shown(text(answer))


def leading_gain(answer: Answer) -> tuple[float | None, float | None, bool]:
    """The gain that leads, its grain, and whether it is only claimed."""
    if answer.plan.cell is None and answer.claimed is not None:
        return answer.claimed.gain, 0.0, True
    grain = None if answer.grain is None else answer.grain.saleable
    return answer.gains.saleable, grain, False


def _saleable(answer: Answer, is_reference: bool) -> Shown:
    gain, grain, claimed = leading_gain(answer)
    if is_reference:
        return Shown("reference", Tone.DIM)
    word = "claimed " if claimed else ""
    if gain is None:
        return Shown(NOTHING, Tone.DIM)
    if not is_difference(gain, grain):
        return Shown(word + "no difference", Tone.DIM)
    # Until its grain is known a gain is only about right, and says so.
    about = "" if grain is not None else "~"
    return Shown(word + about + gain_text(gain, grain), Tone.GAIN if gain > 0 else Tone.LOSS)


def _claimed(answer: Answer, is_reference: bool) -> Shown:
    if answer.claimed is None:
        return Shown(NOTHING, Tone.DIM)
    hours = f"{answer.claimed.hours_per_day:.1f}"
    if is_reference or answer.claimed.gain is None:
        return Shown(hours)
    return Shown(f"{hours}, {whole_percent_text(answer.claimed.gain)}")


def _hours(which: str) -> Callable[[Answer], str]:
    def text(answer: Answer) -> str:
        figures = answer.figures
        return NOTHING if figures is None else number(getattr(figures.spindle, which))

    return text


def _spindle(answer: Answer) -> str:
    if answer.figures is None:
        return NOTHING
    spindle = answer.figures.spindle
    return f"{number(spindle.attended)} / {number(spindle.unattended)}"


def _unsold(answer: Answer) -> str:
    return NOTHING if answer.figures is None else number(answer.figures.unsold_hours)


def _met(answer: Answer) -> str:
    if answer.figures is None or answer.figures.least_met is None:
        return NOTHING
    return f"{answer.figures.least_met:.0f} %"


def _people(answer: Answer) -> str:
    if answer.figures is None:
        return NOTHING
    paid, busy = answer.figures.people.paid, answer.figures.people.busy
    return f"{number(paid)} / {number(busy)}"


def _fit(answer: Answer, _: bool) -> Shown:
    text = fit_text(answer)
    return Shown(text, Tone.LOSS if text.startswith("not made") else Tone.PLAIN)


def _held(answer: Answer) -> str:
    return NOTHING if answer.held_back is None else limit_in_short(answer.held_back)


_SALEABLE = StripRow("saleable output", _saleable)
_BAR = StripRow(f"  bar to ±{BAR_FULL:.0f} %", _saleable, bar=True)
_FIT = StripRow("parts", _fit)
_HELD = StripRow("held back by", _plain(_held))
_CLAIMED = StripRow("claimed h a day, gain", _claimed)

LEAST = (_SALEABLE,)
"""Where there are hardly any lines."""

SHORT = (_SALEABLE, _BAR, _HELD)
"""Above a view."""

LOW = (
    _SALEABLE,
    _BAR,
    StripRow("spindle h att. / unatt.", _plain(_spindle)),
    StripRow("demand met, least part", _plain(_met)),
    StripRow("people h paid / busy", _plain(_people)),
    _HELD,
    _FIT,
)
"""For screens of few lines."""

HIGH = (
    _SALEABLE,
    _BAR,
    StripRow("spindle h, attended", _plain(_hours("attended"))),
    StripRow("spindle h, unattended", _plain(_hours("unattended"))),
    StripRow("    of it after hours", _plain(_hours("after_hours"))),
    StripRow("  of both nobody buys", _plain(_unsold)),
    StripRow("demand met, least part", _plain(_met)),
    StripRow("people h, paid / busy", _plain(_people)),
    _HELD,
    _FIT,
)
"""For screens with room."""


def strip_rows(answers: list[Answer], room: Room) -> tuple[StripRow, ...]:
    """The rows to show; what is claimed only where somebody claims something beside a model."""
    rows = {Room.LEAST: LEAST, Room.SHORT: SHORT, Room.LOW: LOW, Room.HIGH: HIGH}[room]
    if room is Room.LEAST:
        return rows
    both = any(one.claimed is not None and one.figures is not None for one in answers)
    return (*rows, _CLAIMED) if both else rows


def sentence(answer: Answer) -> str:
    """What holds the chosen scenario back, in a sentence; warnings and claims first."""
    parts = [part.unmade for part in answer.plan.parts if part.unmade]
    if answer.figures is None and answer.claimed is not None:
        parts.append(
            f"Only claimed: {answer.claimed.hours_per_day:.1f} spindle hours a day; enter parts "
            "to have it simulated."
        )
    elif answer.figures is None:
        parts.append("Nothing to simulate yet: add a machine, a shift and a part.")
    parts += [claim_warning(answer), limit_text(answer.held_back)]
    return " ".join(part for part in parts if part)


def bar(gain: float | None, width: int) -> str:
    """A bar from the middle of ``width`` cells, to the left for a loss; cut, it has an arrow."""
    half = (width - 1) // 2
    if gain is None:
        return " " * half + "|" + " " * (width - 1 - half)
    long = min(half, round(abs(gain) / BAR_FULL * half))
    is_cut = half > 1 and abs(gain) > BAR_FULL
    if gain >= 0:
        drawn = "█" * (long - 1) + ">" if is_cut else "█" * long
        return " " * half + "|" + drawn.ljust(width - 1 - half)
    drawn = "<" + "▒" * (long - 1) if is_cut else "▒" * long
    return drawn.rjust(half) + "|" + " " * (width - 1 - half)
