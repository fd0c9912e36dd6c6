"""One week of a scenario, second by second, and what goes on in it in plain words.

The cell runs its warm-up and the weeks before, and the week asked for is written down (see
:mod:`whatif.cell.watch`). The hours of shifts, breaks and limits stand beside it as bands.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Protocol, TypeVar

from whatif.answers.progress import Told
from whatif.answers.states import IN_CYCLE, STATE_ROWS
from whatif.cell.calendar import MODES, Calendar
from whatif.cell.model import DAY, HOUR, MINUTE, WEEK, Shift
from whatif.cell.watch import MachineSpan, MachineWeek, PalletSpan, PersonSpan, PersonWeek, watch
from whatif.plan.model import Plan

DAY_NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch of the week, in seconds from Monday 00:00."""

    since: int
    until: int


@dataclass(frozen=True, slots=True)
class HoursBand:
    """A stretch in which the hours are of one sort (rule `calendar.attended`).

    Attributes:
        mode: "attended", "breaks" or "after_hours".
        begins: whether pieces may be begun in it.
    """

    since: int
    until: int
    mode: str
    begins: bool


@dataclass(frozen=True, slots=True)
class ShiftBands:
    """When a shift runs, and its breaks within; one over Sunday midnight is two stretches."""

    shift: str
    people: int
    runs: tuple[Band, ...]
    breaks: tuple[Band, ...]


@dataclass(frozen=True, slots=True)
class Week:
    """A week of a scenario; all spans in seconds of the week, each list without a gap.

    Attributes:
        number: which of the ``weeks`` measured, from 1.
        runs: seeded runs over which the scenario's results are averaged, of which this is the
            first; 1 where there are no stops.
        hours: the week cut where people come, pause and go, and where limits begin and end.
    """

    scenario: str
    title: str
    number: int
    weeks: int
    runs: int
    stops: bool
    machines: tuple[MachineWeek, ...]
    persons: tuple[PersonWeek, ...]
    shifts: tuple[ShiftBands, ...]
    hours: tuple[HoursBand, ...]

    @property
    def luck(self) -> str:
        """Which run this is, where stops make runs differ; else nothing."""
        if not self.stops:
            return ""
        return (
            f"Stops fall here as in the first of {self.runs} seeded runs; in the others they fall "
            "elsewhere."
        )

    def at(self, second: int) -> str:
        """All machines and the people there at a second of the week, in one line of words."""
        machines = [self.machine_at(place, second) for place in range(len(self.machines))]
        people = [
            self.person_at(place, second)
            for place, one in enumerate(self.persons)
            if span_at(one.does, second).does != "off_duty"
        ]
        return f"{clock_text(second)}: " + "; ".join([*machines, *(people or ["nobody is there"])])

    def machine_at(self, place: int, second: int) -> str:
        """What one machine does, and how many of its pallets are loaded."""
        one = self.machines[place]
        span = span_at(one.states, second)
        text = f"{machine_name(one)} {_machine_does(span)}"
        if len(one.pallets) == 1:
            return text
        loaded = span_at(one.loaded, second).pallets
        return f"{text}, {loaded} of {len(one.pallets)} pallets loaded"

    def pallet_at(self, place: int, pallet: int, second: int) -> str:
        """What pallet ``pallet`` (from 1) of a machine does."""
        one = self.machines[place]
        return (
            f"{_pallet_name(one, pallet)} {_pallet_does(span_at(one.pallets[pallet - 1], second))}"
        )

    def person_at(self, place: int, second: int) -> str:
        """What one person does."""
        one = self.persons[place]
        return f"{person_name(one)} {self._person_does(span_at(one.does, second), second)}"

    def _person_does(self, span: PersonSpan, second: int) -> str:
        if span.machine is None:
            return _ALONE[span.does]
        machine = self.machines[span.machine]
        name = machine_name(machine)
        if span.pallet is None:
            return f"puts {name} right after a stop"
        on = span_at(machine.pallets[span.pallet - 1], second)
        match span.does:
            case "bench":
                return f"works at the bench on pieces of {name}"
            case "prove_out":
                return f"proves out {on.part} at {name}"
            case "tool_change":
                return f"renews tools at {name}"
        where = name if len(machine.pallets) == 1 else f"pallet {span.pallet} of {name}"
        if not on.next_pieces:
            return f"takes {on.pieces} {on.part} off {where}"
        if not on.pieces:
            return f"loads {where} with {on.next_pieces} {on.next_part}"
        return f"takes {on.pieces} {on.part} off {where} and loads {on.next_pieces} {on.next_part}"


