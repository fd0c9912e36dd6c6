"""What was understood of readings: machine by machine, day by day, in all, and what to enter."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC
from typing import Any, Final

from whatif.readings.facts import MachineRead
from whatif.readings.stamps import local_time
from whatif.readings.understood import ClockHours, ToEnter, Understood
from whatif.reports.document import (
    AsItIs,
    Block,
    Column,
    Document,
    TextHeading,
    TextTable,
    lines_of,
    paragraph_of,
)
from whatif.telling.amounts import rounded
from whatif.telling.clock import DAY_NAMES
from whatif.telling.readings import (
    READ_LEGEND,
    hours_bar,
    in_all_sentences,
    left_out_words,
    machine_words_read,
    note_words,
    nothing_to_enter,
    period_words,
    share_text,
    zone_words,
)

_COLUMNS: Final = (
    Column("day", at_left=True),
    Column("0 h        12 h     24 h", at_left=True, width=24),
    Column("on", "h"),
    Column("in cut", "h"),
    Column("unknown", "h"),
    Column("gap", "h"),
)
_HEADS: Final = ("machine", "day", "switched_on", "in_cut", "unavailable", "gap", "hours_read")


def readings_report(
    understood: Understood, found: ToEnter | None, lines: Sequence[str], after: Sequence[str]
) -> Document:
    """A bar a day for each machine; ``lines`` are those of a study file that enter the hours, and
    ``after`` what is said below them."""
    blocks: list[Block] = [
        TextHeading(f"Readings of {', '.join(understood.sources)}"),
        paragraph_of(f"Days are told by {zone_words(understood)}. {READ_LEGEND}"),
    ]
    rows: list[Sequence[str]] = [_HEADS]
    for machine in understood.machines:
        blocks += _machine_blocks(understood, machine)
        rows += [
            (machine.name, day.day.isoformat(), *_numbers(day.hours))
            for day in understood.days(machine)
        ]
    blocks.append(TextHeading("In all", 2))
    if found is not None and understood.period is not None:
        texts = [period_words(understood, *understood.period), *in_all_sentences(found)]
    else:
        texts = [nothing_to_enter(understood)]
    left_out = left_out_words(understood)
    blocks.append(lines_of([*texts, *([left_out] if left_out else [])]))
    if lines:
        blocks += [TextHeading("To enter", 2), AsItIs([f"    {line}" for line in lines])]
    blocks += [paragraph_of(text) for text in after]
    return Document(blocks, _data(understood, found, lines), rows, width=79)


def _machine_blocks(understood: Understood, machine: MachineRead) -> list[Block]:
    texts = [machine_words_read(machine)]
    if machine.period is not None:
        texts.insert(0, period_words(understood, *machine.period))
    texts += [note_words(note, understood.zone) for note in machine.notes]
    days = understood.days(machine)
    rows = [
        [
            f"{DAY_NAMES[day.day.weekday()]} {day.day.isoformat()}",
            hours_bar(day.hours),
            *(rounded(each) for each in _shown(day.hours)),
        ]
        for day in days
    ]
    if machine.period is not None:
        hours = understood.within(machine, *machine.period)
        total = ["in all", f"{share_text(hours)} of the hours on"]
        rows.append([*total, *(rounded(each) for each in _shown(hours))])
    return [TextHeading(machine.name, 2), lines_of(texts), TextTable(_COLUMNS, rows)]


def _shown(hours: ClockHours) -> tuple[float, ...]:
    return hours.on, hours.cut, hours.unavailable, hours.gap


def _numbers(hours: ClockHours) -> tuple[str, ...]:
    return tuple(rounded(each, 3) for each in (*_shown(hours), hours.length))


def _data(understood: Understood, found: ToEnter | None, lines: Sequence[str]) -> dict[str, Any]:
    return {
        "sources": list(understood.sources),
        "machines": {
            machine.name: {
                **_period(machine.period),
                "found_by": machine_words_read(machine),
                "notes": [note_words(note, understood.zone) for note in machine.notes],
                "days": {
                    day.day.isoformat(): _hours(day.hours) for day in understood.days(machine)
                },
                "in_all": _hours(understood.within(machine, *machine.period))
                if machine.period
                else None,
            }
            for machine in understood.machines
        },
        "in_all": None
        if found is None
        else {
            **_period(understood.period),
            "machines": found.machines,
            "weeks": found.weeks,
            "switched_on": found.on,
            "in_cut": found.cut,
            "unavailable": found.unavailable,
            "gap": found.gap,
            "in_cut_percent": 100 * found.cut / found.on,
            "in_cut_percent_range": found.share_range,
        },
        "to_enter": list(lines),
    }


def _period(period: tuple[int, int] | None) -> dict[str, str | None]:
    if period is None:
        return {"begin": None, "end": None}
    begin, end = (f"{local_time(at, UTC):%Y-%m-%dT%H:%M:%SZ}" for at in period)
    return {"begin": begin, "end": end}


def _hours(hours: ClockHours) -> dict[str, float]:
    return {
        "switched_on": hours.on,
        "in_cut": hours.cut,
        "unavailable": hours.unavailable,
        "gap": hours.gap,
        "hours_read": hours.length,
    }
