"""Figures and results of lines as they are shown."""

from __future__ import annotations

from whatif.answers.account.account import Figure, WorkedLine
from whatif.answers.account.terms import plain
from whatif.answers.gains import is_difference
from whatif.answers.limits import HeldBack
from whatif.telling.amounts import gain_text, percent_text, rounded
from whatif.telling.limits import limit_in_short, limit_text


def amount(value: float, unit: str, digits: int) -> str:
    """A number as the tables round it, with its unit."""
    return f"{rounded(value, digits)} {unit}".rstrip()


def line_shown(line: WorkedLine) -> str:
    """What a line gives."""
    if line.digits is None:
        return f"{plain(line.result)} {line.unit}".rstrip()
    return amount(line.result, line.unit, line.digits)


def is_alone(line: WorkedLine) -> bool:
    """Whether a line is a number by itself, which needs no line that repeats it."""
    return " " not in line.expr.numbers()


def figure_shown(figure: Figure) -> str:
    """A figure's value with its unit; what a gain or a fit comes to in words."""
    value = figure.value
    if value is None:
        return "nothing is simulated" if figure.theme == "limit" else "none"
    if isinstance(value, HeldBack):
        return limit_text(value)
    if isinstance(value, tuple):
        low, high = (rounded(end, figure.digits) for end in value)
        return f"{low} to {high} {figure.unit}".rstrip()
    if figure.theme == "fit":
        return f"fits, {value:.0f} a load" if value else "does not fit"
    if figure.is_gain:
        return _gain_shown(figure, value)
    return amount(value, figure.unit, figure.digits)


def figure_in_short(figure: Figure) -> str:
    """The same in a list of figures: without what comes behind the value."""
    value = figure.value
    if isinstance(value, HeldBack):
        return limit_in_short(value)
    if isinstance(value, float) and figure.theme == "fit":
        return "fits" if value else "does not fit"
    if isinstance(value, float) and figure.is_gain:
        return "0.0 %" if figure.is_reference else gain_text(value, figure.grain)
    return figure_shown(figure).replace("percentage points", "points")


def _gain_shown(figure: Figure, gain: float) -> str:
    if figure.is_reference:
        return "0.0 %, this is the reference"
    if not is_difference(gain, figure.grain):
        return f"no difference ({percent_text(gain)} is smaller than its grain)"
    return gain_text(gain, figure.grain)
