"""Documents read together, and the hours of their machines: in all, and by the day or week."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta, tzinfo
from fractions import Fraction
from typing import Final

from whatif.readings.chains import chains_of
from whatif.readings.events import by_events
from whatif.readings.facts import MachineRead, MeterRead, NoteKind, OddRead, UnknownKind
from whatif.readings.fault import Unreadable, UnreadKind
from whatif.readings.sources import SECONDS, content_of
from whatif.readings.stamps import HOUR, WEEK, Borders, begin_of, day_of
from whatif.readings.streams import StreamsDocument, looks_like_xml, read_streams
from whatif.readings.table import RowRead, machines_in, read_table
from whatif.readings.timers import by_timer, timers_of
from whatif.records import dataclass

MOST_DAYS: Final = 4000
"""Days of which hours are told by the day: ten years and some."""


@dataclass(frozen=True, slots=True)
class ClockHours:
    """Hours of a machine within a stretch.

    Attributes:
        on, cut: switched on, and in cut.
        unavailable: of which the document says that nobody knows.
        gap: that no document has.
        length: of the stretch itself, as far as it lies within what was read.
    """

    on: float = 0.0
    cut: float = 0.0
    unavailable: float = 0.0
    gap: float = 0.0
    length: float = 0.0

    @property
    def off(self) -> float:
        """The rest: switched off."""
        return max(0.0, self.length - self.on - self.unavailable - self.gap)

    def plus(self, other: ClockHours) -> ClockHours:
        """Both together."""
        return ClockHours(
            self.on + other.on,
            self.cut + other.cut,
            self.unavailable + other.unavailable,
            self.gap + other.gap,
            self.length + other.length,
        )


@dataclass(frozen=True, slots=True)
class DayRead:
    """A machine's hours on a calendar day."""

    day: date
    hours: ClockHours


@dataclass(frozen=True, slots=True)
class Understood:
    """What some documents say of machines.

    Attributes:
        sources: their names.
        machines: in the order in which they first stand there.
        zone: that of the calendar days, None for this computer's.
    """

    sources: tuple[str, ...]
    machines: tuple[MachineRead, ...]
    zone: tzinfo | None

    @property
    def metered(self) -> tuple[MachineRead, ...]:
        """The machines of which both meters are known over some time."""
        return tuple(machine for machine in self.machines if machine.period is not None)

    @property
    def period(self) -> tuple[int, int] | None:
        """The time that the readings of all these machines have in common."""
        periods = [each for machine in self.machines if (each := machine.period) is not None]
        if not periods:
            return None
        begin, end = max(each[0] for each in periods), min(each[1] for each in periods)
        return (begin, end) if begin < end else None

    def within(self, machine: MachineRead, begin: int, end: int) -> ClockHours:
        """A machine's hours between two moments."""
        (hours,) = hours_between(machine, [begin, end])
        return hours

    def in_all(self, begin: int, end: int) -> ClockHours:
        """The hours of all these machines between two moments."""
        total = ClockHours()
        for machine in self.metered:
            total = total.plus(self.within(machine, begin, end))
        return total

    def days(self, machine: MachineRead) -> tuple[DayRead, ...]:
        """A machine's hours day by day over its own period."""
        if machine.period is None:
            return ()
        begin, end = machine.period
        first, last = day_of(begin, self.zone), day_of(end - 1, self.zone)
        count = min((last - first).days + 1, MOST_DAYS)
        days = [first + timedelta(days=number) for number in range(count)]
        borders = [begin_of(day, self.zone) for day in (*days, days[-1] + timedelta(days=1))]
        hours = hours_between(machine, borders)
        return tuple(DayRead(day, each) for day, each in zip(days, hours, strict=True))


@dataclass(frozen=True, slots=True)
class ToEnter:
    """What a scenario's hour meters are given: hours of all machines together, and weeks."""

    on: float
    cut: float
    weeks: float
    machines: int
    unavailable: float
    gap: float

    @property
    def share_range(self) -> tuple[float, float] | None:
        """In-cut share of the hours switched on, in percent, whatever the hours of which nobody
        knows were: all on and none in cut, or all in cut."""
        unknown = self.unavailable + self.gap
        if self.on + unknown <= 0:
            return None
        total = self.on + unknown
        return 100 * self.cut / total, 100 * (self.cut + unknown) / total


