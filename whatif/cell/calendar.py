"""Who is there when: the week as segments in which nothing changes (rule `calendar.time`)."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from typing import Final

from whatif.cell.frozen import Frozen
from whatif.cell.model import DAY, WEEK, Cell, Shift

ATTENDED: Final = 0
ON_BREAK: Final = 1
AFTER_HOURS: Final = 2
MODES: Final = ("attended", "breaks", "after_hours")
FOR_EVER: Final = 1 << 61


@dataclass(frozen=True, slots=True)
class Pattern(Frozen):
    """The hours of one shift occurrence: (from, to) on duty, in seconds after its start."""

    duty: tuple[tuple[int, int], ...]

    def worked(self, at: int) -> int:
        """Seconds on duty from the start to ``at``."""
        worked = 0
        for since, to in self.duty:
            if since >= at:
                break
            worked += (to if to < at else at) - since
        return worked

    def finish(self, at: int, work: int) -> int | None:
        """Second at which ``work`` begun at ``at`` ends, breaks waited over; None if cut off."""
        for since, to in self.duty:
            begin = max(at, since)
            if begin > to:
                continue
            if begin + work <= to:
                return begin + work
            work -= to - begin
        return None


def pattern(shift: Shift) -> Pattern:
    """The duty stretches that a shift's breaks leave."""
    duty = []
    since = 0
    for begin, end in sorted(shift.breaks):
        if begin > since:
            duty.append((since, begin))
        since = end
    if since < shift.length:
        duty.append((since, shift.length))
    return Pattern(tuple(duty))


@dataclass(frozen=True, slots=True)
class Segment(Frozen):
    """A stretch of the week in which nothing changes; seconds of the week.

    Attributes:
        mode: whether the cell is attended (rule `calendar.attended`).
        begins: whether pieces may be begun in it.
        releases: whether first pieces are released in it.
        until: end of the unbroken time in which pieces may be begun, counted from this week's
            Monday (may lie beyond the week); meaningless where ``begins`` is False.
        attended_until: the same for what is begun only when attended.
        starts, ends: shifts (their place) that start or end at its beginning.
        on_duty: per shift, whether its people are on duty.
    """

    start: int
    end: int
    mode: int
    begins: bool
    releases: bool
    until: int
    attended_until: int
    starts: tuple[int, ...]
    ends: tuple[int, ...]
    on_duty: tuple[bool, ...]

    @property
    def shift_runs(self) -> bool:
        """Whether a shift that loads runs, be it on a break."""
        return self.mode != AFTER_HOURS


def _ends(cell: Cell) -> dict[int, bool]:
    """Seconds of the week at which shifts that load end, and whether a night follows.

    One does where any shift that ends there began on a day of ``nights``.
    """
    ends: dict[int, bool] = {}
    for shift in cell.shifts:
        if "load" in shift.does:
            for day in shift.days:
                end = (day * DAY + shift.start + shift.length) % WEEK
                ends[end] = ends.get(end, False) or day in cell.nights
    return ends