def week(plan: Plan, number: int, told: Told = lambda done, of: None) -> Week | None:
    """Week ``number`` of those measured; None where the scenario has no parts.

    Args:
        told: called as told(done, of) after each week run; it may raise to give the work up.

    Raises:
        ValueError: where ``number`` is not one of the weeks measured.
    """
    if plan.cell is None:
        return None
    if not 1 <= number <= plan.weeks:
        raise ValueError(f"week {number} is not measured; weeks 1 to {plan.weeks} are")
    cell = replace(plan.cell, luck=1)
    record = watch(cell, plan.warm_up + number - 1, told)
    calendar = Calendar(cell)
    return Week(
        scenario=plan.scenario,
        title=plan.title,
        number=number,
        weeks=plan.weeks,
        runs=plan.runs,
        stops=bool(cell.stops),
        machines=record.machines,
        persons=record.persons,
        shifts=tuple(
            _bands(shift, calendar.occurrences(place)) for place, shift in enumerate(cell.shifts)
        ),
        hours=_hours(calendar),
    )


# -- bands -------------------------------------------------------------------------------


def _bands(shift: Shift, starts: Sequence[int]) -> ShiftBands:
    return ShiftBands(
        shift.id,
        shift.people,
        runs=_in_week((start, start + shift.length) for start in starts),
        breaks=_in_week((start + a, start + b) for start in starts for a, b in shift.breaks),
    )


def _in_week(stretches: Iterable[tuple[int, int]]) -> tuple[Band, ...]:
    """Stretches by their begin; what goes beyond Sunday is the week's first."""
    found = []
    for since, until in stretches:
        back = WEEK if since >= WEEK else 0
        found.append(Band(since - back, min(until - back, WEEK)))
        if until - back > WEEK:
            found.append(Band(0, until - back - WEEK))
    return tuple(sorted(found, key=lambda band: band.since))


def _hours(calendar: Calendar) -> tuple[HoursBand, ...]:
    bands: list[HoursBand] = []
    for one in calendar.segments:
        mode = MODES[one.mode]
        since = one.start
        if bands and (bands[-1].mode, bands[-1].begins) == (mode, one.begins):
            since = bands.pop().since
        bands.append(HoursBand(since, one.end, mode, one.begins))
    return tuple(bands)


# -- finding -----------------------------------------------------------------------------


class Spanning(Protocol):
    """Anything that lasts from a second of the week to another."""

    @property
    def since(self) -> int:
        """Its first second."""

    @property
    def until(self) -> int:
        """The second after its last."""


S = TypeVar("S", bound=Spanning)


def span_at(spans: Sequence[S], second: int) -> S:
    """The span that holds a second of the week (0 to 604799)."""
    if not 0 <= second < WEEK:
        raise ValueError(f"second {second} is not in a week")
    return spans[bisect_right(spans, second, key=lambda span: span.since) - 1]


# -- words -------------------------------------------------------------------------------


def clock_text(second: int) -> str:
    """A second of the week as "Tue 14:20"."""
    hour, rest = divmod(second % DAY, HOUR)
    return f"{DAY_NAMES[second // DAY]} {hour:02d}:{rest // MINUTE:02d}"


def machine_name(one: MachineWeek) -> str:
    """ "mill 2", or "mill" where there is one."""
    return one.group if one.count == 1 else f"{one.group} {one.number}"


def person_name(one: PersonWeek) -> str:
    """ "person 1 of early", or "the person of early" where there is one."""
    return f"the person of {one.shift}" if one.count == 1 else f"person {one.number} of {one.shift}"


def _pallet_name(one: MachineWeek, pallet: int) -> str:
    if len(one.pallets) == 1:
        return f"the table of {machine_name(one)}"
    return f"pallet {pallet} of {machine_name(one)}"


_ALONE = {
    "off_duty": "is off duty",
    "on_break": "is on a break",
    "free": "is free",
    "bench": "works at the bench",
}


def _machine_does(span: MachineSpan) -> str:
    does = STATE_ROWS[span.state].now
    return f"{does} {span.part}" if span.state == IN_CYCLE else does


def _pallet_does(span: PalletSpan) -> str:
    on = f"{span.pieces} {span.part}"
    match span.does:
        case "rests":
            return "is empty, and there is nothing to put on it"
        case "waits":
            return (
                f"waits for a person with {on} cut"
                if span.pieces
                else "is empty, waits for a person"
            )
        case "served":
            return f"is served{_visit(span)}"
        case "paused":
            return f"is half served over a break{_visit(span)}"
        case "put_down":
            return f"is half served, waits for a person{_visit(span)}"
        case "ready":
            return f"waits for the spindle with {on}"
        case "goes_in":
            return f"goes into the spindle with {on}"
        case "cut":
            return f"is in the spindle, which cuts {on}"
        case "stands_in":
            return f"is in the spindle with {on}, which does not cut"
        case "release":
            return f"waits for the release of its first {span.part}"


def _visit(span: PalletSpan) -> str:
    does = [f"{span.pieces} {span.part} off"] if span.pieces else []
    does += [f"{span.next_pieces} {span.next_part} on"] if span.next_pieces else []
    return f" ({', '.join(does)})"
