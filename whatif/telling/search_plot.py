"""The front as a plot: money of the first year across, saleable gain upwards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from whatif.records import dataclass
from whatif.telling.amounts import listed
from whatif.telling.plot import Canvas, Inked, Placed, Plot, Word, in_a_line, scale, scale_across
from whatif.telling.search import has_wages

if TYPE_CHECKING:
    from whatif.answers.search.search import NextSteps

TRIED, FRONT = "tried", "front"
"""Inks."""

UP = "up: saleable gain, %"
"""What stands upwards, above the plot."""

_TICK = 14
"""Cells for an amount below the plot, with what parts it from the next."""

OF_TRIED = "·"
"""The sign of what was tried and is beaten."""


@dataclass(frozen=True, slots=True)
class FrontPlot:
    """The plot, and round amounts of what stands across, below their columns.

    Attributes:
        behind: places of entries that have no room of their own, by the place of that drawn there.
    """

    plot: Plot
    ticks: list[Placed]
    behind: Mapping[int, list[int]]


def sign_of(place: int) -> str:
    """The number of an entry, in the plot and before its line in the list."""
    return str(place + 1)


def list_words(found: NextSteps, places: range) -> str:
    """Which of the steps stand in the list and in which order, and what its sign says; "" for one.

    Whoever takes the first line for the best one would be wrong (rule `search.front`).
    """
    many = len(found.front)
    said = []
    if len(places) < many:
        first, last = sign_of(places[0]), sign_of(places[-1])
        said.append(f"{first} to {last} of {many}, \u2191\u2193 the others")
    if many > 1:
        said.append("cheapest first, not best first")
    # Told of the whole list: what a line is told by does not hang on which are in sight.
    if any(entry.reaches for entry in found.front):
        said.append("\u2713 does it")
    return "; ".join(said)


def across_words(found: NextSteps, cells: int) -> str:
    """What stands across, in the plot, and from what it counts where gains count from another."""
    wages = "with wages" if has_wages(found) else "without wages"
    said = f"across: {found.currency} to pay in the first year, {wages}"
    if found.asked.is_reference:
        return said
    named = f"{said}, from {found.asked.title} on"
    # A long title stands in full above the list.
    return named if len(named) <= cells else f"{said}, more than it takes now"


def off_plot_words(found: NextSteps) -> tuple[str, ...]:
    """Which lines of the list are not in the plot and why, ever shorter; () where all are."""
    places = [place for place, entry in enumerate(found.front) if entry.unpriced]
    if not places:
        return ()
    many = f"{len(places)} lines" if places[1:] else "1 line"
    lines = f"line{'s' if places[1:] else ''} {_numbers(places)}"
    return tuple(f"; not here: {each}, not priced" for each in (lines, many))


def _numbers(places: Sequence[int]) -> str:
    """Lines by their numbers, three and more that follow each other by the first and the last."""
    runs: list[list[int]] = []
    for place in sorted(places):
        if runs and runs[-1][-1] == place - 1:
            runs[-1].append(place)
        else:
            runs.append([place])
    said: list[str] = []
    for run in runs:
        is_long = len(run) > 2
        signs = [sign_of(place) for place in run]
        said += [f"{signs[0]} to {signs[-1]}"] if is_long else signs
    return listed(said)


def behind_words(drawn: FrontPlot) -> str:
    """Which numbers stand behind another one; "" where all have room."""
    said = [
        f"{_numbers(hidden)} behind {sign_of(over)}"
        for over, hidden in sorted(drawn.behind.items())
    ]
    return "; ".join(said)


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
    behind = _numbered(canvas, front, at)
    across = scale_across(low, most, max(2, canvas.width // _TICK))
    ticks = (Word(canvas.column(tick), text) for tick, text in across.text_of.items())
    return FrontPlot(canvas.done(), in_a_line(ticks, canvas.width), behind)


def _numbered(
    canvas: Canvas, front: Sequence[tuple[float, float | None]], at: int
) -> Mapping[int, list[int]]:
    """Put each number in its place; two that would touch read as one, so one is left out."""
    last_first = (place for place in reversed(range(len(front))) if place != at)
    taken: dict[tuple[int, int], int] = {}
    behind: dict[int, list[int]] = {}
    for place in (at, *last_first):
        cost, amount = front[place]
        if amount is None:
            continue
        sign, row = sign_of(place), canvas.row(amount)
        begin = min(canvas.column(cost), canvas.width - len(sign))
        around = range(begin - 1, begin + len(sign) + 1)
        over = next((taken[each, row] for each in around if (each, row) in taken), None)
        if over is not None:
            behind.setdefault(over, []).append(place)
            continue
        for column, digit in enumerate(sign, start=begin):
            taken[column, row] = place
            canvas.put(column, row, Inked(digit, FRONT, lit=place == at))
    return behind
