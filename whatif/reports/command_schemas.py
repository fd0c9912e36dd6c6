"""The forms of what the commands print with ``--format json`` as JSON Schema (2020-12)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, get_args

from whatif.answers.gains import Gains
from whatif.answers.moves.break_even import Target
from whatif.answers.moves.trial import AskedAbout, Outcome
from whatif.answers.night.night import GroupNight, Nights, NightsAfter
from whatif.answers.night.pallets import Fewest
from whatif.answers.search.measure import Brought
from whatif.cell.watch import PalletDoes, PersonDoes
from whatif.reports.asked import ASKED
from whatif.reports.json_form import (
    COUNT,
    NUMBER,
    TEXT,
    TEXTS,
    YES_OR_NO,
    Schema,
    by_id,
    document_form,
    fields_of,
    list_of,
    object_of,
    or_null,
)
from whatif.reports.nights import FEWEST_NAMES, NOT_TOLD
from whatif.reports.results_schema import comparison_schema, money_form

_RANGE: Final = or_null(list_of(NUMBER, 3))
"""The low end of a likely range, its middle, its high end."""

_LIKE_ANY: Final[Schema] = {}
"""A value of a study as it stands there."""


# -- what moves a scenario, and the best next step -----------------------------------------


def _value() -> dict[str, Schema]:
    return {"value": TEXT, "number": NUMBER, "unit": TEXT}


def _asked() -> dict[str, Schema]:
    return fields_of(AskedAbout, *ASKED)


def _input() -> Schema:
    value = or_null(object_of(_value()))
    named = {"key": TEXT, "label": TEXT, "now": value, "now_text": TEXT}
    return object_of({**named, "origin": TEXT, "moved": TEXT})


def _outcome() -> dict[str, Schema]:
    found = fields_of(Outcome, "saleable", "spindle_hours", "pieces", "demand_met", "least_met")
    return {
        "problem": TEXT,
        "gain_percent": object_of(fields_of(Gains)),
        "likely_percent": _RANGE,
        "output_over_reference_now_percent": or_null(NUMBER),
        "likely_output_over_reference_now_percent": _RANGE,
        "saleable_output": found["saleable"],
        "spindle_hours": found["spindle_hours"],
        "pieces": found["pieces"],
        "demand_met_percent": found["demand_met"],
        "least_demand_met_percent": found["least_met"],
        "money": or_null(money_form()),
        "rests_on": TEXTS,
        "said_hours_per_day": or_null(NUMBER),
    }


def _vary() -> Schema:
    value, outcome = object_of(_value()), object_of(_outcome())
    curve = {
        "input": _input(),
        "points": list_of(object_of({**_value(), **_outcome()})),
        "stops_paying_at": or_null(value),
        "still_better_by_percent": or_null(NUMBER),
        "demand_met_at": or_null(value),
        "sentences": TEXTS,
    }
    grid = {
        "down": _input(),
        "across": _input(),
        "values_down": list_of(value),
        "values_across": list_of(value),
        "rows": list_of(list_of(outcome)),
        "sentences": TEXTS,
    }
    return document_form("a scenario for each value of an input", _asked() | curve, _asked() | grid)


def _sensitivity() -> Schema:
    side = object_of(
        {
            **_value(),
            "problem": TEXT,
            "change_percent": or_null(NUMBER),
            "likely_percent": _RANGE,
            "is_difference": or_null(YES_OR_NO),
        }
    )
    effect = object_of(
        {
            "key": TEXT,
            "label": TEXT,
            "now": or_null(object_of(_value())),
            "moved": TEXT,
            "moved_by": TEXT,
            "origin": TEXT,
            "assumed": YES_OR_NO,
            "largest_change_percent": or_null(NUMBER),
            "less": or_null(side),
            "more": or_null(side),
        }
    )
    found = {"inputs": list_of(effect), "sentences": TEXTS}
    return document_form("inputs by what they do to the gain", _asked() | found)


def _break_even() -> Schema:
    value = object_of(_value())
    crossing = object_of(
        {
            "reached_at": value,
            "not_at": value,
            "reached_by": {"enum": ["more", "less"]},
            "margin": NUMBER,
            "clear_below": or_null(value),
            "clear_above": or_null(value),
            "places": COUNT,
            "is_clear": YES_OR_NO,
        }
    )
    found = {
        "input": _input(),
        "target": object_of({**fields_of(Target), "unit": TEXT}),
        "from": value,
        "to": value,
        "reached": {"enum": ["in part", "always", "never"]},
        "nearest": or_null(value),
        "in_doubt": or_null(value),
        "crossings": list_of(crossing),
        "values_tried": COUNT,
        "sentences": TEXTS,
    }
    return document_form("where a target is reached", _asked() | found)


def _search() -> Schema:
    brought = fields_of(Brought)
    entry = object_of(
        {
            "levers": list_of(object_of({"id": TEXT, "value": TEXT, "words": TEXT})),
            "gain_percent": brought["gain"],
            "likely_percent": _RANGE,
            "saleable_output": brought["saleable"],
            "least_demand_met_percent": brought["least_met"],
            "orders_on_time_percent": brought["on_time"],
            "once": NUMBER,
            "yearly": NUMBER,
            "people_hours": NUMBER,
            "year_gain": brought["year_gain"],
            "payback_years": or_null(NUMBER),
            "reaches_goal": YES_OR_NO,
            "not_priced": TEXTS,
            "is_clear": YES_OR_NO,
            "rests_on": TEXTS,
        }
    )
    lever = object_of(
        {
            "id": TEXT,
            "key": TEXT,
            "values": TEXTS,
            "also": by_id(TEXT),
            "price": NUMBER,
            "price_each": NUMBER,
            "yearly": NUMBER,
            "assumed": YES_OR_NO,
            "priced": YES_OR_NO,
        }
    )
    goals = {"enum": ["demand", "orders", "gain", "payback", "sum", "most"]}
    found = {
        "goal": object_of({"aim": goals, "amount": NUMBER}),
        **dict.fromkeys(("seed", "most_levers", "tried", "possible", "in_full"), COUNT),
        "proved": YES_OR_NO,
        "short_weeks": COUNT,
        "start": entry,
        "front": list_of(entry),
        "levers": list_of(lever),
        "sentences": TEXTS,
    }
    return document_form("the best next step", _asked() | found)


# -- nights and weeks ----------------------------------------------------------------------


def _night() -> Schema:
    spread = object_of({"mean": NUMBER, "worst": NUMBER, "best": NUMBER})
    of, group_of = fields_of(NightsAfter), fields_of(GroupNight)
    group = {
        "count": group_of["count"],
        "pallets": group_of["pallets"],
        "spindle_hours": spread,
        "lasting_percent": group_of["lasting"],
        "ended_by_percent": by_id(NUMBER),
        "pallets_loaded_at_shift_end": group_of["loaded"],
        "pallets_resting_at_shift_end": group_of["resting"],
    }
    morning = {
        "pieces_waiting": spread,
        "visits": spread,
        "visit_minutes": spread,
        "clearing_hours": or_null(spread),
        "not_cleared_percent": or_null(NUMBER),
    }
    night = object_of(
        {
            "after": TEXT,
            "shifts": of["shifts"],
            "days": TEXTS,
            "begins": TEXT,
            "next_shift": TEXT,
            "hours_until_next_shift": NUMBER,
            "nights_seen": COUNT,
            "spindle_hours": spread,
            "last_spindle_stops_after_hours": spread,
            "last_spindle_stops_at": object_of({"mean": TEXT, "worst": TEXT}),
            "all_last_percent": of["all_last"],
            "some_last_percent": of["some_last"],
            "machines": by_id(object_of(group)),
            "morning": object_of(morning),
            "in_words": TEXT,
        }
    )
    nights = {
        "weeks": COUNT,
        "runs": COUNT,
        "begun_after_shift_hours": fields_of(Nights, "after_shift")["after_shift"],
        "by_weekday": list_of(night),
        "alike": list_of(night),
        "fewest_pallets": list_of(_fewest()),
    }
    scenario = {"title": TEXT, "nights": or_null(object_of(nights)), "cautions": TEXTS}
    found = {"title": TEXT, "scenarios": by_id(object_of(scenario))}
    return document_form("how long spindles go on after each shift", found)


def _fewest() -> Schema:
    names = [name for name in Fewest.__dataclass_fields__ if name not in NOT_TOLD]
    told = {FEWEST_NAMES.get(key, key): of for key, of in fields_of(Fewest, *names).items()}
    return object_of({**told, "after": TEXT, "days": TEXTS, "in_words": TEXT})


def _span(**of: Schema) -> Schema:
    """From a second of the week to another.

    Said field by field, as a compiled cell does not know the types of its records' fields.
    """
    return object_of({"from_second": COUNT, "to_second": COUNT, **of})


def _pallet_span() -> Schema:
    part, next_part = or_null(TEXT), or_null(TEXT)
    on_it: dict[str, Schema] = {"does": {"enum": list(get_args(PalletDoes))}, "part": part}
    return _span(**on_it, pieces=COUNT, next_part=next_part, next_pieces=COUNT)


def _person_span() -> Schema:
    does: Schema = {"enum": list(get_args(PersonDoes))}
    return _span(does=does, machine=or_null(TEXT), pallet=or_null(COUNT))


def _week() -> Schema:
    band = object_of({"from_second": COUNT, "to_second": COUNT})
    machine = {
        "machine": TEXT,
        "number": COUNT,
        "states": list_of(_span(state=TEXT, part=or_null(TEXT))),
        "loaded": list_of(_span(pallets=COUNT)),
        "pallets": list_of(list_of(_pallet_span())),
    }
    person = {"person": TEXT, "shift": TEXT, "number": COUNT, "does": list_of(_person_span())}
    shift = {"shift": TEXT, "people": COUNT, "runs": list_of(band), "breaks": list_of(band)}
    hours = {
        "from_second": COUNT,
        "to_second": COUNT,
        "mode": {"enum": ["attended", "breaks", "after_hours"]},
        "pieces_may_be_begun": YES_OR_NO,
    }
    week = {
        "scenario": TEXT,
        "title": TEXT,
        "week": COUNT,
        "weeks": or_null(COUNT),
        "seeded_runs": or_null(COUNT),
        "machines": list_of(object_of(machine)),
        "people": list_of(object_of(person)),
        "shifts": list_of(object_of(shift)),
        "hours": list_of(object_of(hours)),
    }
    moment = {
        "scenario": TEXT,
        "week": COUNT,
        "second": COUNT,
        "in_words": TEXT,
        "machines": list_of(object_of({"in_words": TEXT, "pallets": TEXTS})),
        "people": TEXTS,
    }
    return document_form("a week of a scenario, or a moment of it", week, moment)


# -- why a figure is what it is ------------------------------------------------------------


def _explain() -> Schema:
    line = {"formula": TEXT, "numbers": TEXT, "result": or_null(NUMBER), "shown": TEXT}
    term = object_of(
        {"label": TEXT, "number": NUMBER, "unit": TEXT, "typed": or_null(TEXT), "origin": TEXT}
    )
    check = {
        "rule": TEXT,
        "sort": TEXT,
        **line,
        "terms": list_of(term),
        "relation": TEXT,
        "found": or_null(NUMBER),
        "slack": NUMBER,
        "because": TEXT,
        "holds": or_null(YES_OR_NO),
        "source": TEXT,
    }
    named = {"figure": TEXT, "name": TEXT, "unit": TEXT}
    account = {
        "scenario": TEXT,
        "title": TEXT,
        **named,
        "value": {"type": ["number", "string", "boolean", "null"]},
        "shown": TEXT,
        "meaning": TEXT,
        "steps": list_of(object_of(line)),
        "terms": list_of(term),
        "binds": TEXTS,
        "checks": list_of(object_of(check)),
        "unchecked": TEXT,
        "rules": TEXTS,
    }
    figures = {"scenario": TEXT, "title": TEXT, "figures": list_of(object_of(named))}
    rule = {"name": TEXT, "title": TEXT, "chapter": TEXT}
    return document_form(
        "the account of a figure, the figures that there are, or rules of the book",
        account,
        figures,
        {"rule": object_of({**rule, "text": TEXT})},
        {"rules": list_of(object_of(rule))},
    )


# -- what was seen in the shop -------------------------------------------------------------


def _readings() -> Schema:
    names = ("switched_on", "in_cut", "unavailable", "gap")
    hours = object_of(dict.fromkeys((*names, "hours_read"), NUMBER))
    period = {"begin": or_null(TEXT), "end": or_null(TEXT)}
    machine = {
        **period,
        "found_by": TEXT,
        "notes": TEXTS,
        "days": by_id(hours),
        "in_all": or_null(hours),
    }
    in_all = {
        **period,
        "machines": COUNT,
        "weeks": NUMBER,
        **dict.fromkeys(names, NUMBER),
        "in_cut_percent": NUMBER,
        "in_cut_percent_range": or_null(list_of(NUMBER, 2)),
    }
    found = {
        "sources": TEXTS,
        "machines": by_id(object_of(machine)),
        "in_all": or_null(object_of(in_all)),
        "to_enter": TEXTS,
    }
    return document_form("what was understood of readings", found)


def _walk() -> Schema:
    state = {"letter": TEXT, "state": TEXT, "meaning": TEXT}
    sheet = {
        "scenario": TEXT,
        "seed": COUNT,
        "tours": TEXTS,
        "machines": TEXTS,
        "states": list_of(object_of(state)),
    }
    share = object_of(
        {
            "seen": COUNT,
            "percent": NUMBER,
            "interval_percent": list_of(NUMBER, 2),
            "simulated_percent": or_null(NUMBER),
            "is_apart": YES_OR_NO,
            "needed": COUNT,
        }
    )
    found = {
        "scenario": TEXT,
        "observations": COUNT,
        "confidence_percent": NUMBER,
        "within_points": NUMBER,
        "needed": COUNT,
        "states": by_id(share),
        "together": object_of({"people": share, "machine": share}),
        "gap_is": or_null(TEXT),
        "in_words": TEXTS,
    }
    return document_form("a sheet for work sampling, or the shares that were seen", sheet, found)


def _afterwards() -> Schema:
    foretold = {
        "in_cut_hours": NUMBER,
        "week_range": list_of(NUMBER, 2),
        "mean_range": list_of(NUMBER, 2),
        "in_cut_percent_of_switched_on": or_null(NUMBER),
        "machines": COUNT,
    }
    week = {
        "begin": TEXT,
        "switched_on": NUMBER,
        "in_cut": NUMBER,
        "unknown": NUMBER,
        "lies": {"enum": [-1, 0, 1]},
    }
    found = {
        "scenario": TEXT,
        "done_on": TEXT,
        "foretold": object_of(foretold),
        "machines_read": COUNT,
        "weeks": list_of(object_of(week)),
        "in_words": TEXTS,
    }
    return document_form("what was measured afterwards, beside what was predicted", found)


# -- files ---------------------------------------------------------------------------------


def _check() -> Schema:
    problem = object_of(
        {
            "scenario": or_null(TEXT),
            "key": TEXT,
            "value": TEXT,
            "message": TEXT,
            "allowed": TEXT,
            "nearest": or_null(TEXT),
            "sentence": TEXT,
        }
    )
    # Of a file that cannot be read at all there is a sentence alone.
    either = {"anyOf": [problem, object_of({"sentence": TEXT})]}
    return document_form(
        "what is wrong with a study", {"problems": list_of(either), "warnings": list_of(problem)}
    )


def _table() -> Schema:
    column = {"column": TEXT, "head": TEXT, "key": or_null(TEXT), "unit": or_null(TEXT)}
    problem = {
        "row": or_null(COUNT),
        "column": or_null(TEXT),
        "value": TEXT,
        "allowed": TEXT,
        "sentence": TEXT,
    }
    doubtful = {"row": COUNT, "column": TEXT, "value": TEXT, "read": TEXT}
    line = {
        "id": TEXT,
        "numbers": TEXTS,
        "spread_seconds": by_id(list_of(COUNT, 2)),
        "cutting_hours_a_week": list_of(NUMBER, 2),
        "setups_a_week": list_of(NUMBER, 2),
    }
    found = {
        "sort": {"enum": ["part", "order"]},
        "columns": list_of(object_of(column)),
        "problems": list_of(object_of(problem)),
        "doubtful": list_of(object_of(doubtful)),
        "for_lines": list_of(object_of({"row": COUNT, "number": TEXT, "line": TEXT})),
        "left_out": list_of(COUNT),
        "alike": or_null(NUMBER),
        "weeks_per_year": or_null(NUMBER),
        "lines": list_of(object_of(line)),
        "things": by_id(by_id(_LIKE_ANY)),
        "removed": TEXTS,
        "lost": list_of(object_of({"scenario": TEXT, "key": TEXT, "value": _LIKE_ANY})),
    }
    return document_form("what a table of parts or orders comes to", found)


SCHEMAS: Final[Mapping[str, Callable[[], Schema]]] = {
    "compare": comparison_schema,
    "vary": _vary,
    "sensitivity": _sensitivity,
    "breakeven": _break_even,
    "search": _search,
    "night": _night,
    "week": _week,
    "explain": _explain,
    "readings": _readings,
    "walk": _walk,
    "afterwards": _afterwards,
    "check": _check,
    "parts": _table,
    "orders": _table,
}
"""By the name of the command."""
