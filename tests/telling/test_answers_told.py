"""The forms in which a comparison is told (rule `json.compare`)."""

from __future__ import annotations

import csv
import io
import json
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pytest
from json_told import json_of
from whole_comparison import whole

from whatif.answers.gains import KINDS
from whatif.answers.states import STATE_ROWS
from whatif.cell.states import STATES
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS, as_csv, as_json
from whatif.telling.amounts import rounded
from whatif.telling.cautions import FIRE, MACHINES, caution_text
from whatif.telling.limits import limit_text
from whatif.telling.said import Said


def leaves(value: Any) -> list[Any]:
    if isinstance(value, dict):
        return [leaf for one in value.values() for leaf in leaves(one)]
    if isinstance(value, list):
        return [leaf for one in value for leaf in leaves(one)]
    return [value]


SCENARIO = {
    *("title", "parent", "warnings", "cautions", "said", "hour_meters", "simulated"),
    *("indicators_percent", "gain_percent", "likely_percent", "settled", "limit", "fit"),
    *("money", "rush", "orders"),
}
SIMULATED = {
    "spindle_hours": {"total", "attended", "breaks", "after_hours"},
    "hours_by_state": set(STATES),
    "people_hours": {"paid", "on_duty", "busy", "free_stretches"},
    "utilization_percent": {"of_shift", "of_powered", "of_week"},
    "pieces": {"body"},
    "demand_met_percent": {"body"},
}
"""Of the simulated, what has keys of its own."""


def test_json_carries_every_field() -> None:
    found = json_of(whole())
    assert set(found) == {"format", "title", "reference", "scenarios"}
    assert (found["format"], found["title"], found["reference"]) == (1, "Two ways", "today")
    assert list(found["scenarios"]) == ["today", "child", "said"]
    for scenario in found["scenarios"].values():
        assert scenario.keys() >= SCENARIO
        assert set(scenario["gain_percent"]) == set(scenario["likely_percent"]) == set(KINDS)
    today_ = found["scenarios"]["today"]
    assert set(today_["said"]) == {"hours_per_day", "gain_percent"}
    assert set(today_["hour_meters"]) == {"utilization_percent", "gain_range_percent"}
    simulated = today_["simulated"]
    assert simulated["weeks"] == 2
    assert "could_make_percent" in simulated
    for key, keys in SIMULATED.items():
        assert set(simulated[key]) == keys, key
    assert set(today_["fit"]["body"]["mill"]) == {"fits", "per_pallet", "limits", "layout"}


def test_the_band_stands_beside_the_simulated() -> None:
    assert json_of(whole())["scenarios"]["today"]["band"] is None


def test_json_holds_plain_values_only() -> None:
    text = as_json(comparison_report(whole()))
    assert {type(leaf) for leaf in leaves(json_of(whole()))} <= {str, int, float, bool, type(None)}
    assert "\x1b" not in text
    numbers = [leaf for leaf in leaves(json.loads(text)) if isinstance(leaf, float)]
    assert all(round(number, 6) == number for number in numbers)


def test_json_tells_what_was_found() -> None:
    found = whole()
    answer, told = found.answers["child"], json_of(found)["scenarios"]["child"]
    assert answer.figures is not None
    assert answer.likely is not None
    assert answer.likely.output is not None
    assert answer.held_back is not None
    simulated = told["simulated"]
    assert simulated["spindle_hours"]["total"] == pytest.approx(answer.figures.spindle.total)
    assert simulated["pieces"] == {
        "body": pytest.approx(answer.figures.pieces["body"]),
        "cover": pytest.approx(answer.figures.pieces["cover"]),
    }
    assert sum(simulated["hours_by_state"].values()) == pytest.approx(2 * 168)
    assert told["gain_percent"]["saleable"] == pytest.approx(answer.gains.saleable)
    assert told["likely_percent"]["output"] == pytest.approx(answer.likely.output)
    assert told["settled"] is True
    assert told["limit"] == limit_text(answer.held_back, answer.could_make)
    assert told["cautions"] == [caution_text(one) for one in answer.cautions]
    assert len(told["cautions"]) == 6
    assert told["parent"] == "today"
    assert (told["money"], told["rush"], told["orders"]) == (None, {}, {})


def test_json_of_fit() -> None:
    fit = json_of(whole())["scenarios"]["child"]["fit"]
    # No part with weekly 0, no machine with count 0.
    assert {part: set(by_machine) for part, by_machine in fit.items()} == {
        "body": {"mill", "lathe"},
        "cover": {"mill", "lathe"},
    }
    assert (fit["cover"]["mill"]["fits"], fit["cover"]["mill"]["per_pallet"]) == (False, 0)
    body = fit["body"]["mill"]
    # 450 x 350 mm between the edges hold 3 x 3 pieces of 100 x 80 mm, 50 mm apart.
    assert (body["fits"], body["per_pallet"]) == (True, len(body["layout"]))
    assert body["per_pallet"] >= 9
    for x, y, length, width in body["layout"]:
        assert {length, width} == {100, 80}
        assert 25 <= x <= 475 - length
        assert 25 <= y <= 375 - width
    assert all(isinstance(text, str) and text for text in body["limits"])