class Calendar:
    """The repeating week of a cell, cut into :class:`Segment` s.

    A shift with no people does not exist (rule `study.take-out`) and must not be handed in.
    """

    def __init__(self, cell: Cell) -> None:
        self.shifts = cell.shifts
        self.patterns = tuple(pattern(shift) for shift in cell.shifts)
        self.through_breaks = cell.through_breaks
        self.after_shift = cell.after_shift
        self._ends = _ends(cell)
        self.segments = self._segments()
        self._starts = [segment.start for segment in self.segments]
        # Seconds of release in a week, up to the end of each segment.
        self._released: list[int] = []
        for segment in self.segments:
            before = self._released[-1] if self._released else 0
            there = segment.end - segment.start if segment.releases else 0
            self._released.append(before + there)

    # -- questions ---------------------------------------------------------------------

    def index(self, second_of_week: int) -> int:
        """The place of the segment that holds a second of the week."""
        return bisect_right(self._starts, second_of_week) - 1

    def night_follows(self, second_of_week: int) -> bool:
        """Whether after hours begin there in which pieces may be begun (rule `calendar.begin`)."""
        return self._ends.get(second_of_week, False)

    def released_by(self, at: int, wait: int) -> int:
        """Second of the run at which ``wait`` seconds of release after ``at`` have passed.

        Counted in the hours of shifts that release, breaks included (rule `loads.release`). The
        caller makes sure that some shift does.
        """
        if wait == 0:
            return at
        second = at % WEEK
        place = self.index(second)
        segment = self.segments[place]
        released = self._released[place] - (segment.end - second if segment.releases else 0)
        weeks, left = divmod(released + wait - 1, self._released[-1])
        place = bisect_right(self._released, left)
        # It lies so many seconds before the end of its segment.
        before_end = self._released[place] - left - 1
        return at - second + weeks * WEEK + self.segments[place].end - before_end

    # -- building ----------------------------------------------------------------------

    def occurrences(self, place: int) -> list[int]:
        """Starts of a shift in seconds of the week."""
        shift = self.shifts[place]
        return [day * DAY + shift.start for day in sorted(shift.days)]

    def _covers(self, place: int, second: int) -> int | None:
        """Seconds since the start of the occurrence that runs at a second of the week."""
        length = self.shifts[place].length
        for start in self.occurrences(place):
            since = (second - start) % WEEK
            if since < length:
                return since
        return None

    def _cuts(self) -> list[int]:
        """All seconds of the week at which something may change."""
        cuts = {0}
        for place, shift in enumerate(self.shifts):
            marks = [0, shift.length, *(mark for pause in shift.breaks for mark in pause)]
            cuts |= {(start + mark) % WEEK for start in self.occurrences(place) for mark in marks}
        if self.after_shift is not None and self.after_shift < WEEK:
            cuts |= {(end + self.after_shift) % WEEK for end in self._ends}
        return sorted(cuts)

    def _segments(self) -> tuple[Segment, ...]:
        cuts = self._cuts()
        raw = []
        for start, end in zip(cuts, [*cuts[1:], WEEK], strict=True):
            since = [self._covers(place, start) for place in range(len(self.shifts))]
            duty = tuple(
                at is not None and any(a <= at < b for a, b in self.patterns[place].duty)
                for place, at in enumerate(since)
            )
            loads = ["load" in shift.does for shift in self.shifts]
            runs = any(at is not None and does for at, does in zip(since, loads, strict=True))
            there = any(on and does for on, does in zip(duty, loads, strict=True))
            mode = ATTENDED if there else ON_BREAK if runs else AFTER_HOURS
            raw.append((start, end, mode, self._begins(start, mode), duty, since))
        until = _unbroken([(s, e, begins) for s, e, _, begins, *_ in raw])
        attended = _unbroken([(s, e, mode == ATTENDED) for s, e, mode, *_ in raw])
        return tuple(
            Segment(
                start=start,
                end=end,
                mode=mode,
                begins=begins,
                releases=any(
                    at is not None and "release" in shift.does
                    for at, shift in zip(since, self.shifts, strict=True)
                ),
                until=until[i],
                attended_until=attended[i],
                starts=tuple(p for p, at in enumerate(since) if at == 0),
                ends=self._ending(start),
                on_duty=duty,
            )
            for i, (start, end, mode, begins, duty, since) in enumerate(raw)
        )

    def _begins(self, start: int, mode: int) -> bool:
        """Whether pieces may be begun in a stretch (rule `calendar.begin`)."""
        if mode == ATTENDED:
            return True
        if mode == ON_BREAK:
            return self.through_breaks
        if not self._ends:
            return False
        latest = min(self._ends, key=lambda end: (start - end) % WEEK)
        if not self._ends[latest]:
            return False
        return self.after_shift is None or (start - latest) % WEEK < self.after_shift

    def _ending(self, second: int) -> tuple[int, ...]:
        return tuple(
            place
            for place, shift in enumerate(self.shifts)
            if any((start + shift.length) % WEEK == second for start in self.occurrences(place))
        )


def _unbroken(segments: list[tuple[int, int, bool]]) -> list[int]:
    """For each segment the end of the run of allowed segments it stands in.

    Counted from this week's Monday, so that it may lie in the next week.
    """
    if all(allowed for _, _, allowed in segments):
        return [FOR_EVER] * len(segments)
    until = [0] * len(segments)
    end_of_run = 0
    # Twice backwards: the second pass knows how the next week begins.
    for base in (WEEK, 0):
        for i in range(len(segments) - 1, -1, -1):
            start, end, allowed = segments[i]
            if not allowed:
                end_of_run = base + start
            until[i] = max(end_of_run, base + end)
    return until
