"""The calendar: who is there when, asked anew at every instant (rule `calendar.attended`)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

DAY = 24 * 3600
WEEK = 7 * DAY
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DUTIES = ("load", "setup", "prove_out", "tools", "repair", "release")

Mode = Literal["attended", "breaks", "after_hours"]


def clock_seconds(text: str) -> int:
    """Seconds since midnight of an "HH:MM"."""
    hour, minute = text.split(":")
    return int(hour) * 3600 + int(minute) * 60


@dataclass(frozen=True)
class Turn:
    """One day's run of a shift, in seconds from Monday 00:00; it may reach past the week's end."""

    shift: str
    day: str
    start: int
    end: int
    breaks: tuple[tuple[int, int], ...]
    unpaid: tuple[tuple[int, int], ...]


def turns_of(shift: str, entry: dict[str, Any]) -> list[Turn]:
    """All turns of one shift in a week; an end at or before the start is the next day's."""
    start = clock_seconds(entry["start"])
    length = (clock_seconds(entry["end"]) - start) % DAY or DAY
    turns = []
    for day in entry["days"]:
        begin = DAYS.index(day) * DAY + start
        breaks = pauses_of(entry.get("breaks", []), begin)
        unpaid = pauses_of(entry.get("unpaid_breaks", []), begin)
        turns.append(Turn(shift, day, begin, begin + length, breaks, unpaid))
    return turns


def pauses_of(texts: list[str], begin: int) -> tuple[tuple[int, int], ...]:
    """The breaks of a turn that begins then, from their "HH:MM-HH:MM"."""
    found = []
    for text in texts:
        first, last = (clock_seconds(part) for part in text.split("-"))
        after = begin + (first - begin) % DAY
        found.append((after, after + (last - first) % DAY))
    return tuple(found)


def covers(start: int, end: int, now: int) -> bool:
    """Whether start <= now < end in some week (rule `calendar.time`)."""
    return (now - start) % WEEK < end - start


class Hours:
    """The week of all shifts that have people, and the rule for the hours after them."""

    def __init__(self, spec: dict[str, Any]) -> None:
        shifts = {k: s for k, s in spec.get("shift", {}).items() if s.get("people", 1) > 0}
        self.turns = [turn for k, s in shifts.items() for turn in turns_of(k, s)]
        self.does = {k: frozenset(s.get("does", DUTIES)) for k, s in shifts.items()}
        # The turns of shifts that load: those by which the cell is attended or not.
        self.loading_turns = [turn for turn in self.turns if "load" in self.does[turn.shift]]
        rules = spec.get("unattended", {})
        self.through_breaks: bool = rules.get("through_breaks", True)
        self.after_shift: int | str = rules.get("after_shift", 0)
        self.nights: list[str] = rules.get("nights", list(DAYS))
        # What was asked of a second is kept, since it is asked often while the second lasts.
        self.on_duty = cache(self._on_duty)
        self.paid = cache(self._paid)
        self.mode = cache(self._mode)
        self.releasing = cache(self._releasing)
        self.pieces_may_be_begun = cache(self._pieces_may_be_begun)

    def somebody_does(self, duty: str) -> bool:
        """Whether people of some shift may do this at all."""
        return any(duty in duties for duties in self.does.values())

    def boundaries(self) -> set[int]:
        """Every second of the week at which something of the calendar may change."""
        found = set()
        for turn in self.turns:
            found |= {turn.start, turn.end}
            found |= {edge for pause in turn.breaks + turn.unpaid for edge in pause}
            if isinstance(self.after_shift, int):
                found.add(turn.end + self.after_shift)
        return {second % WEEK for second in found}

    def runs(self, shift: str, now: int) -> bool:
        """Whether this shift runs, breaks included."""
        return any(covers(t.start, t.end, now) for t in self.turns if t.shift == shift)

    def _on_duty(self, shift: str, now: int) -> bool:
        """Whether the shift's people are on duty: in its hours, outside its breaks."""
        for turn in self.turns:
            if turn.shift == shift and covers(turn.start, turn.end, now):
                return not any(covers(*pause, now) for pause in turn.breaks + turn.unpaid)
        return False

    def _paid(self, shift: str, now: int) -> bool:
        """Whether its people are paid: in the shift's hours, outside its unpaid breaks."""
        for turn in self.turns:
            if turn.shift == shift and covers(turn.start, turn.end, now):
                return not any(covers(*pause, now) for pause in turn.unpaid)
        return False

    def _mode(self, now: int) -> Mode:
        """Attended: somebody who loads is on duty; on a break: only such a shift runs."""
        shifts = {turn.shift for turn in self.loading_turns}
        if any(self.on_duty(shift, now) for shift in shifts):
            return "attended"
        if any(self.runs(shift, now) for shift in shifts):
            return "breaks"
        return "after_hours"

    def _releasing(self, now: int) -> bool:
        """Whether a shift that releases first pieces runs, breaks included."""
        return any(self.runs(shift, now) for shift, does in self.does.items() if "release" in does)

    def ending(self, now: int) -> list[str]:
        """The shifts of which a turn ends at this very second, in the file's order."""
        return [t.shift for t in self.turns if now > 0 and (now - t.end) % WEEK == 0]

    def _pieces_may_be_begun(self, now: int) -> bool:
        """Whether ordinary pieces and changes are begun at this instant (rule `calendar.begin`)."""
        mode = self.mode(now)
        if mode == "attended":
            return True
        if mode == "breaks":
            return self.through_breaks
        ended_ago = [((now - turn.end) % WEEK, turn.day) for turn in self.loading_turns]
        if not ended_ago:
            return False
        latest = min(ago for ago, _ in ended_ago)
        if not any(day in self.nights for ago, day in ended_ago if ago == latest):
            return False
        return isinstance(self.after_shift, str) or latest < self.after_shift
