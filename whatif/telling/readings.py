"""What was understood of readings, and why a document was not, in words and bars."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import tzinfo
from typing import Final

from whatif.answers.families import StateFamily
from whatif.readings.facts import How, MachineRead, MeterRead, NoteKind, OddRead
from whatif.readings.fault import Unreadable, UnreadKind
from whatif.readings.stamps import WEEK, local_time
from whatif.readings.understood import ClockHours, DayRead, ToEnter, Understood
from whatif.telling.amounts import listed, rounded
from whatif.telling.blocks import BLOCKS
from whatif.telling.clock import DAY_NAMES

_AN_HOUR: Final = 1
"""Cells of a bar an hour."""

_SIGNS: Final = {
    "cut": BLOCKS["cutting"],
    "on": BLOCKS["waiting"],
    "unavailable": "?",
    "off": BLOCKS["resting"],
    "gap": " ",
}
READ_LEGEND: Final = (
    f"A sign an hour: {_SIGNS['cut']} in cut, {_SIGNS['on']} switched on and not in cut, "
    f"{_SIGNS['off']} switched off, {_SIGNS['unavailable']} nobody knows (UNAVAILABLE), blank: no "
    "document has it. A bar adds up hours; it is no clock."
)

_UNREAD: Final[Mapping[UnreadKind, str]] = {
    UnreadKind.NO_SUCH_FILE: "there is no such file.",
    UnreadKind.NOT_READ: "the file cannot be read: {0}.",
    UnreadKind.NOT_FETCHED: (
        "nothing was fetched: {0}. Does the agent run, and is this its address?"
    ),
    UnreadKind.TOO_SLOW: "no whole answer came within {0} s; ask for less at once (count=1000).",
    UnreadKind.NO_WEB_ADDRESS: "{0} is not asked; name a file, or an address of http or https.",
    UnreadKind.ENDLESS: "the answer never ends; leave interval out of the address.",
    UnreadKind.TOO_LARGE: "it is larger than {0} MB; part it.",
    UnreadKind.TOO_DEEP: "it has more than {0} elements within each other: no Streams document.",
    UnreadKind.TOO_MANY: "it has more than {0} readings; part it.",
    UnreadKind.HAS_ENTITIES: (
        "it declares a document type or entities, which no Streams document does; it is not read."
    ),
    UnreadKind.NO_XML: "line {0}: it is no XML ({1}).",
    UnreadKind.OTHER_DOCUMENT: (
        "it is a document of {0}; wanted is one of MTConnectStreams, as /current and /sample of an "
        "agent give, or a table of readings (CSV)."
    ),
    UnreadKind.AGENT_FAULT: "the agent answers with an error: {0}",
    UnreadKind.NOT_TEXT: "line {0}: it is no text in UTF-8; save the table so.",
    UnreadKind.NO_HEADS: (
        "the first line lacks {0}; a table of readings has the columns date, machine, switched on, "
        "in cut."
    ),
    UnreadKind.NOTHING_IN_IT: "there is no machine in it that was asked for.",
}
_ROWS_TOLD: Final = 12

_ROW_FAULTS: Final = {
    "date": 'is no date such as 2025-03-31, "2025-03-31 06:00" or 31.03.2025',
    "machine": "is no machine's name",
    "switched on": 'is no number of hours such as 1204.5 or "1204 h 30 min"',
    "in cut": 'is no number of hours such as 612.3 or "612 h 20 min"',
}


def unreadable_lines(fault: Unreadable) -> list[str]:
    """Why a document is not understood, line by line, and what to do about it."""
    if fault.kind is not UnreadKind.BAD_ROWS:
        details = fault.details
        if fault.kind is UnreadKind.NO_HEADS:
            details = (listed(details),)
        return [f"{fault.source}: {_UNREAD[fault.kind].format(*details)}"]
    told = [
        f'{fault.source}, line {row.line}: {row.head}: "{row.text}" {_ROW_FAULTS[row.head]}.'
        for row in fault.rows[:_ROWS_TOLD]
    ]
    more = len(fault.rows) - len(told)
    return [*told, f"{fault.source}: {more} more like these."] if more else told


def source_name(source: str) -> str:
    """A file's name without its folders; an address as it is."""
    return source if "://" in source else source.replace("\\", "/").rpartition("/")[2]


def moment_text(stamp: int, zone: tzinfo | None) -> str:
    """A moment on the calendar: "Mon 2025-03-03 06:00"."""
    at = local_time(stamp, zone)
    return f"{DAY_NAMES[at.weekday()]} {at:%Y-%m-%d %H:%M}"


def zone_words(understood: Understood) -> str:
    """By whose clock days are told."""
    return "this computer's clock" if understood.zone is None else f"{understood.zone}"


def period_words(understood: Understood, begin: int, end: int) -> str:
    """From when to when, and how many weeks that is."""
    since, to = (moment_text(at, understood.zone) for at in (begin, end))
    weeks = (end - begin) / WEEK
    return f"{since} to {to} ({rounded(weeks, 2)} weeks)"


def machine_words_read(machine: MachineRead) -> str:
    """How the hours of a machine were found, in a sentence."""
    on, cut = machine.on, machine.cut
    if on is None or cut is None:
        lacking = [word for word, meter in (("switched on", on), ("in cut", cut)) if meter is None]
        known = f" It counts {listed(machine.meters)}: name the two with --on and --cut."
        text = f"It is not told how long it was {' and '.join(lacking)}."
        return text + (known if machine.meters else "")
    if machine.period is None:
        return "The readings of its two meters have no time in common."
    if _how(on) == _how(cut):
        return f"Both {_how(on)}: {_named(on, cut)}."
    return f"Switched on {_how(on)} ({on.named}), in cut {_how(cut)} ({cut.named})."


