"""The stretch of a week that is looked at: so many signs, each for the same length of time."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from whatif.cell.model import DAY, HOUR, MINUTE, WEEK
from whatif.records import dataclass
from whatif.telling.clock import DAY_NAMES, clock_text, end_text, hour_text

LENGTHS = tuple(minutes * MINUTE for minutes in (1, 2, 5, 10, 15, 30, 60, 90, 120, 180, 240, 360))
"""Seconds that one sign may stand for; a week is a whole number of each."""

_OF_A_DAY = tuple(minutes * MINUTE for minutes in (5, 10, 15, 30))
"""Seconds of a sign where one day is looked at."""

_NIGHT: int = 6 * HOUR
"""So much is seen of the night behind a working day, where there is room for it."""

_STEPS = tuple(minutes * MINUTE for minutes in (10, 30, 60, 120, 180, 360, 720, 1440))


@dataclass(frozen=True, slots=True)
class Window:
    """A stretch of the week drawn in at most ``room`` signs of ``length`` seconds each."""

    since: int
    length: int
    room: int

    @property
    def slices(self) -> int:
        """How many signs there are: fewer than there is room for where the week ends."""
        return min(self.room, (WEEK - self.since) // self.length)

    @property
    def until(self) -> int:
        """The second after the last."""
        return self.since + self.slices * self.length

    @property
    def is_close(self) -> bool:
        """Whether a sign is so short that what one person or pallet does is seen in it."""
        return self.length <= _OF_A_DAY[-1]

    @property
    def is_whole(self) -> bool:
        """Whether the whole week is in sight."""
        return (self.since, self.until) == (0, WEEK)

    def column(self, second: int) -> int:
        """The sign that a second of the window falls in."""
        return (second - self.since) // self.length

    def moment(self, column: int) -> int:
        """The first second of a sign, kept within the week."""
        return max(0, min(self.since + column * self.length, WEEK - self.length))

    def beside(self, second: int, signs: int) -> int:
        """The first second of the sign so many further on, kept within the week."""
        return self.moment(self.column(second) + signs)

    def holding(self, second: int) -> Window:
        """The same, or turned on like a page so that a second stands a quarter in."""
        if self.since <= second < self.until:
            return self
        before = self.room // 4 if second >= self.until else self.room - self.room // 4
        return self._from(second, before)

    def turned(self, second: int, to: int) -> Window:
        """Turned on so that another second stands where a second of the window stood."""
        return self._from(to, self.column(second))

    def zoomed(self, closer: bool, second: int) -> Window:
        """One step closer or further off, a second of the window staying where it stands."""
        lengths = _lengths(self.room)
        at = lengths.index(self.length) + (-1 if closer else 1)
        length = lengths[max(0, min(at, len(lengths) - 1))]
        return replace(self, length=length)._from(second, self.column(second))

    def fitted(self, room: int, second: int) -> Window:
        """The same in another room, with a second of the week in it."""
        if room == self.room:
            return self
        length = min(self.length, _lengths(room)[-1])
        return Window(self.since, length, room)._from(self.since, 0).holding(second)

    def days(self) -> str:
        """The names of the days above the signs, each where its day begins or the window does."""
        marks = [" "] * self.slices
        begins = [0, *(i for i in range(1, self.slices) if self.begins_a_day(i))]
        for column, then in pairwise([*begins, self.slices + 1]):
            name = DAY_NAMES[(self.since + column * self.length) // DAY]
            if column + len(name) < then:
                marks[column : column + len(name)] = name
        return "".join(marks)

    def ruler(self, free: int) -> str:
        """Hours of the clock above the signs, as wide as these.

        A figure that would cover the column ``free`` is left out whole: half of it would be read
        as another.
        """
        step = next(step for step in _STEPS if step >= self.length * (4 if step >= HOUR else 6))
        marks = [" "] * self.slices
        for second in range(-(-self.since // step) * step, self.until, step):
            at = self.column(second)
            text = hour_text(second)[: 2 if step >= HOUR else 5]
            if not at <= free < at + len(text) and at + len(text) <= self.slices:
                marks[at : at + len(text)] = text
        return "".join(marks)

    def begins_a_day(self, column: int) -> bool:
        """Whether a midnight within the week is the beginning of a sign."""
        second = self.since + column * self.length
        return second > 0 and second % DAY == 0

    def _from(self, second: int, before: int) -> Window:
        """Moved so that so many signs stand before a second, as far as the week goes."""
        since = (second // self.length - before) * self.length
        last = max(0, WEEK - self.room * self.length)
        return replace(self, since=max(0, min(since, last)))


def whole_week(room: int) -> Window:
    """The whole week in as many signs as the room allows."""
    return Window(0, _lengths(room)[-1], room)


def one_day(room: int, since: int, until: int) -> Window:
    """The working day between two seconds and what there is room for of the night behind it.

    It begins two signs before people come. At most 24 hours count, and no sign is longer than half
    an hour, so that it is seen what persons and pallets do.
    """
    needs = min(until - since + _NIGHT, DAY)
    length = next((length for length in _OF_A_DAY if length * room >= needs), _OF_A_DAY[-1])
    return Window(0, length, room)._from(since, 2)


def length_text(seconds: int) -> str:
    """What a sign stands for: "2 h" or "90 min"."""
    return f"{seconds // HOUR} h" if seconds % HOUR == 0 else f"{seconds // MINUTE} min"


def stretch_text(since: int, until: int) -> str:
    """ "Mon 06:00 to 14:00" or "Mon 00:00 to Sun 24:00"."""
    last = until - 1
    end = end_text(until)
    if since // DAY == last // DAY:
        return f"{clock_text(since)} to {end}"
    return f"{clock_text(since)} to {DAY_NAMES[last // DAY]} {end}"


def _lengths(room: int) -> tuple[int, ...]:
    """The lengths worth having: no longer than what brings the whole week into sight."""
    widest = next(length for length in LENGTHS if length * room >= WEEK)
    return LENGTHS[: LENGTHS.index(widest) + 1]
