"""A week of a scenario for reading outside the screen: lines of signs at 80 columns, and JSON."""

from __future__ import annotations

import json
from collections.abc import Callable
from textwrap import wrap
from typing import Any

from whatif.answers.week import (
    Band,
    ShiftBands,
    Spanning,
    Week,
)
from whatif.cell.model import DAY
from whatif.cell.watch import MachineWeek, PalletSpan, PersonWeek
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

COLUMNS = 80
SLICES = 48
"""Signs a day: one for each half hour."""

_HEAD = 10
_RULER = "".join(f"{hour:<6}" for hour in range(0, 24, 3))


def to_text(week: Week) -> str:
    """Per machine and day a line of signs, then the people, the shifts and the legend."""
    lines = wrap(f"{week.title}: week {week.number} of the {week.weeks} measured", COLUMNS)
    lines += wrap(luck_words(week), COLUMNS)
    lines += wrap(
        "One sign for each half hour of the day, of what took longest in it; hours of the clock "
        "stand above.",
        COLUMNS,
    )
    used: set[str] = set()
    for place, one in enumerate(week.machines):
        lines += ["", *_machine_lines(week, place, one, used)]
    if not week.machines:
        lines += ["", "There is no machine in this scenario; enter a machine's count."]
    lines += ["", _head("people", "at work")]
    for day, name in enumerate(DAY_NAMES):
        span = (day * DAY, (day + 1) * DAY)
        busy, duty = people_hours(week, *span)
        hours = f"{busy:.1f} of {duty:.1f} h" if duty else ""
        lines.append(_line(f"  {name}", people_signs(week, *span, SLICES), hours))
    lines += ["", *(line for one in week.shifts for line in wrap(_shift(one), COLUMNS))]
    if not week.shifts:
        lines.append("There is no shift with people in this scenario, so nothing is begun.")
    return "\n".join([*lines, "", *_legend(week, used)])


def _machine_lines(week: Week, place: int, one: MachineWeek, used: set[str]) -> list[str]:
    lines = [_head(machine_name(one), "in cycle")]
    for day, name in enumerate(DAY_NAMES):
        span = (day * DAY, (day + 1) * DAY)
        signs = machine_signs(week, place, *span, SLICES)
        used.update(signs)
        lines.append(_line(f"  {name}", signs, f"{cut_hours(week, place, *span):.1f} h"))
        if len(one.pallets) > 1:
            lines.append(_line("   loaded", loaded_signs(week, place, *span, SLICES), ""))
    return lines


def _head(name: str, right: str) -> str:
    """The hours of the clock, with the name before them where it is short enough."""
    if len(name) < _HEAD:
        return _line(name, _RULER, right)
    return f"{name}\n{_line('', _RULER, right)}"


def _line(head: str, signs: str, right: str) -> str:
    return f"{head:<{_HEAD}}{signs} {right}".rstrip()


def _shift(one: ShiftBands) -> str:
    people = "1 person" if one.people == 1 else f"{one.people} people"
    text = f"{one.shift}: {people}, {_bands(one.runs)}"
    return f"{text}; breaks {_bands(one.breaks)}" if one.breaks else text


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
    lines = ["Machines:"]
    lines += [f"  {sign}  {said}" for sign, said in MEANINGS.items() if sign in used]
    if any(len(one.pallets) > 1 for one in week.machines):
        lines.append(
            "  loaded: pallets with pieces to cut as the half hour begins (. none, * above 9)"
        )
    lines.append("People:")
    return lines + [f"  {sign:<3}  {said}" for sign, said in PEOPLE_MEANINGS.items()]


# -- JSON --------------------------------------------------------------------------------


def to_json(week: Week) -> str:
    """The whole week as one JSON object, times in seconds from Monday 00:00 of the week."""
    whole = {
        "format": 1,
        "scenario": week.scenario,
        "title": week.title,
        "week": week.number,
        "weeks": week.weeks,
        "seeded_runs": week.runs if week.stops else None,
        "machines": [_machine(one) for one in week.machines],
        "people": [_person(week, one) for one in week.persons],
        "shifts": [
            {
                "shift": one.shift,
                "people": one.people,
                "runs": [_times(band) for band in one.runs],
                "breaks": [_times(band) for band in one.breaks],
            }
            for one in week.shifts
        ],
        "hours": [
            {**_times(band), "mode": band.mode, "pieces_may_be_begun": band.begins}
            for band in week.hours
        ],
    }
    return json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False)


def _times(span: Spanning) -> dict[str, Any]:
    return {"from_second": span.since, "to_second": span.until}


def _machine(one: MachineWeek) -> dict[str, Any]:
    return {
        "machine": one.group,
        "number": one.number,
        "states": [{**_times(s), "state": s.state, "part": s.part} for s in one.states],
        "loaded": [{**_times(s), "pallets": s.pallets} for s in one.loaded],
        "pallets": [[_pallet(span) for span in spans] for spans in one.pallets],
    }


def _pallet(span: PalletSpan) -> dict[str, Any]:
    return {
        **_times(span),
        "does": span.does,
        "part": span.part,
        "pieces": span.pieces,
        "next_part": span.next_part,
        "next_pieces": span.next_pieces,
    }


def _person(week: Week, one: PersonWeek) -> dict[str, Any]:
    return {
        "person": person_name(one),
        "shift": one.shift,
        "number": one.number,
        "does": [
            {
                **_times(span),
                "does": span.does,
                "machine": None
                if span.machine is None
                else machine_name(week.machines[span.machine]),
                "pallet": span.pallet,
            }
            for span in one.does
        ],
    }


FORMATS: dict[str, Callable[[Week], str]] = {"text": to_text, "json": to_json}
"""What ``whatif week --format`` takes."""


# -- one moment --------------------------------------------------------------------------


def moment_to_text(week: Week, second: int) -> str:
    """What everything does at a second of the week, a line each."""
    lines = wrap(f"{week.title}: week {week.number}, {clock_text(second)}", COLUMNS)
    lines += wrap(luck_words(week), COLUMNS)
    for place, one in enumerate(week.machines):
        lines += _item(machine_words(week, place, second), 2)
        for pallet in range(1, len(one.pallets) + 1):
            lines += _item(pallet_words(week, place, pallet, second), 4)
    for place in range(len(week.persons)):
        lines += _item(person_words(week, place, second), 2)
    return "\n".join(lines)


def _item(text: str, indent: int) -> list[str]:
    return wrap(text, COLUMNS, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2))


def moment_to_json(week: Week, second: int) -> str:
    """The same in words, as one JSON object."""
    whole = {
        "format": 1,
        "scenario": week.scenario,
        "week": week.number,
        "second": second,
        "in_words": moment_words(week, second),
        "machines": [
            {
                "in_words": machine_words(week, place, second),
                "pallets": [
                    pallet_words(week, place, pallet, second)
                    for pallet in range(1, len(one.pallets) + 1)
                ],
            }
            for place, one in enumerate(week.machines)
        ],
        "people": [person_words(week, place, second) for place in range(len(week.persons))],
    }
    return json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False)


MOMENT_FORMATS: dict[str, Callable[[Week, int], str]] = {
    "text": moment_to_text,
    "json": moment_to_json,
}
"""What it takes together with ``--at``."""
