"""How long the spindles go on after each shift, what ends it, what waits in the morning."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any, Final

from whatif.answers.night.night import GroupNight, Nights, NightsAfter, Spread
from whatif.answers.night.of_study import ScenarioNights, StudyNights
from whatif.answers.night.pallets import Fewest
from whatif.reports.document import (
    Block,
    Column,
    Document,
    Either,
    TextHeading,
    TextTable,
    cautions_for,
    lines_of,
    paragraph_of,
)
from whatif.study.schema.kinds import DAYS
from whatif.telling.amounts import NOTHING, rounded
from whatif.telling.cautions import caution_text
from whatif.telling.clock import DAY_NAMES
from whatif.telling.night import (
    by_clock,
    night_in_words,
    night_label,
    opening,
    pallets_in_words,
)

_COLUMNS: Final = (
    Column("after", at_left=True),
    Column("in cycle", "h"),
    Column("worst", "h"),
    Column("stands from"),
    Column("runs on", "%"),
    Column("waiting", "pieces"),
    Column("work", "min"),
    Column("done in", "h"),
)
"""Of the table of nights by weekday. Means, but for the worst.

"Stands from": all machines; "runs on": all, till the next shift; "work": of
people, at the machines, that is asked for when it starts; "done in": until that is done.
"""


def nights_report(found: StudyNights) -> Document:
    """By scenario a table of its nights, sentences and how many pallets last."""
    since = "from a shift's end until the next shift starts"
    blocks: list[Block | Either] = [
        TextHeading(found.title),
        Either([paragraph_of(f"The nights: {since}")], [paragraph_of(f"F{since[1:]}.")]),
    ]
    rows = [("scenario", "night", "figure", "unit", "value")]
    for scenario in found.scenarios.values():
        blocks += _blocks(scenario)
        rows += ((scenario.title, *row) for row in _csv_rows(scenario))
    blocks += cautions_for((each.title, _cautions(each)) for each in found.scenarios.values())
    scenarios = {
        id_: {
            "title": scenario.title,
            "nights": scenario.nights and _nights(scenario.nights, scenario.fewest),
            "cautions": _cautions(scenario),
        }
        for id_, scenario in found.scenarios.items()
    }
    return Document(blocks, {"title": found.title, "scenarios": scenarios}, rows, width=79)


def _blocks(scenario: ScenarioNights) -> list[Block]:
    nights = scenario.nights
    title = TextHeading(scenario.title, 2)
    if nights is None or not nights.after:
        return [title, paragraph_of(_empty(scenario), "  ")]
    words = [paragraph_of(night_in_words(night, nights), "  ") for night in nights.alike]
    table = TextTable(_COLUMNS, [_row(night) for night in nights.after], indent=2)
    blocks: list[Block] = [title, paragraph_of(opening(nights), "  "), table, *words]
    if scenario.fewest:
        aside = ", stops left aside" if nights.stops else ""
        blocks.append(TextHeading(f"Fewest pallets that last till the next shift{aside}", 3))
        blocks.append(lines_of(pallets_in_words(scenario.fewest), "  - ", "    "))
    return blocks


def _empty(scenario: ScenarioNights) -> str:
    """What is said of a scenario without nights; "" where it has some."""
    if scenario.nights is None:
        return "There are no parts, so nothing runs."
    return "" if scenario.nights.after else opening(scenario.nights)


def _row(night: NightsAfter) -> list[str]:
    clearing = night.morning.clearing
    stops = night.hours.most and night.all_last < 100
    return [
        f"{'+'.join(DAY_NAMES[day] for day in night.days)} {'+'.join(night.shifts)}",
        rounded(night.hours.mean),
        rounded(night.hours.least),
        by_clock(night, night.turning.mean) if stops else NOTHING,
        rounded(night.all_last, 0),
        rounded(night.morning.pieces.mean),
        rounded(night.morning.minutes.mean, 0),
        rounded(clearing.mean) if clearing and not night.morning.not_cleared else NOTHING,
    ]


def _cautions(scenario: ScenarioNights) -> list[str]:
    return [caution_text(caution) for caution in scenario.cautions]


def _csv_rows(scenario: ScenarioNights) -> list[tuple[str, str, str, str]]:
    """A row for each figure and each sentence: the night, what it is, its unit, the text."""
    nights = scenario.nights
    empty = _empty(scenario)
    rows = [("", "in words", "", empty)] if empty else []
    if nights is not None:
        for night in nights.after:
            figures = list(zip(_COLUMNS, _row(night), strict=True))[1:]
            rows += [(night_label(night), of.head, of.unit, text) for of, text in figures]
        rows += [
            (night_label(night), "in words", "", night_in_words(night, nights))
            for night in nights.alike
        ]
    rows += [
        (night_label(fewest), "fewest pallets", fewest.group, " ".join(pallets_in_words([fewest])))
        for fewest in scenario.fewest
    ]
    return rows + [("", "caution", "", text) for text in _cautions(scenario)]


# -- plain values --------------------------------------------------------------------------


def _nights(nights: Nights, fewest: tuple[Fewest, ...]) -> dict[str, Any]:
    """Nights by weekday, and like ones together."""
    return {
        "weeks": nights.weeks,
        "runs": nights.runs,
        "begun_after_shift_hours": nights.after_shift,
        "by_weekday": [_night(night, nights) for night in nights.after],
        "alike": [_night(night, nights) for night in nights.alike],
        "fewest_pallets": [_fewest(each) for each in fewest],
    }


def _night(night: NightsAfter, nights: Nights) -> dict[str, Any]:
    morning = night.morning
    return {
        "after": night_label(night),
        "shifts": night.shifts,
        "days": [DAYS[day] for day in night.days],
        "begins": by_clock(night, 0),
        "next_shift": by_clock(night, night.length),
        "hours_until_next_shift": night.length,
        "nights_seen": night.seen,
        "spindle_hours": _low_is_worst(night.hours),
        "last_spindle_stops_after_hours": _low_is_worst(night.turning),
        "last_spindle_stops_at": {
            "mean": by_clock(night, night.turning.mean),
            "worst": by_clock(night, night.turning.least),
        },
        "all_last_percent": night.all_last,
        "some_last_percent": night.some_last,
        "machines": {group.group: _group(group) for group in night.groups},
        "morning": {
            "pieces_waiting": _high_is_worst(morning.pieces),
            "visits": _high_is_worst(morning.visits),
            "visit_minutes": _high_is_worst(morning.minutes),
            "clearing_hours": morning.clearing and _high_is_worst(morning.clearing),
            "not_cleared_percent": morning.not_cleared,
        },
        "in_words": night_in_words(night, nights),
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


FEWEST_NAMES: Final = {
    "group": "machine",
    "shifts": "after",
    "now": "pallets_now",
    "begun_for": "begun_after_shift_hours",
    "length": "hours_until_next_shift",
    "at_least": "longest_loads_would_take",
    "loaded": "pallets_loaded_at_shift_end",
    "ends": "ended_by",
}
"""What fields of `Fewest` are called for readers, where they have another name there."""


NOT_TOLD: Final = ("begins", "filling", "usual")
"""Fields of `Fewest` that no hour after the shift says, that the desk alone asks for, and that
stand in the words."""


def _fewest(fewest: Fewest) -> dict[str, Any]:
    told = {key: value for key, value in asdict(fewest).items() if key not in NOT_TOLD}
    told["shifts"] = night_label(fewest)
    told["days"] = [DAYS[day] for day in fewest.days]
    named = {FEWEST_NAMES.get(key, key): value for key, value in told.items()}
    return {**named, "in_words": pallets_in_words([fewest])[0]}


def _low_is_worst(spread: Spread) -> dict[str, float]:
    return {"mean": spread.mean, "worst": spread.least, "best": spread.most}


def _high_is_worst(spread: Spread) -> dict[str, float]:
    return {"mean": spread.mean, "worst": spread.most, "best": spread.least}
