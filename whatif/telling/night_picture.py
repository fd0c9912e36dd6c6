"""A night drawn to scale: the hours from a shift's end to the next shift's start, in cells."""

from __future__ import annotations

from bisect import bisect_right
from enum import Enum
from itertools import groupby

from whatif.answers.night.night import GroupNight, NightsAfter
from whatif.cell.model import DAY, HOUR
from whatif.telling.clock import clock_text, hour_text

_STEPS = (1, 2, 3, 4, 6, 12, 24)
"""Hours between two marks of the scale."""

_APART = 3
"""Cells at least between two texts of the scale."""


class Shade(Enum):
    """In how many nights a machine is still to cut, and whether it would be allowed to."""

    EVERY = "runs every night"
    MOST = "most nights"
    SOME = "some nights"
    STANDS = "stands"
    NOT_ALLOWED = "not allowed"


def night_bar(
    group: GroupNight, length: float, begun_for: float | None, cells: int
) -> list[tuple[Shade, int]]:
    """The machines of a group over the ``length`` hours of a night, so many cells of each shade.

    A cell tells of the moment at which it begins, so that the shortest run on is still seen. A
    machine is "at work" until its spindle last turns. ``begun_for`` are the hours in which pieces
    are begun, None for all of them.
    """
    shades = [_shade(group, length * cell / cells, begun_for) for cell in range(cells)]
    return [(shade, len(list(like))) for shade, like in groupby(shades)]


def _shade(group: GroupNight, hours: float, begun_for: float | None) -> Shade:
    every = len(group.at_work)
    share = (every - bisect_right(group.at_work, hours)) / every if every else 0.0
    if share == 1:
        return Shade.EVERY
    if share >= 0.5:
        return Shade.MOST
    if share:
        return Shade.SOME
    return Shade.STANDS if begun_for is None or hours < begun_for else Shade.NOT_ALLOWED


def night_scale(night: NightsAfter, cells: int) -> str:
    """Clock texts above a bar of ``cells``: the shift's end, whole hours, the next shift's start.

    Each stands where its moment begins, but for the last, which ends with the bar.
    """
    end = hour_text(night.start + round(night.length * HOUR))
    marks = [(0, hour_text(night.start))]
    last = cells - len(end)
    day_too = night.length > DAY / HOUR and len(night.days) == 1
    for second in _moments(night, cells, 9 if day_too else 5):
        text = clock_text(second) if day_too else hour_text(second)
        cell = int((second - night.start) / HOUR / night.length * cells)
        before, said = marks[-1]
        if cell >= before + len(said) + _APART and cell + len(text) + _APART <= last:
            marks.append((cell, text))
    line = ""
    for cell, text in [*marks, (last, end)]:
        line = line.ljust(cell) + text
    return line


def _moments(night: NightsAfter, cells: int, width: int) -> range:
    """Seconds of the whole hours to be marked, as dense as ``width`` cells for a text allow."""
    of_an_hour = cells / night.length
    step = next((n for n in _STEPS if n * of_an_hour >= width + _APART), _STEPS[-1]) * HOUR
    begin = -(-(night.start + 1) // step) * step
    return range(begin, night.start + round(night.length * HOUR), step)
