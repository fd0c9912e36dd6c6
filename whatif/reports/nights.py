"""The nights of a study for reading: plain text, Markdown, CSV, JSON. All say the same."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from whatif.answers.night.night import GroupNight, Nights, NightsAfter, Spread
from whatif.answers.night.of_study import ScenarioNights, StudyNights
from whatif.answers.night.pallets import Fewest
from whatif.reports.as_json import dumped
from whatif.reports.cells import cells, left, right
from whatif.reports.sheets import escaped
from whatif.study.schema.kinds import DAYS
from whatif.telling.cautions import caution_text
from whatif.telling.clock import DAY_NAMES
from whatif.telling.night import (
    begins,
    next_shift,
    night_in_words,
    night_label,
    opening,
    pallets_in_words,
    stops_at,
    stops_earliest,
)

_WIDTH = 79

_HEADS = (
    ("after", ""),
    ("in cycle", "h"),
    ("worst", "h"),
    ("stands from", ""),
    ("runs on", "%"),
    ("waiting", "pieces"),
    ("visits", "min"),
    ("done in", "h"),
)
"""Of the table of nights by weekday: what, and its unit. Means, but for the worst.

"Stands from": all machines; "runs on": all, till the next shift; "done in": the visits that are
asked for when it starts.
"""


def _row(one: NightsAfter) -> list[str]:
    clearing = one.morning.clearing
    return [
        f"{'+'.join(DAY_NAMES[day] for day in one.days)} {'+'.join(one.shifts)}",
        f"{one.hours.mean:.1f}",
        f"{one.hours.least:.1f}",
        stops_at(one) if one.hours.most and one.all_last < 100 else "-",
        f"{one.all_last:.0f}",
        f"{one.morning.pieces.mean:.1f}",
        f"{one.morning.minutes.mean:.0f}",
        f"{clearing.mean:.1f}" if clearing and not one.morning.not_cleared else "-",
    ]


def _pallets_head(nights: Nights) -> str:
    aside = ", stops left aside" if nights.stops else ""
    return f"Fewest pallets that last till the next shift{aside}"


def _empty(one: ScenarioNights) -> str:
    """What is said of a scenario without nights; nothing where it has some."""
    if one.nights is None:
        return "There are no parts, so nothing runs."
    return "" if one.nights.after else opening(one.nights)


def to_text(found: StudyNights) -> str:
    """By scenario a table and sentences, no wider than 79 columns where titles allow."""
    lines = [found.title, "The nights: from a shift's end until the next shift starts"]
    for one in found.scenarios.values():
        lines += ["", one.title]
        if text := _empty(one):
            lines += _wrapped(text)
            continue
        assert one.nights is not None
        lines += [*_wrapped(opening(one.nights)), "", *_table(one.nights)]
        for like in one.nights.alike:
            lines += ["", *_wrapped(night_in_words(like, one.nights))]
        if one.fewest:
            lines += ["", f"  {_pallets_head(one.nights)}"]
            for text in pallets_in_words(one.fewest):
                lines += _wrapped(text, "  - ")
    for caution, titles in _cautions(found):
        lines += ["", *_wrapped(f"Caution for {', '.join(titles)}: {caution}", "")]
    return "\n".join(lines)


def _wrapped(text: str, first: str = "  ") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=" " * len(first))


def _table(nights: Nights) -> list[str]:
    table = [[head for head, _ in _HEADS], [unit for _, unit in _HEADS]]
    table += [_row(one) for one in nights.after]
    widths = [max(cells(line[i]) for line in table) for i in range(len(_HEADS))]
    return [
        "  "
        + "  ".join(
            left(text, width) if i == 0 else right(text, width)
            for i, (text, width) in enumerate(zip(line, widths, strict=True))
        ).rstrip()
        for line in table
    ]


def _cautions(found: StudyNights) -> list[tuple[str, list[str]]]:
    """Each caution once, with the titles of the scenarios that call for it."""
    by_text: dict[str, list[str]] = {}
    for one in found.scenarios.values():
        for caution in one.cautions:
            by_text.setdefault(caution_text(caution), []).append(one.title)
    return list(by_text.items())


def to_markdown(found: StudyNights) -> str:
    """The same as a Markdown document."""
    lines = [f"# {escaped(found.title)}", "", "From a shift's end until the next shift starts."]
    for one in found.scenarios.values():
        lines += ["", f"## {escaped(one.title)}", ""]
        if text := _empty(one):
            lines.append(text)
            continue
        assert one.nights is not None
        lines += [escaped(opening(one.nights)), ""]
        heads = [f"{head}, {unit}" if unit else head for head, unit in _HEADS]
        lines += ["| " + " | ".join(heads) + " |", "| --- |" + " ---: |" * (len(heads) - 1)]
        lines += ["| " + " | ".join(map(escaped, _row(night))) + " |" for night in one.nights.after]
        for like in one.nights.alike:
            lines += ["", escaped(night_in_words(like, one.nights))]
        if one.fewest:
            lines += ["", f"### {_pallets_head(one.nights)}", ""]
            lines += [f"- {escaped(text)}" for text in pallets_in_words(one.fewest)]
    for caution, titles in _cautions(found):
        lines += ["", f"**Caution** for {escaped(', '.join(titles))}: {escaped(caution)}"]
    return "\n".join(lines)


def to_csv(found: StudyNights) -> str:
    """One row a figure or sentence (RFC 4180): scenario, night, what, unit, text."""
    out = io.StringIO()
    write = csv.writer(out)
    write.writerow(["scenario", "night", "figure", "unit", "value"])
    for one in found.scenarios.values():
        if text := _empty(one):
            write.writerow([one.title, "", "in words", "", text])
        if one.nights is not None:
            for night in one.nights.after:
                for (head, unit), text in list(zip(_HEADS, _row(night), strict=True))[1:]:
                    write.writerow([one.title, night_label(night), head, unit, text])
            for like in one.nights.alike:
                words = night_in_words(like, one.nights)
                write.writerow([one.title, night_label(like), "in words", "", words])
        for some in one.fewest:
            write.writerow(
                [
                    one.title,
                    night_label(some),
                    "fewest pallets",
                    some.group,
                    *pallets_in_words([some]),
                ]
            )
        for caution in one.cautions:
            write.writerow([one.title, "", "caution", "", caution_text(caution)])
    return out.getvalue().rstrip("\r\n")


def to_json(found: StudyNights) -> str:
    """One object: scenarios by id, nights by weekday and like ones together."""
    whole = {
        "format": 1,
        "title": found.title,
        "scenarios": {
            id_: {
                "title": one.title,
                "nights": None if one.nights is None else _nights(one.nights, one.fewest),
                "cautions": [caution_text(caution) for caution in one.cautions],
            }
            for id_, one in found.scenarios.items()
        },
    }
    return dumped(whole)


def _nights(nights: Nights, pallets: tuple[Fewest, ...]) -> dict[str, Any]:
    return {
        "weeks": nights.weeks,
        "runs": nights.runs,
        "begun_after_shift_hours": nights.after_shift,
        "by_weekday": [_night(one, nights) for one in nights.after],
        "alike": [_night(one, nights) for one in nights.alike],
        "fewest_pallets": [_fewest(one) for one in pallets],
    }


def _night(one: NightsAfter, nights: Nights) -> dict[str, Any]:
    morning = one.morning
    return {
        "after": night_label(one),
        "shifts": list(one.shifts),
        "days": [DAYS[day] for day in one.days],
        "begins": begins(one),
        "next_shift": next_shift(one),
        "hours_until_next_shift": one.length,
        "nights_seen": one.seen,
        "spindle_hours": _low_is_worst(one.hours),
        "last_spindle_stops_after_hours": _low_is_worst(one.turning),
        "last_spindle_stops_at": {"mean": stops_at(one), "worst": stops_earliest(one)},
        "all_last_percent": one.all_last,
        "some_last_percent": one.some_last,
        "machines": {group.group: _group(group) for group in one.groups},
        "morning": {
            "pieces_waiting": _high_is_worst(morning.pieces),
            "visits": _high_is_worst(morning.visits),
            "visit_minutes": _high_is_worst(morning.minutes),
            "clearing_hours": None
            if morning.clearing is None
            else _high_is_worst(morning.clearing),
            "not_cleared_percent": morning.not_cleared,
        },
        "in_words": night_in_words(one, nights),
    }


def _group(group: GroupNight) -> dict[str, Any]:
    return {
        "count": group.count,
        "pallets": group.pallets,
        "spindle_hours": _low_is_worst(group.hours),
        "lasting_percent": group.lasting,
        "ended_by_percent": {end: share for end, share in group.ends.items() if end != "runs"},
        "pallets_loaded_at_shift_end": group.loaded,
        "pallets_resting_at_shift_end": group.resting,
    }


def _fewest(one: Fewest) -> dict[str, Any]:
    told = asdict(one)
    told["shifts"] = night_label(one)
    told["days"] = [DAYS[day] for day in one.days]
    names = {
        "group": "machine",
        "shifts": "after",
        "now": "pallets_now",
        "begun_for": "begun_after_shift_hours",
        "length": "hours_until_next_shift",
        "at_least": "longest_loads_would_take",
        "loaded": "pallets_loaded_at_shift_end",
        "ends": "ended_by",
    }
    return {
        **{names.get(key, key): value for key, value in told.items()},
        "in_words": pallets_in_words([one])[0],
    }


def _low_is_worst(spread: Spread) -> dict[str, float]:
    return {"mean": spread.mean, "worst": spread.least, "best": spread.most}


def _high_is_worst(spread: Spread) -> dict[str, float]:
    return {"mean": spread.mean, "worst": spread.most, "best": spread.least}


FORMATS: dict[str, Callable[[StudyNights], str]] = {
    "text": to_text,
    "markdown": to_markdown,
    "csv": to_csv,
    "json": to_json,
}
"""What ``whatif night --format`` takes."""
