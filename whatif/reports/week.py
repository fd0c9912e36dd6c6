"""A week of a scenario in lines of signs, and one moment of it in words."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any, Final

from whatif.answers.week import Band, ShiftBands, Week
from whatif.cell.model import DAY
from whatif.cell.watch import LoadedSpan, MachineSpan, MachineWeek, PalletSpan, PersonSpan
from whatif.reports.document import (
    AsItIs,
    Block,
    Document,
    TextLine,
    TextLines,
    lines_of,
    paragraph_of,
)
from whatif.telling.amounts import rounded
from whatif.telling.clock import DAY_NAMES, clock_text, end_text, hour_text
from whatif.telling.week.signs import (
    MEANINGS,
    PEOPLE_MEANINGS,
    cut_hours,
    loaded_signs,
    machine_signs,
    people_hours,
    people_signs,
)
from whatif.telling.week.words import (
    luck_words,
    machine_name,
    machine_words,
    moment_words,
    pallet_words,
    person_name,
    person_words,
)

_SLICES: Final = 48
"""Signs a day: one for each half hour."""

_HEAD: Final = 10
_RULER: Final = "".join(f"{hour:<6}" for hour in range(0, 24, 3))
_HOW_TO_READ: Final = (
    "One sign for each half hour of the day, of what took longest in it; hours of the clock stand "
    "above."
)


def week_report(week: Week) -> Document:
    """Per machine and day a line of signs, then the people, the shifts and the legend.

    In JSON times are seconds from Monday 00:00 of the week; ``weeks`` is null where it has not been
    found how many are measured.
    """
    weeks = f"{week.weeks} or more" if week.may_be_more else f"{week.weeks}"
    title = f"{week.title}: week {week.number} of the {weeks} measured"
    intro = (title, luck_words(week), _HOW_TO_READ)
    used: set[str] = set()
    blocks: list[Block] = [lines_of(intro, rest="")]
    for place, machine in enumerate(week.machines):
        blocks.append(AsItIs(_machine_rows(week, place, machine, used)))
    if not week.machines:
        blocks.append(
            paragraph_of("There is no machine in this scenario; enter a machine's count.")
        )
    shifts = [_shift(shift) for shift in week.shifts]
    if not shifts:
        shifts.append("There is no shift with people in this scenario, so nothing is begun.")
    blocks += [
        AsItIs(_people_rows(week)),
        lines_of(shifts, rest=""),
        AsItIs(_legend(week, used)),
    ]
    return Document(blocks, _week_data(week), indent=1)


def _machine_rows(week: Week, place: int, machine: MachineWeek, used: set[str]) -> list[str]:
    rows = _head(machine_name(machine), "in cycle")
    for day, name in enumerate(DAY_NAMES):
        span = (day * DAY, (day + 1) * DAY)
        signs = machine_signs(week, place, *span, _SLICES)
        used.update(signs)
        rows.append(_signs_row(f"  {name}", signs, f"{rounded(cut_hours(week, place, *span))} h"))
        if len(machine.pallets) > 1:
            rows.append(_signs_row("   loaded", loaded_signs(week, place, *span, _SLICES), ""))
    return rows


def _people_rows(week: Week) -> list[str]:
    rows = _head("people", "at work")
    for day, name in enumerate(DAY_NAMES):
        span = (day * DAY, (day + 1) * DAY)
        busy, duty = people_hours(week, *span)
        hours = f"{rounded(busy)} of {rounded(duty)} h" if duty else ""
        rows.append(_signs_row(f"  {name}", people_signs(week, *span, _SLICES), hours))
    return rows


def _head(name: str, right: str) -> list[str]:
    """The hours of the clock, with the name before them where it is short enough."""
    if len(name) < _HEAD:
        return [_signs_row(name, _RULER, right)]
    return [name, _signs_row("", _RULER, right)]


def _signs_row(head: str, signs: str, right: str) -> str:
    return f"{head:<{_HEAD}}{signs} {right}".rstrip()


def _shift(shift: ShiftBands) -> str:
    people = "1 person" if shift.people == 1 else f"{shift.people} people"
    text = f"{shift.shift}: {people}, {_bands(shift.runs)}"
    return f"{text}; breaks {_bands(shift.breaks)}" if shift.breaks else text


def _bands(bands: tuple[Band, ...]) -> str:
    """ "Mon-Fri 09:00-09:15 and 12:00-12:30": days with the same hours together."""
    days: dict[str, list[int]] = {}
    for band in bands:
        hours_text = f"{hour_text(band.since)}-{end_text(band.until)}"
        days.setdefault(hours_text, []).append(band.since // DAY)
    hours: dict[str, list[str]] = {}
    for clock, on in days.items():
        hours.setdefault(_days(on), []).append(clock)
    return ", ".join(f"{on} {' and '.join(clocks)}" for on, clocks in hours.items())


def _days(days: list[int]) -> str:
    """ "Mon-Fri" for three days in a row and more, else their names."""
    names = [DAY_NAMES[day] for day in days]
    if len(days) > 2 and days == list(range(days[0], days[0] + len(days))):
        return f"{names[0]}-{names[-1]}"
    return " ".join(names)


def _legend(week: Week, used: set[str]) -> list[str]:
    rows = ["Machines:"]
    rows += [f"  {sign}  {said}" for sign, said in MEANINGS.items() if sign in used]
    if any(len(machine.pallets) > 1 for machine in week.machines):
        rows.append(
            "  loaded: pallets with pieces to cut as the half hour begins (. none, * above 9)"
        )
    rows.append("People:")
    return rows + [f"  {sign:<3}  {said}" for sign, said in PEOPLE_MEANINGS.items()]


def moment_report(week: Week, second: int) -> Document:
    """What everything does at a second of the week, a line each."""
    title = f"{week.title}: week {week.number}, {clock_text(second)}"
    lines = [TextLine(text, rest="") for text in (title, luck_words(week))]
    machines: list[dict[str, Any]] = []
    for place, machine in enumerate(week.machines):
        words = machine_words(week, place, second)
        numbers = range(1, len(machine.pallets) + 1)
        pallets = [pallet_words(week, place, number, second) for number in numbers]
        machines.append({"in_words": words, "pallets": pallets})
        lines.append(TextLine(words, " " * 2, " " * 4))
        lines += [TextLine(text, " " * 4, " " * 6) for text in pallets]
    people = [person_words(week, place, second) for place in range(len(week.persons))]
    lines += [TextLine(text, " " * 2, " " * 4) for text in people]
    data = {
        "scenario": week.scenario,
        "week": week.number,
        "second": second,
        "in_words": moment_words(week, second),
        "machines": machines,
        "people": people,
    }
    return Document([TextLines(lines)], data, indent=1)


# -- plain values --------------------------------------------------------------------------


def _week_data(week: Week) -> dict[str, Any]:
    return {
        "scenario": week.scenario,
        "title": week.title,
        "week": week.number,
        "weeks": None if week.may_be_more else week.weeks,
        "seeded_runs": week.runs if week.stops else None,
        "machines": [
            {
                "machine": machine.group,
                "number": machine.number,
                "states": [_span(span) for span in machine.states],
                "loaded": [_span(span) for span in machine.loaded],
                "pallets": [[_span(span) for span in spans] for spans in machine.pallets],
            }
            for machine in week.machines
        ],
        "people": [
            {
                "person": person_name(person),
                "shift": person.shift,
                "number": person.number,
                "does": [_span(span) | {"machine": _at(week, span)} for span in person.does],
            }
            for person in week.persons
        ],
        "shifts": [
            {
                "shift": shift.shift,
                "people": shift.people,
                "runs": [_span(band) for band in shift.runs],
                "breaks": [_span(band) for band in shift.breaks],
            }
            for shift in week.shifts
        ],
        "hours": [
            _span(Band(band.since, band.until))
            | {"mode": band.mode, "pieces_may_be_begun": band.begins}
            for band in week.hours
        ],
    }


def _span(span: MachineSpan | LoadedSpan | PalletSpan | PersonSpan | Band) -> dict[str, Any]:
    """A stretch of the week with all that is known of it."""
    told = asdict(span)
    return {"from_second": told.pop("since"), "to_second": told.pop("until"), **told}


def _at(week: Week, span: PersonSpan) -> str | None:
    return None if span.machine is None else machine_name(week.machines[span.machine])