def to_enter(understood: Understood) -> ToEnter | None:
    """The hours over the common period; None where there are none to enter.

    Weeks leave out what no document has: that was neither counted nor would be. Hours that are
    UNAVAILABLE stay in: a machine that is switched off is told of so.
    """
    period = understood.period
    if period is None:
        return None
    hours = understood.in_all(*period)
    machines = len(understood.metered)
    weeks = (period[1] - period[0]) / WEEK - hours.gap * HOUR / WEEK / machines
    if hours.on <= 0 or weeks <= 0:
        return None
    return ToEnter(
        hours.on, min(hours.cut, hours.on), weeks, machines, hours.unavailable, hours.gap
    )


def hours_between(machine: MachineRead, borders: Sequence[int]) -> list[ClockHours]:
    """A machine's hours in each stretch between moments one after the other."""
    count = len(borders) - 1
    if machine.period is None or machine.on is None or machine.cut is None:
        return [ClockHours()] * count
    begin, end = machine.period
    places = Borders(list(borders))

    def spread(parts: Iterable[tuple[int, int, int]]) -> list[float]:
        sums = [Fraction(0)] * count
        for since, to, much in parts:
            if to <= since:
                continue
            place = max(0, places.place(since))
            while place < count and borders[place] < to:
                low, high = max(since, borders[place], begin), min(to, borders[place + 1], end)
                if high > low:
                    sums[place] += Fraction(much * (high - low), to - since)
                place += 1
        return [float(each / HOUR) for each in sums]

    def meter(of: MeterRead) -> list[float]:
        return spread((each.begin, each.end, each.much) for each in of.amounts)

    def unknown(kind: UnknownKind) -> list[float]:
        # Of the meter that knows less: an own timer of the machine counts on where nobody asks.
        lacking = max(machine.on, machine.cut, key=lambda each: len(each.unknown) if each else 0)
        return spread(
            (each.begin, each.end, each.end - each.begin)
            for each in (lacking.unknown if lacking is not None else ())
            if each.kind is kind
        )

    length = spread([(begin, end, end - begin)])
    columns = (
        *(meter(machine.on), meter(machine.cut)),
        *(unknown(UnknownKind.UNAVAILABLE), unknown(UnknownKind.GAP)),
        length,
    )
    return [ClockHours(*row) for row in zip(*columns, strict=True)]


def understand(
    sources: Sequence[str],
    zone: tzinfo | None = None,
    *,
    on: str | None = None,
    cut: str | None = None,
    only: Sequence[str] = (),
    seconds: float = SECONDS,
) -> Understood:
    """Read documents, each a file or a web address; raises `Unreadable`.

    ``on`` and ``cut`` name the data items that count the hours, where the documents leave that
    open; ``only`` the machines that are wanted, all where it is empty.
    """
    streams: list[StreamsDocument] = []
    tables: list[tuple[RowRead, ...]] = []
    for source in sources:
        content = content_of(source, seconds)
        if looks_like_xml(content):
            streams.append(read_streams(content, source))
        else:
            tables.append(read_table(content, source, zone))
    machines = [*machines_of(streams, on, cut), *machines_in(*tables)]
    if only:
        wanted = {name.casefold() for name in only}
        machines = [machine for machine in machines if machine.name.casefold() in wanted]
    if not machines:
        raise Unreadable(UnreadKind.NOTHING_IN_IT, sources[0])
    return Understood(tuple(sources), tuple(machines), zone)


def machines_of(
    documents: Sequence[StreamsDocument], on: str | None = None, cut: str | None = None
) -> list[MachineRead]:
    """The machines that Streams documents tell of: by their own timers, else by their events."""
    chains = chains_of(documents)
    devices = dict.fromkeys(each.device for document in documents for each in document.observations)
    is_filtered = any(not each.is_whole and not each.is_current for each in documents)
    found = []
    for device in devices:
        by_on, notes_on = by_timer(chains, device, "on", on)
        by_cut, notes_cut = by_timer(chains, device, "cut", cut)
        on_told, cut_told, notes = by_events(chains, device)
        meters = tuple(timer.called for timer in timers_of(chains, device))
        if is_filtered and len(documents) > 1:
            notes = (*notes, OddRead(NoteKind.FILTERED))
        found.append(
            MachineRead(
                device,
                by_on or on_told,
                by_cut or cut_told,
                meters,
                (*notes_on, *notes_cut, *(notes if by_on is None or by_cut is None else ())),
            )
        )
    return found