def test_json_of_a_scenario_that_makes_nothing() -> None:
    bare = json_of(whole())["scenarios"]["said"]
    assert bare["simulated"] is None
    assert bare["said"]["hours_per_day"] == pytest.approx(8 * 0.7)
    assert bare["said"]["gain_percent"] == pytest.approx(40)
    assert set(bare["gain_percent"].values()) == {None}
    assert bare["fit"] == {}


CSV_FIGURES = {
    "spindle hours": ("spindle_hours", "total"),
    "attended": ("spindle_hours", "attended"),
    "on breaks": ("spindle_hours", "breaks"),
    "after hours": ("spindle_hours", "after_hours"),
    "in cut by day and night, as a share of shift hours": ("utilization_percent", "of_shift"),
    "in cut, over powered hours": ("utilization_percent", "of_powered"),
    "in cut, over the whole week": ("utilization_percent", "of_week"),
    "pieces: body": ("pieces", "body"),
    "pieces: cover": ("pieces", "cover"),
    "demand met: body": ("demand_met_percent", "body"),
    "people paid": ("people_hours", "paid"),
    "people on duty": ("people_hours", "on_duty"),
    "people busy": ("people_hours", "busy"),
    "people free, half hours and more": ("people_hours", "free_stretches"),
}


def test_csv_tells_the_same_numbers() -> None:
    found = whole()
    lines = list(csv.reader(io.StringIO(as_csv(comparison_report(found)), newline=""), strict=True))
    scenarios = json_of(found)["scenarios"]
    assert lines[0] == ["figure", "unit", *[one["title"] for one in scenarios.values()]]
    assert {len(line) for line in lines} == {2 + len(scenarios)}
    cells = {line[0]: line[2:] for line in lines[1:]}
    for label, (table, key) in (CSV_FIGURES | states_that_occur(scenarios)).items():
        numbers = [(one["simulated"] or {}).get(table, {}).get(key) for one in scenarios.values()]
        assert cells[label] == ["-" if number is None else halves_up(number) for number in numbers]


def halves_up(number: float) -> str:
    """One decimal, as a shop rounds: 46.25 is 46.3."""
    return str(Decimal(str(number)).quantize(Decimal("0.1"), ROUND_HALF_UP))


def states_that_occur(scenarios: dict[str, Any]) -> dict[str, tuple[str, str]]:
    """The rows of the states other than in cycle in which some scenario has been."""
    tables = [one["simulated"]["hours_by_state"] for one in scenarios.values() if one["simulated"]]
    occur = [state for state in STATES[1:] if any(table[state] > 0 for table in tables)]
    assert len(occur) > 3
    return {f"not cutting: {STATE_ROWS[state].label}": ("hours_by_state", state) for state in occur}


def test_csv_carries_the_sentences_below_their_scenario() -> None:
    found = whole()
    lines = list(csv.reader(io.StringIO(as_csv(comparison_report(found)), newline=""), strict=True))
    told = [(line[0], line[3]) for line in lines if line[0] in ("limit", "caution") and line[3]]
    answer = found.answers["child"]
    assert answer.held_back is not None
    assert told == [
        ("limit", limit_text(answer.held_back, answer.could_make)),
        *(("caution", caution_text(one)) for one in answer.cautions),
    ]


@pytest.mark.parametrize("form", WRITERS)
def test_every_form_carries_the_cautions(form: str) -> None:
    text = WRITERS[form](comparison_report(whole()))
    assert FIRE[:40] in text
    assert MACHINES[:40] in text
    assert "more than 15 kg weighs a piece of cover" in text
    assert "\x1b" not in text


def test_halves_are_rounded_as_on_paper() -> None:
    told = [rounded(38.75), rounded(116.25), rounded(42.5, 0), rounded(-0.25), rounded(0.0)]
    assert told == ["38.8", "116.3", "43", "-0.3", "0.0"]
    assert rounded(sum([0.35] * 5)) == "1.8"


def test_a_number_that_there_is_no_room_for_is_never_cut() -> None:
    """Of 16 cells, the words take 8 and the number 10; then signs stand for the words."""
    said = Said(
        "at most +1\u00a0044\u00a0700 (+900\u00a0000 .. +1\u00a0100\u00a0000)",
        shorter=("at most +1\u00a0044\u00a0700",),
    )
    assert said.within(18) == "at most +1\u00a0044\u00a0700"
    assert said.within(16) == "up to +1\u00a0044\u00a0700"
    assert said.within(14) == "up to +1\u00a0045k"
    assert said.within(12) == "≤+1\u00a0044\u00a0700"
    # 1044.7 and, of a range, 127.6 and 133.4 thousands (pencil).
    assert said.within(9) == "≤+1\u00a0045k"
    assert said.within(7) == "≤+1.04M"
    assert said.within(6) == "…"
    # A range of which what is missing moves the upper end lost that end in a column of 17.
    ends = "+2\u00a0039\u00a0255 to at most +2\u00a0101\u00a0000"
    assert Said(ends).within(17) == "+2.04M to ≤+2.10M"
    assert Said("+127\u00a0608..+133\u00a0400").within(16) == "+128k..+133k"
    assert Said("likely 12345 years").within(12) == "likely…"
