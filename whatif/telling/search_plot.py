"""The front as a plot: money of the first year across, saleable gain upwards."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.records import dataclass
from whatif.telling.amounts import listed
from whatif.telling.plot import Canvas, Inked, Placed, Plot, Word, in_a_line, scale
from whatif.telling.search import has_wages

if TYPE_CHECKING:
    from whatif.answers.search.search import NextSteps

TRIED, FRONT = "tried", "front"
"""Inks."""

_TICK = 14
"""Cells for an amount below the plot, with what parts it from the next."""

OF_TRIED = "·"
"""The sign of what was tried and is beaten."""


@dataclass(frozen=True, slots=True)
class FrontPlot:
    """The plot, and round amounts of what stands across, below their columns."""

    plot: Plot
    ticks: list[Placed]


def sign_of(place: int) -> str:
    """The sign of an entry, in the plot and before its line in the list."""
    return "123456789abcdefghijklmnopqrstuvwxyz"[place % 35]


def list_words(found: NextSteps, places: range) -> str:
    """Which of the steps stand in the list and in which order, and what its sign says; "" for one.

    Whoever takes the first line for the best one would be wrong (rule `search.front`).
    """
    many = len(found.front)
    said = []
    if len(places) < many:
        first, last = sign_of(places[0]), sign_of(places[-1])
        said.append(f"{first} to {last} of {many}, \u2191\u2193 for the others")
    if many > 1:
        said.append("cheapest first, which need not be the best")
    if any(found.front[place].reaches for place in places):
        said.append("\u2713 does it")
    return "; ".join(said)


def across_words(found: NextSteps) -> str:
    """What stands across, in the plot."""
    wages = "with wages" if has_wages(found) else "without wages"
    return f"across: {found.currency} to pay in the first year, {wages}"


def off_plot_words(found: NextSteps) -> tuple[str, ...]:
    """Which lines of the list are not in the plot and why, ever shorter; () where all are."""
    signs = [sign_of(place) for place, entry in enumerate(found.front) if entry.unpriced]
    if not signs:
        return ()
    many = f"{len(signs)} lines" if signs[1:] else "1 line"
    lines = f"line{'s' if signs[1:] else ''} {listed(signs)}"
    return tuple(f"; not here: {each}, not priced" for each in (lines, many))


def front_plot(found: NextSteps, at: int, width: int, height: int) -> FrontPlot | None:
    """The front by its signs, that under the cursor lit; what else was tried as points.

    None where nothing has a gain. What costs a multiple of all the front is left out, and what is
    not priced, since it has no place among money.
    """
    front = [
        (entry.measure.first_year, None if entry.unpriced else entry.measure.gain)
        for entry in found.front
    ]
    gains = [gain for _, gain in front if gain is not None]
    if not gains:
        return None
    costs = [cost for cost, gain in front if gain is not None]
    most = max(costs) or 1.0
    low = min([0.0, *costs])
    others = [
        (each.first_year, each.gain)
        for each in found.others
        if each.gain is not None and each.is_priced and low <= each.first_year <= most
    ]
    lowest = min([0.0, *gains])
    canvas = Canvas((low, most), scale(lowest, max([0.0, *gains]), height), width, height)
    canvas.level(0.0)
    for cost, gain in others:
        if lowest <= gain <= max(gains):
            canvas.put(canvas.column(cost), canvas.row(gain), Inked(OF_TRIED, TRIED))
    for place, (cost, amount) in enumerate(front):
        if amount is not None and place != at:
            canvas.put(canvas.column(cost), canvas.row(amount), Inked(sign_of(place), FRONT))
    cost, amount = front[at]
    if amount is not None:
        canvas.put(canvas.column(cost), canvas.row(amount), Inked(sign_of(at), FRONT, lit=True))
    across = scale(low, most, max(2, canvas.width // _TICK))
    ticks = (
        Word(canvas.column(tick), text)
        for tick, text in across.text_of.items()
        if low <= tick <= most
    )
    return FrontPlot(canvas.done(), in_a_line(ticks, canvas.width))
