"""Nights of several scenarios drawn below one another on one clock, to scale.

A bar is as high as the share of the nights in which the machines still cut: full for all nights.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from enum import Enum
from itertools import groupby

from whatif.answers.night.night import GroupNight, Nights, NightsAfter
from whatif.cell.look import Why
from whatif.cell.model import DAY, HOUR
from whatif.records import dataclass
from whatif.telling.amounts import whole
from whatif.telling.blocks import CUTS, MAY_BEGIN, PEOPLE
from whatif.telling.clock import day_name, hour_text
from whatif.telling.ends import END_WORDS
from whatif.telling.night import by_clock, ending_of_all, main_ends
from whatif.telling.said import Said

_STEPS = (1, 2, 3, 4, 6, 12, 24)
"""Hours between two marks of the clock."""

_APART = 3
"""Cells at least between two texts of the clock."""

_EIGHTHS = "▁▂▃▄▅▆▇█"
MIDNIGHT = "┊"
"""What stands where a day begins."""


class Shade(Enum):
    """What a cell of a bar tells, with what the legend says of it."""

    PEOPLE = "people there"
    CUTS = "cuts in all nights, ▄ half, ▁ few"
    STANDS = "stands, may begin"
    NOT_ALLOWED = "blank: may not begin"


SIGNS = {Shade.PEOPLE: PEOPLE, Shade.CUTS: CUTS, Shade.STANDS: MAY_BEGIN, Shade.NOT_ALLOWED: " "}


@dataclass(frozen=True, slots=True)
class NightClock:
    """The hours that bars are drawn over, on so many ``cells``.

    Attributes:
        begin, end: seconds of the week; ``end`` may lie in the week after.
        of_days: whether they follow one weekday alone, so that days have names.
    """

    begin: int
    end: int
    cells: int
    of_days: bool

    def cell(self, second: int) -> int:
        """The cell that a second falls in."""
        return (second - self.begin) * self.cells // (self.end - self.begin)

    def second(self, cell: int) -> float:
        """The moment at which a cell begins."""
        return self.begin + (self.end - self.begin) * cell / self.cells

    @property
    def midnights(self) -> dict[int, int]:
        """Seconds at which days begin, by their cells."""
        first = -(-(self.begin + 1) // DAY) * DAY
        return {self.cell(second): second for second in range(first, self.end, DAY)}

    def days(self) -> str:
        """A line that says where a day begins: its name, or that it is after midnight."""
        line = ""
        for cell, second in self.midnights.items():
            name = f"{MIDNIGHT} {day_name(second) if self.of_days else 'after midnight'}"
            if len(line) < cell or not line:
                line = line.ljust(cell) + (name if cell + len(name) <= self.cells else MIDNIGHT)
        return line

    def hours(self) -> str:
        """A line of clock texts: the begin, whole hours, and the end.

        Each stands where its moment begins, but for the last, which ends with the line.
        """
        last = hour_text(self.end)
        marks = [(0, hour_text(self.begin))]
        until = self.cells - len(last)
        for second in self._whole_hours():
            text, cell = hour_text(second), self.cell(second)
            before, said = marks[-1]
            if cell >= before + len(said) + _APART and cell + len(text) + _APART <= until:
                marks.append((cell, text))
        line = ""
        for cell, text in [*marks, (until, last)]:
            line = line.ljust(cell) + text
        return line

    def _whole_hours(self) -> range:
        """Those to be marked, as dense as there is room for their texts."""
        of_an_hour = self.cells * HOUR / (self.end - self.begin)
        room = len("00:00") + _APART
        step = next((n for n in _STEPS if n * of_an_hour >= room), _STEPS[-1]) * HOUR
        return range(-(-(self.begin + 1) // step) * step, self.end, step)


def one_clock(chosen: NightsAfter, others: Sequence[NightsAfter], cells: int) -> NightClock:
    """The clock that the night of the chosen scenario and those like it have in common."""
    nights = (chosen, *others)
    begin = min(_start(night, chosen) for night in nights)
    end = max(_start(night, chosen) + whole(night.length * HOUR) for night in nights)
    return NightClock(begin, end, cells, len(chosen.days) == 1)


def _start(night: NightsAfter, chosen: NightsAfter) -> int:
    """When it begins, on the weekday of the chosen one."""
    return night.start + (chosen.days[0] - night.days[0]) * DAY


def night_bar(
    clock: NightClock, chosen: NightsAfter, night: NightsAfter, nights: Nights, group: GroupNight
) -> list[tuple[Shade, str]]:
    """The machines of a group over a clock, cells of one shade together.

    A cell tells of the moment at which it begins, so that the shortest run on is still seen. A
    machine is "at work" until its spindle last turns.
    """
    start = _start(night, chosen)
    cells: list[tuple[Shade, str]] = []
    for cell in range(clock.cells):
        # What begins within the first cell is seen in it.
        hours = (clock.second(cell) - start) / HOUR
        if cell == clock.cell(start):
            hours = max(hours, 0.0)
        shade, sign = _shade(group, hours, night.length, nights.after_shift)
        if shade in (Shade.STANDS, Shade.NOT_ALLOWED) and cell in clock.midnights:
            sign = MIDNIGHT
        cells.append((shade, sign))
    return [
        (shade, "".join(sign for _, sign in like))
        for shade, like in groupby(cells, key=lambda cell: cell[0])
    ]


def _shade(
    group: GroupNight, hours: float, length: float, begun_for: float | None
) -> tuple[Shade, str]:
    if hours < 0 or hours >= length:
        shade = Shade.PEOPLE
    elif still := len(group.at_work) - bisect_right(group.at_work, hours):
        eighths = -(-still * len(_EIGHTHS) // len(group.at_work))
        return Shade.CUTS, _EIGHTHS[eighths - 1]
    else:
        allowed = begun_for is None or hours < begun_for
        shade = Shade.STANDS if allowed else Shade.NOT_ALLOWED
    return shade, SIGNS[shade]


def night_found(night: NightsAfter) -> Said:
    """Until when the last spindle runs, and what then limits, however little room."""
    if night.all_last == 100:
        return Said(
            f"runs on till {hour_text(night.start + whole(night.length * HOUR))} every night"
        )
    main = main_ends(night)
    limits = _of_groups({group: END_WORDS[why].clause for group, why in main.items()})
    in_column = _of_groups({group: END_WORDS[why].in_column for group, why in main.items()})
    if not night.turning.most:
        stands = f"stands from {hour_text(night.start)} on"
        in_short = (f"{stands}{in_column}", f"{stands}{_groups_in_short(main)}")
        return Said(f"{stands}{limits}", "plain", in_short)
    until = f"to {by_clock(night, night.turning.mean)}"
    out = f"runs {until}"
    return Said(
        f"{out} on average: {ending_of_all(night)}",
        "plain",
        (
            f"{out} on average{limits}",
            f"{out}{limits}",
            f"{out}{in_column}",
            f"{out}{_groups_in_short(main)}",
        ),
    )


def _of_groups(ends: dict[str, str]) -> str:
    """What ends the night after a colon, group by group where there are several; "" for nothing."""
    said = "; ".join(f"on {group}, {words}" if group else words for group, words in ends.items())
    return said and f": {said}"


def _groups_in_short(main: dict[str, Why]) -> str:
    """The same in fewest words: ": mill not loaded, cell prove-out"."""
    said = ", ".join(f"{group} {END_WORDS[why].in_column}".strip() for group, why in main.items())
    return said and f": {said}"


def group_label(group: GroupNight) -> str:
    """ "mill, 2 machines"."""
    return group.group if group.count == 1 else f"{group.group}, {group.count} machines"