def _named(on: MeterRead, cut: MeterRead) -> str:
    return on.named if on.named == cut.named else f"{on.named}; {cut.named}"


def _how(meter: MeterRead) -> str:
    return {
        How.TIMER: "by its own timer",
        How.EVENTS: "by what it told of itself (availability, execution)",
        How.TABLE: "by readings that were written down, spread evenly between them",
    }[meter.how]


_NOTES: Final[Mapping[NoteKind, str]] = {
    NoteKind.OUT_OF_ORDER: "{0} stamps stand out of order; they were put in order.",
    NoteKind.METER_FELL: (
        "{0} fell by {at}: it was set back or exchanged; what it counted just before is left out."
    ),
    NoteKind.FASTER_THAN_TIME: "{0} grew by more than the time that passed, up to {at}.",
    NoteKind.READ_ONCE: "{0} was read only once; read it again later, and give both.",
    NoteKind.SEVERAL_METERS: "Several timers may be meant by {0}: {1}. Name one with --{0}.",
    NoteKind.NOT_LIKE_THIS: (
        "It told of an execution {0}, which the standard does not have; it counts as switched on."
    ),
    NoteKind.READ_TWICE: "Line {0} reads the same machine at the same moment again; it counts.",
    NoteKind.CUTS_MORE_THAN_ON: (
        "It was in cut for longer than switched on up to {at}: are the columns exchanged?"
    ),
    NoteKind.FILTERED: (
        "The documents have some data items alone; that nothing is missing between them is taken "
        "from the agent's buffer."
    ),
    NoteKind.SILENT: (
        "It told nothing but {0} for {1} h from {at} on; that is taken to have held as long as it "
        "was available."
    ),
}


def note_words(note: OddRead, zone: tzinfo | None) -> str:
    """Something odd about the readings of a machine, in a sentence."""
    details = [str(each) for each in note.details]
    at = ""
    match note.kind:
        case NoteKind.METER_FELL | NoteKind.FASTER_THAN_TIME | NoteKind.CUTS_MORE_THAN_ON:
            at = moment_text(int(details.pop()), zone)
        case NoteKind.SILENT:
            at = moment_text(int(details.pop(1)), zone)
        case NoteKind.SEVERAL_METERS:
            details = [details[0], listed(details[1:])]
        case _:
            pass
    return _NOTES[note.kind].format(*details, at=at)


def hours_bar(hours: ClockHours) -> str:
    """A machine's day as a bar of 24 signs; a day that is no whole one is shorter."""
    parts = {
        "cut": hours.cut,
        "on": max(0.0, hours.on - hours.cut),
        "unavailable": hours.unavailable,
        "off": hours.off,
        "gap": hours.gap,
    }
    bar, upto = "", 0.0
    for name, much in parts.items():
        upto += much
        bar += _SIGNS[name] * max(0, int(upto * _AN_HOUR + 0.5) - len(bar))
    return bar.rstrip()


def bar_families(sign: str) -> StateFamily:
    """What a sign of a bar stands for, as a family of states: unknown hours are waited for."""
    families: dict[str, StateFamily] = {_SIGNS["cut"]: "cutting", _SIGNS["on"]: "waiting"}
    return families.get(sign, "resting")


def day_texts(day: DayRead) -> tuple[str, str, str]:
    """A day's name, its bar in 24 cells, and its hours, all in 78 cells."""
    name = f"{DAY_NAMES[day.day.weekday()]} {day.day.isoformat()}"
    hours = day.hours
    told = f"  {rounded(hours.on):>5} on {rounded(hours.cut):>5} in cut"
    unknown = hours.unavailable + hours.gap
    told += f" {rounded(unknown):>5} unknown" if unknown >= _WORTH_A_WORD else ""
    return name, f"{hours_bar(hours):<24}", told


def share_text(hours: ClockHours) -> str:
    """In-cut share of the hours switched on: "38.2 %"; "–" where it was never on."""
    return f"{rounded(100 * hours.cut / hours.on)} %" if hours.on > 0 else "–"


def in_all_sentences(found: ToEnter) -> list[str]:
    """What the readings come to, and how sure that is."""
    machines = f"{found.machines} machine{'s' if found.machines > 1 else ''}"
    said = [
        f"Together {machines}: {rounded(found.on)} h switched on, {rounded(found.cut)} h of them "
        f"in cut ({rounded(100 * found.cut / found.on)} %), in {rounded(found.weeks, 2)} weeks."
    ]
    unknown = found.unavailable + found.gap
    between = found.share_range
    if unknown >= _WORTH_A_WORD and between is not None:
        low, high = (rounded(each) for each in between)
        said.append(
            f"Of {rounded(unknown)} h nobody knows: {rounded(found.unavailable)} h are UNAVAILABLE "
            f"and count as neither on nor off, {rounded(found.gap)} h are in no document. Whatever "
            f"they were, the share in cut is between {low} and {high} %."
        )
    return said


_WORTH_A_WORD: Final = 0.05
"""Hours below which they would be shown as 0.0."""


def nothing_to_enter(understood: Understood) -> str:
    """Why there are no hours to enter."""
    if not understood.metered:
        return "There is nothing to enter: of no machine both hours are known."
    if understood.period is None:
        return (
            "There is nothing to enter: the machines' readings have no time in common. Read all "
            "of them at the same two moments, or name some with --machine."
        )
    return "There is nothing to enter: no machine was switched on in this time."


def left_out_words(understood: Understood) -> str:
    """Machines that are not among the hours in all; "" where none is."""
    left = [each.name for each in understood.machines if each.period is None]
    return f"Left out of it: {listed(left)}." if left else ""
