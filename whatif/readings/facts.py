"""What was understood of readings, machine by machine: plain facts."""

from __future__ import annotations

from enum import Enum, auto

from whatif.records import dataclass


class How(Enum):
    """Where hours were found."""

    TIMER = auto()  # a meter that a document tells of
    EVENTS = auto()  # what a machine has told of itself, moment by moment
    TABLE = auto()  # readings that somebody wrote down


class UnknownKind(Enum):
    """Why nobody knows what a machine did."""

    UNAVAILABLE = auto()  # the document says that it could not be reached
    GAP = auto()  # no document has it


@dataclass(frozen=True, slots=True)
class Amount:
    """So much time within a stretch, spread over it evenly; all in nanoseconds."""

    begin: int
    end: int
    much: int


@dataclass(frozen=True, slots=True)
class UnknownTime:
    """A stretch of which nobody knows whether a machine was on."""

    begin: int
    end: int
    kind: UnknownKind


@dataclass(frozen=True, slots=True)
class MeterRead:
    """One of the two meters of a machine over a period.

    Attributes:
        named: the data item, or the column.
        begin, end: the period.
        amounts: what it counted.
        unknown: in which stretches of the period it may have counted or not.
    """

    how: How
    named: str
    begin: int
    end: int
    amounts: tuple[Amount, ...]
    unknown: tuple[UnknownTime, ...] = ()


class NoteKind(Enum):
    """What is odd about the readings of a machine; behind it what `OddRead.details` has."""

    OUT_OF_ORDER = auto()  # how many stamps
    METER_FELL = auto()  # the meter, at which moment
    FASTER_THAN_TIME = auto()  # the meter, at which moment
    READ_ONCE = auto()  # the meter
    SEVERAL_METERS = auto()  # "on" or "cut", the meters that it might be
    NOT_LIKE_THIS = auto()  # a word for what a machine does that is not in the standard
    READ_TWICE = auto()  # the line of a table
    CUTS_MORE_THAN_ON = auto()  # at which moment
    FILTERED = auto()
    SILENT = auto()  # from when on, for how many hours


@dataclass(frozen=True, slots=True)
class OddRead:
    """Something that is to be known beside the hours; moments in nanoseconds."""

    kind: NoteKind
    details: tuple[str | int, ...] = ()


@dataclass(frozen=True, slots=True)
class MachineRead:
    """What was understood of a machine.

    Attributes:
        name: as the document calls it.
        on, cut: hours switched on and in cut; None where the documents do not tell.
        meters: all accumulated times that there are, as they are called.
    """

    name: str
    on: MeterRead | None
    cut: MeterRead | None
    meters: tuple[str, ...] = ()
    notes: tuple[OddRead, ...] = ()

    @property
    def period(self) -> tuple[int, int] | None:
        """Over which both are known; None where there is no such time."""
        if self.on is None or self.cut is None:
            return None
        begin, end = max(self.on.begin, self.cut.begin), min(self.on.end, self.cut.end)
        return (begin, end) if begin < end else None
